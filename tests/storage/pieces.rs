//! Pieces with their flaws, stretches and promises.

use crate::database::TestDatabase;
use crate::draft::{
    cloth, customer, day, garment, loose, lot, material, need, quantity, reservation,
};
use crate::sample::{self, M, stock};
use ellwand_domain::{
    ledger::{Flaw, Rank},
    quantity::{Milligrams, Millionths},
    setting::{Kind, QuotationState},
    shrinkage::Preparation,
};
use ellwand_storage::{Garment, Lot, Near, Need, Quotation, Reservation, StoredPiece};

fn flaw(at: i64, length: i64, note: &str) -> Flaw {
    Flaw {
        at,
        length,
        note: note.into(),
    }
}

fn rank(reservation: i64, due: Option<u32>) -> Rank {
    Rank {
        accepted: false,
        due: due.map(day),
        promised: day(3),
        reservation,
    }
}

/// Start, length and held of the stretches as the table has them.
fn stretches(book: &TestDatabase, piece: i64) -> Vec<String> {
    book.texts(&format!(
        "SELECT CAST(start_um AS TEXT) || '+' || CAST(length AS TEXT) || ' ' || CAST(held AS TEXT) AS text \
         FROM stretches WHERE piece_id = {piece} ORDER BY position"
    ))
}

pub fn a_piece_is_read_as_written(book: &TestDatabase) {
    stock(book);
    assert_eq!(
        book.get(|tx| tx.piece(1)),
        Some(cloth(1, 1, 1)),
        "with nothing but what every piece has"
    );
    assert_eq!(book.get(|tx| tx.piece(2)), None);
    assert_eq!(stretches(book, 1), ["0+3000000 0"]);
    let mut full = StoredPiece {
        preparation: Some(Preparation::Washed { times: 3 }),
        offcut: true,
        place: Some("shelf 2, left".into()),
        received: day(5),
        prepared: Some(day(7)),
        last_on: day(9),
        mass_factor_ppm: 1_097_000,
        tare: Some(Milligrams::new(12_500).unwrap()),
        estimated: true,
        ..cloth(2, 1, 2)
    };
    book.put(|tx| tx.insert_piece(&full));
    assert_eq!(book.get(|tx| tx.piece(2)), Some(full.clone()));
    assert_eq!(book.get(|tx| tx.piece_numbered(1, 2)), Some(full.clone()));
    assert_eq!(book.get(|tx| tx.piece_numbered(1, 3)), None);
    for preparation in [
        Some(Preparation::None),
        Some(Preparation::Steamed),
        Some(Preparation::Washed { times: 1 }),
        None,
    ] {
        full = StoredPiece {
            preparation,
            place: None,
            prepared: None,
            offcut: false,
            ..full
        };
        full.piece.quantity = quantity(full.piece.quantity.get() - 1);
        book.put(|tx| tx.update_piece(&full));
        assert_eq!(book.get(|tx| tx.piece(2)), Some(full.clone()));
    }
    full.piece.quantity = quantity(0);
    full.piece.value = Millionths::new(0).unwrap();
    book.put(|tx| tx.update_piece(&full));
    assert_eq!(
        book.get(|tx| tx.piece(2)),
        Some(full),
        "used up, and still there"
    );
    assert_eq!(
        book.get(|tx| tx.piece(1)),
        Some(cloth(1, 1, 1)),
        "the other one stays"
    );
}

pub fn flaws_stretches_and_promises_are_read_as_one_piece(book: &TestDatabase) {
    let mut stored = cloth(1, 1, 1);
    stored.piece.mark_flaw(flaw(500_000, 0, "a line")).unwrap();
    stored
        .piece
        .mark_flaw(flaw(2_000_000, 100_000, "a hole; a stain"))
        .unwrap();
    let long = stored
        .piece
        .reserve(quantity(1_200_000), rank(1, Some(20)))
        .unwrap();
    let short = stored
        .piece
        .reserve(quantity(450_000), rank(2, None))
        .unwrap();
    stored.until.insert(2, day(15));
    book.put(|tx| {
        sample::write(tx)?;
        tx.update_garment(&Garment {
            due: Some(day(20)),
            ..garment(1)
        })?;
        tx.insert_garment(&garment(2))?;
        tx.save_need(&need(2, 2))?;
        let stretch = |index: usize| i64::try_from(index).unwrap();
        tx.insert_reservation(&Reservation {
            stretch: stretch(long),
            ..reservation(1, 1, 1_200_000)
        })?;
        tx.insert_reservation(&Reservation {
            need_id: 2,
            stretch: stretch(short),
            until: Some(day(15)),
            ..reservation(2, 1, 450_000)
        })?;
        tx.update_piece(&stored)
    });
    let read = book.get(|tx| tx.piece(1)).unwrap();
    assert_eq!(read, stored);
    // 0–0.5 m, 0.5–2 m, 2.1–3 m; the promises lie where they fit most closely.
    assert_eq!(
        stretches(book, 1),
        [
            "0+500000 450000",
            "500000+1500000 1200000",
            "2100000+900000 0"
        ]
    );
    assert_eq!(read.piece.longest_free().unwrap(), quantity(900_000));
    let kept = "SELECT CAST(held AS TEXT) || ' ' || CAST(longest_free AS TEXT) AS text FROM pieces";
    assert_eq!(book.texts(kept), ["1650000 900000"]);
}

