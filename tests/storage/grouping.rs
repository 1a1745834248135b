//! Jobs that share a commit on SQLite: what waits while one runs is committed with it, and each answers for itself.

use crate::database::{TestDatabase, run};
use crate::draft::supplier;
use crate::writing::{Refusal, names};
use ellwand_storage::{Db, StorageError, Tx};
use std::{
    panic::{AssertUnwindSafe, catch_unwind},
    sync::{
        Barrier,
        atomic::{AtomicUsize, Ordering},
    },
    thread,
    time::Duration,
};

type Done = Result<(), Refusal>;

fn add(tx: &mut Tx<'_>, id: i64) -> Done {
    Ok(tx.save_supplier(&supplier(id, &format!("supplier {id}")))?)
}

/// Runs `first` and, once it runs, the others, which wait for it; answers in their order, `None` for a panic.
fn together(db: &Db, jobs: &[&(dyn Fn(&mut Tx<'_>) -> Done + Sync)]) -> Vec<Option<Done>> {
    let (begun, runs) = (Barrier::new(2), AtomicUsize::new(0));
    let attempt = |job: &(dyn Fn(&mut Tx<'_>) -> Done + Sync)| {
        catch_unwind(AssertUnwindSafe(|| db.write(Box::new(|tx| job(tx))))).ok()
    };
    thread::scope(|scope| {
        let first = scope.spawn(|| {
            let held = |tx: &mut Tx<'_>| {
                if runs.fetch_add(1, Ordering::SeqCst) == 0 {
                    begun.wait();
                    // Long enough for all the others to be waiting.
                    thread::sleep(Duration::from_millis(300));
                }
                jobs[0](tx)
            };
            attempt(&held)
        });
        begun.wait();
        let others: Vec<_> = jobs[1..]
            .iter()
            .map(|job| {
                let handle = scope.spawn(|| attempt(*job));
                // In the order of the list.
                thread::sleep(Duration::from_millis(20));
                handle
            })
            .collect();
        let answers = std::iter::once(first)
            .chain(others)
            .map(|handle| handle.join().unwrap());
        answers.collect()
    })
}

#[track_caller]
fn assert_names(book: &TestDatabase, ids: &[i64]) {
    let expected: Vec<String> = ids.iter().map(|id| format!("supplier {id}")).collect();
    assert_eq!(names(&book.db), expected);
    assert_eq!(
        names(&book.another(Duration::from_secs(5))),
        expected,
        "and another opener sees the same"
    );
}

#[test]
fn what_waits_shares_one_commit() {
    let book = TestDatabase::sqlite();
    let before = book.db.written();
    let answers = together(
        &book.db,
        &[
            &|tx| add(tx, 1),
            &|tx| add(tx, 2),
            &|tx| add(tx, 3),
            &|tx| add(tx, 4),
        ],
    );
    assert!(
        answers.iter().all(|answer| matches!(answer, Some(Ok(())))),
        "{answers:?}"
    );
    assert_names(&book, &[1, 2, 3, 4]);
    let after = book.db.written();
    assert_eq!(after.jobs - before.jobs, 4);
    assert!(
        after.commits - before.commits <= 2,
        "{after:?}: one for the first, at most one more for a latecomer"
    );
}

/// A server under load begins its next transaction as soon as one has ended; a command beside it still gets its turn, and
/// soon: eight of them gave up after five seconds each.
#[test]
fn whoever_writes_beside_a_busy_server_gets_a_turn() {
    let book = TestDatabase::sqlite();
    let command = book.another(Duration::from_secs(5));
    let (stop, written) = (AtomicUsize::new(0), AtomicUsize::new(0));
    thread::scope(|scope| {
        for thread in 0..8 {
            let (db, stop, written) = (&book.db, &stop, &written);
            scope.spawn(move || {
                for round in 1.. {
                    if stop.load(Ordering::SeqCst) > 0 {
                        break;
                    }
                    let slow = |tx: &mut Tx<'_>| {
                        // As long as an act takes.
                        thread::sleep(Duration::from_millis(2));
                        add(tx, 1_000 + thread * 100_000 + round)
                    };
                    db.write(Box::new(slow)).unwrap();
                    written.fetch_add(1, Ordering::SeqCst);
                }
            });
        }
        let mut longest = Duration::ZERO;
        let done: Vec<Done> = (1..=8)
            .map(|id| {
                let begun = std::time::Instant::now();
                let done = command.write(Box::new(|tx| add(tx, id)));
                longest = longest.max(begun.elapsed());
                done
            })
            .collect();
        stop.store(1, Ordering::SeqCst);
        assert!(done.iter().all(Result::is_ok), "{done:?}");
        // A group has 64 jobs at most.
        assert!(longest < Duration::from_secs(3), "{longest:?}");
    });
    assert!(written.into_inner() > 0, "the server went on");
}

#[test]
fn a_refusal_takes_back_its_own_job_alone() {
    let book = TestDatabase::sqlite();
    let refuse = |tx: &mut Tx<'_>| -> Done {
        add(tx, 2)?;
        Err(Refusal::Own)
    };
    let broken = |tx: &mut Tx<'_>| -> Done {
        add(tx, 3)?;
        add(tx, 1)?;
        Ok(tx.save_supplier(&supplier(9, "supplier 1"))?)
    };
    let answers = together(
        &book.db,
        &[&|tx| add(tx, 1), &refuse, &broken, &|tx| add(tx, 4)],
    );
    assert!(
        matches!(
            answers[..],
            [
                Some(Ok(())),
                Some(Err(Refusal::Own)),
                Some(Err(_)),
                Some(Ok(()))
            ]
        ),
        "{answers:?}"
    );
    assert_names(&book, &[1, 4]);
}

