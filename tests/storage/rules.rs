//! Rules that SQL itself keeps, each broken on purpose: whatever program writes, the book stays sound.

use crate::bookings::moved;
use crate::database::{TestDatabase, run};
use crate::draft::{booking, cloth, day, garment, lot, purchase, reservation};
use crate::sample::{self, M};
use ellwand_domain::ledger::{Account, AccountKind};
use ellwand_domain::setting::{WorkKind, WorkReason};
use ellwand_storage::{
    Booking, BookingSubject, Layer, Operation, PoolTaking, QuotationVersion, Request, Reservation,
    StorageError, Subject, WashTest, WorkEntry,
};

/// Refused as a broken rule, on the same grounds on both databases.
#[track_caller]
pub fn refused(book: &TestDatabase, sql: &str) {
    let done = book.run(sql);
    assert!(
        matches!(done, Err(StorageError::Constraint(_))),
        "{sql}: {done:?}"
    );
}

/// Accepted: what lies on this side of the border.
#[track_caller]
fn accepted(book: &TestDatabase, sql: &str) {
    assert_eq!(book.run(sql).unwrap(), 1, "{sql}");
}

/// The small shelf with a movement, a request, a layer, and half a metre promised.
fn stock(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        let subject = BookingSubject {
            booking_id: 2,
            subject: Subject::Lot,
            subject_id: 1,
        };
        let movement = moved(Account::piece(1), Account::garment(1), 10);
        tx.insert_booking(&booking(2), &[subject], &[movement])?;
        tx.save_layer(&Layer {
            id: 1,
            material_id: 1,
            lot_id: Some(1),
            quantity: 10,
            value: 10,
        })?;
        tx.insert_request(&Request {
            id: "01890a5d-ac96-774b-bcce-b302099a8057".into(),
            act: "cut".into(),
            caller: "ada".into(),
            content: "{}".into(),
            answer: "{}".into(),
            answered_at: crate::draft::instant(2),
            erased_at: None,
            refused: false,
        })?;
        tx.insert_reservation(&reservation(1, 1, 500_000))
    });
}

pub fn the_ledger_is_never_changed(book: &TestDatabase) {
    stock(book);
    for (table, column) in [
        ("movements", "value"),
        ("bookings", "summary"),
        ("booking_subjects", "subject_id"),
        ("requests", "answer"),
    ] {
        let dump = format!("SELECT CAST({column} AS TEXT) AS text FROM {table} ORDER BY 1");
        let before = book.texts(&dump);
        assert!(!before.is_empty());
        refused(book, &format!("UPDATE {table} SET {column} = {column}"));
        refused(book, &format!("DELETE FROM {table}"));
        assert_eq!(book.texts(&dump), before);
    }
    refused(book, "DELETE FROM reservations");
}

/// A receipt is not taken back under a taking from its layer that stands; a cut is.
pub fn a_taking_holds_what_it_rests_on(book: &TestDatabase) {
    stock(book);
    let undo = |id: i64, of: i64| {
        format!(
            "INSERT INTO bookings (id, kind, summary, on_date, booked_at, person_id, undoes, detail, request_id) \
             SELECT {id}, 'undone', '', on_date, booked_at, person_id, {of}, '{{}}', request_id FROM bookings WHERE id = 1"
        )
    };
    let movement = |booking: i64, from: &str, to: &str, value: i64| {
        format!(
            "INSERT INTO movements (booking_id, from_kind, from_id, to_kind, to_id, quantity_out, quantity_in, value) \
             VALUES ({booking}, '{from}', 1, '{to}', 1, 5, 5, {value})"
        )
    };
    accepted(book, &movement(1, "supplier", "layer", 10));
    accepted(book, &movement(2, "layer", "garment", 5));
    accepted(book, &undo(3, 1));
    refused(book, &movement(3, "layer", "supplier", 10));
    accepted(book, &undo(4, 2));
    accepted(book, &movement(4, "garment", "layer", 5));
    accepted(book, &movement(3, "layer", "supplier", 10));
}

