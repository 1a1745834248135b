//! Repeats: what was sent again after its answer was lost, while the first sending may still be under way.

use crate::book::{TestBook, ask};
use ellwand_contract::{
    Outcome, Problem, ProblemType, Sending,
    garments::{GetGarment, PlanGarment},
    purchases::Buy,
    reservations::{Release, Reserve, Reserved},
};
use ellwand_service::{Book, Caller};
use serde_json::json;
use uuid::Uuid;

const REPEAT: Sending = Sending {
    repeat: true,
    at: None,
    clock_confirmed: false,
};
const FIRST: Sending = Sending {
    repeat: false,
    at: None,
    clock_confirmed: false,
};

/// 1.00 m of linen, and two garments that want all of it: 0.96 m and an end allowance of 4 cm.
fn wanted_twice() -> TestBook {
    let book = TestBook::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    book.ask::<Buy>(json!({"line": [{"material": linen, "paid": "1m", "price": "10"}]}))
        .unwrap();
    for _ in 0..2 {
        let need = json!([{"role": "shell", "kind": "cloth", "length": "0.96m", "width": "140cm", "preparation": "none"}]);
        book.ask::<PlanGarment>(json!({"name": "vest", "need": need}))
            .unwrap();
    }
    book
}

fn wish(id: Uuid, garment: &str) -> Reserve {
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    serde_json::from_value(json!({"id": id, "garment": garment, "picks": picks})).unwrap()
}

fn send(book: &Book, wish: &Reserve, sending: Sending) -> Result<Outcome<Reserved>, Problem> {
    book.send(&Caller::owner("owner"), wish, sending)
}

/// Design, section 4, rule 5: the refusal of a repeat is the id's final answer, which the first sending must meet.
#[test]
fn a_refused_repeat_settles_its_id_for_the_first_sending() {
    let book = wanted_twice();
    let (one, other) = (&book.book, book.handle(0));
    send(one, &wish(Uuid::now_v7(), "G1"), FIRST).unwrap();
    let late = wish(Uuid::now_v7(), "G2");
    // The first sending is held back on its way to one server; the repeat comes to the other.
    let report = send(&other, &late, REPEAT).unwrap_err();
    assert_eq!(report.kind, ProblemType::ExceedsAvailable, "{report}");
    assert!(
        report.hint.as_ref().unwrap().contains("final"),
        "{report:?}"
    );
    book.ask::<Release>(json!({"reservations": ["R1"]}))
        .unwrap();
    let arrived = send(one, &late, FIRST).unwrap_err();
    assert_eq!(
        (&arrived.detail, &arrived.numbers),
        (&report.detail, &report.numbers),
        "the same refusal"
    );
    let garment = ask::<GetGarment>(one, json!({"garment": "G2"})).unwrap();
    assert!(
        garment.needs[0].reservations.is_empty(),
        "whoever was refused holds nothing"
    );
    // The same wish under another id is a new request.
    send(one, &wish(Uuid::now_v7(), "G2"), FIRST).unwrap();
    book.audit();
}

/// Ordinary refusals stay unrecorded: nobody heard of a refusal while another sending was under way.
#[test]
fn a_refusal_that_is_no_repeat_is_judged_anew() {
    let book = wanted_twice();
    send(&book.book, &wish(Uuid::now_v7(), "G1"), FIRST).unwrap();
    let late = wish(Uuid::now_v7(), "G2");
    assert_eq!(
        send(&book.book, &late, FIRST).unwrap_err().kind,
        ProblemType::ExceedsAvailable
    );
    book.ask::<Release>(json!({"reservations": ["R1"]}))
        .unwrap();
    assert!(!send(&book.book, &late, FIRST).unwrap().repeated);
    assert!(
        send(&book.book, &late, REPEAT).unwrap().repeated,
        "what was booked stays the answer"
    );
}

/// A settled id takes no other content, and a repeat that is booked is not refused later.
#[test]
fn a_settled_id_takes_no_other_content() {
    let book = wanted_twice();
    let id = Uuid::now_v7();
    let wrong = send(&book.book, &wish(id, "G7"), REPEAT).unwrap_err();
    assert_eq!(wrong.kind, ProblemType::NotFound, "{wrong}");
    let other = send(&book.book, &wish(id, "G1"), FIRST).unwrap_err();
    assert_eq!(
        (other.kind, other.field.as_deref()),
        (ProblemType::ExistsWithDifferent, Some("garment"))
    );
}

/// Many refused repeats and first sendings at once, on two handles: an id that was once refused to a repeat is never booked.
#[test]
fn no_timing_books_what_a_repeat_was_refused() {
    let book = wanted_twice();
    let other = book.handle(0);
    for round in 1..=20 {
        let id = Uuid::now_v7();
        let held = send(&book.book, &wish(Uuid::now_v7(), "G1"), FIRST)
            .unwrap()
            .answer;
        let held = held.reservations[0].reservation;
        let late = wish(id, "G2");
        let (repeat, first) = std::thread::scope(|scope| {
            let repeat = scope.spawn(|| send(&other, &late, REPEAT));
            let release = scope.spawn(|| book.ask::<Release>(json!({"reservations": [held]})));
            let first = scope.spawn(|| send(&book.book, &late, FIRST));
            release.join().unwrap().unwrap();
            (repeat.join().unwrap(), first.join().unwrap())
        });
        // An ordinary refusal may come before the booking; the refusal of a repeat may not.
        assert!(
            repeat.is_ok() || first.is_err(),
            "round {round}: {repeat:?} {first:?}"
        );
        let again = send(&book.book, &late, FIRST);
        assert_eq!(again.is_ok(), repeat.is_ok(), "round {round}");
        if let Ok(outcome) = again {
            let reservation = outcome.answer.reservations[0].reservation;
            book.ask::<Release>(json!({"reservations": [reservation]}))
                .unwrap();
        }
    }
    book.audit();
}
