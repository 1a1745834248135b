//! How often the book asks its database for one answer.

use crate::book::TestBook;
use diesel::connection::{Instrumentation, InstrumentationEvent, set_default_instrumentation};
use ellwand_contract::{
    cuts::Cut,
    garments::{GetCandidates, PlanGarment},
    purchases::Buy,
};
use serde_json::json;
use std::sync::Mutex;

/// Statements that read cuts, each with the address it was asked at: other tests ask other books.
static READ: Mutex<Vec<String>> = Mutex::new(Vec::new());

#[derive(Default)]
struct Counted {
    url: String,
}

impl Instrumentation for Counted {
    fn on_connection_event(&mut self, event: InstrumentationEvent<'_>) {
        match event {
            InstrumentationEvent::StartEstablishConnection { url, .. } => self.url = url.to_owned(),
            InstrumentationEvent::StartQuery { query, .. }
                if query.to_string().contains("`cuts` INNER JOIN") =>
            {
                READ.lock().unwrap().push(self.url.clone());
            }
            _ => {}
        }
    }
}

/// Statements that read cuts while the candidates are looked for of a need of three reels, one of which was cut a few times.
fn read(reels: u32, cuts: u32) -> usize {
    let book = TestBook::sqlite();
    let thread = json!({"kind": "thread", "name": "thread", "reel_length": "1000m"});
    let line = json!([{"material": thread, "paid": format!("{reels} reels"), "price": "30"}]);
    drop(book.ask::<Buy>(json!({"line": line})).unwrap());
    let need = json!([{"role": "thread", "kind": "thread", "length": "300m", "reels": 3}]);
    let garment = book
        .ask::<PlanGarment>(json!({"name": "shirt", "need": need}))
        .unwrap()
        .garment;
    for _ in 0..cuts {
        let cut = json!({
            "garment": garment, "need": "thread", "piece": "L1.1", "amount": "1m", "reason": "own-mistake"
        });
        drop(book.ask::<Cut>(cut).unwrap());
    }
    READ.lock().unwrap().clear();
    let found = book
        .ask::<GetCandidates>(json!({"garment": garment}))
        .unwrap();
    assert_eq!(found.needs[0].serve.len(), usize::try_from(reels).unwrap());
    let file = book.file();
    READ.lock()
        .unwrap()
        .iter()
        .filter(|url| url.contains(&file))
        .count()
}

/// Derived: what a garment was cut from is the same for every reel, so that it is read as often for twelve as for four.
#[test]
fn the_cuts_of_a_garment_are_not_read_once_a_reel() {
    set_default_instrumentation(|| Some(Box::new(Counted::default()))).unwrap();
    let few = read(4, 5);
    assert!(few > 0, "what is counted is asked");
    assert_eq!(read(12, 5), few);
}