pub fn quantities_and_values_stay_within_their_limits(book: &TestDatabase) {
    stock(book);
    // 10 000 km in micrometres, 10⁹ units in millionths, 100 kg a square metre in milligrams; a tare up to 100 t.
    let (length, value, mass) = (
        10_000_000_000_000_i64,
        1_000_000_000_000_000_i64,
        100_000_000_i64,
    );
    let movement = |out: i64, into: i64, value: i64, to: i64| {
        format!(
            "INSERT INTO movements (booking_id, from_kind, from_id, to_kind, to_id, quantity_out, quantity_in, value) \
             VALUES (2, 'piece', 1, 'piece', {to}, {out}, {into}, {value})"
        )
    };
    accepted(book, &movement(length, length, value, 2));
    accepted(book, &movement(0, 0, 0, 2));
    let beyond = [
        (-1, 0, 0),
        (0, -1, 0),
        (0, 0, -1),
        (length + 1, 0, 0),
        (0, length + 1, 0),
        (0, 0, value + 1),
    ];
    for (out, into, value) in beyond {
        refused(book, &movement(out, into, value, 2));
    }
    refused(book, &movement(1, 1, 1, 1));

    let columns = [
        ("pieces", "quantity", 0, length),
        ("pieces", "value", 0, value),
        ("pieces", "full_width_um", 20_000, length),
        ("pieces", "selvedges_um", 0, length),
        ("pieces", "tare_mg", 0, 1_000 * mass),
        ("layers", "quantity", 1, length),
        ("layers", "value", 0, value),
        ("lots", "landed", 0, value),
        ("lots", "mass_mg_m2", 0, mass),
        ("purchases", "home_value", 0, value),
        ("garments", "salvage", 0, value),
        ("garments", "count", 1, 10_000),
        ("needs", "estimate", 0, value),
        ("reservations", "held", 1, length),
    ];
    for (table, column, least, most) in columns {
        // What else the row's rules compare with stays out of the way.
        if table == "pieces" {
            let rest = "longest_free = 0, full_width_um = 10000000000000, selvedges_um = 20000";
            let value = if column == "value" { 1 } else { 0 };
            accepted(
                book,
                &format!("UPDATE pieces SET quantity = 3000000, value = {value}, {rest}"),
            );
        }
        let set = |to: i64| format!("UPDATE {table} SET {column} = {to} WHERE id = 1");
        accepted(book, &set(least));
        accepted(book, &set(most));
        refused(book, &set(least - 1));
        refused(book, &set(most + 1));
    }
    refused(book, "UPDATE purchases SET invoice_minor = -1");
    refused(book, "UPDATE lots SET next_piece = 0");
}

pub fn promises_stay_within_their_cloth(book: &TestDatabase) {
    stock(book);
    let piece = |set: &str| format!("UPDATE pieces SET {set} WHERE id = 1");
    accepted(book, &piece("held = quantity"));
    refused(book, &piece("held = quantity + 1"));
    refused(book, &piece("held = -1"));
    accepted(book, &piece("held = 0, longest_free = quantity"));
    refused(book, &piece("longest_free = quantity + 1"));
    refused(book, &piece("longest_free = -1"));
    accepted(book, &piece("selvedges_um = full_width_um"));
    refused(book, &piece("selvedges_um = full_width_um + 1"));
    accepted(book, &piece("quantity = 0, longest_free = 0, value = 0"));
    refused(book, &piece("value = 1"));
    let stretch =
        |set: &str| format!("UPDATE stretches SET {set} WHERE piece_id = 1 AND position = 0");
    accepted(book, &stretch("held = length"));
    refused(book, &stretch("held = length + 1"));
    refused(book, &stretch("held = -1"));
    refused(book, &stretch("start_um = -1"));
    accepted(book, "UPDATE layers SET quantity = 0, value = 0");
    refused(book, "UPDATE layers SET value = 1");
    refused(book, "UPDATE garments SET good = 1, spoiled = 1");
    accepted(book, "UPDATE garments SET good = 1, spoiled = 0");
}

