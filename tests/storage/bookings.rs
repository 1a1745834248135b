//! Bookings, their movements, the requests that asked for them.

use crate::database::TestDatabase;
use crate::draft::{ADA, BO, booking, day, instant, quantity};
use ellwand_domain::{
    ledger::{Account, AccountKind, Movement},
    quantity::Millionths,
    setting::BookingKind,
};
use ellwand_storage::{Booking, BookingSubject, Request, StorageError, Subject, Tx};
use std::{
    sync::{
        Barrier,
        atomic::{AtomicBool, Ordering},
    },
    time::Duration,
};

/// `amount` millimetres from one place to another, worth as many cents.
pub fn moved(from: Account, to: Account, amount: i64) -> Movement {
    Movement::new(
        from,
        to,
        quantity(amount * 1_000),
        Millionths::new(amount * 10_000).unwrap(),
    )
}

fn insert(tx: &mut Tx<'_>, booking: &Booking) -> Result<(), StorageError> {
    tx.insert_booking(booking, &[], &[])
}

pub fn a_booking_is_read_as_written(book: &TestDatabase) {
    let plain = Booking {
        summary: "Bought 4.00 m écru linen, 50 % off \"today\".".into(),
        ..booking(1)
    };
    let undo = Booking {
        kind: BookingKind::Undone,
        undoes: Some(1),
        ..booking(2)
    };
    let touched = [
        (1, Subject::Garment, 7),
        (1, Subject::Lot, 7),
        (1, Subject::Purchase, 3),
    ];
    let subjects: Vec<BookingSubject> = touched
        .iter()
        .map(|(booking_id, subject, subject_id)| BookingSubject {
            booking_id: *booking_id,
            subject: (*subject),
            subject_id: *subject_id,
        })
        .collect();
    book.put(|tx| {
        tx.insert_booking(&plain, &subjects, &[])?;
        insert(tx, &undo)
    });
    assert_eq!(book.get(|tx| tx.booking(1)), Some(plain));
    assert_eq!(book.get(|tx| tx.booking(2)), Some(undo));
    assert_eq!(book.get(|tx| tx.booking(3)), None);
    let mut read = book.get(|tx| tx.subjects_of(1));
    read.sort_by_key(|row| row.subject);
    assert_eq!(read, subjects);
    assert_eq!(book.get(|tx| tx.subjects_of(2)), vec![]);
}

pub fn movements_are_read_in_the_order_of_the_ledger(book: &TestDatabase) {
    let (piece, garment) = (Account::piece(1), Account::garment(1));
    // A strip is as long as its panel, but other quantities may differ at both ends.
    let uneven = Movement {
        quantity_in: quantity(0),
        ..moved(piece, Account::new(AccountKind::NormalLoss, 0), 3)
    };
    let first = [moved(piece, garment, 20), uneven, moved(garment, piece, 10)];
    let second = [moved(piece, garment, 30)];
    book.put(|tx| {
        tx.insert_booking(&booking(5), &[], &first)?;
        tx.insert_booking(&booking(4), &[], &second)
    });
    let read = book.get(|tx| tx.movements_of(&[4, 5]));
    let bookings: Vec<i64> = read.iter().map(|row| row.booking).collect();
    assert_eq!(
        bookings,
        [5, 5, 5, 4],
        "as they were written, not by the number of the booking"
    );
    assert!(
        read.windows(2)
            .all(|pair| pair[0].sequence < pair[1].sequence)
    );
    let lines: Vec<Movement> = read.iter().map(|row| row.movement).collect();
    assert_eq!(lines, [&first[..], &second[..]].concat());
    assert_eq!(book.get(|tx| tx.movements_of(&[4])).len(), 1);
    assert_eq!(book.get(|tx| tx.movements_of(&[])), vec![]);
}

pub fn every_place_and_every_act_is_stored(book: &TestDatabase) {
    let lines: Vec<Movement> = AccountKind::ALL
        .iter()
        .zip(1..)
        .map(|(kind, id)| {
            moved(
                Account::new(*kind, id),
                Account::new(AccountKind::Piece, 100),
                id,
            )
        })
        .collect();
    book.put(|tx| {
        for (kind, id) in BookingKind::ALL.iter().zip(1..) {
            let lines = if id == 1 { &lines[..] } else { &[] };
            tx.insert_booking(
                &Booking {
                    kind: (*kind),
                    ..booking(id)
                },
                &[],
                lines,
            )?;
        }
        Ok(())
    });
    let read = book.get(|tx| tx.movements_of(&[1]));
    assert_eq!(
        read.iter().map(|row| row.movement).collect::<Vec<_>>(),
        lines
    );
    for (kind, id) in BookingKind::ALL.iter().zip(1..) {
        assert_eq!(book.get(|tx| tx.booking(id)).unwrap().kind, *kind);
    }
}

