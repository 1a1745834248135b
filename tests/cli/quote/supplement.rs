//! `ellwand quote make --supplement-to`: what a customer's later change costs.

use crate::stories::supplements::{agreed, costs};
use serde_json::{Value, json};

fn cents(text: &Value) -> i64 {
    text.as_str().unwrap().replace('.', "").parse().unwrap()
}

/// By hand, at twice the pay: two buttons 1.70, one hour more of hemming and one of embroidery 54.35 each, overhead on both
/// 17.39: the plan costs 511.81 then, half more is 767.72, of which 576.05 are agreed: 191.67, with tax 230.00. Shell and sewing are dearer today and cost nothing
/// more: an accepted quotation fixes its prices (common practice).
#[test]
fn the_change_alone_is_priced() {
    let workshop = agreed();
    let before = workshop.json("quote show Q1");
    let edited = workshop.json(
        "garment edit G1 --need 'role=buttons,kind=trim,count=8' --operation 'name=hem,kind=hand,planned=3h' \
             --operation 'name=embroidery,kind=hand,planned=1h'",
    );
    assert_eq!(
        edited["notes"][0],
        "Q1 is agreed at its price; price the change with a supplement: ellwand quote make G1 --supplement-to Q1"
    );
    workshop.all(&[
        "workshop figures --pay 60000 --overhead 9600 --weeks 46 --hours 40h --billable 60%",
        "lot edit L1 --shrinkage 4%/3%",
    ]);
    let made =
        workshop.json("quote make G1 --supplement-to Q1 --stage 'now=50% of gross' --stage rest");
    assert_eq!(
        costs(&made),
        [
            json!(["buttons", "+2 pcs", "1.70"]),
            json!(["hem", "+1 h", "54.35"]),
            json!(["embroidery", "1 h", "54.35"]),
            json!(["overhead", "+2 h", "17.39"]),
        ]
    );
    let sheet = &made["sheet"];
    assert_eq!(
        (&sheet["net"], &sheet["gross"]),
        (&json!("191.67"), &json!("230.00"))
    );
    assert_eq!(sheet["title"], "Supplement to Q1: jacket");
    assert_eq!(sheet["supplement"]["agreed"], before["sheet"]["gross"]);
    let together = cents(&before["sheet"]["gross"]) + 23_000;
    assert_eq!(cents(&sheet["supplement"]["together"]), together);
    // It is accepted and paid on its own, and shown with what it supplements.
    workshop.all(&[
        "quote accept Q2 --version 1",
        "quote pay Q2 115.00",
        "quote pay Q1 100",
    ]);
    let shown = workshop.json("quote show Q1");
    assert_eq!(
        (
            &shown["supplements"][0]["quotation"],
            &shown["supplements"][0]["state"]
        ),
        (&json!("Q2"), &json!("accepted"))
    );
    assert_eq!(
        (
            cents(&shown["together"]["agreed"]),
            cents(&shown["together"]["paid"])
        ),
        (together, 21_500)
    );
    assert_eq!(cents(&shown["together"]["left"]), together - 21_500);
    let text = workshop.run("quote show Q1").done().out;
    assert!(
        text.contains("supplement")
            && text.contains("agreed 921.26 in all, paid 215.00, left 706.26 EUR"),
        "{text}"
    );
    let text = workshop.run("quote show Q2").done().out;
    assert!(
        text.contains("supplement to Q1: agreed so far 691.26, with this 921.26 EUR"),
        "{text}"
    );
    assert_eq!(
        workshop.json("quote list")["quotations"][0]["supplement_to"],
        "Q1"
    );
    assert!(
        workshop
            .run("quote list")
            .done()
            .out
            .contains("jacket, supplement")
    );
    workshop.audit();
}

#[test]
fn a_supplement_rests_on_what_was_agreed() {
    let workshop = agreed();
    workshop.all(&[
        "garment plan cape --operation 'name=sewing,kind=machine,planned=2h'",
        "quote make G2 --markup 10%",
    ]);
    workshop
        .run("quote make G2 --supplement-to Q1")
        .refused(1, &["Q1 is for G1, not for G2"]);
    workshop
        .run("quote make G2 --supplement-to Q2")
        .refused(1, &["Q2 is open", "ellwand quote again"]);
    workshop
        .run("quote make G1 --supplement-to Q7")
        .refused(1, &["there is no quotation Q7"]);
    workshop
        .run("quote make G1 --supplement-to Q1 --from actual")
        .refused(2, &["cannot be used with"]);
    workshop.all(&[
        "garment edit G1 --operation 'name=hem,kind=hand,planned=3h'",
        "quote make G1 --supplement-to Q1",
    ]);
    workshop
        .run("quote make G1 --supplement-to Q1")
        .refused(1, &["Q3 supplements Q1 and is still open"]);
    workshop
        .run("quote make G1 --supplement-to Q3")
        .refused(1, &["Q3 supplements Q1 itself; supplement Q1"]);
    workshop.run("quote close Q1").refused(
        1,
        &[
            "Q3 supplements what was agreed with Q1",
            "ellwand quote close Q3",
        ],
    );
    workshop
        .run("undo B6 --yes")
        .refused(1, &["Q3 was made on top of what was agreed with", "Q1"]);
    workshop.all(&[
        "quote accept Q3 --version 1",
        "garment edit G1 --operation 'name=hem,kind=hand,planned=4h'",
    ]);
    workshop.all(&["quote make G1 --supplement-to Q1"]);
    workshop
        .run("quote close Q3")
        .refused(1, &["Q4 supplements what was agreed with Q3"]);
    workshop.all(&["quote close Q4", "quote close Q3"]);
    // Q4 was priced on top of Q3.
    workshop.run("undo B14 --yes").refused(
        1,
        &["Q4 was priced on top of what was agreed with Q1, and that has changed"],
    );
    workshop.all(&[
        "undo B15 --yes",
        "undo B14 --yes",
        "quote close Q4",
        "undo --yes",
    ]);
    assert_eq!(workshop.json("quote show Q4")["state"], "open");
    assert_eq!(workshop.json("quote show Q3")["state"], "accepted");
    workshop.run("undo B11 --yes").refused(1, &["Q4"]);
    workshop.audit();
}
