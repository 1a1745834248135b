//! What a need takes where it names no material: what is called as its role is.

use crate::Workshop;
use serde_json::Value;

fn best(candidates: &Value, need: usize) -> Vec<&str> {
    let serve = candidates["needs"][need]["serve"].as_array().unwrap();
    serve
        .iter()
        .map(|candidate| candidate["piece"].as_str().unwrap())
        .collect()
}

/// Grey wool would leave the shorter rest and comes first by its length; a maker takes the lining for a lining.
#[test]
fn a_lining_takes_the_lining() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey wool,kind=cloth,paid=1m,price=47.47,full-width=150cm' \
             --line 'material=twill Linings,kind=cloth,paid=5m,price=65.35,full-width=140cm'",
        "garment plan waistcoat --need 'role=lining,kind=cloth,length=60cm,width=130cm,preparation=none' \
             --need 'role=back,kind=cloth,length=60cm,width=130cm,preparation=none'",
    ]);
    let candidates = workshop.json("candidates G1");
    assert_eq!(best(&candidates, 0), ["L2.1", "L1.1"]);
    assert_eq!(best(&candidates, 1), ["L1.1", "L2.1"]);
    assert_eq!(candidates["needs"][0]["picks"][0]["piece"], "L2.1");
    // Named, it is taken whatever it is called.
    workshop.all(&[
        "garment edit G1 --need 'role=lining,kind=cloth,length=60cm,width=130cm,preparation=none,material=M1'",
    ]);
    assert_eq!(best(&workshop.json("candidates G1"), 0), ["L1.1"]);
    workshop.audit();
}

/// Lining is a kind of its own: neither stands in for the other.
#[test]
fn lining_is_no_cloth_and_cloth_no_lining() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey wool,kind=cloth,paid=3m,price=60,full-width=150cm,fibres=wool 100%' \
             --line 'material=cupro,kind=lining,paid=5m,price=40,full-width=140cm,shrinkage=3%/1%'",
        "garment plan waistcoat --need 'role=lining,kind=lining,length=60cm,width=130cm,preparation=washed' \
             --need 'role=shell,kind=cloth,length=60cm,width=130cm,preparation=none'",
    ]);
    let candidates = workshop.json("candidates G1");
    assert_eq!(
        (best(&candidates, 0), best(&candidates, 1)),
        (vec!["L2.1"], vec!["L1.1"])
    );
    workshop
        .run("reserve G1 lining --from L1.1")
        .refused(1, &["it is cloth; the need asks for lining"]);
    // (0.60 + 0.04) / 0.97 = 0.6598 m, up to 5 cm.
    let made = workshop.json("reserve G1 lining --from L2.1");
    assert_eq!(made["reservations"][0]["held"]["length_m"], "0.7");
    workshop.all(&["cut G1 lining --really", "undo --yes"]);
    workshop.audit();
}

/// A size that is asked for goes before a name.
#[test]
fn the_size_of_a_trim_goes_before_its_name() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,size=19L,paid=9,price=9' \
             --line 'material=corozo,kind=trim,size=18L,paid=9,price=9'",
        "garment plan shirt --need 'role=buttons,kind=trim,size=18L,count=6'",
    ]);
    assert_eq!(best(&workshop.json("candidates G1"), 0)[0], "L2.1");
    workshop.audit();
}
