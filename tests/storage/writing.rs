//! Transactions: all or nothing, one snapshot, several writers, deadlines.

use crate::database::{TestDatabase, options, run};
use crate::draft::supplier;
use ellwand_storage::{Db, JobError, OpenOptions, Request, StorageError, Tx};
use std::{
    panic::{AssertUnwindSafe, catch_unwind},
    sync::mpsc,
    time::{Duration, Instant},
};

/// An error of a job's own.
#[derive(Debug)]
pub enum Refusal {
    Own,
    Storage(StorageError),
}

impl From<StorageError> for Refusal {
    fn from(error: StorageError) -> Self {
        Self::Storage(error)
    }
}

impl JobError for Refusal {
    fn storage(&self) -> Option<&StorageError> {
        if let Self::Storage(error) = self {
            Some(error)
        } else {
            None
        }
    }
}

pub fn names(db: &Db) -> Vec<String> {
    let suppliers: Result<_, StorageError> = db.read(|tx| tx.suppliers());
    suppliers.unwrap().into_iter().map(|row| row.name).collect()
}

pub fn a_job_that_fails_leaves_nothing_behind(book: &TestDatabase) {
    let done: Result<(), Refusal> = book.db.write(Box::new(|tx| {
        tx.save_supplier(&supplier(1, "gone"))?;
        tx.next_numbers("supplier", 5)?;
        Err(Refusal::Own)
    }));
    assert!(
        matches!(done, Err(Refusal::Own)),
        "the job's own error: {done:?}"
    );
    // An error of the database after a change that went well.
    let done = book.write(|tx| {
        tx.save_supplier(&supplier(1, "gone too"))?;
        tx.save_supplier(&supplier(2, "gone too"))
    });
    assert!(matches!(done, Err(StorageError::Constraint(_))), "{done:?}");
    assert_eq!(names(&book.db), [""; 0]);
    assert_eq!(
        book.put(|tx| tx.next_numbers("supplier", 1)),
        1,
        "and the handle works on"
    );
}

pub fn a_job_that_panics_leaves_nothing_behind(book: &TestDatabase) {
    // One more than the pool has connections: none may be lost.
    for _ in 0..=options(false).connections {
        let done = catch_unwind(AssertUnwindSafe(|| {
            book.write(|tx| -> Result<(), StorageError> {
                tx.save_supplier(&supplier(1, "gone"))?;
                panic!("on purpose");
            })
        }));
        assert!(done.is_err());
        let done = catch_unwind(AssertUnwindSafe(|| {
            book.db.read(|tx| -> Result<(), StorageError> {
                tx.suppliers()?;
                panic!("on purpose");
            })
        }));
        assert!(done.is_err());
    }
    assert_eq!(names(&book.db), [""; 0]);
    book.put(|tx| tx.save_supplier(&supplier(1, "stays")));
    assert_eq!(names(&book.another(Duration::from_secs(5))), ["stays"]);
}

/// Whatever a job does with an error of the database: what it is reported is kept is kept.
pub fn a_hidden_error_is_not_taken_for_kept(book: &TestDatabase) {
    let done = book.write(|tx| {
        tx.save_supplier(&supplier(1, "first"))?;
        let hidden = tx.save_supplier(&supplier(2, "first"));
        assert!(
            matches!(hidden, Err(StorageError::Constraint(_))),
            "{hidden:?}"
        );
        Ok(())
    });
    let kept = if done.is_ok() {
        vec!["first".to_owned()]
    } else {
        vec![]
    };
    assert_eq!(names(&book.db), kept, "{done:?}");
    book.put(|tx| tx.save_supplier(&supplier(3, "third")));
}

pub fn a_reader_sees_one_snapshot(book: &TestDatabase) {
    let other = book.another(Duration::from_secs(5));
    book.put(|tx| tx.save_supplier(&supplier(1, "before")));
    book.get(|tx| {
        let first = tx.suppliers()?;
        other.write(Box::new(|tx| tx.save_supplier(&supplier(2, "meanwhile"))))?;
        assert_eq!(tx.suppliers()?, first);
        assert_eq!(tx.supplier(2)?, None, "another query of the same job");
        Ok(())
    });
    assert_eq!(names(&book.db), ["before", "meanwhile"]);
}

pub fn a_reader_cannot_write(book: &TestDatabase) {
    for _ in 0..2 {
        let done = book.db.read(|tx| tx.save_supplier(&supplier(1, "no")));
        assert!(matches!(done, Err(StorageError::ReadOnly)), "{done:?}");
        assert_eq!(names(&book.db), [""; 0]);
    }
    book.put(|tx| tx.save_supplier(&supplier(1, "yes")));
}

