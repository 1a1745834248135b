//! The workshop's day: around midnight when clocks are put forward or back, and after a clock that jumped back.

use crate::{
    book::{TestBook, ask, confirmed, day, send},
    place::Place,
};
use chrono::{DateTime, Days, SecondsFormat, TimeDelta, Utc};
use ellwand_contract::{
    ProblemType, Sending,
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
    Book::open(
        &place.url,
        Options {
            clock: Clock::fixed(now),
            create: true,
        },
    )
    .unwrap()
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
        (
            "Asia/Beirut",
            &[
                ("2026-03-28T21:59:59Z", "2026-03-28"),
                ("2026-03-28T22:00:00Z", "2026-03-29"),
            ],
        ),
    ] {
        let place = Place::new();
        ask::<SetWorkshop>(&at(&place, "2026-01-01T12:00:00Z"), json!({"zone": zone})).unwrap();
        for ((now, day), number) in instants.iter().zip(2..) {
            let book = at(&place, now);
            ask::<Buy>(&book, purchase()).unwrap();
            let booked =
                ask::<GetBooking>(&book, json!({"booking": format!("B{number}")})).unwrap();
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
    ask::<Buy>(
        &tomorrow,
        json!({"line": [{"material": linen, "paid": "4m", "price": "40"}]}),
    )
    .unwrap();
    let need = json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"}]);
    ask::<PlanGarment>(&tomorrow, json!({"name": "vest", "need": need})).unwrap();
    let cut = || json!({"garment": "G1", "need": "shell", "piece": "L1.1", "amount": "1m"});
    // A clock that stands before the last booking is asked about, whatever is to be booked.
    let problem = book.ask::<Cut>(cut()).unwrap_err();
    assert_eq!(problem.kind, ProblemType::ClockInDoubt, "{problem}");
    assert_eq!(
        problem.numbers["last_booking"],
        json!(day(1).to_rfc3339_opts(SecondsFormat::Secs, true))
    );
    // Today, as the clock says now, the cloth had not come in.
    let problem = confirmed::<Cut>(&book.book, cut()).unwrap_err();
    assert_eq!(problem.kind, ProblemType::InvalidDate, "{problem}");
    assert!(
        problem.detail.contains(&day(1).date_naive().to_string()),
        "{problem}"
    );
    assert_eq!(book.ask::<GetShelf>(json!({})).unwrap().pieces.len(), 1);
    book.audit();
    ask::<Cut>(&tomorrow, cut()).unwrap();
    confirmed::<Undo>(&book.book, json!({"booking": "B3"})).unwrap();
    // The last booking is of today now: nothing is in doubt.
    book.ask::<PlanGarment>(json!({"name": "vest"})).unwrap();
    book.audit();
    ask::<Cut>(&tomorrow, cut()).unwrap();
    assert!(
        ask::<RunAudit>(&tomorrow, json!({}))
            .unwrap()
            .findings
            .is_empty()
    );
}

/// An hour before the last booking is how far the clocks of two servers may differ; a day is how far the sender's may.
#[test]
fn a_clock_in_doubt_is_asked_about_and_not_booked_by() {
    let book = TestBook::new();
    ask::<Buy>(&book.book, purchase()).unwrap();
    let at = |time: DateTime<Utc>| {
        Book::open(
            &book.url(),
            Options {
                clock: Clock::fixed(time),
                create: false,
            },
        )
        .unwrap()
    };
    ask::<PlanGarment>(
        &at(day(0) - TimeDelta::minutes(60)),
        json!({"name": "vest"}),
    )
    .unwrap();
    let early = at(day(0) - TimeDelta::minutes(121));
    let problem = ask::<PlanGarment>(&early, json!({"name": "vest"})).unwrap_err();
    assert_eq!(problem.kind, ProblemType::ClockInDoubt, "{problem}");
    // What is only read is shown.
    ask::<GetShelf>(&early, json!({})).unwrap();
    let sent = |at| Sending {
        at: Some(at),
        ..Sending::default()
    };
    let plan =
        |sending| send::<PlanGarment>(&book.book, json!({"name": "vest"}), sending).map(drop);
    for time in [day(0) - Days::new(1), day(1)] {
        plan(sent(time)).unwrap();
    }
    for time in [
        day(0) - TimeDelta::minutes(1_441),
        day(0) + TimeDelta::minutes(1_441),
    ] {
        assert_eq!(
            plan(sent(time)).unwrap_err().kind,
            ProblemType::ClockInDoubt
        );
        plan(Sending {
            clock_confirmed: true,
            ..sent(time)
        })
        .unwrap();
    }
}

/// A question is no refusal: a repeat that is asked about the clock settles nothing, and is booked once it is confirmed.
#[test]
fn a_question_about_the_clock_settles_no_id() {
    let book = TestBook::new();
    ask::<Buy>(&book.handle(1), purchase()).unwrap();
    let plan = json!({"id": uuid::Uuid::now_v7(), "name": "vest"});
    let repeat = Sending {
        repeat: true,
        ..Sending::default()
    };
    let problem = send::<PlanGarment>(&book.book, plan.clone(), repeat).unwrap_err();
    assert_eq!(problem.kind, ProblemType::ClockInDoubt, "{problem}");
    send::<PlanGarment>(
        &book.book,
        plan,
        Sending {
            clock_confirmed: true,
            ..repeat
        },
    )
    .unwrap();
}
