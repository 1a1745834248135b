//! `ellwand lot weigh`: rolls and reels, with and without their cores.

use crate::Workshop;
use crate::stories::reels::on_hand;
use crate::stories::{GREY, two_lots};
use serde_json::Value;

/// By hand: 5.900 kg less a core of 0.500 kg are 5.400 kg, and at 180 g/m² and 150 cm that is 20.00 m; less one of 0.770 kg it is
/// 19.00 m. A core that was weighed for a piece goes before the one on the lot's sheet.
#[test]
fn a_roll_is_weighed_with_its_core() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=19.5m,price=40,full-width=150cm,mass=180gsm,tare=500g'",
        "buy --line 'material=canvas,kind=interlining,paid=10m,price=40,full-width=90cm,mass=200gsm'",
        "lot edit L2 --tare 300g",
    ]);
    let by_sheet = workshop.json("lot weigh L1.1 5.9kg");
    assert_eq!(by_sheet["piece"]["on_hand"]["length_m"], "20");
    let own = workshop.json("lot weigh L1.1 5.9kg --tare 770g");
    assert_eq!(
        (
            &own["piece"]["on_hand"]["length_m"],
            &own["piece"]["tare_g"]
        ),
        (&"19".into(), &"770".into())
    );
    assert!(
        own["notes"]
            .to_string()
            .contains("770 g is kept as the mass of its empty core"),
        "{own}"
    );
    // 1.8 kg and the core: 10 m × 0.90 m × 200 g/m².
    assert_eq!(
        workshop.json("lot weigh L2.1 2.1kg")["piece"]["on_hand"]["length_m"],
        "10"
    );
    workshop.run("lot weigh L2.1 200g").refused(
        1,
        &["200 g in all is less than the empty core, 300 g", "--tare"],
    );
    assert!(
        workshop
            .run("lot show L1")
            .done()
            .out
            .contains("empty core")
    );
    workshop
        .run("buy --line 'material=b,kind=trim,paid=3,price=1,tare=1g'")
        .refused(1, &["trim has no tare"]);
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
        .refused(1, &["0 g is not a mass"]);
    workshop.run("lot weigh L1.2").refused(2, &["missing: "]);
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
        let report = empty["notes"].to_string();
        assert_eq!(report.contains("10.00 EUR"), lost == "10", "{report}");
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
