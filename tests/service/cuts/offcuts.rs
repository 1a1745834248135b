//! What lies beside, before and behind a cut is kept or waste by one rule.

use crate::Workshop;
use serde_json::Value;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --offcut-length 25cm --offcut-width 20cm",
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan bag --need 'role=base,kind=cloth,length=46cm,width=50cm,preparation=none'",
    ]);
    workshop
}

fn pieces(workshop: &Workshop) -> Vec<(String, String, String)> {
    let lot = workshop.json("lot show L1");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let here = lot["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|piece| piece["on_hand"]["length_m"] != "0");
    here.map(|piece| {
        (
            text(&piece["on_hand"]["length_m"]),
            text(&piece["full_width_m"]),
            text(&piece["value"]),
        )
    })
    .collect()
}

/// By hand: a swatch of 50 cm × 50 cm of a piece 150 cm wide leaves a strip 100 cm wide, as a panel does. By area
/// (derived): 4.00 m for 40.00 are 6.667 the square metre, so that 0.50 × 1.00 m carry 3.333333; the swatch's own share stays.
#[test]
fn a_swatch_leaves_the_strip_that_a_panel_leaves() {
    let workshop = stocked();
    let whole = pieces(&workshop);
    let test = workshop.json("wash test L1 --length 35cm=34cm --swatch 50cmx50cm --from L1.1");
    assert!(
        test["notes"]
            .to_string()
            .contains("the strip beside it, 0.50 m long and 100 cm wide, is kept as L1.2")
    );
    let strip = ("0.5".to_owned(), "1".to_owned(), "3.333333".to_owned());
    assert_eq!(
        pieces(&workshop),
        [
            ("3.5".into(), "1.5".into(), "36.666667".into()),
            strip.clone()
        ]
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(pieces(&workshop), whole);
    workshop.audit();

    let cut = workshop.json("cut G1 base 50cm --from L1.1 --panel 50cm");
    assert_eq!(
        (&cut["made"][0]["full_width_m"], &cut["made"][0]["value"]),
        (&"1".into(), &"3.333333".into())
    );
    workshop.all(&["undo --yes"]);
    // Shorter than an offcut: no strip.
    workshop.all(&["wash test L1 --length 35cm=34cm --swatch 20cmx50cm --from L1.1"]);
    assert_eq!(
        pieces(&workshop),
        [("3.8".into(), "1.5".into(), "40".into())]
    );
    workshop.audit();
}

/// By hand: 40.00 for 4.00 × 1.50 m are 6.667 the square metre; 0.20 × 1.00 m carry 1.333333.
#[test]
fn of_a_corner_the_rest_of_the_strip_is_a_piece_however_small() {
    let workshop = stocked();
    let whole = pieces(&workshop);
    let test =
        workshop.json("wash test L1 --length 35cm=34cm --swatch 20cmx50cm --from L1.1 --corner");
    let notes = test["notes"].to_string();
    assert!(
        notes.contains(
            "a piece is a rectangle: the rest of the strip, 0.20 m long and 100 cm wide, is L1.2"
        ),
        "{notes}"
    );
    assert_eq!(
        pieces(&workshop),
        [
            ("3.8".into(), "1.5".into(), "38.666667".into()),
            ("0.2".into(), "1".into(), "1.333333".into())
        ]
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(pieces(&workshop), whole);
    workshop.audit();
}

#[test]
fn a_swatch_whose_strip_was_used_is_not_taken_back() {
    let workshop = stocked();
    workshop.all(&[
        "wash test L1 --length 35cm=34cm --swatch 50cmx50cm --from L1.1",
        "cut G1 base 50cm --from L1.2",
    ]);
    let before = workshop.dump();
    workshop
        .run("undo B4 --yes")
        .refused(1, &["L1.2 has been used or changed since, by B5", "hint: "]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&["undo B5 --yes", "undo B4 --yes"]);
    workshop.audit();
}

/// By hand: 5 cm before a cut are as short as 5 cm behind it. Derived: 1.05 m of 4.00 m for 40.00 cost 10.50.
#[test]
fn a_rest_before_a_cut_is_kept_or_waste_by_the_same_rule() {
    let workshop = stocked();
    let whole = pieces(&workshop);
    let cut = workshop.json("cut G1 base 1m --from L1.1 --at 5cm");
    assert_eq!(
        (cut["cost"].as_str(), cut["made"].as_array().unwrap().len()),
        (Some("10.5"), 0),
        "{cut}"
    );
    assert!(
        cut["notes"]
            .to_string()
            .contains("the rest of L1.1, 0.05 m, is too short to keep"),
        "{cut}"
    );
    assert_eq!(
        pieces(&workshop),
        [("2.95".into(), "1.5".into(), "29.5".into())]
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(pieces(&workshop), whole);

    // As long as an offcut, or kept because somebody says so.
    for line in [
        "cut G1 base 1m --from L1.1 --at 25cm",
        "cut G1 base 1m --from L1.1 --at 5cm --keep-rest",
    ] {
        assert_eq!(
            workshop.json(line)["made"].as_array().unwrap().len(),
            1,
            "{line}"
        );
        workshop.all(&["undo --yes"]);
        assert_eq!(pieces(&workshop), whole, "{line}");
    }
    workshop.audit();
}

/// Where the outer end is a flaw the first cut begins behind it; so it did, and left 5 cm with 0.00 m free.
#[test]
fn a_flaw_at_the_end_is_waste_of_the_cut_behind_it() {
    let workshop = stocked();
    workshop.all(&["lot flaw L1.1 --at 0cm --length 5cm"]);
    let whole = pieces(&workshop);
    let cut = workshop.json("cut G1 base 1m --from L1.1");
    assert_eq!(cut["made"].as_array().unwrap().len(), 0, "{cut}");
    assert_eq!(
        pieces(&workshop),
        [("2.95".into(), "1.5".into(), "29.5".into())]
    );
    workshop.all(&["undo --yes"]);
    assert_eq!(pieces(&workshop), whole);
    assert_eq!(
        workshop.json("lot show L1")["pieces"][0]["flaws"][0]["length_m"],
        "0.05"
    );
    workshop.audit();
}
