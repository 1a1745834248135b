//! Lists that are read page by page, newest first.

use crate::database::TestDatabase;
use crate::draft::{booking, garment, purchase};
use ellwand_domain::setting::GarmentState;
use ellwand_storage::{BookingSubject, Garment, StorageError, Subject, Tx};

/// Follows a list from its newest row, `limit` rows a page; asserts that only the last page is short.
fn follow(
    book: &TestDatabase,
    limit: i64,
    mut page: impl FnMut(&mut Tx<'_>, i64) -> Result<Vec<i64>, StorageError>,
) -> Vec<i64> {
    let (mut all, mut before) = (Vec::new(), i64::MAX);
    loop {
        let ids = book.get(|tx| page(tx, before));
        all.extend(&ids);
        assert!(ids.len() <= usize::try_from(limit).unwrap());
        if ids.len() < usize::try_from(limit).unwrap() {
            return all;
        }
        before = *ids.last().unwrap();
    }
}

pub fn bookings_are_paged_newest_first(book: &TestDatabase) {
    book.put(|tx| (1..=7).try_for_each(|id| tx.insert_booking(&booking(id), &[], &[])));
    for limit in [1, 2, 3, 7, 8] {
        let ids = follow(book, limit, |tx, before| {
            Ok(tx
                .bookings(None, before, limit)?
                .into_iter()
                .map(|row| row.id)
                .collect())
        });
        assert_eq!(ids, [7, 6, 5, 4, 3, 2, 1], "{limit} a page");
    }
}

pub fn bookings_of_a_subject_are_paged(book: &TestDatabase) {
    let touched = |booking_id, subject: Subject, subject_id| BookingSubject {
        booking_id,
        subject,
        subject_id,
    };
    book.put(|tx| {
        (1..=8).try_for_each(|id| {
            let lot = touched(id, Subject::Lot, 1 + id % 2);
            let garment = touched(id, Subject::Garment, 1);
            let subjects = if id > 6 {
                vec![lot, garment]
            } else {
                vec![lot]
            };
            tx.insert_booking(&booking(id), &subjects, &[])
        })
    });
    let of = |subject, id| {
        follow(book, 2, |tx, before| {
            Ok(tx
                .bookings(Some((subject, id)), before, 2)?
                .into_iter()
                .map(|row| row.id)
                .collect())
        })
    };
    assert_eq!(of(Subject::Lot, 1), [8, 6, 4, 2]);
    assert_eq!(of(Subject::Lot, 2), [7, 5, 3, 1]);
    assert_eq!(of(Subject::Garment, 1), [8, 7]);
    assert_eq!(
        of(Subject::Purchase, 1),
        [0; 0],
        "the id of another subject"
    );
}

pub fn purchases_are_paged_newest_first(book: &TestDatabase) {
    book.put(|tx| {
        tx.insert_booking(&booking(1), &[], &[])?;
        (1..=5).try_for_each(|id| tx.insert_purchase(&purchase(id)))
    });
    for limit in [1, 2, 5, 6] {
        let ids = follow(book, limit, |tx, before| {
            Ok(tx
                .purchases(before, limit)?
                .into_iter()
                .map(|row| row.id)
                .collect())
        });
        assert_eq!(ids, [5, 4, 3, 2, 1], "{limit} a page");
    }
}

pub fn garments_are_paged_by_state(book: &TestDatabase) {
    let states = GarmentState::ALL;
    book.put(|tx| {
        (1..=12).try_for_each(|id| {
            let state = states[usize::try_from(id).unwrap() % states.len()];
            tx.insert_garment(&Garment {
                state,
                ..garment(id)
            })
        })
    });
    let of = |state, limit| {
        follow(book, limit, |tx, before| {
            Ok(tx
                .garments(state, None, before, limit)?
                .into_iter()
                .map(|row| row.id)
                .collect())
        })
    };
    assert_eq!(of(None, 5), (1..=12).rev().collect::<Vec<i64>>());
    for (index, state) in states.iter().enumerate() {
        let expected: Vec<i64> = (1..=12)
            .rev()
            .filter(|id| usize::try_from(*id).unwrap() % states.len() == index)
            .collect();
        assert_eq!(of(Some(*state), 2), expected, "{state}");
    }
}
