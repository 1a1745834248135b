//! Material that a garment took over from a cancelled one.

use crate::Workshop;

/// Derived: 2 m at 10.00 ride from the first garment to the second, and half of them goes back to the shelf from there.
#[test]
fn what_was_taken_over_goes_back_to_the_shelf() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "buy --line 'material=button,kind=trim,paid=10,price=20'",
        "garment plan one --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none' \
             --need 'role=button,kind=trim,count=4'",
        "garment plan other --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none'",
        "garment plan third --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none'",
        "cut G1 shell 2m --from L1.1",
        "cut G1 button 4 --from L2.1",
        "garment cancel G1 --cut-material garment=G2",
    ]);
    assert_eq!(workshop.json("cost G2")["all"]["actual"], "28");
    let before = workshop.dump();
    workshop
        .run("garment cancel G2 --cut-material shelf --return B6=3m")
        .refused(1, &["B6 cut less than would go back"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&["garment cancel G2 --cut-material shelf --return B6=1m --return B7=4"]);
    let lot = workshop.json("lot show L1");
    assert_eq!(
        (
            &lot["pieces"][1]["on_hand"]["length_m"],
            &lot["pieces"][1]["value"]
        ),
        (&"1".into(), &"10".into())
    );
    assert_eq!(workshop.json("lot show L2")["stock"]["value"], "20");
    workshop.audit();
    // Taken back, it rides again; over a third garment it still comes from the first one's cuts.
    workshop.all(&[
        "undo --yes",
        "garment cancel G2 --cut-material garment=G3",
        "garment cancel G3 --cut-material shelf --return B6=2m --return B7=4",
    ]);
    let lot = workshop.json("lot show L1");
    let pieces = lot["pieces"].as_array().unwrap();
    assert_eq!(pieces.last().unwrap()["value"], "20", "{lot}");
    workshop.audit();
}