pub fn a_promise_ends_exactly_once(book: &TestDatabase) {
    stock(book);
    let set = |set: &str| format!("UPDATE reservations SET {set} WHERE id = 1");
    refused(book, &set("held = 0"));
    refused(book, &set("state = 'cut', held = 0"));
    refused(book, &set("state = 'cut', ended_by = 2"));
    refused(book, &set("ended_by = 2"));
    accepted(book, &set("held = 400000"));
    accepted(book, &set("state = 'cut', held = 0, ended_by = 2"));
    // It has ended: whatever is changed now, back to life or not.
    refused(book, &set("state = 'active', held = 1, ended_by = NULL"));
    refused(book, &set("state = 'broken'"));
    refused(book, &set("ended_because = 'no'"));
    refused(book, "DELETE FROM reservations WHERE id = 1");
    assert_eq!(
        book.texts("SELECT state AS text FROM reservations"),
        ["cut"]
    );
}

pub fn a_booking_is_taken_back_once(book: &TestDatabase) {
    stock(book);
    let undo = |id, undoes| Booking {
        undoes: Some(undoes),
        ..booking(id)
    };
    let insert = |row: &Booking| book.write(|tx| tx.insert_booking(row, &[], &[]));
    insert(&undo(3, 2)).unwrap();
    for row in [undo(4, 2), undo(4, 4), undo(4, 77)] {
        let done = insert(&row);
        assert!(
            matches!(done, Err(StorageError::Constraint(_))),
            "{row:?}: {done:?}"
        );
    }
    insert(&undo(4, 1)).unwrap();
}

pub fn names_and_codes_are_given_once(book: &TestDatabase) {
    stock(book);
    let again = |done: Result<(), StorageError>| {
        assert!(matches!(done, Err(StorageError::Constraint(_))), "{done:?}");
    };
    again(book.write(|tx| tx.insert_booking(&booking(1), &[], &[])));
    again(book.write(|tx| tx.insert_purchase(&purchase(1))));
    again(book.write(|tx| tx.insert_lot(&lot(1, 1))));
    again(book.write(|tx| tx.insert_piece(&cloth(1, 1, 9))));
    again(book.write(|tx| tx.insert_piece(&cloth(9, 1, 1))));
    again(book.write(|tx| tx.insert_garment(&garment(1))));
    again(book.write(|tx| tx.insert_reservation(&reservation(1, 1, 1))));
    again(book.write(|tx| tx.save_supplier(&crate::draft::supplier(2, "Harbour Cloth Stall"))));
    let wool = |id| crate::draft::material(id, ellwand_domain::setting::Kind::Cloth, "navy wool");
    again(book.write(|tx| tx.save_material(&wool(2))));
    again(book.write(|tx| {
        tx.save_layer(&Layer {
            id: 2,
            material_id: 1,
            lot_id: Some(1),
            quantity: 1,
            value: 0,
        })
    }));
    again(book.write(|tx| {
        tx.save_need(&ellwand_storage::Need {
            role: "shell 1".into(),
            ..crate::draft::need(2, 1)
        })
    }));
    let line = |position| crate::draft::line(1, position, 1);
    book.put(|tx| tx.insert_purchase_line(&line(1)));
    again(book.write(|tx| tx.insert_purchase_line(&line(2))));
}

