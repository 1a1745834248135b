//! Several handles on one book: promises whose day has passed, and a fight for the last cloth.

use crate::book::{TestBook, ask};
use ellwand_contract::{
    ProblemType,
    cuts::Cut,
    garments::{EditGarment, GetCandidates, GetGarment, PlanGarment},
    lots::GetLot,
    purchases::Buy,
    quotations::{AcceptQuotation, GetQuotation, MakeQuotation, Requote},
    reservations::Reserve,
    shelf::GetShelf,
};
use ellwand_domain::setting::{QuotationState, ReservationState};
use serde_json::json;
use std::sync::atomic::{AtomicUsize, Ordering};

fn stocked(garments: usize) -> TestBook {
    let book = TestBook::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    book.ask::<Buy>(json!({"line": [{"material": linen, "paid": "10m", "price": "100"}]}))
        .unwrap();
    for _ in 0..garments {
        let need = json!([{"role": "shell", "kind": "cloth", "length": "0.96m", "width": "140cm", "preparation": "none"}]);
        book.ask::<PlanGarment>(json!({"name": "dress", "need": need}))
            .unwrap();
    }
    book
}

#[test]
fn a_promise_ends_with_its_day() {
    let book = stocked(2);
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks, "until": "2026-10-12"}))
        .unwrap();
    let tomorrow = book.handle(1);
    // Readers leave it out.
    let lot = ask::<GetLot>(&tomorrow, json!({"lot": "L1"})).unwrap();
    assert_eq!(lot.pieces[0].reserved.get(), 0);
    let free = |least: &str| {
        ask::<GetShelf>(&tomorrow, json!({"free_min": least}))
            .unwrap()
            .pieces
            .len()
    };
    assert_eq!(
        (free("10m"), free("10.01m")),
        (1, 0),
        "and what it held is free to ask for"
    );
    let held = ask::<GetShelf>(&book.book, json!({"free_min": "10m"})).unwrap();
    assert!(held.pieces.is_empty(), "today it still holds");
    let seen = ask::<GetGarment>(&tomorrow, json!({"garment": "G1"})).unwrap();
    assert_eq!(
        seen.needs[0].reservations[0].state,
        ReservationState::Expired
    );
    // The next write to the piece ends it, once.
    ask::<Reserve>(&tomorrow, json!({"garment": "G2", "picks": picks})).unwrap();
    let ended = ask::<GetGarment>(&tomorrow, json!({"garment": "G1"})).unwrap();
    let promise = &ended.needs[0].reservations[0];
    assert_eq!(promise.state, ReservationState::Expired);
    assert!(
        promise
            .ended_because
            .as_ref()
            .unwrap()
            .contains("2026-10-12")
    );
    // It cannot be used any more.
    let cut = json!({"garment": "G1", "need": "shell", "reservation": "R1"});
    assert_eq!(
        ask::<Cut>(&tomorrow, cut).unwrap_err().kind,
        ProblemType::WrongState
    );
    book.audit();
}

/// Rule 7: 16 garments want 1.00 m each of 10 m; ten get it, whoever asks when.
#[test]
fn two_people_never_both_win_the_same_cloth() {
    let book = stocked(16);
    let (won, lost) = (AtomicUsize::new(0), AtomicUsize::new(0));
    std::thread::scope(|scope| {
        for thread in 0..8 {
            let handle = if thread % 2 == 0 {
                book.book.clone()
            } else {
                book.handle(0)
            };
            let (won, lost) = (&won, &lost);
            scope.spawn(move || {
                for garment in [2 * thread + 1, 2 * thread + 2] {
                    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
                    let request = json!({"garment": format!("G{garment}"), "picks": picks});
                    match ask::<Reserve>(&handle, request) {
                        Ok(_) => won.fetch_add(1, Ordering::Relaxed),
                        Err(problem) => {
                            assert_eq!(problem.kind, ProblemType::ExceedsAvailable, "{problem}");
                            lost.fetch_add(1, Ordering::Relaxed)
                        }
                    };
                }
            });
        }
    });
    assert_eq!((won.into_inner(), lost.into_inner()), (10, 6));
    book.audit();
}

/// Eight people accept one quotation at once: one wins and holds the material once, the others are reported.
#[test]
fn two_people_never_both_accept_a_quotation() {
    let book = stocked(1);
    book.ask::<MakeQuotation>(json!({"garment": "G1", "price": {"markup": "50%"}}))
        .unwrap();
    let won = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for thread in 0..8 {
            let handle = if thread % 2 == 0 {
                book.book.clone()
            } else {
                book.handle(0)
            };
            let won = &won;
            scope.spawn(move || {
                let request = json!({"quotation": "Q1", "version": 1, "reserve": true});
                match ask::<AcceptQuotation>(&handle, request) {
                    Ok(accepted) => {
                        assert_eq!(accepted.reservations.len(), 1);
                        won.fetch_add(1, Ordering::Relaxed);
                    }
                    Err(problem) => {
                        assert_eq!(problem.kind, ProblemType::WrongState, "{problem}");
                        assert!(
                            problem.detail.contains("was accepted already, in B"),
                            "{problem}"
                        );
                    }
                }
            });
        }
    });
    assert_eq!(won.into_inner(), 1);
    let quotation = book
        .ask::<GetQuotation>(json!({"quotation": "Q1"}))
        .unwrap();
    assert_eq!(
        (quotation.state, quotation.accepted),
        (QuotationState::Accepted, Some(1))
    );
    let lot = book.ask::<GetLot>(json!({"lot": "L1"})).unwrap();
    assert_eq!(
        lot.pieces[0].reserved.get(),
        1_000_000,
        "0.96 m and the end allowance, once"
    );
    book.audit();
}

