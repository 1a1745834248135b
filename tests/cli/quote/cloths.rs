//! `ellwand quote make --with`: cloths to choose from, each priced on itself.

use crate::Workshop;
use serde_json::Value;

/// Wool at 47.00 and poplin at 12.00 a metre, felt that is too narrow.
fn shelf() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey wool,kind=cloth,paid=4m,price=188,full-width=150cm,shrinkage=4%/2%' \
             --line 'material=white poplin,kind=cloth,paid=5m,price=60,full-width=150cm,shrinkage=4%/2%' \
             --line 'material=red felt,kind=cloth,paid=5m,price=60,full-width=90cm,shrinkage=0%/0%'",
        "garment plan coat --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=washed,material=grey wool'",
        "workshop price-rule --margin 35%",
    ]);
    workshop
}

fn conditions(workshop: &Workshop) -> String {
    let need = workshop.json("garment show G1")["needs"][0].clone();
    let conditions = need["conditions"].as_array().unwrap().iter();
    let conditions: Vec<&str> = conditions.map(|text| text.as_str().unwrap()).collect();
    conditions.join("; ")
}

fn net(option: &Value) -> &Value {
    &option["sheet"]["net"]
}

/// By hand: (2.40 + 0.04) / 0.96 = 2.5417 m, up to 5 cm 2.55 m: wool 119.85, poplin 30.60; at 3 % 2.5155 m, 2.55 m at 64.00 are
/// 163.20. A margin of 35 %: 184.38, 47.08 and 251.08. A label never stands for a cloth.
#[test]
fn each_option_is_priced_on_its_own_cloth() {
    let workshop = shelf();
    let made = workshop.json(
        "quote make G1 --with shell=L2.1 --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%,called=Tweed'",
    );
    let (plan, options) = (net(&made), &made["options"]);
    assert_eq!(
        (plan, net(&options[0]), net(&options[1])),
        (&"184.38".into(), &"47.08".into(), &"251.08".into())
    );
    assert_eq!(
        (&options[0]["name"], &options[1]["name"]),
        (&"white poplin (L2)".into(), &"Tweed".into())
    );
    let bought = &options[1]["inside"]["costs"][0];
    assert_eq!(bought["certainty"], "estimated");
    assert_eq!(bought["quantity"], "2.55 m", "not the 2.40 m of the plan");
    // By the name of its material it is the same cloth.
    let named = workshop.json("quote make G1 --with 'shell=white poplin'");
    assert_eq!(net(&named["options"][0]), "47.08");
    assert_eq!(named["options"][0]["name"], "white poplin");
    // A batch shares what is bought for it: three lengths of 2.55 m at 64.00, and 489.60 / 0.65.
    workshop.all(&[
        "garment plan coats --count 3 --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=washed,estimate=10'",
    ]);
    let batch = workshop.json("quote make G2 --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%'");
    assert_eq!(net(&batch["options"][0]), "753.23");
    workshop.audit();
}

/// What is accepted is what the plan takes from then on.
#[test]
fn the_cloth_that_is_accepted_becomes_the_plan() {
    let workshop = shelf();
    workshop.all(&[
        "quote make G1 --with shell=L2",
        "quote accept Q1 --version 1 --option 'white poplin (L2)'",
    ]);
    assert_eq!(conditions(&workshop), "washed before it is cut; only L2");
    let serve = workshop.json("candidates G1")["needs"][0]["serve"].clone();
    assert_eq!(serve.as_array().unwrap().len(), 1);
    assert_eq!(serve[0]["piece"], "L2.1");
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(
        conditions(&workshop),
        "washed before it is cut; only grey wool (M1)"
    );
    workshop.audit();
}

#[test]
fn a_cloth_that_cannot_serve_is_refused_and_nothing_is_quoted() {
    let workshop = shelf();
    workshop.all(&["garment edit G1 --need 'role=buttons,kind=trim,count=3'"]);
    let before = workshop.dump();
    for (with, code, holds) in [
        ("shell=L3", 1, "L3.1 cannot serve the shell: 90 cm usable"),
        ("shell=L9", 1, "there is no lot L9"),
        ("shel=L2", 1, "it has shell, buttons"),
        ("buttons=L2", 1, "the buttons takes no cloth"),
        (
            "shell=64.00/m,width=120cm,shrinkage=3%/1%",
            1,
            "that cloth cannot serve the shell: 118.8 cm",
        ),
        (
            "shell=64.00/m,width=150cm",
            1,
            "width=150cm,shrinkage=3%/1%",
        ),
        (
            "shell=64.00/kg,width=150cm,shrinkage=3%",
            1,
            "such as 64.00/m",
        ),
        (
            "shell=64.00/m",
            2,
            "width is missing, for example width=150cm",
        ),
        ("shell", 2, "which cloth for which need?"),
    ] {
        workshop
            .run(&format!("quote make G1 --with '{with}'"))
            .refused(code, &[holds]);
    }
    assert_eq!(workshop.dump(), before);
}

/// The price on the telephone: two cloths, one not bought yet, in one command and a short answer.
#[test]
fn two_cloths_are_priced_in_a_short_answer() {
    let workshop = shelf();
    let made = workshop
        .run("quote make G1 --with shell=L2.1 --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%,called=Tweed'")
        .done();
    let lines = made.out.lines().chain(made.err.lines());
    let long = lines
        .clone()
        .filter(|line| line.chars().count() > 80 && !line.starts_with("hint"));
    assert_eq!(long.count(), 0, "{}{}", made.out, made.err);
    assert!(lines.count() <= 9, "{}{}", made.out, made.err);
    assert!(made.out.contains("shell (estimated)"), "{}", made.out);
}
