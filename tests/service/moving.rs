//! Whole books copied from one database to another, and worked on there.

use crate::{
    book::{TestBook, ask},
    histories::History,
    place::Place,
};
use ellwand_contract::{ProblemType, audit::RunAudit, purchases::Buy};
use ellwand_service::{Book, Clock, Options, TableContent};
use serde_json::json;

/// A book after many acts of every kind, the same ones each time.
fn lived_in() -> History {
    let history = History::new(false);
    let mut number = 20_261_125_u32;
    let mut draw = || {
        // Numerical Recipes' linear congruential generator.
        number = number.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        u16::try_from(number >> 16).unwrap()
    };
    for _ in 0..120 {
        let kind = u8::try_from(draw() % 256).unwrap();
        history.act((kind, draw(), draw(), draw()));
    }
    history
}

fn open(place: &Place) -> Book {
    Book::open(
        &place.url,
        Options {
            clock: Clock::fixed(crate::book::day(0)),
            create: true,
        },
    )
    .unwrap()
}

#[track_caller]
fn assert_sound(book: &Book) {
    let findings = ask::<RunAudit>(book, json!({})).unwrap().findings;
    assert!(findings.is_empty(), "{findings:?}");
}

fn rows(content: &[TableContent], table: &str) -> u64 {
    content
        .iter()
        .find(|content| content.table == table)
        .unwrap()
        .rows
}

/// A copy holds the same rows, and each of two books goes on where the first one stopped.
fn holds_the_same_and_goes_on(history: &History, copies: &[Book], first: &[TableContent]) {
    for copy in copies {
        assert_eq!(copy.content().unwrap(), first);
    }
    let buy = || {
        json!({"id": "0192f0c8-5c00-7000-8000-0000000000aa",
        "line": [{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]})
    };
    let here = ask::<Buy>(&history.book.book, buy()).unwrap();
    for copy in copies {
        assert_sound(copy);
        assert_eq!(
            ask::<Buy>(copy, buy()).unwrap().purchase,
            here.purchase,
            "the numbers go on alike"
        );
        assert_eq!(
            copy.content().unwrap(),
            history.book.book.content().unwrap(),
            "and the ledger's own too"
        );
        assert_sound(copy);
    }
}

#[test]
fn a_copy_in_a_file_holds_the_same_and_goes_on() {
    let (history, file) = (lived_in(), Place::sqlite());
    let copy = open(&file);
    let first = history.book.book.copy_into(&copy).unwrap();
    assert!(
        rows(&first, "movements") > 20 && rows(&first, "reservations") > 3,
        "{first:?}"
    );
    holds_the_same_and_goes_on(&history, &[copy], &first);
}

/// To a server, and from there back into a file.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_copy_on_a_server_and_one_of_it_hold_the_same_and_go_on() {
    let (history, served, back) = (lived_in(), Place::postgresql(), Place::sqlite());
    let (on_server, again) = (open(&served), open(&back));
    let first = history.book.book.copy_into(&on_server).unwrap();
    assert_eq!(on_server.copy_into(&again).unwrap(), first);
    holds_the_same_and_goes_on(&history, &[on_server, again], &first);
}

#[test]
fn a_book_that_is_not_empty_is_not_written_to() {
    let (from, to) = (lived_in(), TestBook::new());
    let _ = to.ask::<Buy>(
        json!({"line": [{"material": {"kind": "trim", "name": "hook"}, "paid": "3", "price": "1"}]}),
    );
    let before = to.book.content().unwrap();
    let problem = from.book.book.copy_into(&to.book).unwrap_err();
    assert_eq!(problem.kind, ProblemType::AlreadyExists);
    assert!(problem.detail.contains("not empty"), "{problem}");
    assert_eq!(to.book.content().unwrap(), before);
}

/// A copy that stops in the middle leaves an empty book, which a second try fills.
#[test]
fn a_copy_that_is_interrupted_leaves_nothing() {
    let from = lived_in();
    let place = Place::sqlite();
    let to = open(&place);
    place.sql("CREATE TRIGGER stop BEFORE INSERT ON garments BEGIN SELECT RAISE(ABORT, 'on purpose'); END;");
    assert!(from.book.book.copy_into(&to).is_err());
    assert!(
        to.content()
            .unwrap()
            .iter()
            .all(|content| content.rows == 0),
        "{:?}",
        to.content()
    );
    place.sql("DROP TRIGGER stop;");
    assert_eq!(
        from.book.book.copy_into(&to).unwrap(),
        from.book.book.content().unwrap()
    );
}
