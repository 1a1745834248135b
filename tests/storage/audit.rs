//! What the audit compares.

use crate::bookings::moved;
use crate::database::TestDatabase;
use crate::draft::{booking, cloth, garment, line, loose, lot, purchase, reservation};
use crate::sample::{self, M};
use ellwand_domain::ledger::{Account, AccountKind, Movement};
use ellwand_storage::{Balance, Layer, Purchase, PurchaseSum, StorageError, Tx};

fn supplier(purchase: i64) -> Account {
    Account::new(AccountKind::Supplier, purchase)
}

fn layer(id: i64, lot_id: Option<i64>) -> Layer {
    Layer {
        id,
        material_id: 1,
        lot_id,
        quantity: 3 * M,
        value: 0,
    }
}

/// The small shelf, received by booking 2: 3 m worth 30 on piece 1 (the row says 60), of which 1 m was cut.
fn received(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    sample::write(tx)?;
    tx.save_layer(&layer(1, Some(1)))?;
    tx.save_layer(&layer(3, None))?;
    let (piece, garment) = (Account::piece(1), Account::garment(1));
    let lines = [
        moved(supplier(1), piece, 3_000),
        moved(piece, garment, 1_000),
        moved(supplier(1), Account::layer(3), 500),
        moved(Account::layer(3), garment, 200),
    ];
    tx.insert_booking(&booking(2), &[], &lines)
}

pub fn what_is_kept_is_set_against_the_ledger(book: &TestDatabase) {
    book.put(received);
    let piece = Balance {
        id: 1,
        lot: 1,
        number: 1,
        kept: (3 * M, 60 * M),
        // 3 m − 1 m, 30 − 10.
        ledger: (2 * M, 20 * M),
        held: 0,
    };
    assert_eq!(book.get(|tx| tx.audit_pieces(0, 10)), [piece]);
    let lot_layer = Balance {
        number: 0,
        kept: (3 * M, 0),
        ledger: (0, 0),
        ..piece
    };
    // 0.5 m − 0.2 m, 5 − 2: the pool has no lot.
    let pool = Balance {
        id: 3,
        lot: 0,
        ledger: (300_000, 3 * M),
        ..lot_layer
    };
    assert_eq!(book.get(|tx| tx.audit_layers(0, 10)), [lot_layer, pool]);
}

pub fn batches_go_on_after_the_last_row(book: &TestDatabase) {
    book.put(|tx| {
        received(tx)?;
        for id in [2, 5, 9, 70] {
            tx.insert_piece(&cloth(id, 1, id))?;
        }
        tx.insert_booking(
            &booking(3),
            &[],
            &[moved(supplier(1), Account::piece(9), 3_000)],
        )
    });
    let (mut all, mut after) = (Vec::new(), 0);
    loop {
        let batch = book.get(|tx| tx.audit_pieces(after, 2));
        let Some(last) = batch.last() else { break };
        after = last.id;
        all.extend(batch.iter().map(|balance| (balance.id, balance.ledger.0)));
    }
    assert_eq!(all, [(1, 2 * M), (2, 0), (5, 0), (9, 3 * M), (70, 0)]);
    assert_eq!(
        book.get(|tx| tx.audit_layers(1, 1))
            .iter()
            .map(|layer| layer.id)
            .collect::<Vec<_>>(),
        [3]
    );
    assert_eq!(book.get(|tx| tx.audit_layers(3, 1)), []);
}

pub fn a_purchase_is_set_against_its_lines_lots_and_movements(book: &TestDatabase) {
    book.put(|tx| {
        received(tx)?;
        tx.insert_lot(&ellwand_storage::Lot {
            landed: 7 * M,
            ..lot(2, 1)
        })?;
        tx.insert_purchase_line(&line(1, 1, 1))?;
        tx.insert_purchase_line(&ellwand_storage::PurchaseLine {
            landed: 8 * M,
            ..line(1, 2, 2)
        })?;
        tx.insert_purchase(&Purchase {
            home_value: 0,
            ..purchase(4)
        })?;
        // A credit goes back to the supplier.
        tx.insert_booking(
            &booking(3),
            &[],
            &[moved(Account::piece(1), supplier(1), 100)],
        )
    });
    // 60 + 8 on the lines, 60 + 7 on the lots; 30 + 5 came, 1 went back.
    let first = PurchaseSum {
        id: 1,
        home: 60 * M,
        lines: 68 * M,
        lots: 67 * M,
        ledger: 34 * M,
    };
    let fourth = PurchaseSum {
        id: 4,
        home: 0,
        lines: 0,
        lots: 0,
        ledger: 0,
    };
    assert_eq!(book.get(|tx| tx.audit_purchases(0, 10)), [first, fourth]);
    assert_eq!(book.get(|tx| tx.audit_purchases(1, 10)), [fourth]);
    assert_eq!(book.get(|tx| tx.audit_purchases(4, 10)), []);
}