#[test]
fn a_first_job_that_is_refused_leaves_the_others_be() {
    let book = TestDatabase::sqlite();
    let refuse = |tx: &mut Tx<'_>| -> Done {
        add(tx, 1)?;
        Err(Refusal::Own)
    };
    let answers = together(&book.db, &[&refuse, &|tx| add(tx, 2), &refuse]);
    assert!(
        matches!(answers[..], [Some(Err(_)), Some(Ok(())), Some(Err(_))]),
        "{answers:?}"
    );
    assert_names(&book, &[2]);
}

/// A panic takes the open transaction with it; what others had done in it is done again.
#[test]
fn a_panic_in_a_group_costs_the_others_nothing() {
    let book = TestDatabase::sqlite();
    let runs = AtomicUsize::new(0);
    let counted = |tx: &mut Tx<'_>| {
        runs.fetch_add(1, Ordering::SeqCst);
        add(tx, 1)
    };
    let panics = |tx: &mut Tx<'_>| -> Done {
        add(tx, 2)?;
        panic!("on purpose");
    };
    let answers = together(&book.db, &[&counted, &panics, &|tx| add(tx, 3)]);
    assert!(
        matches!(answers[..], [Some(Ok(())), None, Some(Ok(()))]),
        "{answers:?}"
    );
    assert_names(&book, &[1, 3]);
    assert_eq!(runs.load(Ordering::SeqCst), 2, "run again by itself");
}

/// A failure of the database's own: the group falls, each runs again by itself, and only the guilty one fails.
#[test]
fn a_failure_of_the_engine_falls_on_its_job_alone() {
    let book = TestDatabase::sqlite();
    let fails = |tx: &mut Tx<'_>| -> Done {
        add(tx, 2)?;
        run(tx, "SELECT * FROM nowhere")?;
        Ok(())
    };
    let answers = together(&book.db, &[&|tx| add(tx, 1), &fails, &|tx| add(tx, 3)]);
    assert!(
        matches!(
            &answers[1],
            Some(Err(Refusal::Storage(StorageError::Other(_))))
        ),
        "{answers:?}"
    );
    assert!(
        matches!((&answers[0], &answers[2]), (Some(Ok(())), Some(Ok(())))),
        "{answers:?}"
    );
    assert_names(&book, &[1, 3]);
}

/// A rule that is judged at the commit (a booking that nobody wrote): the commit of the group fails, the others' own do not.
#[test]
fn a_commit_that_fails_falls_on_its_job_alone() {
    let book = TestDatabase::sqlite();
    let dangling = |tx: &mut Tx<'_>| -> Done {
        run(
            tx,
            "INSERT INTO booking_subjects (booking_id, subject, subject_id) VALUES (77, 'lot', 1)",
        )?;
        add(tx, 2)
    };
    let answers = together(&book.db, &[&|tx| add(tx, 1), &dangling, &|tx| add(tx, 3)]);
    assert!(
        matches!(
            &answers[1],
            Some(Err(Refusal::Storage(StorageError::Constraint(_))))
        ),
        "{answers:?}"
    );
    assert!(
        matches!((&answers[0], &answers[2]), (Some(Ok(())), Some(Ok(())))),
        "{answers:?}"
    );
    assert_names(&book, &[1, 3]);
}

/// Many threads of which some are refused, some panic and some fail: what was answered as kept is there, and nothing else.
#[test]
fn a_crowd_is_reported_the_truth() {
    let book = TestDatabase::sqlite();
    let kept: Vec<i64> = thread::scope(|scope| {
        let threads: Vec<_> = (0..16_i64)
            .map(|number| {
                let db = &book.db;
                scope.spawn(move || {
                    let mut kept = Vec::new();
                    for round in 0..25 {
                        let id = number * 100 + round + 1;
                        let job = |tx: &mut Tx<'_>| -> Done {
                            add(tx, id)?;
                            match id % 7 {
                                0 => Err(Refusal::Own),
                                1 if id % 3 == 0 => panic!("on purpose"),
                                2 if id % 3 == 0 => {
                                    Ok(run(tx, "SELECT * FROM nowhere").map(|_| ())?)
                                }
                                _ => Ok(()),
                            }
                        };
                        if let Ok(Ok(())) =
                            catch_unwind(AssertUnwindSafe(|| db.write(Box::new(job))))
                        {
                            kept.push(id);
                        }
                    }
                    kept
                })
            })
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    });
    let mut there: Vec<i64> = book
        .get(|tx| tx.suppliers())
        .iter()
        .map(|row| row.id)
        .collect();
    there.sort_unstable();
    let mut kept = kept;
    kept.sort_unstable();
    assert_eq!(there, kept);
    assert!(kept.len() > 250, "{}", kept.len());
    let written = book.db.written();
    assert_eq!(written.jobs, u64::try_from(kept.len()).unwrap());
    assert!(written.commits < written.jobs, "{written:?}");
}
