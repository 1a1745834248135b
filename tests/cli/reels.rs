//! Reels on the shelf: bought as pieces, weighed with their tare, found short, used up.

use crate::workshop::Workshop;
use serde_json::Value;

pub const GREY: &str = "material=grey thread,kind=thread,yarn-count=30tex";

fn on_hand(lot: &Value) -> Vec<&str> {
    let pieces = lot["pieces"].as_array().unwrap();
    pieces
        .iter()
        .map(|piece| piece["on_hand"]["length_m"].as_str().unwrap())
        .collect()
}

/// A shelf with thread of two lots: L1 at 10.00 the 100 m, L2 at 20.00.
pub fn two_lots(method: &str) -> Workshop {
    let workshop = Workshop::new();
    let _ = workshop
        .run(&format!("workshop set --pooled-method {method}"))
        .done();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=100m,price=10.00,tare=12g'"),
        &format!("buy --line '{GREY},paid=100m,price=20.00,tare=12g'"),
    ]);
    workshop
}

/// Derived: three reels of 1000 m; 126 g less three of 12 g are 90 g of 30 tex, 3000 m; 1 kg of 30 tex over four, and the
/// metres add up.
#[test]
fn every_reel_that_was_bought_is_a_piece() {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=3 reels,reel-length=1000m,price=3.20/reel'"),
        "buy --line 'material=blue thread,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=126g,tare=12g,price=9.60'",
        "buy --line 'material=red thread,kind=thread,yarn-count=30tex,paid=1kg,reels=4,price=24'",
        "buy --line 'material=tan thread,kind=thread,paid=100m,reels=3,price=3'",
        "buy --line 'material=old thread,kind=thread,reels=2,measured=90m,price=0'",
    ]);
    let grey = workshop.json("lot show L1");
    assert_eq!(
        (on_hand(&grey), &grey["landed"]),
        (vec!["1000", "1000", "1000"], &"9.6".into())
    );
    assert_eq!(
        grey["pieces"][0]["estimated"], false,
        "the length of a full reel is stated"
    );
    let blue = workshop.json("lot show L2");
    assert_eq!(on_hand(&blue), ["1000", "1000", "1000"]);
    assert_eq!(blue["pieces"][2]["estimated"], true);
    assert_eq!(
        on_hand(&workshop.json("lot show L3")),
        ["8333.333334", "8333.333333", "8333.333333", "8333.333333"]
    );
    assert_eq!(
        on_hand(&workshop.json("lot show L4")),
        ["33.333334", "33.333333", "33.333333"]
    );
    assert_eq!(on_hand(&workshop.json("lot show L5")), ["45", "45"]);
    let told = workshop.run("lot show L2").done().out;
    assert!(
        told.contains("estimated") && told.contains("Ne 19.68"),
        "{told}"
    );
    assert!(
        workshop
            .run("material list --kind thread")
            .done()
            .out
            .contains("metric ticket about 100")
    );
    workshop.audit();
}

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
            .contains("went before the 1000.00 m on a reel")
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
        .refused(1, &["not how long each is", "hint: "]);
    workshop.audit();
}

/// Derived: 66 g less three of 12 g are 1000 m of 30 tex, a third of what the reels are said to hold; 126 g are all of it, and
/// 130.5 g are 5 % more of it.
#[test]
fn a_line_that_says_a_mass_and_a_length_on_a_reel_is_told_where_they_differ() {
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
        let told = bought["notes"].to_string();
        assert_eq!(
            told.contains("3 × 1000.00 m on a reel are 3000.00 m, but "),
            differs,
            "{says}: {told}"
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

#[test]
fn reels_of_which_the_length_cannot_be_known_are_refused() {
    let workshop = Workshop::new();
    let before = workshop.dump();
    for (line, code, says) in [
        (
            "material=a,kind=thread,paid=3 reels,price=1",
            1,
            "not how long each is",
        ),
        (
            "material=a,kind=thread,paid=3 reels,line-mass=100g,price=1",
            1,
            "its yarn count is not known",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=30g,tare=12g,price=1",
            1,
            "the empty 3 reels, 36 g",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=0g,price=1",
            1,
            "weighs something",
        ),
        (
            "material=a,kind=thread,yarn-count=30tex,paid=3 reels,line-mass=36g,tare=12g,price=1",
            1,
            "no length at all",
        ),
        (
            "material=a,kind=thread,paid=3 reels,reels=4,reel-length=100m,price=1",
            1,
            "3 reels were paid for, not 4",
        ),
        (
            "material=a,kind=thread,paid=5000m,reels=3,reel-length=1000m,price=1",
            1,
            "5000.00 m were paid for, but 3 reels of 1000.00 m hold 3000.00 m",
        ),
        (
            "material=a,kind=thread,paid=1000m,reels=3,reel-length=1000m,price=1",
            1,
            "1000.00 m were paid for, but 3 reels of 1000.00 m hold 3000.00 m",
        ),
        (
            "material=a,kind=thread,paid=100m,reels=0,price=1",
            1,
            "0 reels cannot be",
        ),
        (
            "material=a,kind=thread,paid=100m,reels=3,pieces=50m+50m,price=1",
            1,
            "3 reels came, but 2 lengths",
        ),
        (
            "material=a,kind=trim,unit=length,paid=100m,reels=3,price=1",
            1,
            "thread is on reels, trim is not",
        ),
        (
            "material=a,kind=thread,yarn-count=0tex,paid=100m,price=1",
            2,
            "more than zero",
        ),
    ] {
        workshop
            .run(&format!("buy --line '{line}'"))
            .refused(code, &[says]);
    }
    assert_eq!(workshop.dump(), before);
}

/// A delivery may differ from what the reels should hold: measured, it counts; a few per cent of what was paid for are told.
#[test]
fn what_was_paid_for_and_what_the_reels_hold_agree() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=a,kind=thread,paid=3000m,reels=3,reel-length=1000m,price=3'",
        "buy --line 'material=b,kind=thread,paid=3090m,reels=3,reel-length=1000m,price=3'",
        "buy --line 'material=c,kind=thread,paid=5000m,measured=3000m,reels=3,reel-length=1000m,price=5'",
    ]);
    let told = |purchase: &str| workshop.json(&format!("buy show {purchase}"))["notes"].to_string();
    assert!(!told("P1").contains("would hold"), "{}", told("P1"));
    assert!(
        told("P2").contains("3 reels of 1000.00 m would hold 3000.00 m: the 3090.00 m paid"),
        "{}",
        told("P2")
    );
    assert!(told("P3").contains("2000.00 m short"), "{}", told("P3"));
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

