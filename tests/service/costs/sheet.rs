//! The cost of one garment, from the invoice over the pre-wash, the cut, a mistake and the hours to its sheet.

use crate::Workshop;
use crate::stories::prepared;

/// Four cuts of 1.006 each: job 2.012 and loss 2.012, each printed as its own rounded sum (derived).
#[test]
fn the_job_and_the_loss_are_rounded_as_they_are_shown() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=10m,price=10.06,full-width=150cm'",
        "garment plan dress --need 'role=shell,kind=cloth,length=95cm,width=140cm,preparation=none'",
        "cut G1 shell 1m --from L1.1",
        "cut G1 shell 1m --from L1.1 --reason customer-change",
        "cut G1 shell 1m --from L1.1 --reason own-mistake",
        "cut G1 shell 1m --from L1.1 --reason faulty-cloth",
    ]);
    let sheet = workshop.json("cost G1");
    let printed = |pair: &str| sheet[pair]["actual_printed"].as_str().unwrap().to_owned();
    assert_eq!(
        [printed("job"), printed("loss"), printed("all")],
        ["2.01", "2.01", "4.02"]
    );
    let column = |lines: &str| -> i64 {
        let cents = |line: &serde_json::Value| -> i64 {
            line["cost"]["actual_printed"]
                .as_str()
                .unwrap()
                .replace('.', "")
                .parse()
                .unwrap()
        };
        sheet[lines].as_array().unwrap().iter().map(cents).sum()
    };
    assert_eq!((column("lines"), column("losses")), (201, 201));
    workshop.audit();
}

/// What a cancelled garment gave to another is found there by a late charge, and by the lot's own account.
#[test]
fn a_late_charge_follows_material_that_was_taken_over() {
    let need = "--need 'role=s,kind=cloth,length=95cm,width=140cm,preparation=none'";
    for (fate, place, charged) in [
        ("garment=G2", "G2", "55"),
        ("loss", "loss: cancelled garment", "0"),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            "buy --line 'material=wool,kind=cloth,paid=10m,price=100,full-width=150cm'",
            &format!("garment plan first {need}"),
            &format!("garment plan second {need}"),
            "cut G1 s 5m --from L1.1",
            &format!("garment cancel G1 --cut-material {fate}"),
            "buy charge P1 duty=10",
        ]);
        assert_eq!(workshop.json("cost G2")["all"]["actual"], charged);
        let places: Vec<String> = workshop.json("lot show L1")["value_went"]
            .as_array()
            .unwrap()
            .iter()
            .map(|share| share["place"].as_str().unwrap().to_owned())
            .collect();
        assert!(
            places.contains(&place.to_owned()) && !places.contains(&"G1".to_owned()),
            "{places:?}"
        );
        workshop.audit();
    }
}

/// Overhead is applied at the rate of the day of the work (OpenStax Principles of Accounting vol. 2, 4.4); a mistake
/// later changes neither the plan nor the job.
#[test]
fn each_day_carries_its_own_overhead() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20 --from 2026-10-01",
        "workshop overhead 5 --from 2026-10-01",
        "workshop overhead 10 --from 2026-10-10",
        "garment plan dress --operation 'name=sew,kind=hand,planned=1h'",
        "work G1 sew 1h --date 2026-10-05",
    ]);
    let before = workshop.json("cost G1")["job"].clone();
    assert_eq!(
        (&before["planned"], &before["actual"]),
        (&"30".into(), &"25".into()),
        "the plan carries the overhead of the day on which it was logged"
    );
    workshop.all(&["work G1 sew 1h --date 2026-10-11 --reason own-mistake"]);
    let after = workshop.json("cost G1");
    assert_eq!(
        (&after["job"], &after["loss"]["actual"]),
        (&before, &"30".into())
    );
    let steps: Vec<(String, String)> = after["bridge"]
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
    // The extra hour at the plan's 20 + 10, and 5 less of overhead by the rate of the first hour's day.
    let step = |name: &str, amount: &str| (name.to_owned(), amount.to_owned());
    assert_eq!(
        steps,
        [
            step("time", "20.00"),
            step("rate", "-5.00"),
            step("overhead on extra hours", "10.00")
        ]
    );
    workshop.audit();
}

/// Landed cost of an invoice in GBP in a workshop that counts in EUR. Source: derived from IAS 2 para 11 and
/// IAS 21 para 21; line by line it would lose a cent.
#[test]
fn a_foreign_invoice_is_converted_once_and_lands_to_the_cent() {
    let workshop = prepared();
    let purchase = workshop.json("buy show P1");
    assert_eq!(purchase["invoice_total"], "142.56");
    assert_eq!(purchase["lines"][0]["landed"], "125.61");
    assert_eq!(purchase["lines"][1]["landed"], "41.19");
    assert_eq!(purchase["home_total"], "166.8");
    assert_eq!(
        purchase["charges"][0]["shares"],
        serde_json::json!(["8.80", "3.20"])
    );
    workshop.audit();
}

/// The same invoice with 20 % tax on goods and freight that cannot be reclaimed (IAS 2 para 11; derived).
#[test]
fn tax_that_cannot_be_reclaimed_joins_the_cost_by_the_taxed_amounts() {
    let workshop = Workshop::new();
    workshop.all(&["workshop set --currency GBP"]);
    let _ = workshop
        .run(
            "buy --line 'material=wool,kind=cloth,paid=4.00m,price=88.00,full-width=150cm' \
             --line 'material=lining,kind=cloth,paid=5.00m,price=32.00,full-width=140cm' \
             --charge 'freight=12.00,by=value' --charge 'tax=26.40,by=taxed,on=1' --charge 'duty=10.56,lines=1'",
        )
        .done();
    let purchase = workshop.json("buy show P1");
    assert_eq!(purchase["lines"][0]["invoice_amount"], "126.72");
    assert_eq!(purchase["lines"][1]["invoice_amount"], "42.24");
    assert_eq!(purchase["invoice_total"], "168.96");
    workshop.audit();
}

/// Six started for 240.00, one spoiled: as normal spoilage 48.00 each; as an own mistake 40.00 each and a loss of
/// 40.00. Source: cost-accounting texts (normal and abnormal spoilage); derived.
#[test]
fn spoiled_garments_ride_on_the_good_ones_or_are_a_loss() {
    for (why, each, loss) in [("normal", "48", "0"), ("own-mistake", "40", "40")] {
        let workshop = Workshop::new();
        workshop.all(&[
            "workshop set --end-allowance 0cm",
            "buy --line 'material=linen,kind=cloth,paid=6m,price=240.00,full-width=150cm'",
            "garment plan apron --count 6 --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
            "reserve G1 --all --yes",
            "cut G1 shell",
        ]);
        let _ = workshop
            .run(&format!(
                "garment finish G1 --good 5 --spoiled 1 --spoilage {why}"
            ))
            .done();
        let sheet = workshop.json("cost G1");
        assert_eq!(
            (&sheet["per_good"]["each"], &sheet["per_good"]["loss"]),
            (&each.into(), &loss.into()),
            "{why}"
        );
        workshop.audit();
    }
}
