//! Cuts.

use crate::database::TestDatabase;
use crate::draft::{booking, cloth, garment, lot, need, reservation};
use crate::rules::refused;
use crate::sample::{self, M};
use ellwand_domain::setting::CutReason;
use ellwand_storage::CutEntry;

/// A metre of piece 1 for need 1, as planned.
pub fn cut(booking_id: i64) -> CutEntry {
    CutEntry {
        booking_id,
        need_id: 1,
        garment_id: 1,
        role: "shell 1".into(),
        piece_id: 1,
        lot_id: 1,
        reason: CutReason::Planned,
        quantity: M,
        wasted: 0,
        panel_width_um: None,
        strip_id: None,
        outer_id: None,
        reservation_id: None,
        drawn: 0,
        fills: M,
        width_um: None,
        lay_id: None,
    }
}

/// The small shelf with a second lot, need and garment, and a promise; bookings up to 20.
fn stock(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        for id in 2..=20 {
            tx.insert_booking(&booking(id), &[], &[])?;
        }
        tx.insert_lot(&lot(2, 1))?;
        tx.insert_piece(&cloth(2, 2, 1))?;
        tx.insert_piece(&cloth(3, 1, 2))?;
        tx.save_need(&need(2, 1))?;
        tx.insert_garment(&garment(2))?;
        tx.save_need(&need(3, 2))?;
        tx.insert_reservation(&reservation(1, 1, M))
    });
}

pub fn a_cut_is_read_as_written(book: &TestDatabase) {
    stock(book);
    let full = |booking_id, reason: CutReason| CutEntry {
        reason,
        wasted: 20_000,
        panel_width_um: Some(700_000),
        strip_id: Some(3),
        outer_id: Some(2),
        reservation_id: Some(1),
        drawn: M,
        ..cut(booking_id)
    };
    for (booking, reason) in (2..).zip(CutReason::ALL) {
        let row = full(booking, *reason);
        book.put(|tx| tx.insert_cut(&row));
        assert_eq!(book.get(|tx| tx.cut(booking)), Some(row));
    }
    assert_eq!(book.get(|tx| tx.cut(1)), None);
    book.put(|tx| tx.insert_cut(&cut(9)));
    assert_eq!(book.get(|tx| tx.cut(9)), Some(cut(9)));
}

pub fn cuts_are_found_by_garment_need_and_lot(book: &TestDatabase) {
    stock(book);
    let of_lot = CutEntry {
        piece_id: 2,
        lot_id: 2,
        ..cut(8)
    };
    let of_need = CutEntry {
        need_id: 2,
        role: "shell 2".into(),
        ..cut(7)
    };
    let of_garment = CutEntry {
        need_id: 3,
        garment_id: 2,
        role: "shell 3".into(),
        ..cut(6)
    };
    book.put(|tx| {
        [&cut(9), &of_lot, &of_need, &of_garment, &cut(5)]
            .into_iter()
            .try_for_each(|row| tx.insert_cut(row))
    });
    let bookings =
        |cuts: Vec<CutEntry>| -> Vec<i64> { cuts.into_iter().map(|cut| cut.booking_id).collect() };
    assert_eq!(
        book.get(|tx| tx.cuts_of_garment(1)),
        [cut(5), of_need, of_lot.clone(), cut(9)],
        "oldest first"
    );
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_garment(2))), [6]);
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_need(1))), [5, 8, 9]);
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_lot(1))), [5, 6, 7, 9]);
    assert_eq!(book.get(|tx| tx.cuts_of_lot(2)), [of_lot]);
    // One that was taken back does not stand, and is known.
    book.put(|tx| tx.mark_undone(5, 10));
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_garment(1))), [7, 8, 9]);
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_need(1))), [8, 9]);
    assert_eq!(bookings(book.get(|tx| tx.cuts_of_lot(1))), [6, 7, 9]);
    assert_eq!(book.get(|tx| tx.cut(5)), Some(cut(5)));
}

pub fn cuts_keep_to_their_rules(book: &TestDatabase) {
    stock(book);
    let most = 10_000_000_000_000_i64;
    let promised = CutEntry {
        reservation_id: Some(1),
        drawn: M,
        ..cut(2)
    };
    let broken = [
        CutEntry {
            quantity: 0,
            ..cut(2)
        },
        CutEntry {
            quantity: most + 1,
            ..cut(2)
        },
        CutEntry {
            wasted: -1,
            ..cut(2)
        },
        CutEntry {
            wasted: most + 1,
            ..cut(2)
        },
        CutEntry {
            panel_width_um: Some(0),
            ..cut(2)
        },
        CutEntry {
            panel_width_um: Some(most + 1),
            ..cut(2)
        },
        CutEntry {
            fills: -1,
            ..cut(2)
        },
        // Drawn is what a promise gave, and no more than was cut.
        CutEntry { drawn: 1, ..cut(2) },
        CutEntry {
            drawn: -1,
            ..promised.clone()
        },
        CutEntry {
            drawn: M + 1,
            ..promised.clone()
        },
    ];
    for row in broken {
        assert!(book.write(|tx| tx.insert_cut(&row)).is_err(), "{row:?}");
    }
    for column in ["need_id", "piece_id", "strip_id", "outer_id"] {
        let values = format!(
            "INSERT INTO cuts (booking_id, need_id, piece_id, strip_id, outer_id, reason, quantity, wasted, drawn, fills) \
             SELECT 2, {}, {}, {}, {}, 'planned', 1, 0, 0, 0 FROM bookings WHERE id = 1",
            if column == "need_id" { 77 } else { 1 },
            if column == "piece_id" { 77 } else { 1 },
            if column == "strip_id" { "77" } else { "NULL" },
            if column == "outer_id" { "77" } else { "NULL" },
        );
        refused(book, &values);
    }
    refused(
        book,
        "INSERT INTO cuts (booking_id, need_id, piece_id, reason, quantity, wasted, drawn, fills) \
         SELECT 2, 1, 1, 'magic', 1, 0, 0, 0 FROM bookings WHERE id = 1",
    );
    book.put(|tx| tx.insert_cut(&promised));
    assert!(book.write(|tx| tx.insert_cut(&cut(2))).is_err());
    for column in ["booking_id", "need_id", "quantity", "fills", "drawn"] {
        refused(book, &format!("UPDATE cuts SET {column} = {column}"));
    }
    refused(book, "DELETE FROM cuts");
    refused(book, "UPDATE cuts SET undone_by = 2");
    refused(book, "UPDATE cuts SET undone_by = 77");
    book.put(|tx| tx.mark_undone(2, 3));
}
