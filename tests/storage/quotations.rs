//! Quotations, their versions and payments.

use crate::database::TestDatabase;
use crate::draft::{booking, customer, day, instant};
use crate::rules::refused;
use crate::sample;
use ellwand_domain::setting::QuotationState;
use ellwand_storage::{Booking, Payment, Quotation, QuotationVersion};

pub fn quotation(id: i64) -> Quotation {
    Quotation {
        id,
        garment_id: 1,
        customer_id: None,
        state: QuotationState::Open,
        version: 1,
        accepted: None,
        accepted_in: None,
        keep: None,
        accepted_option: None,
        supplement_to: None,
        agreed_minor: None,
    }
}

pub fn version(quotation_id: i64, version: i64) -> QuotationVersion {
    QuotationVersion {
        quotation_id,
        version,
        on_date: day(3),
        valid_until: day(30),
        currency: "EUR".into(),
        gross_minor: 80_171,
        is_offer: true,
        asked: r#"{"margin":"35%"}"#.into(),
        frozen: r#"{"sheet":{"gross":"801.71"}}"#.into(),
        booking_id: 1,
        undone_by: None,
        made_by: "ada".into(),
        made_at: instant(3),
    }
}

pub fn payment(booking_id: i64, minor: i64) -> Payment {
    Payment {
        booking_id,
        quotation_id: 1,
        minor,
        on_date: day(5),
        note: (minor > 0).then(|| "cash".into()),
        cash: minor > 0,
        rounding_minor: if minor > 0 { 2 } else { 0 },
    }
}

/// The small shelf, with customer 1 and a quotation for garment 1 in two versions.
fn quoted(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_customer(&customer(1, "Ada"))?;
        tx.insert_quotation(&Quotation {
            version: 2,
            customer_id: Some(1),
            ..quotation(1)
        })?;
        tx.insert_quotation_version(&version(1, 2))?;
        tx.insert_quotation_version(&version(1, 1))
    });
}

pub fn a_quotation_is_read_as_written(book: &TestDatabase) {
    quoted(book);
    let open = Quotation {
        version: 2,
        customer_id: Some(1),
        ..quotation(1)
    };
    assert_eq!(book.get(|tx| tx.quotation(1)), Some(open.clone()));
    assert_eq!(book.get(|tx| tx.quotation(2)), None);
    assert_eq!(
        book.get(|tx| tx.quotation_versions(1)),
        [version(1, 1), version(1, 2)]
    );
    assert_eq!(
        book.get(|tx| tx.quotation_version(1, 2)),
        Some(version(1, 2))
    );
    assert_eq!(book.get(|tx| tx.quotation_version(1, 3)), None);
    for state in QuotationState::ALL {
        let agreed = matches!(state, QuotationState::Accepted | QuotationState::Cancelled);
        let row = Quotation {
            state: (*state),
            accepted: agreed.then_some(2),
            accepted_in: agreed.then_some(1),
            agreed_minor: agreed.then_some(10_000),
            keep: (*state == QuotationState::Cancelled).then(|| "50% of labour".into()),
            accepted_option: agreed.then(|| "hand hem".into()),
            ..open.clone()
        };
        book.put(|tx| tx.update_quotation(&row));
        assert_eq!(book.get(|tx| tx.quotation(1)), Some(row));
    }
    book.put(|tx| tx.update_quotation(&open));
    for set in [
        "state = 'lost'",
        "version = 0",
        "accepted = 1",
        "accepted_in = 1",
        "accepted_option = 'hand hem'",
        "state = 'accepted'",
        "state = 'accepted', accepted = 3, accepted_in = 1",
        "state = 'accepted', accepted = 1, accepted_in = 77",
        "keep = '50% of labour'",
        "garment_id = 77",
        "customer_id = 77",
    ] {
        refused(book, &format!("UPDATE quotations SET {set}"));
    }
    refused(book, "DELETE FROM customers");
}

pub fn a_garment_is_sold_by_one_quotation_and_its_supplements(book: &TestDatabase) {
    quoted(book);
    let accepted = |id| Quotation {
        state: QuotationState::Accepted,
        accepted: Some(1),
        accepted_in: Some(1),
        agreed_minor: Some(100),
        ..quotation(id)
    };
    book.put(|tx| {
        tx.update_quotation(&accepted(1))?;
        tx.insert_quotation(&quotation(2))?;
        tx.insert_quotation(&Quotation {
            supplement_to: Some(1),
            ..accepted(3)
        })
    });
    refused(
        book,
        "UPDATE quotations SET state = 'accepted', accepted = 1, accepted_in = 1, agreed_minor = 100 WHERE id = 2",
    );
    refused(
        book,
        "UPDATE quotations SET supplement_to = NULL WHERE id = 3",
    );
    book.put(|tx| {
        let cancelled = Quotation {
            state: QuotationState::Cancelled,
            ..accepted(1)
        };
        tx.update_quotation(&cancelled)?;
        tx.update_quotation(&accepted(2))
    });
}