pub fn words_stay_within_their_lists(book: &TestDatabase) {
    stock(book);
    book.put(|tx| tx.save_workshop(&crate::draft::workshop()));
    refused(book, "UPDATE materials SET kind = 'leather'");
    refused(book, "UPDATE materials SET name = ''");
    refused(book, "UPDATE needs SET kind = 'leather'");
    refused(book, "UPDATE needs SET role = ''");
    refused(book, "UPDATE garments SET state = 'lost'");
    refused(book, "UPDATE garments SET name = ''");
    refused(book, "UPDATE garments SET name = NULL");
    refused(
        book,
        "UPDATE reservations SET state = 'lost', held = 0, ended_by = 2",
    );
    refused(book, "UPDATE workshops SET units = 'royal'");
    refused(book, "UPDATE workshops SET pooled_method = 'lifo'");
    refused(book, "UPDATE workshops SET strip_value = 'half'");
    refused(book, "UPDATE workshops SET currency = 'EURO'");
    refused(book, "UPDATE workshops SET id = 2");
    let token = crate::tokens::token(1, ellwand_domain::setting::Role::Maker);
    book.put(|tx| tx.insert_token(&token, &[]));
    refused(book, "UPDATE tokens SET role = 'boss'");
    refused(
        book,
        "INSERT INTO booking_subjects (booking_id, subject, subject_id) VALUES (1, 'piece', 1)",
    );
    refused(
        book,
        "INSERT INTO counters (kind, next_number) VALUES ('lot', 0)",
    );
    refused(
        book,
        "INSERT INTO bookings (id, kind, summary, on_date, booked_at, person_id, detail, request_id) \
         SELECT 7, 'lost', '', on_date, booked_at, person_id, '{}', request_id FROM bookings WHERE id = 1",
    );
    for (from, to) in [("shelf", "garment"), ("piece", "shelf")] {
        let places = format!("'{from}', 1, '{to}', 1");
        refused(
            book,
            &format!(
                "INSERT INTO movements SELECT 77, 1, {places}, 1, 1, 1 FROM bookings WHERE id = 1"
            ),
        );
    }
    book.put(|tx| tx.insert_work(&crate::garments::work(1, 1, WorkReason::Planned)));
    refused(book, "UPDATE work_entries SET kind = 'magic'");
    refused(book, "UPDATE work_entries SET reason = 'magic'");
    book.put(|tx| {
        tx.save_operation(&Operation {
            garment_id: 1,
            name: "hem".into(),
            position: 0,
            kind: WorkKind::Hand,
            minutes: 5,
            person_id: crate::draft::ADA,
            billable: true,
            detail: None,
        })
    });
    refused(book, "UPDATE operations SET kind = 'magic'");
    refused(book, "UPDATE garments SET spoilage = 'magic'");
    accepted(book, "UPDATE garments SET spoilage = 'own-mistake'");
    book.put(|tx| tx.insert_purchase_charge(&crate::purchases::charge(1, 1)));
    refused(book, "UPDATE purchase_charges SET kind = 'credit'");
    refused(book, "INSERT INTO lot_fibres VALUES (1, '')");
    book.put(|tx| tx.insert_pool_taking(&taking(1)));
    refused(book, "UPDATE pool_takings SET to_kind = 'shelf'");
}

fn taking(booking_id: i64) -> PoolTaking {
    PoolTaking {
        booking_id,
        lot_id: 1,
        to_kind: AccountKind::Garment,
        to_id: 1,
        share: 5,
    }
}

/// Cloth has both of its widths, and what has none has neither.
pub fn a_width_comes_with_its_selvedges(book: &TestDatabase) {
    stock(book);
    refused(book, "UPDATE pieces SET selvedges_um = NULL");
    refused(book, "UPDATE pieces SET full_width_um = NULL");
    accepted(
        book,
        "UPDATE pieces SET full_width_um = NULL, selvedges_um = NULL",
    );
}

