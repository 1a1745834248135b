//! Garments, needs, operations, minutes.

use crate::database::TestDatabase;
use crate::draft::{ADA, booking, customer, day, garment, need};
use crate::rules::refused;
use crate::sample::{self, stock};
use ellwand_domain::setting::{GarmentState, Kind, Spoilage, WorkKind, WorkReason};
use ellwand_storage::{Garment, Need, Operation, PastMinutes, Seam, SeamAllowance, WorkEntry};

pub fn a_garment_is_read_as_written(book: &TestDatabase) {
    stock(book);
    for (spoilage, id) in Spoilage::ALL.iter().zip(2..) {
        let full = Garment {
            name: "six aprons, “blue”".into(),
            customer_id: Some(1),
            count: 6,
            good: Some(5),
            spoiled: Some(1),
            spoilage: Some(*spoilage),
            salvage: 2_500_000,
            due: Some(day(30)),
            note: Some("pockets".into()),
            ..garment(id)
        };
        book.put(|tx| {
            tx.save_customer(&customer(1, "Bo"))?;
            tx.insert_garment(&full)
        });
        assert_eq!(book.get(|tx| tx.garment(id)), Some(full.clone()));
        let plain = Garment {
            count: 6,
            ..garment(id)
        };
        book.put(|tx| tx.update_garment(&plain));
        assert_eq!(
            book.get(|tx| tx.garment(id)),
            Some(plain),
            "changing takes values away too"
        );
    }
    assert_eq!(book.get(|tx| tx.garment(1)), Some(garment(1)));
    assert_eq!(book.get(|tx| tx.garment(9)), None);
}

pub fn needs_keep_the_order_of_the_plan(book: &TestDatabase) {
    stock(book);
    let needs: Vec<Need> = Kind::ALL
        .iter()
        .zip(2..)
        .map(|(kind, id)| Need {
            kind: (*kind),
            estimate: Some(id),
            units: id,
            ..need(id, 1)
        })
        .collect();
    book.put(|tx| {
        tx.insert_garment(&garment(2))?;
        needs.iter().rev().try_for_each(|need| tx.save_need(need))
    });
    let mut expected = vec![need(1, 1)];
    expected.extend(needs.clone());
    assert_eq!(book.get(|tx| tx.needs(1)), expected);
    assert_eq!(book.get(|tx| tx.needs(2)), vec![]);
    assert_eq!(book.get(|tx| tx.need(9)), None);
    let dropped = Need {
        dropped: true,
        estimate: None,
        need: "{\"a\":1}".into(),
        ..needs[0].clone()
    };
    book.put(|tx| tx.save_need(&dropped));
    assert_eq!(book.get(|tx| tx.need(2)), Some(dropped.clone()));
    assert_eq!(
        book.get(|tx| tx.needs(1))[1],
        dropped,
        "dropped ones stay in the list"
    );
}

pub fn operations_keep_the_order_of_the_plan(book: &TestDatabase) {
    stock(book);
    let operation = |name: &str, position, kind: WorkKind| Operation {
        garment_id: 1,
        name: name.into(),
        position,
        kind,
        minutes: 90,
        person_id: ADA,
        billable: true,
        detail: (position == 2).then(|| "Hand-rolled hem".into()),
    };
    let operations: Vec<Operation> = WorkKind::ALL
        .iter()
        .zip(1..)
        .map(|(kind, position)| operation(&format!("step {}", 9 - position), position, *kind))
        .collect();
    book.put(|tx| {
        operations
            .iter()
            .rev()
            .try_for_each(|operation| tx.save_operation(operation))
    });
    assert_eq!(book.get(|tx| tx.operations(1)), operations);
    assert_eq!(book.get(|tx| tx.operations(2)), vec![]);
    // The same name: changed, here to the end of the plan.
    let changed = Operation {
        position: 20,
        minutes: 0,
        billable: false,
        ..operations[0].clone()
    };
    book.put(|tx| tx.save_operation(&changed));
    let read = book.get(|tx| tx.operations(1));
    assert_eq!(
        (read.len(), read.last()),
        (operations.len(), Some(&changed))
    );
}

