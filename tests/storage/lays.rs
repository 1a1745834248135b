//! Lays that are kept.

use crate::cuts::cut;
use crate::database::TestDatabase;
use crate::draft::{booking, need, reservation};
use crate::rules::refused;
use crate::sample::{self, M};
use ellwand_storage::{CutEntry, Lay, LayRung, Reservation};

/// A lay for need 1.
pub fn lay(id: i64, booking_id: i64) -> Lay {
    Lay {
        id,
        need_id: 1,
        booking_id,
        undone_by: None,
        laid: "{}".into(),
        note: None,
    }
}

fn rung(lay_id: i64, usable_um: i64, length_um: i64) -> LayRung {
    LayRung {
        lay_id,
        usable_um,
        length_um,
        placements: "[]".into(),
    }
}

/// The small shelf with two needs; lays 1 and 2 for need 1, and 3 for need 2, each kept by the booking of its number.
fn stock(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        for id in 2..=9 {
            tx.insert_booking(&booking(id), &[], &[])?;
        }
        tx.save_need(&need(2, 1))?;
        let rungs = [rung(1, M, 2 * M), rung(1, 990_000, 3 * M)];
        tx.insert_lay(&lay(1, 1), &rungs)?;
        let noted = Lay {
            note: Some("by the window".into()),
            ..lay(2, 2)
        };
        tx.insert_lay(&noted, &[rung(2, 2 * M, M)])?;
        let other = Lay {
            need_id: 2,
            ..lay(3, 3)
        };
        tx.insert_lay(&other, &[rung(3, 2 * M, M)])
    });
}

pub fn a_lay_is_read_as_written(book: &TestDatabase) {
    stock(book);
    assert_eq!(book.get(|tx| tx.lay(1)), Some(lay(1, 1)));
    assert_eq!(book.get(|tx| tx.lay(4)), None);
    let ids = |book: &TestDatabase| -> Vec<i64> {
        let lays = book.get(|tx| tx.lays_of_need(1));
        lays.iter().map(|lay| lay.id).collect()
    };
    assert_eq!(ids(book), [1, 2]);
    assert_eq!(
        book.get(|tx| tx.lay_rungs(1)),
        [rung(1, M, 2 * M), rung(1, 990_000, 3 * M)]
    );
    let lengths = [(1, M, 2 * M), (1, 990_000, 3 * M), (2, 2 * M, M)];
    assert_eq!(book.get(|tx| tx.lay_lengths(1)), lengths);
    let after = book.get(|tx| tx.audit_lays(1, 1));
    assert_eq!(after.len(), 1);
    assert_eq!(after[0].note.as_deref(), Some("by the window"));
    // What was taken back is there, and counts for nothing.
    book.put(|tx| tx.mark_undone(1, 4));
    assert_eq!(ids(book), [2]);
    assert_eq!(book.get(|tx| tx.lay_lengths(1)), [(2, 2 * M, M)]);
    assert_eq!(book.get(|tx| tx.lay(1)).unwrap().undone_by, Some(4));
}

pub fn lays_keep_to_their_rules(book: &TestDatabase) {
    stock(book);
    for (usable, length) in [(0, M), (M, 0), (100_000_001, M), (M, 1_000_000_001)] {
        let statement = format!(
            "INSERT INTO lay_rungs (lay_id, usable_um, length_um, placements) VALUES (3, {usable}, {length}, '[]')"
        );
        refused(book, &statement);
    }
    for statement in [
        "INSERT INTO lay_rungs (lay_id, usable_um, length_um, placements) VALUES (1, 1000000, 1, '[]')",
        "INSERT INTO lay_rungs (lay_id, usable_um, length_um, placements) VALUES (3, 1000000, 1, '')",
        "INSERT INTO lay_rungs (lay_id, usable_um, length_um, placements) VALUES (9, 1000000, 1, '[]')",
        "INSERT INTO lays (id, need_id, booking_id, laid) VALUES (4, 9, 1, '{}')",
        "INSERT INTO lays (id, need_id, booking_id, laid) VALUES (4, 1, 1, '')",
        "INSERT INTO lays (id, need_id, booking_id, laid, note) VALUES (4, 1, 1, '{}', '')",
        "UPDATE lays SET laid = '[]' WHERE id = 1",
        "UPDATE lays SET need_id = 2 WHERE id = 1",
        "UPDATE lays SET undone_by = 1 WHERE id = 1",
        "UPDATE lay_rungs SET length_um = 1 WHERE lay_id = 1",
        "DELETE FROM lay_rungs WHERE lay_id = 1",
        "DELETE FROM lays WHERE id = 1",
    ] {
        refused(book, statement);
    }
}

pub fn what_was_made_by_a_lay_is_found(book: &TestDatabase) {
    stock(book);
    book.put(|tx| {
        let promise = |id, lay_id| Reservation {
            lay_id,
            ..reservation(id, 1, 1)
        };
        tx.insert_reservation(&promise(1, Some(1)))?;
        tx.insert_reservation(&promise(2, None))?;
        tx.insert_reservation(&promise(3, Some(2)))?;
        for booking in [5, 6] {
            tx.insert_cut(&CutEntry {
                lay_id: Some(2),
                ..cut(booking)
            })?;
        }
        tx.mark_undone(5, 7)
    });
    assert_eq!(book.get(|tx| tx.promises_by_lay(1)), [1]);
    assert_eq!(book.get(|tx| tx.cuts_by_lay(1)), []);
    assert_eq!(book.get(|tx| tx.cuts_by_lay(2)), [(6, M)]);
    refused(book, "UPDATE reservations SET lay_id = 9 WHERE id = 1");
    refused(book, "UPDATE cuts SET lay_id = NULL WHERE booking_id = 6");
}
