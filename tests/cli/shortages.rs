//! A refusal shows what is short, however little it is.

use crate::workshop::Workshop;

/// By hand: (1.00 + 0.04) ÷ 0.96 = 1.083334 m, and 1.083333 m are there.
#[test]
fn a_shortage_of_a_micrometre_is_seen() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=1.083333m,price=40,full-width=150cm,shrinkage=4%/0%'",
        "garment plan top --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed'",
        "garment plan wide --need 'role=shell,kind=cloth,length=50cm,width=150.0001cm,preparation=none'",
    ]);
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["1.083333 m", "needs 1.083334 m"]);
    let cannot = workshop.json("candidates G1")["needs"][0]["cannot"][0]["reason"].clone();
    assert_eq!(cannot, "1.083333 m free, 1.083334 m needed");
    let narrow = workshop.json("candidates G2")["needs"][0]["cannot"][0]["reason"].clone();
    let told = narrow.as_str().unwrap();
    assert!(
        told.starts_with("150 cm usable, the need asks for 150.0001 cm"),
        "{told}"
    );
    workshop
        .run("cut G1 shell 1.083334m --from L1.1 --really")
        .refused(1, &["1.083333 m", "needs 1.083334 m"]);
    workshop.all(&["workshop set --units imperial"]);
    // 1.083333 m and 1.083334 m ÷ 0.9144 m.
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["1.184747 yd", "needs 1.184748 yd"]);
    workshop.audit();
}

/// A cut that its own promise covers needs nothing more; what is missing is one length for the other promise.
#[test]
fn a_cut_that_leaves_no_room_for_another_promise_says_so() {
    let workshop = Workshop::new();
    let need = "--need 'role=shell,kind=cloth,length=1.96m,width=140cm,preparation=none'";
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        &format!("garment plan one {need}"),
        &format!("garment plan other {need}"),
        "reserve G1 shell --from L1.1",
        "reserve G2 shell --from L1.1",
    ]);
    let before = workshop.dump();
    let refused = workshop.run("cut G1 shell 2m --at 1m");
    assert!(!refused.err.contains("0.00 m"), "{}", refused.err);
    refused.refused(
        1,
        &[
            "the shell of G1 cannot be cut there",
            "R2 holds 2.00 m for the shell of G2",
            "hint: ",
        ],
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&["cut G1 shell 2m"]);
    workshop.audit();
}