fn seam(name: &str, position: i64) -> Seam {
    Seam {
        garment_id: 1,
        name: name.into(),
        position,
        stitch: "301".into(),
        count: 2,
        length_um: Some(620_000),
        needle: "thread".into(),
        under: "bobbin".into(),
        seam: "{}".into(),
        detail: (position == 2).then(|| "Hand-rolled hem".into()),
    }
}

pub fn seams_keep_the_order_of_the_plan(book: &TestDatabase) {
    stock(book);
    let seams = [seam("side seam", 1), seam("hem", 2), seam("armhole", 3)];
    book.put(|tx| seams.iter().rev().try_for_each(|seam| tx.save_seam(seam)));
    assert_eq!(book.get(|tx| tx.seams(1)), seams);
    assert_eq!(book.get(|tx| tx.seams(2)), vec![]);
    // The same name: changed, and values are taken away, too.
    let hem = Seam {
        count: 1,
        length_um: None,
        detail: None,
        stitch: "button".into(),
        ..seam("hem", 9)
    };
    book.put(|tx| {
        tx.save_seam(&hem)?;
        tx.delete_seam(1, "armhole")?;
        tx.delete_seam(1, "sleeve")
    });
    assert_eq!(book.get(|tx| tx.seams(1)), [seam("side seam", 1), hem]);
}

pub fn seams_and_their_allowance_keep_to_their_rules(book: &TestDatabase) {
    stock(book);
    let allowance = |ends_um, waste_ppm| SeamAllowance {
        garment_id: 1,
        ends_um,
        waste_ppm,
    };
    assert_eq!(book.get(|tx| tx.seam_allowance(1)), None);
    book.put(|tx| {
        tx.save_seam(&seam("hem", 1))?;
        tx.save_seam_allowance(&allowance(25_000, 150_000))?;
        tx.save_seam_allowance(&allowance(0, 1_000_000))
    });
    assert_eq!(
        book.get(|tx| tx.seam_allowance(1)),
        Some(allowance(0, 1_000_000))
    );
    for set in [
        "name = ''",
        "position = -1",
        "stitch = ''",
        "count = 0",
        "count = 10001",
        "length_um = 0",
        "length_um = 10000000000001",
        "needle = ''",
        "under = ''",
        "seam = ''",
        "detail = ''",
        "garment_id = 77",
    ] {
        refused(book, &format!("UPDATE seams SET {set}"));
    }
    for set in [
        "ends_um = -1",
        "ends_um = 1000001",
        "waste_ppm = -1",
        "waste_ppm = 1000001",
        "garment_id = 77",
    ] {
        refused(book, &format!("UPDATE seam_allowances SET {set}"));
    }
    book.put(|tx| tx.delete_seam_allowance(1));
    assert_eq!(book.get(|tx| tx.seam_allowance(1)), None);
}

pub fn work(id: i64, garment_id: i64, reason: WorkReason) -> WorkEntry {
    WorkEntry {
        id,
        booking_id: 1,
        garment_id,
        operation: "fell the hem".into(),
        kind: WorkKind::Hand,
        minutes: 45,
        person_id: ADA,
        billable: true,
        reason,
        on_date: day(7),
        detail: None,
    }
}

pub fn minutes_that_were_taken_back_do_not_stand(book: &TestDatabase) {
    let entry = |id, booking_id, garment_id, reason| WorkEntry {
        booking_id,
        ..work(id, garment_id, reason)
    };
    let entries: Vec<WorkEntry> = WorkReason::ALL
        .iter()
        .zip(1..)
        .map(|(reason, id)| entry(id, 1, 1, *reason))
        .collect();
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_garment(&garment(2))?;
        tx.insert_booking(&booking(2), &[], &[])?;
        entries
            .iter()
            .rev()
            .try_for_each(|entry| tx.insert_work(entry))?;
        tx.insert_work(&entry(20, 2, 1, WorkReason::Planned))?;
        tx.insert_work(&entry(21, 2, 2, WorkReason::Planned))
    });
    assert_eq!(book.get(|tx| tx.work(1)).len(), entries.len() + 1);
    book.put(|tx| {
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.mark_undone(2, 3)
    });
    assert_eq!(
        book.get(|tx| tx.work(1)),
        entries,
        "in order, without what booking 2 logged"
    );
    assert_eq!(book.get(|tx| tx.work(2)), vec![]);
    // The sum is that of the standing minutes of one operation.
    book.put(|tx| {
        tx.insert_work(&WorkEntry {
            operation: "hem".into(),
            ..entry(22, 1, 1, WorkReason::Planned)
        })
    });
    let minutes = i64::try_from(entries.len()).unwrap() * 45;
    let sum = |garment, operation: &str| book.get(|tx| tx.worked_minutes(garment, operation));
    let operation = entries[0].operation.as_str();
    assert_eq!(
        (sum(1, operation), sum(1, "hem"), sum(2, operation)),
        (minutes, 45, 0)
    );
}

