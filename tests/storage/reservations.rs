//! Promises.

use crate::database::TestDatabase;
use crate::draft::{booking, cloth, day, garment, need, reservation};
use crate::sample::{self, stock};
use ellwand_domain::setting::ReservationState;
use ellwand_storage::{Reservation, StorageError, Tx};

/// The same promise, ended by a booking.
fn ended(row: Reservation, state: ReservationState, by: i64) -> Reservation {
    Reservation {
        state,
        held: 0,
        ended_by: Some(by),
        ended_because: Some("as asked".into()),
        ..row
    }
}

pub fn a_promise_is_read_as_written(book: &TestDatabase) {
    stock(book);
    let full = Reservation {
        stretch: 2,
        lengths: 3,
        until: Some(day(20)),
        ..reservation(1, 1, 500_000)
    };
    book.put(|tx| tx.insert_reservation(&full));
    assert_eq!(book.get(|tx| tx.reservation(1)), Some(full.clone()));
    assert_eq!(book.get(|tx| tx.reservation(2)), None);
    let changed = Reservation {
        held: 400_000,
        until: None,
        stretch: 0,
        asked: "{\"a\":1}".into(),
        ..full
    };
    book.put(|tx| tx.update_reservation(&changed));
    assert_eq!(book.get(|tx| tx.reservation(1)), Some(changed.clone()));
    let over = Reservation {
        ended_because: None,
        ..ended(changed, ReservationState::Cut, 1)
    };
    book.put(|tx| tx.update_reservation(&over));
    assert_eq!(book.get(|tx| tx.reservation(1)), Some(over));
    // Every state is stored.
    for (state, id) in ReservationState::ALL.iter().zip(2..) {
        let row = reservation(id, 1, 1);
        let row = if *state == ReservationState::Active {
            row
        } else {
            ended(row, *state, 1)
        };
        book.put(|tx| tx.insert_reservation(&row));
        assert_eq!(book.get(|tx| tx.reservation(id)), Some(row));
    }
}

/// Four promises: 1 and 3 for garment 1, 2 and 4 for garment 2; 3 on piece 2; 2 ended; 4 made by booking 2.
fn four(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    sample::write(tx)?;
    tx.insert_booking(&booking(2), &[], &[])?;
    tx.insert_piece(&cloth(2, 1, 2))?;
    tx.insert_garment(&garment(2))?;
    tx.save_need(&need(2, 2))?;
    let second = Reservation {
        need_id: 2,
        ..reservation(2, 1, 1)
    };
    tx.insert_reservation(&Reservation {
        need_id: 2,
        booking_id: 2,
        until: Some(day(9)),
        ..reservation(4, 1, 4)
    })?;
    tx.insert_reservation(&Reservation {
        until: Some(day(8)),
        ..reservation(3, 2, 3)
    })?;
    tx.insert_reservation(&ended(
        Reservation {
            until: Some(day(1)),
            ..second
        },
        ReservationState::Released,
        2,
    ))?;
    tx.insert_reservation(&reservation(1, 1, 1))
}

pub fn promises_are_found_by_garment_piece_and_booking(book: &TestDatabase) {
    book.put(four);
    let ids = |rows: Vec<Reservation>| rows.iter().map(|row| row.id).collect::<Vec<_>>();
    assert_eq!(ids(book.get(|tx| tx.reservations_of_garment(1))), [1, 3]);
    assert_eq!(
        ids(book.get(|tx| tx.reservations_of_garment(2))),
        [2, 4],
        "ended ones too"
    );
    assert_eq!(ids(book.get(|tx| tx.active_reservations_on(1))), [1, 4]);
    assert_eq!(ids(book.get(|tx| tx.active_reservations_on(2))), [3]);
    assert_eq!(ids(book.get(|tx| tx.active_reservations_on(3))), [0; 0]);
    assert_eq!(ids(book.get(|tx| tx.reservations_made_by(1))), [1, 2, 3]);
    assert_eq!(ids(book.get(|tx| tx.reservations_made_by(2))), [4]);
    assert_eq!(ids(book.get(|tx| tx.reservations_ended_by(2))), [2]);
    assert_eq!(ids(book.get(|tx| tx.reservations_ended_by(1))), [0; 0]);
}

pub fn promises_are_found_by_their_quotation(book: &TestDatabase) {
    book.put(|tx| {
        four(tx)?;
        tx.insert_quotation(&crate::quotations::quotation(1))
    });
    let of = |quotation| -> Vec<i64> {
        book.get(|tx| tx.reservations_of_quotation(quotation))
            .iter()
            .map(|row| row.id)
            .collect()
    };
    let with = |id| Reservation {
        quotation_id: Some(1),
        ..reservation(id, 1, 1)
    };
    book.put(|tx| {
        tx.insert_reservation(&with(6))?;
        tx.insert_reservation(&ended(with(5), ReservationState::Released, 1))
    });
    assert_eq!((of(1), of(2)), (vec![5, 6], vec![]));
    assert_eq!(book.get(|tx| tx.reservation(6)), Some(with(6)));
    crate::rules::refused(
        book,
        "UPDATE reservations SET quotation_id = 77 WHERE id = 6",
    );
}

pub fn overdue_promises_are_those_whose_last_day_has_passed(book: &TestDatabase) {
    book.put(four);
    let overdue = |today: u32, pieces: &[i64]| {
        let mut found = book.get(|tx| tx.pieces_with_overdue(pieces, day(today)));
        found.sort_unstable();
        found
    };
    // The last days are the 8th (piece 2) and the 9th (piece 1); the promise that ended counts no more.
    assert_eq!(overdue(8, &[1, 2]), [0; 0], "the last day itself");
    assert_eq!(overdue(9, &[1, 2]), [2]);
    assert_eq!(overdue(10, &[1, 2]), [1, 2]);
    assert_eq!(overdue(10, &[1]), [1], "only of the pieces asked for");
    // Each piece is named once.
    book.put(|tx| {
        tx.insert_reservation(&Reservation {
            until: Some(day(2)),
            ..reservation(5, 2, 1)
        })
    });
    assert_eq!(overdue(30, &[2]), [2]);
}
