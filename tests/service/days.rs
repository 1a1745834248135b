//! The workshop's day: around midnight when clocks are put forward or back, and after a clock that jumped back.

use crate::{
    book::{TestBook, ask, day},
    place::Place,
};
use chrono::{DateTime, Utc};
use ellwand_contract::{
    ProblemType,
    audit::RunAudit,
    bookings::{GetBooking, Undo},
    cuts::Cut,
    garments::PlanGarment,
    purchases::Buy,
    shelf::GetShelf,
    workshop::SetWorkshop,
};
use ellwand_service::{Book, Clock, Options};
use serde_json::{Value, json};

fn at(place: &Place, now: &str) -> Book {
    let now: DateTime<Utc> = now.parse().unwrap();
    Book::open(&place.url, Options { clock: Clock::fixed(now), create: true }).unwrap()
}

fn purchase() -> Value {
    json!({"line": [{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]})
}

/// The last Sundays of March and October 2026 are the 29th and the 25th (Directive 2000/84/EC: the clocks change at 01:00
/// UTC). In Lebanon the clocks are put forward at midnight, so that the day begins at one o'clock (IANA time zone database,
/// Asia/Beirut: last Sunday of March, 0:00).
#[test]
fn a_day_begins_at_the_workshops_midnight_whatever_the_clocks_do() {
    for (zone, instants) in [
        (
            "Europe/Vienna",
            [
                ("2026-03-28T22:59:59Z", "2026-03-28"),
                ("2026-03-28T23:00:00Z", "2026-03-29"),
                ("2026-03-29T21:59:59Z", "2026-03-29"),
                ("2026-03-29T22:00:00Z", "2026-03-30"),
                ("2026-10-24T21:59:59Z", "2026-10-24"),
                ("2026-10-24T22:00:00Z", "2026-10-25"),
                ("2026-10-25T22:59:59Z", "2026-10-25"),
                ("2026-10-25T23:00:00Z", "2026-10-26"),
            ]
            .as_slice(),
        ),
        ("Asia/Beirut", &[("2026-03-28T21:59:59Z", "2026-03-28"), ("2026-03-28T22:00:00Z", "2026-03-29")]),
    ] {
        let place = Place::new();
        ask::<SetWorkshop>(&at(&place, "2026-01-01T12:00:00Z"), json!({"zone": zone})).unwrap();
        for ((now, day), number) in instants.iter().zip(1..) {
            let book = at(&place, now);
            ask::<Buy>(&book, purchase()).unwrap();
            let booked = ask::<GetBooking>(&book, json!({"booking": format!("B{number}")})).unwrap();
            assert_eq!(booked.on_date.to_string(), *day, "{zone} at {now}");
            // The next day is in the future there, and this one is not.
            let mut tomorrow = purchase();
            tomorrow["date"] = json!(booked.on_date.succ_opt().unwrap());
            let problem = ask::<Buy>(&book, tomorrow).unwrap_err();
            assert_eq!(problem.kind, ProblemType::InvalidDate, "{zone} at {now}");
        }
    }
}

/// A clock that jumps back a day: what was booked stays, what would come before it is refused with the day, and when the
/// clock is right again everything goes on.
#[test]
fn a_clock_that_jumps_back_loses_nothing() {
    let book = TestBook::new();
    let tomorrow = book.handle(1);
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    ask::<Buy>(&tomorrow, json!({"line": [{"material": linen, "paid": "4m", "price": "40"}]})).unwrap();
    let need =
        json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"}]);
    ask::<PlanGarment>(&tomorrow, json!({"name": "vest", "need": need})).unwrap();
    let cut = || json!({"garment": "G1", "need": "shell", "piece": "L1.1", "amount": "1m"});
    // Today, as the clock says now, the cloth had not come in.
    let problem = book.ask::<Cut>(cut()).unwrap_err();
    assert_eq!(problem.kind, ProblemType::InvalidDate, "{problem}");
    assert!(problem.detail.contains(&day(1).date_naive().to_string()), "{problem}");
    assert_eq!(book.ask::<GetShelf>(json!({})).unwrap().pieces.len(), 1);
    book.audit();
    ask::<Cut>(&tomorrow, cut()).unwrap();
    ask::<Undo>(&book.book, json!({"booking": "B3"})).unwrap();
    book.audit();
    ask::<Cut>(&tomorrow, cut()).unwrap();
    assert!(ask::<RunAudit>(&tomorrow, json!({})).unwrap().findings.is_empty());
}
