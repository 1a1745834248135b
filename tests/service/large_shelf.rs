//! Candidates on a shelf of too many pieces to look at each.

use crate::book::TestBook;
use ellwand_contract::{
    garments::{Candidates, GetCandidates, NeedCandidates, PlanGarment},
    purchases::Buy,
};
use serde_json::{Value, json};

/// A purchase of one lot in pieces of 1 cm, 2 cm, 3 cm and so on.
fn buy(book: &TestBook, name: &str, pieces: u32) {
    let lengths: Vec<String> = (1..=pieces).map(|number| format!("{number}cm")).collect();
    let paid = format!("{}cm", pieces * (pieces + 1) / 2);
    let cloth = json!({"kind": "cloth", "name": name, "full_width": "150cm",
        "shrinkage": {"length": "2%", "width": "1%"}});
    let line = json!([{"material": cloth, "paid": paid, "pieces": lengths, "price": "100"}]);
    book.ask::<Buy>(json!({"line": line})).unwrap();
}

fn candidates(book: &TestBook, count: u32, more: Value) -> NeedCandidates {
    let mut need = json!({"role": "shell", "kind": "cloth", "length": "2m", "width": "140cm", "preparation": "none"});
    for (name, value) in more.as_object().unwrap() {
        need[name] = value.clone();
    }
    let plan = json!({"name": "apron", "count": count, "need": [need]});
    let garment = book.ask::<PlanGarment>(plan).unwrap().garment;
    let Candidates { needs, .. } = book
        .ask::<GetCandidates>(json!({"garment": garment}))
        .unwrap();
    needs.into_iter().next().unwrap()
}

fn best(candidates: &NeedCandidates) -> String {
    candidates
        .serve
        .first()
        .map(|candidate| candidate.piece.to_string())
        .unwrap_or_default()
}

/// 4 cm are left at the end, so that 2.00 m take 2.04 m; the cutting step of 5 cm gives way in a piece that has just that.
#[test]
fn on_a_very_large_shelf_the_nearest_pieces_are_looked_at_and_the_best_is_the_same() {
    let book = TestBook::new();
    buy(&book, "linen", 1_000);
    let all = candidates(&book, 1, json!({}));
    assert!(!all.nearest_only);
    assert_eq!(
        (all.serve.len() + all.cannot.len(), best(&all)),
        (1_000, "L1.204".to_owned())
    );
    let batch = candidates(&book, 4, json!({}));
    assert_eq!(
        (best(&batch), batch.picks.len()),
        ("L1.816".to_owned(), 1),
        "all four of one piece"
    );
    buy(&book, "wool", 1_000);
    let near = candidates(&book, 1, json!({}));
    assert!(near.nearest_only);
    assert!(near.serve.len() + near.cannot.len() <= 200);
    assert_eq!(best(&near), "L1.204");
    let batch = candidates(&book, 4, json!({}));
    assert_eq!((best(&batch), batch.picks.len()), ("L1.816".to_owned(), 1));
    // How much a raw piece takes hangs on its lot: looked at again where the first that serve are.
    let washed = json!({"preparation": "washed", "length": "8m"});
    buy(&book, "silk", 10);
    let near = candidates(&book, 1, washed);
    assert_eq!(
        best(&near),
        "L1.825",
        "8.04 m before 2 % are lost are 8.2041 m, 8.25 m by the step: nothing is left"
    );
    // What the need names is looked at wholly, however far from its length.
    let wool = candidates(&book, 1, json!({"material": "wool"}));
    assert_eq!(
        (wool.serve.len() + wool.cannot.len(), best(&wool)),
        (1_000, "L2.204".to_owned())
    );
    let lot = candidates(&book, 1, json!({"lot": "L2"}));
    assert_eq!(
        (lot.serve.len() + lot.cannot.len(), best(&lot)),
        (1_000, "L2.204".to_owned())
    );
}
