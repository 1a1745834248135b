//! Purchases with their lines and charges.

use crate::database::TestDatabase;
use crate::draft::{booking, day, line, lot, purchase};
use crate::sample::{self, M, stock};
use ellwand_domain::setting::{ChargeKind, ReclaimBy};
use ellwand_storage::{Purchase, PurchaseCharge, PurchaseLine, StorageError};

pub fn charge(position: i64, booking_id: i64) -> PurchaseCharge {
    PurchaseCharge {
        purchase_id: 1,
        position,
        booking_id,
        kind: ChargeKind::Freight,
        amount_minor: 1_250,
        currency: "EUR".into(),
        share: "value".into(),
        late: false,
        shares: "[1250]".into(),
        reclaimed: false,
        reclaim_by: None,
        reclaim_from: None,
    }
}

pub fn a_purchase_is_read_as_written(book: &TestDatabase) {
    stock(book);
    let full = Purchase {
        supplier_id: Some(1),
        on_date: day(28),
        invoice: Some("RE-17/2026".into()),
        currency: "GBP".into(),
        rate: Some("1.1534567890".into()),
        home_value: 69_207_407,
        note: Some("by post".into()),
        ..purchase(2)
    };
    book.put(|tx| tx.insert_purchase(&full));
    assert_eq!(
        book.get(|tx| tx.purchase(1)),
        Some(purchase(1)),
        "with nothing but what every purchase has"
    );
    assert_eq!(book.get(|tx| tx.purchase(2)), Some(full.clone()));
    assert_eq!(book.get(|tx| tx.purchase(3)), None);
    // Changing takes values away as well as it gives them.
    let changed = Purchase {
        invoice: None,
        rate: None,
        note: None,
        home_value: 1,
        ..full
    };
    book.put(|tx| tx.update_purchase(&changed));
    assert_eq!(book.get(|tx| tx.purchase(2)), Some(changed));
    assert_eq!(
        book.get(|tx| tx.purchase(1)),
        Some(purchase(1)),
        "the other one stays"
    );
}

pub fn lines_and_charges_come_in_order(book: &TestDatabase) {
    let by_mass = PurchaseLine {
        length_um: Some(3 * M),
        mass_mg: Some(1_215_000),
        ..line(1, 1, 2)
    };
    let (late, credit) = (
        PurchaseCharge {
            late: true,
            ..charge(2, 1)
        },
        charge(1, 1),
    );
    let credit = PurchaseCharge {
        amount_minor: -300,
        kind: ChargeKind::Discount,
        ..credit
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_lot(&lot(2, 1))?;
        tx.insert_purchase_line(&line(1, 2, 1))?;
        tx.insert_purchase_line(&by_mass)?;
        tx.insert_purchase_charge(&late)?;
        tx.insert_purchase_charge(&credit)
    });
    assert_eq!(
        book.get(|tx| tx.purchase_lines(1)),
        vec![by_mass.clone(), line(1, 2, 1)]
    );
    assert_eq!(book.get(|tx| tx.purchase_charges(1)), vec![credit, late]);
    assert_eq!(book.get(|tx| tx.purchase_lines(2)), vec![]);
    let changed = PurchaseLine {
        landed: 61 * M,
        ..by_mass
    };
    book.put(|tx| tx.update_purchase_line(&changed));
    assert_eq!(
        book.get(|tx| tx.purchase_lines(1)),
        vec![changed, line(1, 2, 1)]
    );
}

pub fn only_a_tax_is_reclaimed_and_says_why(book: &TestDatabase) {
    let tax = |position, reclaimed, by: ReclaimBy, from: Option<u32>| PurchaseCharge {
        kind: ChargeKind::Tax,
        reclaimed,
        reclaim_by: Some(by),
        reclaim_from: from.map(day),
        ..charge(position, 1)
    };
    let all = [
        tax(1, true, ReclaimBy::Charge, None),
        tax(2, true, ReclaimBy::Setting, Some(5)),
        tax(3, false, ReclaimBy::Unset, None),
        charge(4, 1),
    ];
    book.put(|tx| {
        sample::write(tx)?;
        all.iter()
            .try_for_each(|charge| tx.insert_purchase_charge(charge))
    });
    assert_eq!(book.get(|tx| tx.purchase_charges(1)), all);
    for (position, set) in [
        (4, "reclaimed = TRUE"),
        (1, "reclaim_by = 'luck'"),
        (1, "reclaim_from = '2026-10-05'"),
        (2, "reclaim_from = NULL"),
        (4, "reclaim_from = '2026-10-05'"),
    ] {
        crate::rules::refused(
            book,
            &format!("UPDATE purchase_charges SET {set} WHERE position = {position}"),
        );
    }
}

pub fn charges_that_were_taken_back_do_not_stand(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_booking(&booking(2), &[], &[])?;
        tx.insert_purchase_charge(&charge(1, 1))?;
        tx.insert_purchase_charge(&charge(2, 2))?;
        tx.insert_purchase_charge(&charge(3, 2))
    });
    book.put(|tx| {
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.mark_undone(2, 3)
    });
    assert_eq!(book.get(|tx| tx.purchase_charges(1)), [charge(1, 1)]);
    // Its position is free for another one.
    book.put(|tx| tx.insert_purchase_charge(&charge(2, 3)));
    let again = book.write(|tx| tx.insert_purchase_charge(&charge(1, 3)));
    assert!(
        matches!(again, Err(StorageError::Constraint(_))),
        "{again:?}"
    );
    assert_eq!(
        book.get(|tx| tx.purchase_charges(1)),
        [charge(1, 1), charge(2, 3)]
    );
}
