//! `ellwand cost`: the cost sheet on the screen.

use crate::Workshop;
use crate::stories::sewn;

/// 1 yd = 0.9144 m exactly (international yard, 1959).
#[test]
fn a_cost_sheet_is_read_in_yards() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm --cutting-step 1mm",
        "buy --line 'material=wool,kind=cloth,full-width=60in,paid=20yd,price=100'",
        "garment plan coat --need 'role=shell,kind=cloth,length=5yd,width=50in,preparation=none'",
        "quote make G1 --markup 0%",
        "quote accept Q1 --version 1 --reserve",
        "cut G1 shell 5yd",
        "cut G1 shell 5yd --from L1.1 --reason own-mistake",
    ]);
    for line in ["cost G1", "quote outcome Q1", "quote show Q1 --inside"] {
        let metric = workshop.run(line).done().out;
        assert!(metric.contains("4.572 m"), "{line}\n{metric}");
        let imperial = workshop.run(&format!("{line} --units imperial")).done().out;
        assert!(
            imperial.contains("5 yd") && !imperial.contains(" m "),
            "{line}\n{imperial}"
        );
    }
}

/// 142.31 × 1.17 = 166.50; a late 10.00 and a credit of 5.00 GBP at 1.2 come after it.
#[test]
fn late_charges_stand_apart_from_the_conversion() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --really --currency GBP --rate 1.17 --line 'material=w,kind=cloth,paid=4m,price=142.31,full-width=150cm'",
        "buy charge P1 duty=10",
        "buy charge P1 other=-5 --currency GBP --rate 1.2",
    ]);
    let shown = workshop.run("buy show P1").done().out;
    for line in [
        "GBP 142.31 x 1.17 = EUR 166.50",
        "added later EUR 4.00, together 170.50",
        "added later, EUR -6.00",
    ] {
        assert!(shown.contains(line), "{line}\n{shown}");
    }
    let purchase = workshop.json("buy show P1");
    assert_eq!(
        (&purchase["invoice_home"], &purchase["home_total"]),
        (&"166.5".into(), &"170.5".into())
    );
    workshop.audit();
}

/// The whole job (derived from OpenStax, Principles of Accounting vol. 2, 4.2, 8.2, 8.3; the value of a use by area is
/// common practice): planned 388.51, job 434.26, loss 13.22 apart, 447.48 in all.
#[test]
fn planned_beside_actual_closes_to_the_cent() {
    let workshop = sewn();
    let shell = workshop.json("history --lot L1")["bookings"][0].clone();
    assert_eq!(shell["movements"][0]["value"], "85.943684");
    let recut = workshop.json("cut G1 shell 0.40m --from L1.1 --reason own-mistake");
    assert_eq!(
        (&recut["cost"], &recut["cost_printed"]),
        (&"13.222105".into(), &"13.22".into())
    );

    let sheet = workshop.json("cost G1");
    assert_eq!(sheet["all"]["planned_printed"], "388.51");
    assert_eq!(sheet["job"]["actual_printed"], "434.26");
    assert_eq!(sheet["loss"]["actual_printed"], "13.22");
    assert_eq!(sheet["all"]["actual_printed"], "447.48");
    let bridge: Vec<(String, String)> = sheet["bridge"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| {
            (
                step["name"].as_str().unwrap().to_owned(),
                step["printed"].as_str().unwrap().to_owned(),
            )
        })
        .collect();
    let expected = [
        ("quantity", "13.22"),
        ("time", "36.00"),
        ("overhead on extra hours", "9.75"),
    ];
    let expected: Vec<_> = expected
        .iter()
        .map(|(name, printed)| ((*name).to_owned(), (*printed).to_owned()))
        .collect();
    assert_eq!(bridge, expected);
    let materials: Vec<&str> = sheet["lines"].as_array().unwrap()[..4]
        .iter()
        .map(|line| line["cost"]["actual_printed"].as_str().unwrap())
        .collect();
    assert_eq!(materials, ["85.94", "19.77", "5.10", "3.20"]);

    let wool = workshop.json("lot show L1");
    assert_eq!(
        wool["pieces"][0]["value"], "26.444211",
        "stored to the millionth"
    );
    let printed: Vec<&str> = wool["value_went"]
        .as_array()
        .unwrap()
        .iter()
        .map(|share| share["printed"].as_str().unwrap())
        .collect();
    assert_eq!(
        printed,
        ["85.94", "13.22", "26.45"],
        "printed under a total of 125.61"
    );
    assert!(
        workshop
            .run("shelf --name wool")
            .done()
            .out
            .contains(" 26.44"),
        "printed alone"
    );
    workshop.audit();
}