/// Rule 6: the promises of a garment with an accepted quotation, and of no other, know it.
pub fn promises_know_whether_a_quotation_was_accepted(book: &TestDatabase) {
    let quoted = |id, garment_id, state: QuotationState| {
        let agreed = matches!(state, QuotationState::Accepted | QuotationState::Cancelled);
        Quotation {
            id,
            garment_id,
            state,
            accepted: agreed.then_some(1),
            accepted_in: agreed.then_some(1),
            agreed_minor: agreed.then_some(100),
            ..crate::quotations::quotation(id)
        }
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.insert_garment(&garment(2))?;
        tx.save_need(&need(2, 2))?;
        tx.insert_reservation(&reservation(1, 1, 500_000))?;
        tx.insert_reservation(&Reservation {
            need_id: 2,
            ..reservation(2, 1, 400_000)
        })?;
        let mut stored = cloth(1, 1, 1);
        stored
            .piece
            .reserve(quantity(500_000), rank(1, None))
            .unwrap();
        stored
            .piece
            .reserve(quantity(400_000), rank(2, None))
            .unwrap();
        tx.update_piece(&stored)?;
        // A second one of the same garment makes no second promise.
        tx.insert_quotation(&quoted(1, 1, QuotationState::Open))?;
        tx.insert_quotation(&quoted(2, 1, QuotationState::Open))?;
        tx.insert_quotation(&quoted(3, 2, QuotationState::Cancelled))
    });
    let known = || -> Vec<(i64, bool)> {
        let holds = book.get(|tx| tx.piece(1)).unwrap().piece.holds;
        holds
            .iter()
            .map(|hold| (hold.reservation, hold.rank.accepted))
            .collect()
    };
    assert_eq!(known(), [(1, false), (2, false)]);
    for (state, agreed) in [
        (QuotationState::Accepted, true),
        (QuotationState::Cancelled, false),
        (QuotationState::Accepted, true),
        (QuotationState::Closed, false),
    ] {
        book.put(|tx| tx.update_quotation(&quoted(1, 1, state)));
        assert_eq!(known(), [(1, agreed), (2, false)], "{state}");
    }
}

pub fn stretches_follow_when_flaws_come_and_go(book: &TestDatabase) {
    stock(book);
    let mut stored = cloth(1, 1, 1);
    let save = |stored: &StoredPiece| {
        book.put(|tx| tx.update_piece(stored));
        assert_eq!(book.get(|tx| tx.piece(1)).as_ref(), Some(stored));
        stretches(book, 1)
    };
    stored.piece.mark_flaw(flaw(1_000_000, 0, "one")).unwrap();
    assert_eq!(save(&stored), ["0+1000000 0", "1000000+2000000 0"]);
    stored.piece.mark_flaw(flaw(2_000_000, 0, "two")).unwrap();
    stored
        .piece
        .mark_flaw(flaw(2_500_000, 50_000, "three"))
        .unwrap();
    assert_eq!(
        save(&stored),
        [
            "0+1000000 0",
            "1000000+1000000 0",
            "2000000+500000 0",
            "2550000+450000 0"
        ]
    );
    stored.piece.remove_flaw(0).unwrap();
    assert_eq!(
        save(&stored),
        ["0+2000000 0", "2000000+500000 0", "2550000+450000 0"]
    );
    stored.piece.remove_flaw(0).unwrap();
    stored.piece.remove_flaw(0).unwrap();
    assert_eq!(save(&stored), ["0+3000000 0"]);
    // A flaw at either end leaves no empty stretch; one over everything leaves an empty one.
    stored
        .piece
        .mark_flaw(flaw(0, 200_000, "outer end"))
        .unwrap();
    assert_eq!(save(&stored), ["200000+2800000 0"]);
    stored.piece.mark_flaw(flaw(0, 3 * M, "faded")).unwrap();
    assert_eq!(save(&stored), ["3000000+0 0"]);
    assert_eq!(
        book.texts("SELECT note AS text FROM flaws"),
        ["outer end; faded"]
    );
}