/// A mark names a later booking, in every table that has it.
pub fn what_a_booking_wrote_is_taken_back_later(book: &TestDatabase) {
    stock(book);
    let test = WashTest {
        id: 1,
        lot_id: 1,
        number: 1,
        booking_id: 2,
        on_date: day(2),
        test: "{}".into(),
        note: None,
    };
    let work = WorkEntry {
        booking_id: 2,
        ..crate::garments::work(1, 1, WorkReason::Planned)
    };
    let bought = ellwand_storage::Purchase {
        booking_id: 2,
        ..purchase(2)
    };
    book.put(|tx| {
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.insert_purchase(&bought)?;
        tx.insert_purchase_charge(&crate::purchases::charge(1, 2))?;
        tx.insert_wash_test(&test)?;
        tx.insert_pool_taking(&taking(2))?;
        tx.insert_work(&work)?;
        tx.insert_quotation(&crate::quotations::quotation(1))?;
        tx.insert_quotation_version(&QuotationVersion {
            booking_id: 2,
            ..crate::quotations::version(1, 1)
        })?;
        tx.insert_payment(&crate::quotations::payment(2, 500))?;
        tx.insert_lay(&crate::lays::lay(1, 2), &[])?;
        tx.insert_cut(&crate::cuts::cut(2))
    });
    let tables = [
        "lays",
        "purchases",
        "purchase_charges",
        "wash_tests",
        "pool_takings",
        "work_entries",
        "quotation_versions",
        "payments",
        "cuts",
    ];
    let marked = |table: &str| {
        let marks = format!(
            "SELECT CAST(undone_by AS TEXT) AS text FROM {table} WHERE booking_id = 2 AND undone_by IS NOT NULL"
        );
        book.texts(&marks)
    };
    for table in tables {
        let mark = |by| format!("UPDATE {table} SET undone_by = {by} WHERE booking_id = 2");
        refused(book, &mark(1));
        refused(book, &mark(2));
        refused(book, &mark(77));
        assert_eq!(marked(table), [""; 0], "{table}");
    }
    book.put(|tx| tx.mark_undone(2, 3));
    for table in tables {
        assert_eq!(marked(table), ["3"], "{table}");
    }
}

pub fn rows_name_what_there_is(book: &TestDatabase) {
    stock(book);
    for (table, column) in [
        ("lots", "material_id"),
        ("lots", "purchase_id"),
        ("lots", "owner_id"),
        ("purchases", "supplier_id"),
        ("purchases", "booking_id"),
        ("pieces", "lot_id"),
        ("stretches", "piece_id"),
        ("layers", "material_id"),
        ("layers", "lot_id"),
        ("garments", "customer_id"),
        ("needs", "garment_id"),
        ("reservations", "need_id"),
        ("reservations", "piece_id"),
        ("reservations", "booking_id"),
        ("reservations", "first_id"),
    ] {
        refused(book, &format!("UPDATE {table} SET {column} = 77"));
    }
    refused(
        book,
        "UPDATE reservations SET state = 'cut', held = 0, ended_by = 77",
    );
    for table in [
        "suppliers",
        "materials",
        "purchases",
        "lots",
        "pieces",
        "garments",
        "needs",
    ] {
        if table == "suppliers" {
            accepted(book, "UPDATE purchases SET supplier_id = 1");
        }
        refused(book, &format!("DELETE FROM {table} WHERE id = 1"));
    }
}

/// Foreign keys to bookings are looked at when the transaction ends, and refuse all of it then.
pub fn bookings_may_be_named_before_they_are_written(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_purchase(&ellwand_storage::Purchase {
            booking_id: 7,
            ..purchase(2)
        })?;
        tx.insert_booking(&booking(7), &[], &[])
    });
    let done = book.write(|tx| {
        tx.insert_garment(&garment(2))?;
        tx.insert_purchase(&ellwand_storage::Purchase {
            booking_id: 8,
            ..purchase(3)
        })
    });
    assert!(matches!(done, Err(StorageError::Constraint(_))), "{done:?}");
    assert_eq!(book.get(|tx| tx.garment(2)), None, "nothing of it is kept");
    book.put(|tx| tx.insert_garment(&garment(2)));
}

