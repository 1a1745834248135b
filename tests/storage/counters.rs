//! Numbers that codes are made of.

use crate::database::TestDatabase;
use crate::draft::{lot, material};
use crate::sample;
use ellwand_domain::setting::Kind;
use ellwand_storage::StorageError;
use std::time::Duration;

pub fn numbers_of_a_kind_start_at_one(book: &TestDatabase) {
    let take = |kind: &'static str, count| book.put(move |tx| tx.next_numbers(kind, count));
    assert_eq!(take("booking", 1), 1);
    assert_eq!(take("booking", 1), 2);
    assert_eq!(take("piece", 5), 1, "each kind counts for itself");
    assert_eq!(take("piece", 2), 6);
    assert_eq!(take("piece", 1), 8);
    assert_eq!(take("booking", 3), 3);
    assert_eq!(take("booking", 1), 6);
}

/// Two handles, eight threads: no number is given twice and none is left out, though the kind is new to all of them.
pub fn many_threads_get_every_number_once(book: &TestDatabase) {
    let handles = [book.db.clone(), book.another(Duration::from_secs(20))];
    let take = |thread: usize| -> Vec<i64> {
        let db = &handles[thread % 2];
        let mut taken = Vec::new();
        for round in 0..12 {
            let count = 1 + round % 3;
            let first = db.write(Box::new(move |tx| tx.next_numbers("garment", count)));
            let first: i64 = first
                .map_err(|error: StorageError| error.to_string())
                .unwrap();
            taken.extend(first..first + count);
        }
        taken
    };
    let take = &take;
    let mut all: Vec<i64> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..8)
            .map(|thread| scope.spawn(move || take(thread)))
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    });
    all.sort_unstable();
    // 8 threads × 12 rounds of 1, 2, 3, …: 8 × 24 numbers.
    assert_eq!(all, (1..=192).collect::<Vec<i64>>());
}

pub fn pieces_of_a_lot_are_numbered_without_gaps(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_material(&material(2, Kind::Cloth, "red wool"))?;
        tx.insert_lot(&lot(2, 2))
    });
    let take = |lot, count| book.put(move |tx| tx.next_piece_numbers(lot, count));
    assert_eq!((take(1, 1), take(1, 3), take(1, 1)), (2, 3, 6));
    assert_eq!(take(2, 1), 2, "each lot counts for itself");
    assert_eq!(book.get(|tx| tx.lot(1)).unwrap().next_piece, 7);
    let absent = book.write(|tx| tx.next_piece_numbers(9, 1));
    assert!(absent.is_err(), "a lot that does not exist has no numbers");
}