/// Eight people make a supplement of one quotation at once: one is open, and the others are reported which.
#[test]
fn one_supplement_is_open_at_a_time() {
    let book = stocked(1);
    book.ask::<MakeQuotation>(
        json!({"garment": "G1", "price": {"markup": "50%"}, "reserve": true}),
    )
    .unwrap();
    book.ask::<AcceptQuotation>(json!({"quotation": "Q1", "version": 1}))
        .unwrap();
    let need = json!([{"role": "hood", "kind": "cloth", "length": "0.46m", "width": "140cm", "preparation": "none"}]);
    book.ask::<EditGarment>(json!({"garment": "G1", "need": need}))
        .unwrap();
    let won = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for thread in 0..8 {
            let handle = if thread % 2 == 0 {
                book.book.clone()
            } else {
                book.handle(0)
            };
            let won = &won;
            scope.spawn(move || {
                let request = json!({"garment": "G1", "supplement_to": "Q1", "reserve": true});
                match ask::<MakeQuotation>(&handle, request) {
                    Ok(made) => {
                        assert_eq!(made.reservations.len(), 1, "what is open, and no more");
                        won.fetch_add(1, Ordering::Relaxed);
                    }
                    Err(problem) => {
                        assert_eq!(problem.kind, ProblemType::WrongState, "{problem}");
                        assert!(
                            problem.detail.contains("supplements Q1 and is still open"),
                            "{problem}"
                        );
                    }
                }
            });
        }
    });
    assert_eq!(won.into_inner(), 1);
    let lot = book.ask::<GetLot>(json!({"lot": "L1"})).unwrap();
    assert_eq!(
        lot.pieces[0].reserved.get(),
        1_500_000,
        "1.00 m agreed and 0.50 m asked"
    );
    book.audit();
}

/// What an open quotation promised is free on the day after its last one, for its own garment, too.
#[test]
fn what_an_open_quotation_holds_ends_with_its_last_day() {
    let book = stocked(1);
    let made = json!({"garment": "G1", "price": {"markup": "50%"}, "reserve": true, "valid_until": "2026-10-12"});
    book.ask::<MakeQuotation>(made).unwrap();
    let tomorrow = book.handle(1);
    let accept = || json!({"quotation": "Q1", "version": 1});
    assert_eq!(
        ask::<AcceptQuotation>(&tomorrow, accept())
            .unwrap_err()
            .kind,
        ProblemType::InvalidDate
    );
    let open = ask::<GetCandidates>(&tomorrow, json!({"garment": "G1"})).unwrap();
    assert_eq!(
        (open.needs[0].units_open, open.needs[0].picks.len()),
        (1, 1)
    );
    let again = ask::<Requote>(&tomorrow, json!({"quotation": "Q1", "reserve": true})).unwrap();
    let states: Vec<_> = again.reservations.iter().map(|row| row.state).collect();
    assert_eq!(
        states,
        [ReservationState::Expired, ReservationState::Active]
    );
    // The other day, the promise still stands and is kept.
    let other = stocked(1);
    other.ask::<MakeQuotation>(json!({"garment": "G1", "price": {"markup": "50%"}, "reserve": true, "valid_until": "2026-10-12"})).unwrap();
    let kept = other.ask::<AcceptQuotation>(accept()).unwrap();
    assert_eq!(
        (kept.reservations[0].state, kept.reservations[0].until),
        (ReservationState::Active, None)
    );
    let seen = ask::<GetQuotation>(&other.handle(5), json!({"quotation": "Q1"})).unwrap();
    assert_eq!(seen.reservations[0].state, ReservationState::Active);
    book.audit();
    other.audit();
}

/// A stage is due on its day, by the workshop's clock, over the turn of the year.
#[test]
fn a_stage_falls_due_on_its_day() {
    let book = stocked(1);
    let stage = json!([
        {"name": "deposit", "amount": "40% of gross", "due": "2026-12-31"},
        {"name": "fitting", "amount": "20% of gross"},
        {"name": "last", "amount": "40% of gross", "due": "2027-01-01"},
    ]);
    book.ask::<MakeQuotation>(json!({"garment": "G1", "price": {"price": "100"}, "stage": stage}))
        .unwrap();
    book.ask::<AcceptQuotation>(json!({"quotation": "Q1", "version": 1}))
        .unwrap();
    for (after, due) in [(79, "0.00"), (80, "40.00"), (81, "100.00"), (200, "100.00")] {
        let seen = ask::<GetQuotation>(&book.handle(after), json!({"quotation": "Q1"})).unwrap();
        assert_eq!(seen.standing.due_now, due, "{after} days after 12 October");
    }
}