pub fn stretches_are_set_against_their_promises(book: &TestDatabase) {
    use ellwand_domain::ledger::Flaw;
    book.put(|tx| {
        sample::write(tx)?;
        let mut marked = cloth(2, 1, 2);
        marked
            .piece
            .mark_flaw(Flaw {
                at: M,
                length: 0,
                note: String::new(),
            })
            .map_err(StorageError::from)?;
        tx.insert_piece(&marked)?;
        tx.insert_piece(&loose(3, 1, 3, 6))?;
        tx.insert_reservation(&reservation(1, 2, 300_000))?;
        tx.insert_reservation(&ellwand_storage::Reservation {
            stretch: 1,
            ..reservation(2, 2, 500_000)
        })?;
        tx.insert_reservation(&reservation(3, 3, 6))
    });
    assert_eq!(
        book.get(|tx| tx.audit_stretches(1, 2)),
        [(1, 0, 3 * M, 0), (2, 0, M, 0), (2, 1, 2 * M, 0)]
    );
    assert_eq!(book.get(|tx| tx.audit_stretches(3, 9)), [(3, 0, 6, 0)]);
    let mut promises = book.get(|tx| tx.audit_promises(1, 2));
    promises.sort_unstable();
    assert_eq!(promises, [(2, 0, 300_000), (2, 1, 500_000)]);
    assert_eq!(book.get(|tx| tx.audit_promises(3, 3)), [(3, 0, 6)]);
}

pub fn garments_below_nothing_are_found(book: &TestDatabase) {
    let (piece, garment_of) = (Account::piece(1), Account::garment);
    book.put(|tx| {
        sample::write(tx)?;
        for id in [2, 499, 500, 501, 1_200] {
            tx.insert_garment(&garment(id))?;
        }
        let lines = [
            moved(piece, garment_of(1), 10),
            moved(garment_of(1), piece, 10),
            moved(garment_of(2), piece, 3),
            moved(garment_of(500), piece, 1),
            moved(garment_of(501), piece, 2),
            moved(piece, garment_of(499), 5),
            moved(garment_of(1_200), piece, 4),
        ];
        tx.insert_booking(&booking(2), &[], &lines)
    });
    let expected = [
        (2, -30_000),
        (500, -10_000),
        (501, -20_000),
        (1_200, -40_000),
    ];
    assert_eq!(book.get(|tx| tx.audit_negative_garments()), expected);
}

pub fn movements_of_nothing_are_found(book: &TestDatabase) {
    let stray = |from, to| -> Movement { moved(from, to, 1) };
    book.put(|tx| {
        received(tx)?;
        let lines = [
            stray(Account::piece(8), Account::garment(1)),
            stray(Account::layer(2), Account::garment(7)),
            stray(supplier(6), Account::new(AccountKind::Adjustment, 0)),
            stray(Account::piece(1), Account::new(AccountKind::Sold, 99)),
        ];
        tx.insert_booking(&booking(3), &[], &lines)
    });
    let mut found = book.get(|tx| tx.audit_orphans());
    found.sort();
    // The first four movements are sound.
    let expected = [("garment", 6), ("layer", 6), ("piece", 5), ("supplier", 7)];
    assert_eq!(
        found,
        expected.map(|(kind, sequence)| (kind.to_owned(), sequence))
    );
}

pub fn what_is_neither_outside_nor_on_the_shelf_is_summed(book: &TestDatabase) {
    assert_eq!(book.get(|tx| tx.audit_value_elsewhere()), 0);
    // 10 and 2 are on the garment; what lies on the piece and in the layer is not counted.
    book.put(received);
    assert_eq!(book.get(|tx| tx.audit_value_elsewhere()), 12 * M);
    let (garment, piece) = (Account::garment(1), Account::piece(1));
    book.put(|tx| {
        let lines = [
            // From one such place to another: nothing changes.
            moved(garment, Account::new(AccountKind::Delivered, 1), 900),
            moved(piece, Account::new(AccountKind::OwnMistake, 1), 300),
            moved(supplier(1), Account::new(AccountKind::Adjustment, 0), 50),
            moved(garment, piece, 100),
        ];
        tx.insert_booking(&booking(3), &[], &lines)
    });
    // 12 + 3 + 0.50 − 1.
    assert_eq!(book.get(|tx| tx.audit_value_elsewhere()), 14_500_000);
}

pub fn bookings_and_movements_are_counted(book: &TestDatabase) {
    assert_eq!(book.get(|tx| tx.audit_counts()), (0, 0));
    assert_eq!(book.get(|tx| tx.audit_pieces(0, 10)), []);
    assert_eq!(book.get(|tx| tx.audit_negative_garments()), []);
    book.put(received);
    assert_eq!(book.get(|tx| tx.audit_counts()), (2, 4));
}