/// Two handles of four threads each, as two processes would have them.
pub fn two_handles_write_in_turn(book: &TestDatabase) {
    let handles = [book.db.clone(), book.another(Duration::from_secs(20))];
    std::thread::scope(|scope| {
        for thread in 0..8_i64 {
            let db = &handles[usize::try_from(thread).unwrap() % 2];
            scope.spawn(move || {
                for round in 0..50 {
                    let id = thread * 100 + round;
                    let row = supplier(id + 1, &format!("supplier {id}"));
                    let done: Result<(), StorageError> =
                        db.write(Box::new(|tx| tx.save_supplier(&row)));
                    done.unwrap();
                }
            });
        }
    });
    let ids: Vec<i64> = book
        .get(|tx| tx.suppliers())
        .iter()
        .map(|row| row.id)
        .collect();
    let expected: std::collections::BTreeSet<i64> = (0..8)
        .flat_map(|thread| (0..50).map(move |round| thread * 100 + round + 1))
        .collect();
    assert_eq!(ids.len(), 400);
    assert_eq!(
        ids.into_iter().collect::<std::collections::BTreeSet<_>>(),
        expected
    );
}

/// Each job reads a number and writes the next one: a writer that does not see the other's is run again or waits.
pub fn two_handles_fight_over_one_counter(book: &TestDatabase) {
    book.put(|tx| {
        tx.save_supplier(&ellwand_storage::Supplier {
            note: "0".into(),
            ..supplier(1, "counter")
        })
    });
    let handles = [book.db.clone(), book.another(Duration::from_secs(20))];
    let add = |tx: &mut Tx<'_>| -> Result<(), StorageError> {
        let row = tx.supplier(1)?.unwrap();
        let next: i64 = row.note.parse::<i64>().unwrap() + 1;
        tx.save_supplier(&ellwand_storage::Supplier {
            note: next.to_string(),
            ..row
        })
    };
    let add = &add;
    std::thread::scope(|scope| {
        for db in handles.iter().cycle().take(4) {
            scope.spawn(move || {
                for _ in 0..15 {
                    db.write(Box::new(add)).unwrap();
                }
            });
        }
    });
    assert_eq!(book.get(|tx| tx.supplier(1)).unwrap().note, "60");
}

/// The same request at once through two handles: one is kept, the other finds it.
pub fn one_request_is_kept_once(book: &TestDatabase) {
    let handles = [book.db.clone(), book.another(Duration::from_secs(20))];
    for round in 0..10 {
        let request = Request {
            id: format!("01890a5d-ac96-774b-bcce-b3020000{round:04}"),
            act: "cut".into(),
            caller: "ada".into(),
            content: "{}".into(),
            answer: "{}".into(),
            answered_at: crate::draft::instant(1),
            erased_at: None,
            refused: false,
        };
        let ask = |db: &Db| -> Result<bool, StorageError> {
            db.write(Box::new(|tx| {
                if tx.request(&request.id)?.is_some() {
                    return Ok(false);
                }
                tx.insert_request(&request)?;
                Ok(true)
            }))
        };
        let ask = &ask;
        let mut kept: Vec<bool> = std::thread::scope(|scope| {
            let threads: Vec<_> = handles
                .iter()
                .map(|db| scope.spawn(move || ask(db)))
                .collect();
            threads
                .into_iter()
                .map(|thread| thread.join().unwrap().unwrap())
                .collect()
        });
        kept.sort_unstable();
        assert_eq!(kept, [false, true]);
    }
}

pub fn a_busy_book_is_given_up_at_the_deadline(book: &TestDatabase) {
    book.put(|tx| tx.next_numbers("lot", 1));
    let hasty = book.another(Duration::from_millis(300));
    let (begun, wait) = mpsc::channel();
    let (go_on, stop) = mpsc::channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            book.put(move |tx| {
                tx.next_numbers("lot", 1)?;
                begun.send(()).unwrap();
                let _ = stop.recv_timeout(Duration::from_secs(20));
                Ok(())
            });
        });
        wait.recv().unwrap();
        let asked = Instant::now();
        let done: Result<i64, StorageError> = hasty.write(Box::new(|tx| tx.next_numbers("lot", 1)));
        let took = asked.elapsed();
        drop(go_on);
        assert!(matches!(done, Err(StorageError::Busy(_))), "{done:?}");
        assert!(
            took >= Duration::from_millis(250) && took < Duration::from_secs(5),
            "{took:?}"
        );
    });
    let done: Result<i64, StorageError> = hasty.write(Box::new(|tx| tx.next_numbers("lot", 1)));
    assert_eq!(done.unwrap(), 3, "afterwards it goes on");
}

pub fn a_pool_in_use_is_busy(book: &TestDatabase) {
    let options = OpenOptions {
        connections: 1,
        busy: Duration::from_millis(300),
        ..options(false)
    };
    let db = Db::open(&book.url, &options).unwrap();
    let done: Result<(), StorageError> = db.read(|tx| {
        tx.suppliers()?;
        let inner: Result<Vec<_>, StorageError> = db.read(|tx| tx.suppliers());
        assert!(matches!(inner, Err(StorageError::Busy(_))), "{inner:?}");
        Ok(())
    });
    done.unwrap();
    let done: Result<usize, StorageError> =
        db.write(Box::new(|tx| run(tx, "UPDATE suppliers SET note = ''")));
    assert_eq!(done.unwrap(), 0);
}