pub fn a_version_is_never_changed(book: &TestDatabase) {
    quoted(book);
    refused(book, "UPDATE quotation_versions SET frozen = '{}'");
    refused(book, "UPDATE quotation_versions SET made_by = made_by");
    refused(book, "DELETE FROM quotation_versions");
    let insert = |row: QuotationVersion| {
        let done = book.write(|tx| tx.insert_quotation_version(&row));
        assert!(
            matches!(done, Err(ellwand_storage::StorageError::Constraint(_))),
            "{row:?}: {done:?}"
        );
    };
    insert(version(1, 2));
    insert(version(2, 1));
    insert(version(1, 0));
    insert(QuotationVersion {
        valid_until: day(2),
        ..version(1, 3)
    });
    insert(QuotationVersion {
        gross_minor: -1,
        ..version(1, 3)
    });
    insert(QuotationVersion {
        booking_id: 77,
        ..version(1, 3)
    });
    book.put(|tx| {
        tx.insert_quotation_version(&QuotationVersion {
            valid_until: day(3),
            gross_minor: 0,
            ..version(1, 3)
        })
    });
    assert_eq!(book.get(|tx| tx.quotation_versions(1)).len(), 3);
}

pub fn quotations_are_paged_by_state_and_garment(book: &TestDatabase) {
    quoted(book);
    book.put(|tx| {
        tx.insert_garment(&crate::draft::garment(2))?;
        tx.insert_quotation(&Quotation {
            garment_id: 2,
            ..quotation(2)
        })?;
        tx.insert_quotation(&Quotation {
            state: QuotationState::Closed,
            ..quotation(3)
        })
    });
    let page = |state, garment, before, limit| -> Vec<i64> {
        let rows = book.get(|tx| tx.quotations(state, garment, before, limit));
        rows.iter().map(|row| row.id).collect()
    };
    assert_eq!(page(None, None, i64::MAX, 9), [3, 2, 1]);
    assert_eq!(page(None, None, 3, 1), [2]);
    assert_eq!(page(Some(QuotationState::Open), None, i64::MAX, 9), [2, 1]);
    assert_eq!(page(None, Some(1), i64::MAX, 9), [3, 1]);
    assert_eq!(page(Some(QuotationState::Open), Some(1), i64::MAX, 9), [1]);
    let absent = book.write(|tx| tx.update_quotation(&quotation(9)));
    assert!(
        matches!(absent, Err(ellwand_storage::StorageError::Constraint(_))),
        "{absent:?}"
    );
}

pub fn one_supplement_of_a_quotation_is_open_at_a_time(book: &TestDatabase) {
    quoted(book);
    let supplement = |id, state: QuotationState| Quotation {
        supplement_to: Some(1),
        state,
        ..quotation(id)
    };
    book.put(|tx| {
        tx.insert_quotation(&supplement(4, QuotationState::Closed))?;
        tx.insert_quotation(&supplement(3, QuotationState::Open))?;
        tx.insert_quotation(&supplement(2, QuotationState::Closed))?;
        tx.insert_quotation(&quotation(5))
    });
    let ids = |of| {
        book.get(|tx| tx.supplements(of))
            .iter()
            .map(|row| row.id)
            .collect::<Vec<_>>()
    };
    assert_eq!((ids(1), ids(2)), (vec![2, 3, 4], vec![]));
    refused(book, "UPDATE quotations SET state = 'open' WHERE id = 4");
    for set in [
        "supplement_to = 77",
        "supplement_to = 5",
        "supplement_to = 6",
    ] {
        refused(book, &format!("UPDATE quotations SET {set} WHERE id = 5"));
    }
    refused(book, "UPDATE quotations SET supplement_to = 1 WHERE id = 5");
}

pub fn payments_that_were_taken_back_do_not_stand(book: &TestDatabase) {
    quoted(book);
    book.put(|tx| {
        tx.insert_payment(&payment(8, 12_000))?;
        tx.insert_payment(&payment(7, -500))?;
        tx.insert_booking(&booking(7), &[], &[])?;
        tx.insert_booking(&Booking { ..booking(8) }, &[], &[])
    });
    assert_eq!(
        book.get(|tx| tx.payments(1)),
        [payment(7, -500), payment(8, 12_000)]
    );
    book.put(|tx| {
        tx.insert_booking(&booking(9), &[], &[])?;
        tx.mark_undone(7, 9)
    });
    assert_eq!(book.get(|tx| tx.payments(1)), [payment(8, 12_000)]);
    assert_eq!(book.get(|tx| tx.payments(2)), []);
    refused(book, "UPDATE payments SET minor = 0");
    refused(book, "UPDATE payments SET cash = FALSE WHERE minor > 0");
    refused(book, "UPDATE payments SET quotation_id = 77");
}

pub fn bought_lots_of_a_material_are_the_newest_first(book: &TestDatabase) {
    quoted(book);
    let later = |id| ellwand_storage::Lot {
        received: day(20),
        ..crate::draft::lot(id, 1)
    };
    let own = ellwand_storage::Lot {
        owner_id: Some(1),
        received: day(21),
        ..crate::draft::lot(4, 1)
    };
    book.put(|tx| {
        tx.insert_lot(&later(2))?;
        tx.insert_lot(&later(3))?;
        tx.insert_lot(&own)?;
        for id in [2, 3, 4] {
            tx.insert_purchase_line(&crate::draft::line(1, id, id))?;
        }
        Ok(())
    });
    let lots = |limit| -> Vec<i64> {
        book.get(|tx| tx.bought_lots_of(1, limit))
            .iter()
            .map(|(lot, ..)| *lot)
            .collect()
    };
    assert_eq!(lots(2), [3, 2]);
    let all = book.get(|tx| tx.bought_lots_of(1, 9));
    let line = crate::draft::line(1, 2, 2);
    assert!(all.contains(&(2, line.landed, line.quantity, 1)), "{all:?}");
    assert!(
        all.iter().all(|(lot, ..)| *lot != 4),
        "the customer's own is none"
    );
    assert_eq!(book.get(|tx| tx.bought_lots_of(77, 9)), []);
}
