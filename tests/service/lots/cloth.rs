//! Pieces of cloth: panels and strips, flaws, lengths by weight and by the yard.

use crate::Workshop;

/// A panel 0.50 × 0.60 m of a piece 2.00 × 1.40 m worth 56.00, by area (derived).
#[test]
fn a_panel_takes_its_share_and_the_strip_the_rest() {
    for (keep, cost, strip) in [
        ("--keep-strip", "6", Some("8")),
        ("--no-keep-strip", "14", None),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            "buy --line 'material=canvas,kind=cloth,paid=2m,price=56.00,full-width=140cm'",
            "garment plan bag --need 'role=base,kind=cloth,length=50cm,width=60cm,preparation=none'",
        ]);
        let cut = workshop.json(&format!("cut G1 base 50cm --from L1.1 --panel 60cm {keep}"));
        assert_eq!(cut["cost"], cost);
        assert_eq!(cut["made"][0]["value"].as_str(), strip);
        assert_eq!(cut["piece"]["value"], "42");
        workshop.audit();
    }
}

/// Cloth by the kilo: 1.240 kg at 230 g/m² and 1.50 m is 3.5942 m (onlineclothingstudy.com 2019: full width counts);
/// a roll of 25 kg, 180 g/m², 1.50 m is 92.59 m. 2.5 yd at 12.00 a yard is 30.00 for 2.286 m.
#[test]
fn cloth_is_bought_by_the_kilo_and_by_the_yard() {
    let workshop = Workshop::new();
    let bought = workshop.json(
        "buy --line 'material=jersey,kind=cloth,paid=1.240kg,price=14.00/kg,full-width=150cm,mass=230gsm' \
             --line 'material=roll,kind=cloth,paid=25kg,price=300.00,full-width=150cm,mass=180gsm' \
             --line 'material=print,kind=cloth,paid=2.5yd,price=12.00/yd,full-width=45in'",
    );
    let metres = |line: usize| {
        bought["lines"][line]["measured"]["length_m"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(
        (
            bought["lines"][0]["price"].as_str().unwrap(),
            metres(0).as_str()
        ),
        ("17.36", "3.594202")
    );
    assert!(metres(1).starts_with("92.59"), "{}", metres(1));
    assert_eq!(
        (
            bought["lines"][2]["price"].as_str().unwrap(),
            metres(2).as_str()
        ),
        ("30.00", "2.286")
    );
    workshop.audit();
}

#[test]
fn a_flaw_divides_a_piece_and_nothing_is_promised_across_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "lot flaw L1.1 --at 1.50m --note slub",
        "garment plan dress --need 'role=shell,kind=cloth,length=2.60m,width=140cm,preparation=none'",
    ]);
    let before = workshop.dump();
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["free of flaws", "2.50 m", "hint: "]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&["lot flaw-remove L1.1 1", "reserve G1 shell --from L1.1"]);
    workshop.audit();
}
