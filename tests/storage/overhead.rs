//! What was spent on overhead, and the work of a period.

use crate::database::TestDatabase;
use crate::draft::{day, garment};
use crate::garments::work;
use crate::sample;
use ellwand_domain::setting::{GarmentState, WorkReason};
use ellwand_storage::{DayWork, Garment, OverheadSpent, WorkEntry};

pub fn what_was_spent_is_kept_once_a_period(book: &TestDatabase) {
    let spent = |id, from, to, amount| OverheadSpent { id, from_date: day(from), to_date: day(to), amount };
    book.put(|tx| {
        tx.save_overhead_spent(&spent(1, 1, 9, 600_000_000))?;
        tx.save_overhead_spent(&spent(2, 1, 20, 900_000_000))?;
        tx.save_overhead_spent(&spent(3, 5, 5, 0))
    });
    let kept = [spent(3, 5, 5, 0), spent(2, 1, 20, 900_000_000), spent(1, 1, 9, 600_000_000)];
    assert_eq!(book.get(|tx| tx.overhead_spent()), kept, "newest first");
    // The same days: another amount, under the old number.
    book.put(|tx| tx.save_overhead_spent(&spent(9, 1, 9, 1)));
    assert_eq!(book.get(|tx| tx.overhead_spent()).last(), Some(&spent(1, 1, 9, 1)));
    for set in ["amount = -1", "amount = 1000000000000001", "to_date = '2000-01-01'"] {
        crate::rules::refused(book, &format!("UPDATE overhead_spent SET {set}"));
    }
    crate::rules::refused(book, "UPDATE overhead_spent SET from_date = '2026-01-01', to_date = '2026-01-02'");
    assert!(book.put(|tx| tx.delete_overhead_spent(day(1), day(20))));
    assert!(!book.put(|tx| tx.delete_overhead_spent(day(1), day(20))), "it is gone");
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
        tx.insert_garment(&Garment { state: GarmentState::Cancelled.into(), ..garment(2) })?;
        for entry in [on(10, 1, 4), on(20, 1, 5), on(30, 1, 9), on(40, 2, 5), on(50, 1, 10)] {
            tx.insert_work(&entry)?;
        }
        tx.insert_work(&WorkEntry { undone: true, ..on(60, 1, 6) })
    });
    let state = book.get(|tx| tx.garment(1)).unwrap().state;
    let row = |on, minutes, billable, state| DayWork { on_date: day(on), minutes, billable, state };
    let found = book.get(|tx| tx.work_between(day(5), day(9)));
    let cancelled = GarmentState::Cancelled.into();
    let expected = [row(5, 20, true, state), row(5, 40, true, cancelled), row(9, 30, false, state)];
    assert_eq!(found, expected, "both days included, without what was taken back");
    assert_eq!(book.get(|tx| tx.work_between(day(11), day(20))), []);
}