/// Derived: 45 g less 12 g are 33 g of 30 tex, 1100 m; the tare that was said for a reel stays with it.
#[test]
fn a_reel_is_weighed_with_its_own_tare() {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=2 reels,reel-length=2000m,tare=10g,price=8'"),
        "garment plan shirt --need 'role=thread,kind=thread,length=1500m'",
        "reserve G1 thread --from L1.2",
    ]);
    let sheet = workshop.json("lot weigh L1.1 --gross 40g");
    assert_eq!(
        (
            &sheet["piece"]["on_hand"]["length_m"],
            &sheet["piece"]["tare_g"]
        ),
        (&"1000".into(), &Value::Null)
    );
    let said = workshop.json("lot weigh L1.2 45g --tare 12g");
    assert_eq!(
        (
            &said["piece"]["on_hand"]["length_m"],
            &said["piece"]["tare_g"]
        ),
        (&"1100".into(), &"12".into())
    );
    assert_eq!(
        said["broken"][0]["reservation"], "R1",
        "1500 m are promised, 1100 m are there"
    );
    // Said once: 42 g less the same 12 g.
    let again = workshop.json("lot weigh L1.2 --gross 42g");
    assert_eq!(
        (
            &again["piece"]["on_hand"]["length_m"],
            &again["piece"]["estimated"]
        ),
        (&"1000".into(), &true.into())
    );
    workshop.run("lot weigh L1.2 --gross 11g").refused(
        1,
        &[
            "L1.2: 11 g in all is less than the empty reel, 12 g",
            "hint: ",
        ],
    );
    workshop
        .run("lot weigh L1.2 --gross 0g")
        .refused(1, &["0 g is no mass"]);
    workshop.run("lot weigh L1.2").refused(2, &["required"]);
    let shown = workshop.run("lot show L1").done().out;
    assert!(shown.contains("12 g") && shown.contains("10 g"), "{shown}");
    // A measure is no estimate; taking the weighings back gives the tare and the promise back.
    assert_eq!(
        workshop.json("lot measure L1.2 990m")["piece"]["estimated"],
        false
    );
    workshop.all(&["undo --yes", "undo --yes", "undo --yes"]);
    let back = workshop.json("lot show L1")["pieces"][1].clone();
    assert_eq!(
        (
            &back["on_hand"]["length_m"],
            &back["tare_g"],
            &back["reserved"]["length_m"]
        ),
        (&"2000".into(), &Value::Null, &"1500".into())
    );
    workshop.audit();
}

/// Normal loss rides on what is left (common practice). Of 30.00 for 200 m of two lots, all is still in the book when one reel
/// is found empty but its layer was used by another; when the last is empty, what is left goes with it.
#[test]
fn an_empty_reel_is_used_up_and_the_last_one_takes_what_is_left_of_the_cost() {
    for (method, after_one, lost) in [("fifo", "20", "10"), ("average", "30", "0")] {
        let workshop = two_lots(method);
        let empty = workshop.json("lot weigh L1.1 --gross 12g");
        assert_eq!(empty["piece"]["on_hand"]["length_m"], "0", "{method}");
        let value = |workshop: &Workshop| {
            workshop.json("material list")["materials"][0]["stock"]["value"].clone()
        };
        assert_eq!(value(&workshop), after_one, "{method}");
        let told = empty["notes"].to_string();
        assert_eq!(told.contains("10.00 EUR"), lost == "10", "{told}");
        workshop.audit();
        workshop
            .run("lot weigh L1.1 --gross 20g")
            .refused(1, &["nothing is left of L1.1"]);
        assert!(
            workshop
                .run("lot show L1")
                .done()
                .out
                .contains("used up: L1.1")
        );
        // Now nothing at all is left, under either method.
        let last = workshop.run("lot weigh L2.1 --gross 12g").done();
        assert!(
            last.out.contains("normal loss") || last.err.contains("normal loss"),
            "{last:?}"
        );
        assert_eq!(value(&workshop), "0", "{method}");
        workshop.audit();
        workshop.all(&["undo --yes", "undo --yes"]);
        assert_eq!(
            (value(&workshop), on_hand(&workshop.json("lot show L1"))),
            ("30".into(), vec!["100"])
        );
        assert_eq!(
            workshop.json("lot show L1")["stock"]["value"],
            if method == "fifo" { "10" } else { "30" }
        );
        workshop.audit();
        // A charge that comes after the loss is shared by where the cost went.
        workshop.all(&["lot weigh L1.1 --gross 12g", "buy charge P1 'freight=5.00'"]);
        workshop.audit();
    }
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