pub fn a_request_is_kept_with_its_answer(book: &TestDatabase) {
    let request = Request {
        id: "01890a5d-ac96-774b-bcce-b302099a8057".into(),
        act: "cut".into(),
        caller: "ada".into(),
        content: "{\"piece\":\"L1.1\"}".into(),
        answer: "{\"booking\":\"B1\",\"note\":\"½ m\"}".into(),
        answered_at: instant(4),
        erased_at: None,
        refused: false,
    };
    book.put(|tx| tx.insert_request(&request));
    assert_eq!(
        book.get(|tx| tx.request(&request.id)),
        Some(request.clone())
    );
    assert_eq!(
        book.get(|tx| tx.request("01890a5d-ac96-774b-bcce-b302099a8058")),
        None
    );
    let again = book.write(|tx| tx.insert_request(&request));
    assert!(
        matches!(again, Err(StorageError::Constraint(_))),
        "{again:?}"
    );
}

/// Records that tell of someone are emptied once, and change in no other way.
pub fn records_of_requests_are_emptied_once(book: &TestDatabase) {
    let request = |id: &str, content: &str, answer: &str| Request {
        id: format!("01890a5d-ac96-774b-bcce-b3020999{id}"),
        act: "plan_garment".into(),
        caller: "ada".into(),
        content: content.into(),
        answer: answer.into(),
        answered_at: instant(4),
        erased_at: None,
        refused: false,
    };
    let [asked, report, other] = [
        request("0001", "{\"customer\":\"50%_Bo\"}", "{}"),
        request("0002", "{}", "{\"customer\":\"50%_BO\"}"),
        request("0003", "{\"customer\":\"50 or more Bo\"}", "{}"),
    ];
    book.put(|tx| {
        [&asked, &report, &other]
            .into_iter()
            .try_for_each(|request| tx.insert_request(request))
    });
    let text = "\"customer\":\"50%_Bo\"".to_owned();
    let erase = |at| {
        let texts = [text.clone()];
        move |tx: &mut Tx<'_>| tx.erase_requests(&texts, instant(at))
    };
    assert_eq!(book.write(erase(5)).unwrap(), 2);
    assert_eq!(book.write(erase(6)).unwrap(), 0, "once is enough");
    for request in [&asked, &report] {
        let erased = Request {
            content: String::new(),
            answer: String::new(),
            erased_at: Some(instant(5)),
            ..request.clone()
        };
        assert_eq!(book.get(|tx| tx.request(&request.id)), Some(erased));
    }
    assert_eq!(book.get(|tx| tx.request(&other.id)), Some(other.clone()));
}

pub fn the_last_booking_skips_what_was_taken_back(book: &TestDatabase) {
    let by = |id, by: i64, kind: BookingKind, undoes| Booking {
        kind,
        person_id: by,
        undoes,
        ..booking(id)
    };
    let last = |person: i64| {
        book.get(|tx| tx.last_booking_of(person))
            .map(|booking| booking.id)
    };
    assert_eq!(last(ADA), None);
    book.put(|tx| {
        insert(tx, &by(1, ADA, BookingKind::Bought, None))?;
        insert(tx, &by(2, ADA, BookingKind::Cut, None))?;
        insert(tx, &by(3, BO, BookingKind::Cut, None))
    });
    assert_eq!((last(ADA), last(BO)), (Some(2), Some(3)));
    book.put(|tx| insert(tx, &by(4, ADA, BookingKind::Undone, Some(2))));
    assert_eq!(
        last(ADA),
        Some(1),
        "neither the one taken back nor the one that takes back"
    );
    book.put(|tx| insert(tx, &by(5, ADA, BookingKind::Expired, None)));
    assert_eq!(last(ADA), Some(1), "that a day had passed was nobody's act");
    book.put(|tx| insert(tx, &by(6, BO, BookingKind::Undone, Some(1))));
    assert_eq!(
        (last(ADA), last(BO)),
        (None, Some(3)),
        "whoever took it back"
    );
}

pub fn what_took_a_booking_back_is_found(book: &TestDatabase) {
    book.put(|tx| {
        for id in 1..=3 {
            insert(tx, &booking(id))?;
        }
        insert(
            tx,
            &Booking {
                undoes: Some(1),
                ..booking(4)
            },
        )?;
        insert(
            tx,
            &Booking {
                undoes: Some(3),
                ..booking(5)
            },
        )
    });
    assert_eq!(book.get(|tx| tx.undone_by(1)), Some(4));
    assert_eq!(book.get(|tx| tx.undone_by(2)), None);
    let mut pairs = book.get(|tx| tx.undone_among(&[1, 2, 3, 4]));
    pairs.sort_unstable();
    assert_eq!(pairs, [(1, 4), (3, 5)]);
    assert_eq!(book.get(|tx| tx.undone_among(&[2])), vec![]);
}

