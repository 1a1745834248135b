//! Reels as they are bought: how many, how long, and what is paid for them.

use crate::Workshop;
use crate::stories::reels::on_hand;
use crate::stories::{GREY, two_lots};

/// Derived: 66 g less three of 12 g are 30 g of 30 tex, 1000 m; 20 tex of the same mass 1500 m. What the line says goes before
/// what the material's sheet remembers.
#[test]
fn what_a_line_says_of_its_reels_goes_before_what_is_remembered() {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=3 reels,reel-length=1000m,price=9.60'"),
        "buy --line 'material=grey thread,kind=thread,paid=3 reels,line-mass=66g,tare=12g,price=10.00'",
        "buy --line 'material=grey thread,yarn-count=20tex,paid=3 reels,line-mass=66g,tare=12g,price=10.00'",
        "buy --line 'material=grey thread,paid=3 reels,price=9.60'",
        "buy --line 'material=old thread,kind=thread,reel-length=200m,paid=2 reels,price=2'",
        "buy --line 'material=old thread,paid=2 reels,line-mass=50g,price=2'",
    ]);
    let lot = |code: &str| workshop.json(&format!("lot show {code}"));
    let weighed = lot("L2");
    assert_eq!(
        on_hand(&weighed),
        ["333.333334", "333.333333", "333.333333"]
    );
    assert_eq!(weighed["pieces"][0]["estimated"], true);
    assert!(
        workshop.json("buy show P2")["notes"]
            .to_string()
            .contains("not the 1000.00 m on a reel")
    );
    assert_eq!(on_hand(&lot("L3")), ["500", "500", "500"]);
    let remembered = lot("L4");
    assert_eq!(
        on_hand(&remembered),
        ["1000", "1000", "1000"],
        "a line that says nothing else"
    );
    assert_eq!(remembered["pieces"][0]["estimated"], false);
    assert_eq!(
        on_hand(&lot("L6")),
        ["200", "200"],
        "a mass without a count says no length"
    );
    workshop
        .run("buy --line 'material=grey thread,yarn-count=20tex,paid=3 reels,price=10'")
        .refused(1, &["the length of each is not given", "hint: "]);
    workshop.audit();
}

/// Derived: 66 g less three of 12 g are 1000 m of 30 tex, a third of what the reels are said to hold; 126 g are all of it, and
/// 130.5 g are 5 % more of it.
#[test]
fn a_line_that_says_a_mass_and_a_length_on_a_reel_is_reported_where_they_differ() {
    let workshop = Workshop::new();
    for (says, differs) in [
        (
            "paid=3 reels,reel-length=1000m,line-mass=66g,tare=12g",
            true,
        ),
        (
            "paid=3 reels,reel-length=1000m,line-mass=126g,tare=12g",
            false,
        ),
        (
            "paid=3 reels,reel-length=1000m,line-mass=130.5g,tare=12g",
            false,
        ),
        (
            "paid=3 reels,reel-length=1000m,line-mass=131g,tare=12g",
            true,
        ),
        ("paid=30g,reels=3,reel-length=1000m", true),
        ("paid=90g,reels=3,reel-length=1000m", false),
        // What the empty reels weigh may be what is over.
        ("paid=3 reels,reel-length=1000m,line-mass=126g", false),
        ("paid=3 reels,reel-length=1000m,line-mass=66g", true),
    ] {
        let name = says.replace([',', '='], " ");
        let bought = workshop.json(&format!(
            "buy --line 'material={name},kind=thread,yarn-count=30tex,{says},price=9.60'"
        ));
        let report = bought["notes"].to_string();
        assert_eq!(
            report.contains("3 × 1000.00 m on a reel are 3000.00 m, but "),
            differs,
            "{says}: {report}"
        );
        let lot = bought["lines"][0]["lot"].as_str().unwrap();
        assert_eq!(
            on_hand(&workshop.json(&format!("lot show {lot}"))),
            ["1000", "1000", "1000"],
            "{says}"
        );
    }
    workshop.audit();
}

/// A delivery may differ from what the reels should hold: measured, it counts; a few per cent of what was paid for are reported.
#[test]
fn what_was_paid_for_and_what_the_reels_hold_agree() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=a,kind=thread,paid=3000m,reels=3,reel-length=1000m,price=3'",
        "buy --line 'material=b,kind=thread,paid=3090m,reels=3,reel-length=1000m,price=3'",
        "buy --line 'material=c,kind=thread,paid=5000m,measured=3000m,reels=3,reel-length=1000m,price=5'",
    ]);
    let notes_of =
        |purchase: &str| workshop.json(&format!("buy show {purchase}"))["notes"].to_string();
    assert!(!notes_of("P1").contains("would hold"), "{}", notes_of("P1"));
    assert!(
        notes_of("P2").contains("3 reels of 1000.00 m would hold 3000.00 m: the 3090.00 m paid"),
        "{}",
        notes_of("P2")
    );
    assert!(
        notes_of("P3").contains("2000.00 m short"),
        "{}",
        notes_of("P3")
    );
    assert_eq!(
        on_hand(&workshop.json("lot show L2")),
        ["1030", "1030", "1030"]
    );
    assert_eq!(
        on_hand(&workshop.json("lot show L3")),
        ["1000", "1000", "1000"]
    );
    workshop.audit();
}

/// costing.md a-15, derived from IAS 2 paras 25-27: what is used comes from the first lot, whichever reel it was on. So the reel of
/// the first lot can be found short when its layer is used up: the quantity leaves the other, the value stays.
#[test]
fn a_short_reel_takes_from_its_own_layer_and_then_from_what_others_left() {
    let workshop = two_lots("fifo");
    workshop.all(&[
        "garment plan shirt --need 'role=thread,kind=thread,length=80m'",
        "cut G1 thread 80m --from L2.1",
    ]);
    // 20 m are left of the layer of L1, 100 m of that of L2; the reels hold 100 m and 20 m. 1.2 g of 30 tex are 40 m.
    assert_eq!(
        workshop.json("lot weigh L1.1 --gross 13.2g")["piece"]["on_hand"]["length_m"],
        "40"
    );
    let stock = |lot: &str| workshop.json(&format!("lot show {lot}"))["stock"].clone();
    assert_eq!(
        stock("L1")["quantity"]["length_m"],
        "0",
        "20 m of it, with the 2.00 that were left"
    );
    let second = stock("L2");
    assert_eq!(
        (&second["quantity"]["length_m"], &second["value"]),
        (&"60".into(), &"20".into()),
        "40 m of the other"
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(
        (&stock("L1")["value"], &stock("L2")["quantity"]["length_m"]),
        (&"2".into(), &"100".into())
    );
    workshop.audit();
}
