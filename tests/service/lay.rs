//! How parts lie: which cloth is meant, and what is said beside it.

use crate::Workshop;
use serde_json::Value;

const PARTS: &str = "--part 'need=shell,name=back,length=72cm,width=52cm' \
    --part 'need=shell,name=front,count=2,length=72cm,width=30cm' \
    --part 'need=shell,name=sleeve,count=2,length=62cm,width=42cm' \
    --part 'need=shell,name=collar,count=2,length=46cm,width=12cm'";

/// Wool of 140 cm with selvedges of 6 cm in all, which shrinks by 5 % lengthwise and not crosswise.
fn jacket(need: &str) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=140cm,selvedges=6cm,paid=5m,price=100,shrinkage=5%/0%'",
        &format!("garment plan jacket --need 'role=shell,kind=cloth,grain=lengthwise,{need}' {PARTS}"),
    ]);
    workshop
}

fn length(lay: &Value) -> (&str, &str, &str) {
    let text = |field: &str| lay[field].as_str().unwrap();
    (text("usable_m"), text("length_m"), text("length_by"))
}

/// 1.34 m on 134 cm (by hand, in `tests/domain/lay/ladder.rs`); with 4 cm for the ends and the wash (1.38 ÷ 0.95 = 1.4527 m, rounded up
/// to 5 cm) a promise holds 1.50 m. The plan is reckoned at 90 cm.
#[test]
fn the_cloth_is_the_piece_the_promise_or_the_plan() {
    let workshop = jacket("preparation=washed");
    let planned = workshop.json("lay G1");
    assert_eq!(planned["usable_m"], "0.9");
    assert_eq!(planned["piece"], Value::Null);
    let on = workshop.json("lay G1 --from L1.1");
    assert_eq!(length(&on), ("1.34", "1.34", "lay"));
    assert_eq!(on["takes"]["length_m"], "1.5");
    assert_eq!(
        length(&workshop.json("lay G1 --width 134cm")),
        ("1.34", "1.34", "lay")
    );
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let promised = workshop.json("lay G1");
    assert_eq!(
        (&promised["piece"], &promised["parts"]),
        (&on["piece"], &on["parts"])
    );
}

/// Every corner lies on the cloth, each part as often as it is cut; and where it is drawn from the cut end on.
#[test]
fn every_part_has_its_place() {
    let workshop = jacket("preparation=washed");
    let lay = workshop.json("lay G1 --width 134cm");
    let parts = lay["parts"].as_array().unwrap();
    assert_eq!(parts.len(), 7);
    let metres = |value: &Value| value.as_str().unwrap().parse::<f64>().unwrap();
    for part in parts {
        for corner in part["corners"].as_array().unwrap() {
            assert!((0.0..=1.34).contains(&metres(&corner["along_m"])), "{part}");
            assert!(
                (0.0..=1.34).contains(&metres(&corner["across_m"])),
                "{part}"
            );
        }
        let line = &part["grain_line"];
        let long = metres(&line[1]["along_m"]) - metres(&line[0]["along_m"]);
        assert!((long - metres(&part["length_m"])).abs() < 1e-9, "{part}");
    }
    let fronts = parts.iter().filter(|part| part["part"] == "front");
    let numbers: Vec<&Value> = fronts.map(|part| &part["number"]).collect();
    assert_eq!(numbers, [1, 2]);
}

/// An own lay counts for the length, and a piece that does not serve is drawn with the reason.
#[test]
fn what_the_picture_does_not_say_is_noted() {
    let workshop = jacket("preparation=washed,length=1.50m,width=130cm");
    let own = workshop.json("lay G1 --width 134cm");
    assert!(
        own["notes"][0]
            .as_str()
            .unwrap()
            .contains("your own lay of 1.50 m counts"),
        "{own}"
    );
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=140cm,selvedges=6cm,paid=1m,price=20,shrinkage=5%/0%'",
    ]);
    let short = workshop.json("lay G1 --from L2.1");
    assert_eq!(short["usable_m"], "1.34");
    // 1.50 and 0.04 m, divided by 0.95, are 1.6211 m: 1.65 m in steps of 5 cm.
    assert_eq!(short["takes"]["length_m"], "1.65");
    assert_eq!(
        short["notes"][0],
        "L2.1 has no more than 1.00 m free in one stretch"
    );
    workshop.all(&["garment copy G1 --count 3"]);
    let batch = workshop.json("lay G2 --width 134cm");
    assert_eq!(
        batch["notes"][1],
        "these are the parts of one; G2 is a batch of 3"
    );
    // A piece of another kind has no lay.
    workshop.all(&["buy --line 'material=button,kind=trim,paid=5,price=5'"]);
    workshop.run("lay G1 --from L3.1").refused(1, &["L3.1"]);
}
