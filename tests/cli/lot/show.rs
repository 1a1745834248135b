//! `ellwand lot show`: what a lot is worth, and where its value went.

use crate::Workshop;

fn cloth() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'",
    ]);
    workshop
}

/// Derived: of 80.00 two of four spoiled by an own mistake are 40.00, and the lot that they were cut from says so.
#[test]
fn the_lot_tells_what_was_lost_with_spoiled_garments() {
    let workshop = cloth();
    workshop.all(&[
        "garment plan apron --count 4 --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none'",
        "reserve G1 --all --yes",
        "cut G1 shell",
        "garment finish G1 --good 2 --spoiled 2 --spoilage own-mistake",
    ]);
    let report = workshop.run("lot show L1").done().out;
    assert!(report.contains("40.00"), "{report}");
}

/// costing.md a-16: tape by length at the moving average; what is left is reported with the material, not with a piece.
#[test]
fn what_thread_and_trims_are_worth_stands_with_their_layers() {
    // At the average 3.20 m of 5.20 m are worth 55.384615 of 90.00.
    for (method, lot, all, piece) in [
        ("fifo", "60", "90", "60"),
        ("average", "90", "90", "55.384615"),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            &format!("workshop set --pooled-method {method}"),
            "buy --line 'material=tape,kind=trim,unit=length,paid=3.20m,price=60'",
            "buy --line 'material=tape,kind=trim,unit=length,paid=2m,price=30'",
        ]);
        let shown = workshop.json("lot show L1");
        assert_eq!(
            (&shown["stock"]["value"], &shown["pieces"][0]["value"]),
            (&lot.into(), &serde_json::Value::Null)
        );
        let stock = workshop.json("material list")["materials"][0]["stock"].clone();
        assert_eq!(
            (&stock["value"], &stock["quantity"]["length_m"]),
            (&all.into(), &"5.2".into())
        );
        assert_eq!(workshop.json("shelf")["pieces"][0]["value"], piece);
        let report = workshop.run("lot show L1").done().out;
        assert!(report.contains(&format!("worth {lot}.00 EUR")), "{report}");
    }
}
