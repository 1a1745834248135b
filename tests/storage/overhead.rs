//! What was spent on overhead, and the work of a period.

use crate::database::TestDatabase;
use crate::draft::{booking, day, garment};
use crate::garments::work;
use crate::sample;
use ellwand_domain::setting::{GarmentState, WorkReason};
use ellwand_storage::{DayWork, Garment, OverheadSpent, WorkEntry, WorkReversal};

pub fn what_was_spent_is_kept_once_a_period(book: &TestDatabase) {
    let spent = |id, from, to, amount| OverheadSpent {
        id,
        from_date: day(from),
        to_date: day(to),
        amount,
    };
    book.put(|tx| {
        tx.save_overhead_spent(&spent(1, 1, 9, 600_000_000))?;
        tx.save_overhead_spent(&spent(2, 1, 20, 900_000_000))?;
        tx.save_overhead_spent(&spent(3, 5, 5, 0))
    });
    let kept = [
        spent(3, 5, 5, 0),
        spent(2, 1, 20, 900_000_000),
        spent(1, 1, 9, 600_000_000),
    ];
    assert_eq!(book.get(|tx| tx.overhead_spent()), kept, "newest first");
    // The same days: another amount, under the old number.
    book.put(|tx| tx.save_overhead_spent(&spent(9, 1, 9, 1)));
    assert_eq!(
        book.get(|tx| tx.overhead_spent()).last(),
        Some(&spent(1, 1, 9, 1))
    );
    for set in [
        "amount = -1",
        "amount = 1000000000000001",
        "to_date = '2000-01-01'",
    ] {
        crate::rules::refused(book, &format!("UPDATE overhead_spent SET {set}"));
    }
    crate::rules::refused(
        book,
        "UPDATE overhead_spent SET from_date = '2026-01-01', to_date = '2026-01-02'",
    );
    assert!(book.put(|tx| tx.delete_overhead_spent(day(1), day(20))));
    assert!(
        !book.put(|tx| tx.delete_overhead_spent(day(1), day(20))),
        "it is gone"
    );
    assert_eq!(book.get(|tx| tx.overhead_spent()).len(), 2);
}

pub fn the_work_of_a_period_is_that_of_its_days(book: &TestDatabase) {
    let on = |id, garment, on| WorkEntry {
        on_date: day(on),
        minutes: id,
        billable: id != 30,
        ..work(id, garment, WorkReason::OwnMistake)
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_garment(&Garment {
            state: GarmentState::Cancelled,
            ..garment(2)
        })?;
        for entry in [
            on(10, 1, 4),
            on(20, 1, 5),
            on(30, 1, 9),
            on(40, 2, 5),
            on(50, 1, 10),
        ] {
            tx.insert_work(&entry)?;
        }
        tx.insert_work(&WorkEntry {
            booking_id: 2,
            ..on(60, 1, 6)
        })?;
        tx.insert_booking(&booking(2), &[], &[])?;
        tx.insert_booking(&booking(3), &[], &[])?;
        tx.mark_undone(2, 3)
    });
    let reversal = |id, work_id, on, sign, cancelled| WorkReversal {
        id,
        work_id,
        on_date: day(on),
        sign,
        cancelled,
    };
    book.put(|tx| {
        for row in [
            reversal(70, 40, 5, -1, true),
            reversal(71, 60, 9, -1, false),
            reversal(72, 10, 9, -1, false),
        ] {
            tx.insert_work_reversal(&row)?;
        }
        tx.insert_work_reversal(&reversal(73, 10, 11, 1, false))
    });
    let row = |on, minutes, billable, cancelled| DayWork {
        on_date: day(on),
        minutes,
        billable,
        cancelled,
    };
    let found = book.get(|tx| tx.work_between(day(5), day(9)));
    let expected = [
        row(4, -10, true, false),
        row(5, 20, true, false),
        row(5, 40, true, false),
        row(5, -40, true, true),
        row(6, 60, true, false),
        row(6, -60, true, false),
        row(9, 30, false, false),
    ];
    assert_eq!(
        found, expected,
        "both days included; what is taken back counts on a day of its own"
    );
    assert_eq!(book.get(|tx| tx.work_reversals(10)).len(), 2);
    for change in [
        "UPDATE work_reversals SET sign = 1",
        "DELETE FROM work_reversals WHERE id = 70",
    ] {
        crate::rules::refused(book, change);
    }
    crate::rules::refused(
        book,
        "INSERT INTO work_reversals VALUES (90, 10, '2026-10-11', 2, FALSE)",
    );
    let settings = ellwand_storage::Workshop {
        closed_to: Some(day(9)),
        ..crate::draft::workshop()
    };
    book.put(|tx| tx.save_workshop(&settings));
    crate::rules::refused(
        book,
        "INSERT INTO work_reversals VALUES (91, 10, '2026-10-09', 1, FALSE)",
    );
    assert_eq!(
        book.get(|tx| tx.work_between(day(11), day(11))),
        [row(4, 10, true, false)]
    );
    assert_eq!(book.get(|tx| tx.work_between(day(12), day(20))), []);
}