pub fn a_change_of_nothing_is_refused(book: &TestDatabase) {
    stock(book);
    let absent = |done: Result<(), StorageError>| {
        assert!(matches!(done, Err(StorageError::Constraint(_))), "{done:?}");
    };
    absent(book.write(|tx| tx.update_purchase(&purchase(9))));
    absent(book.write(|tx| tx.update_purchase_line(&crate::draft::line(1, 9, 1))));
    absent(book.write(|tx| tx.update_lot(&lot(9, 1))));
    absent(book.write(|tx| tx.update_piece(&cloth(9, 1, 9))));
    absent(book.write(|tx| tx.update_garment(&garment(9))));
    absent(book.write(|tx| tx.update_reservation(&reservation(9, 1, M))));
    assert_eq!(
        book.put(|tx| run(tx, "UPDATE pieces SET offcut = offcut WHERE id = 9")),
        0
    );
}

/// A promise is of whole lengths or of a share, and stands in the place of an older one.
pub fn a_promise_is_of_lengths_or_of_a_share(book: &TestDatabase) {
    stock(book);
    for wrong in [
        "share = 5",
        "lengths = 0",
        "lengths = -1",
        "share = 0, lengths = 0",
        "first_id = 1",
    ] {
        refused(
            book,
            &format!("UPDATE reservations SET {wrong} WHERE id = 1"),
        );
    }
    accepted(
        book,
        "UPDATE reservations SET share = 5, lengths = 0 WHERE id = 1",
    );
    book.put(|tx| {
        tx.insert_reservation(&Reservation {
            first_id: Some(1),
            ..reservation(2, 1, 1)
        })
    });
    assert_eq!(book.get(|tx| tx.audit_lines()), Vec::<i64>::new());
    // A line of promises is for one need: the audit finds what a constraint cannot say.
    book.put(|tx| {
        tx.insert_garment(&garment(2))?;
        tx.save_need(&crate::draft::need(2, 2))?;
        tx.insert_reservation(&Reservation {
            need_id: 2,
            first_id: Some(1),
            ..reservation(3, 1, 1)
        })
    });
    assert_eq!(book.get(|tx| tx.audit_lines()), [3]);
}

/// What the service refuses first, SQL refuses too.
pub fn nothing_is_booked_into_closed_books(book: &TestDatabase) {
    let settings = ellwand_storage::Workshop {
        closed_to: Some(day(5)),
        ..crate::draft::workshop()
    };
    book.put(|tx| tx.save_workshop(&settings));
    let on = |id, of| ellwand_storage::Booking {
        on_date: day(of),
        ..booking(id)
    };
    for of in [4, 5] {
        let done = book.write(|tx| tx.insert_booking(&on(1, of), &[], &[]));
        assert!(
            matches!(done, Err(StorageError::Constraint(_))),
            "{of}: {done:?}"
        );
    }
    book.put(|tx| tx.insert_booking(&on(1, 6), &[], &[]));
    refused(book, "UPDATE workshops SET version = -1");
}

/// A lot without a price is the workshop's own; its value is not known or estimated, not both; opening stock has no invoice.
pub fn what_is_not_known_of_a_price_is_one_thing(book: &TestDatabase) {
    stock(book);
    book.put(|tx| tx.save_customer(&crate::draft::customer(1, "Bo")));
    accepted(book, "UPDATE lots SET unpriced = TRUE WHERE id = 1");
    refused(book, "UPDATE lots SET owner_id = 1 WHERE id = 1");
    refused(book, "UPDATE lots SET value_estimated = TRUE WHERE id = 1");
    refused(book, "UPDATE lots SET replacement_value = 1 WHERE id = 1");
    refused(
        book,
        "UPDATE lots SET replacement_value = 1, replacement_per = 0 WHERE id = 1",
    );
    accepted(
        book,
        "UPDATE lots SET replacement_value = 1, replacement_per = 1 WHERE id = 1",
    );
    accepted(book, "UPDATE purchases SET opening = TRUE WHERE id = 1");
    refused(book, "UPDATE purchases SET invoice = '17' WHERE id = 1");
    refused(book, "UPDATE purchases SET file_sha256 = 'ab' WHERE id = 1");
}