pub fn past_minutes_are_those_of_garments_that_were_finished(book: &TestDatabase) {
    let finished = |id| Garment {
        count: id,
        state: GarmentState::Finished,
        ..garment(id)
    };
    book.put(|tx| {
        sample::write(tx)?;
        for (id, state) in (2..).zip(GarmentState::ALL) {
            tx.insert_garment(&Garment {
                state: (*state),
                ..finished(id)
            })?;
            // Two entries of each reason, and one that was taken back.
            for (number, reason) in (0..).zip(WorkReason::ALL.iter().chain(WorkReason::ALL)) {
                tx.insert_work(&work(id * 100 + number, id, *reason))?;
            }
            tx.insert_work(&WorkEntry {
                booking_id: 2,
                ..work(id * 100 + 50, id, WorkReason::Planned)
            })?;
        }
        tx.insert_booking(&booking(2), &[], &[])?;
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.mark_undone(2, 3)?;
        // Another operation, and a garment whose minutes of it were all mistakes.
        tx.insert_garment(&finished(20))?;
        tx.insert_work(&WorkEntry {
            operation: "hem".into(),
            ..work(1, 20, WorkReason::Planned)
        })?;
        tx.insert_work(&work(2, 20, WorkReason::OwnMistake))
    });
    let of = |operation: &str, without, limit| {
        book.get(|tx| tx.past_minutes(operation, None, without, limit))
    };
    let past = |garment_id| PastMinutes {
        garment_id,
        minutes: 90,
        count: garment_id,
    };
    let at = |state| {
        (2..)
            .zip(GarmentState::ALL)
            .find(|(_, known)| **known == state)
            .unwrap()
            .0
    };
    let (finished, delivered) = (at(GarmentState::Finished), at(GarmentState::Delivered));
    assert_eq!(
        of("Fell the HEM", 9, 50),
        [past(delivered), past(finished)],
        "newest first"
    );
    assert_eq!(
        of("fell the hem", delivered, 50),
        [past(finished)],
        "not the garment itself"
    );
    assert_eq!(
        of("fell the hem", 9, 1),
        [past(delivered)],
        "no more than asked for"
    );
    assert_eq!(of("fell", 9, 50), []);
}

pub fn past_minutes_of_a_name_are_the_newest(book: &TestDatabase) {
    let named = |id, name: &str| Garment {
        name: name.into(),
        state: GarmentState::Delivered,
        ..garment(id)
    };
    book.put(|tx| {
        sample::write(tx)?;
        for (id, name) in [
            (2, "Übermantel"),
            (3, "vest"),
            (4, "übermantel"),
            (5, "ÜBERMANTEL lang"),
        ] {
            tx.insert_garment(&named(id, name))?;
            tx.insert_work(&work(id, id, WorkReason::Planned))?;
        }
        tx.insert_garment(&named(6, "übermantel"))
    });
    let of = |name: &str, limit| -> Vec<i64> {
        let rows = book.get(|tx| tx.past_minutes("fell the hem", Some(name), 9, limit));
        rows.into_iter().map(|row| row.garment_id).collect()
    };
    assert_eq!(
        of("ÜBERMANTEL", 50),
        [4, 2],
        "the last one has no such work"
    );
    assert_eq!(of("übermantel", 1), [4]);
    // A new name is found, the old one is not.
    book.put(|tx| tx.update_garment(&named(4, "Weste")));
    assert_eq!((of("übermantel", 50), of("weste", 50)), (vec![2], vec![4]));
}