pub fn pieces_are_listed_by_lot_number_and_kind(book: &TestDatabase) {
    let mut empty = cloth(4, 1, 2);
    (empty.piece.quantity, empty.piece.value) = (quantity(0), Millionths::new(0).unwrap());
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_material(&material(2, Kind::Trim, "horn button"))?;
        tx.insert_lot(&lot(2, 2))?;
        tx.insert_lot(&lot(3, 1))?;
        tx.insert_piece(&cloth(2, 3, 1))?;
        tx.insert_piece(&cloth(3, 1, 3))?;
        tx.insert_piece(&empty)?;
        tx.insert_piece(&loose(5, 2, 1, 6))
    });
    let ids = |pieces: Vec<StoredPiece>| {
        pieces
            .iter()
            .map(|stored| stored.piece.id)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_lot(1))),
        [1, 4, 3],
        "by number, used-up ones too"
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Cloth, None, 10))),
        [1, 3, 2],
        "by code, only what is there"
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Trim, None, 10))),
        [5]
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Thread, None, 10))),
        [0; 0]
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Trim, Some(2), 10))),
        [5]
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Trim, Some(1), 10))),
        [0; 0],
        "of another material"
    );
    assert_eq!(
        ids(book.get(|tx| tx.pieces_of_kind(Kind::Cloth, None, 2))).len(),
        2,
        "and no more"
    );
    let mut among = ids(book.get(|tx| tx.pieces_among(&[5, 4, 2, 9])));
    among.sort_unstable();
    assert_eq!(among, [2, 4, 5]);
}

pub fn pieces_are_found_by_what_is_free(book: &TestDatabase) {
    let of_length = |id: i64, free: i64| {
        let mut stored = cloth(id, 1, id);
        stored.piece.quantity = quantity(free);
        stored
    };
    let owned = Lot {
        owner_id: Some(1),
        ..lot(2, 1)
    };
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_customer(&customer(1, "Anna"))?;
        tx.insert_lot(&owned)?;
        for (id, free) in [(2, 1_000_000), (3, 2_000_000), (4, 3_000_000)] {
            tx.insert_piece(&of_length(id, free))?;
        }
        let mut theirs = of_length(5, 2_500_000);
        theirs.lot_id = 2;
        tx.insert_piece(&theirs)
    });
    let near = |free: i64, longer: bool, customer: Option<i64>, limit: i64| {
        let near = Near {
            kind: Kind::Cloth,
            customer,
            free,
            longer,
            limit,
        };
        let found = book.get(|tx| tx.pieces_near(&near));
        found
            .iter()
            .map(|stored| stored.piece.id)
            .filter(|id| *id > 1)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        near(2_000_000, true, None, 10),
        [3, 4],
        "the next longer ones first"
    );
    assert_eq!(
        near(2_000_001, false, None, 10),
        [3, 2],
        "the next shorter ones first"
    );
    assert_eq!(
        near(2_000_000, true, Some(1), 10),
        [3, 5, 4],
        "and what the customer brought"
    );
    assert_eq!(near(2_000_000, true, None, 1), [3]);
    let trims = Near {
        kind: Kind::Trim,
        customer: None,
        free: 0,
        longer: true,
        limit: 10,
    };
    assert!(book.get(|tx| tx.pieces_near(&trims)).is_empty());
}

/// More pieces than one query names at once, each with a flaw and a promise of its own.
pub fn many_pieces_are_read_at_once(book: &TestDatabase) {
    let piece = |id: i64| {
        let mut stored = cloth(id, 1, id);
        stored
            .piece
            .mark_flaw(flaw(1_000 * id, 0, &format!("flaw of {id}")))
            .unwrap();
        let stretch = stored
            .piece
            .reserve(quantity(500_000 + id), rank(id, None))
            .unwrap();
        (stored, i64::try_from(stretch).unwrap())
    };
    book.put(|tx| {
        sample::write(tx)?;
        for id in 2..=620 {
            let (stored, stretch) = piece(id);
            tx.insert_piece(&stored)?;
            tx.insert_reservation(&Reservation {
                stretch,
                ..reservation(id, id, 500_000 + id)
            })?;
        }
        Ok(())
    });
    let expected: Vec<StoredPiece> = std::iter::once(cloth(1, 1, 1))
        .chain((2..=620).map(|id| piece(id).0))
        .collect();
    assert!(book.get(|tx| tx.pieces_of_lot(1)) == expected);
    assert!(book.get(|tx| tx.pieces_of_kind(Kind::Cloth, None, 1_000)) == expected);
}

pub fn trims_and_thread_have_no_width(book: &TestDatabase) {
    let mut buttons = loose(2, 2, 1, 24);
    buttons.piece.reserve(quantity(6), rank(1, None)).unwrap();
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_material(&material(2, Kind::Trim, "horn button"))?;
        tx.insert_lot(&lot(2, 2))?;
        tx.save_need(&Need {
            kind: Kind::Trim,
            ..need(2, 1)
        })?;
        tx.insert_piece(&loose(2, 2, 1, 24))?;
        tx.insert_reservation(&Reservation {
            need_id: 2,
            ..reservation(1, 2, 6)
        })?;
        tx.update_piece(&buttons)
    });
    assert_eq!(book.get(|tx| tx.piece(2)), Some(buttons));
    assert_eq!(stretches(book, 2), ["0+24 6"]);
}
