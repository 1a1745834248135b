//! Materials, lots, wash tests, cost layers.

use crate::database::TestDatabase;
use crate::draft::{booking, customer, day, lot, material};
use crate::sample::{self, M, stock};
use ellwand_domain::setting::Kind;
use ellwand_storage::{Layer, Lot, Material, WashTest};

pub fn materials_are_found_by_kind_and_name(book: &TestDatabase) {
    let (thread, trim) = (
        material(1, Kind::Thread, "navy"),
        material(2, Kind::Trim, "navy"),
    );
    let (cloth, canvas) = (
        material(3, Kind::Cloth, "navy wool"),
        material(4, Kind::Interlining, "canvas"),
    );
    book.put(|tx| {
        [&thread, &trim, &cloth, &canvas]
            .into_iter()
            .try_for_each(|material| tx.save_material(material))
    });
    let expected = [&cloth, &canvas, &thread, &trim].map(Clone::clone);
    assert_eq!(book.get(|tx| tx.materials()), expected, "by kind and name");
    assert_eq!(book.get(|tx| tx.material(2)), Some(trim.clone()));
    assert_eq!(book.get(|tx| tx.material(5)), None);
    assert_eq!(
        book.get(|tx| tx.material_named(Kind::Thread, "navy")),
        Some(thread.clone())
    );
    assert_eq!(book.get(|tx| tx.material_named(Kind::Cloth, "navy")), None);
    let mut named = book.get(|tx| tx.materials_named("navy"));
    named.sort_by_key(|material| material.id);
    assert_eq!(named, [thread, trim]);
    let renamed = Material {
        name: "canvas 210".into(),
        sheet: "{\"mass\":210}".into(),
        ..canvas
    };
    book.put(|tx| tx.save_material(&renamed));
    assert_eq!(book.get(|tx| tx.material(4)), Some(renamed));
    assert_eq!(book.get(|tx| tx.materials()).len(), 4);
}

pub fn a_lot_is_read_as_written(book: &TestDatabase) {
    stock(book);
    let full = Lot {
        owner_id: Some(1),
        received: day(28),
        dye_lot: Some("D 7".into()),
        paid: Some("2 3/4 yd".into()),
        sheet: "{\"colour\":\"Écru\"}".into(),
        colour: "Écru".into(),
        mass_mg_m2: Some(205_000),
        next_piece: 5,
        landed: 0,
        ..lot(2, 1)
    };
    book.put(|tx| {
        tx.save_customer(&customer(1, "Bo"))?;
        tx.insert_lot(&full)
    });
    assert_eq!(
        book.get(|tx| tx.lot(1)),
        Some(lot(1, 1)),
        "with nothing but what every lot has"
    );
    assert_eq!(book.get(|tx| tx.lot(2)), Some(full.clone()));
    assert_eq!(book.get(|tx| tx.lot(3)), None);
    let changed = Lot {
        owner_id: None,
        dye_lot: None,
        mass_mg_m2: None,
        colour: String::new(),
        ..full
    };
    book.put(|tx| tx.update_lot(&changed));
    assert_eq!(book.get(|tx| tx.lot(2)), Some(changed));
    assert_eq!(
        book.get(|tx| tx.lot(1)),
        Some(lot(1, 1)),
        "the other one stays"
    );
}

pub fn wash_tests_come_newest_first(book: &TestDatabase) {
    let test = |id, number, booking_id, note: Option<&str>| WashTest {
        id,
        lot_id: 1,
        number,
        booking_id,
        on_date: day(4),
        test: "{\"cycles\":1}".into(),
        note: note.map(str::to_owned),
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_booking(&booking(2), &[], &[])?;
        tx.insert_wash_test(&test(1, 1, 1, None))?;
        tx.insert_wash_test(&test(2, 3, 1, Some("at 40 °C")))?;
        tx.insert_wash_test(&test(3, 2, 2, None))
    });
    let expected = [
        test(2, 3, 1, Some("at 40 °C")),
        test(3, 2, 2, None),
        test(1, 1, 1, None),
    ];
    assert_eq!(book.get(|tx| tx.wash_tests(1)), expected);
    assert_eq!(book.get(|tx| tx.wash_tests(2)), vec![]);
    // What was taken back leaves its number to another test.
    book.put(|tx| {
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.mark_undone(2, 3)
    });
    let numbers: Vec<i64> = book
        .get(|tx| tx.wash_tests(1))
        .iter()
        .map(|test| test.number)
        .collect();
    assert_eq!(numbers, [3, 1]);
    book.put(|tx| tx.insert_wash_test(&test(4, 2, 1, None)));
    assert!(
        book.write(|tx| tx.insert_wash_test(&test(5, 2, 1, None)))
            .is_err()
    );
}

pub fn layers_come_in_the_order_of_their_receipt(book: &TestDatabase) {
    let layer = |id, lot_id, quantity| Layer {
        id,
        material_id: 1,
        lot_id,
        quantity,
        value: 0,
    };
    let pool = Layer {
        material_id: 2,
        value: 4_500_000,
        ..layer(2, None, 5_000 * M)
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_material(&material(2, Kind::Thread, "navy"))?;
        tx.insert_lot(&lot(2, 1))?;
        tx.save_layer(&layer(3, Some(1), 10))?;
        tx.save_layer(&pool)?;
        tx.save_layer(&layer(1, Some(2), 0))
    });
    assert_eq!(
        book.get(|tx| tx.layers(1)),
        [layer(1, Some(2), 0), layer(3, Some(1), 10)],
        "emptied ones too"
    );
    assert_eq!(book.get(|tx| tx.layers(2)), std::slice::from_ref(&pool));
    assert_eq!(book.get(|tx| tx.layer(2)), Some(pool.clone()));
    assert_eq!(book.get(|tx| tx.layer(4)), None);
    let drawn = Layer {
        quantity: 4_880 * M,
        value: 4_392_000,
        ..pool
    };
    book.put(|tx| tx.save_layer(&drawn));
    assert_eq!(book.get(|tx| tx.layer(2)), Some(drawn));
}