pub fn movements_of_a_place_come_with_their_days(book: &TestDatabase) {
    let (piece, garment, supplier) = (
        Account::piece(1),
        Account::garment(1),
        Account::new(AccountKind::Supplier, 1),
    );
    let lines = [
        moved(supplier, piece, 50),
        moved(piece, garment, 20),
        moved(supplier, Account::piece(2), 9),
    ];
    book.put(|tx| {
        tx.insert_booking(
            &Booking {
                on_date: day(9),
                ..booking(1)
            },
            &[],
            &lines,
        )?;
        tx.insert_booking(
            &Booking {
                on_date: day(2),
                ..booking(2)
            },
            &[],
            &[moved(garment, piece, 5)],
        )
    });
    let read = book.get(|tx| tx.movements_at(piece));
    let report: Vec<(Movement, u32)> = read
        .iter()
        .map(|(row, on)| (row.movement, if *on == day(9) { 9 } else { 2 }))
        .collect();
    // By the ledger's order: the later booking bears the earlier date.
    assert_eq!(
        report,
        [(lines[0], 9), (lines[1], 9), (moved(garment, piece, 5), 2)]
    );
    assert_eq!(
        book.get(|tx| tx.movements_at(Account::layer(1))),
        vec![],
        "the id of another kind of place"
    );
}

pub fn bookings_after_a_number_come_with_what_they_touched(book: &TestDatabase) {
    assert_eq!(book.get(|tx| tx.newest_booking()), None);
    let subject = |booking_id, subject: Subject, subject_id| BookingSubject {
        booking_id,
        subject,
        subject_id,
    };
    let of_two = [
        subject(2, Subject::Garment, 7),
        subject(2, Subject::Lot, 3),
        subject(2, Subject::Lot, 4),
    ];
    book.put(|tx| {
        tx.insert_booking(&booking(1), &[subject(1, Subject::Lot, 3)], &[])?;
        tx.insert_booking(&booking(2), &of_two, &[])?;
        tx.insert_booking(&booking(3), &[], &[])
    });
    let after = book.get(|tx| tx.bookings_after(1, 10));
    assert_eq!(
        after,
        [(booking(2), of_two.to_vec()), (booking(3), Vec::new())]
    );
    assert_eq!(book.get(|tx| tx.bookings_after(0, 1)).len(), 1);
    assert_eq!(book.get(|tx| tx.bookings_after(3, 10)), []);
    assert_eq!(book.get(|tx| tx.newest_booking()), Some(3));
    assert_eq!(
        book.get(|tx| tx.newest_booking_of(Subject::Lot, 3)),
        Some(2)
    );
    assert_eq!(book.get(|tx| tx.newest_booking_of(Subject::Lot, 9)), None);
}

/// A transaction is held open with a number it has taken; others that come meanwhile, from another handle as from another
/// process, are not seen before it is. A cursor that has passed a number never has to look back.
pub fn no_booking_appears_before_those_numbered_before_it(book: &TestDatabase) {
    let other = book.another(Duration::from_secs(20));
    let reader = book.another(Duration::from_secs(20));
    let seen = || -> Vec<i64> {
        let rows: Result<_, StorageError> = reader.read(|tx| tx.bookings_after(0, 100));
        rows.unwrap().into_iter().map(|(row, _)| row.id).collect()
    };
    let (begun, go) = (Barrier::new(2), Barrier::new(2));
    let held = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            book.put(|tx| {
                let id = tx.next_numbers("booking", 1)?;
                if !held.swap(true, Ordering::SeqCst) {
                    begun.wait();
                    go.wait();
                }
                tx.insert_booking(&booking(id), &[], &[])
            });
        });
        begun.wait();
        let late: Vec<_> = (0..3)
            .map(|_| {
                scope.spawn(|| {
                    let done: Result<i64, StorageError> = other.write(Box::new(|tx| {
                        let id = tx.next_numbers("booking", 1)?;
                        tx.insert_booking(&booking(id), &[], &[])?;
                        Ok(id)
                    }));
                    done.unwrap()
                })
            })
            .collect();
        // Long enough for the others to have come past, if they could.
        std::thread::sleep(Duration::from_millis(300));
        assert_eq!(seen(), [0; 0], "the first is still open");
        go.wait();
        let mut cursor = 0;
        while !late.iter().all(std::thread::ScopedJoinHandle::is_finished) || cursor < 4 {
            let ids = seen();
            assert_eq!(
                ids,
                (1..=i64::try_from(ids.len()).unwrap()).collect::<Vec<_>>(),
                "a gap"
            );
            assert!(ids.len() >= cursor, "what was there goes away");
            cursor = ids.len();
        }
    });
    assert_eq!(seen(), [1, 2, 3, 4]);
}
