//! `ellwand lot flaw` and `flaw-remove`.

use crate::Workshop;

#[test]
fn a_flaw_is_marked_and_taken_away_by_its_number() {
    let workshop = Workshop::new();
    workshop.all(&["buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3m,price=30'"]);
    let marked = workshop
        .run("lot flaw L1.1 --at 1m --length 3cm --note slub")
        .done();
    assert!(
        marked.out.contains("slub") && marked.err.contains("Marked a flaw in L1.1 at 1m"),
        "{marked:?}"
    );
    let removed = workshop.run("lot flaw-remove L1.1 1").done();
    assert!(
        !removed.out.contains("slub") && removed.err.contains("Removed flaw 1 of L1.1"),
        "{removed:?}"
    );
    workshop.audit();
}
