//! The shelf's list: its filters and its pages.

use crate::bookings::moved;
use crate::database::TestDatabase;
use crate::draft::{
    booking, cloth, customer, day, loose, lot, material, micrometres, purchase, quantity,
    reservation,
};
use crate::draft::{garment, need};
use crate::sample::M;
use ellwand_domain::{
    ledger::{Account, AccountKind, Rank, Rectangle},
    quantity::Millionths,
    setting::Kind,
    shrinkage::Preparation,
};
use ellwand_storage::{
    Booking, Change, Lot, PooledPiece, ShelfFilter, ShelfRow, StorageError, StoredPiece, Tx,
};
use std::collections::HashMap;

/// A shelf of six pieces, and one that is used up:
///
/// 1. L1.1, navy wool, 250 g/m², 3 m of 1.50 m, of which 2.8 m are promised, on `shelf 1`
/// 2. L1.2, the same, 0.5 m
/// 3. L2.1, Écru linen of 100 % linen, 180 g/m², 3 m, prepared, the customer's
/// 4. L3.1, an interlining without a mass, 0.90 m wide
/// 5. L4.1, thread `navy_50`
/// 6. L5.1, buttons `50 % horn`
/// 7. L1.3, used up
fn stock(tx: &mut Tx<'_>) -> Result<(), StorageError> {
    tx.insert_booking(&booking(1), &[], &[])?;
    tx.insert_purchase(&purchase(1))?;
    tx.save_customer(&customer(1, "Bo"))?;
    let names = [
        (Kind::Cloth, "Navy Wool"),
        (Kind::Cloth, "LEINEN FÜR KLEIDER"),
        (Kind::Interlining, "canvas"),
        (Kind::Thread, "navy_50"),
        (Kind::Trim, "50 % horn\\bone"),
    ];
    for (id, (kind, name)) in (1..).zip(names) {
        tx.save_material(&material(id, kind, name))?;
        let lot = Lot {
            colour: String::new(),
            ..lot(id, id)
        };
        tx.insert_lot(&match id {
            1 => Lot {
                colour: "Navy blue".into(),
                mass_mg_m2: Some(250_000),
                ..lot
            },
            2 => Lot {
                colour: "Écru".into(),
                mass_mg_m2: Some(180_000),
                owner_id: Some(1),
                sheet: "{\"colour\":\"Écru\"}".into(),
                ..lot
            },
            _ => lot,
        })?;
        let fibres: &[&str] = match id {
            1 => &["wool"],
            2 => &["linen", "cotton"],
            _ => &["cotton"],
        };
        let fibres: Vec<String> = fibres.iter().map(ToString::to_string).collect();
        tx.save_lot_fibres(id, &fibres)?;
    }
    let placed = |stored: StoredPiece, place: &str| StoredPiece {
        place: Some(place.into()),
        ..stored
    };
    let sized = |mut stored: StoredPiece, length: i64, full: i64| {
        stored.piece.quantity = quantity(length);
        stored.piece.rectangle = Some(Rectangle {
            full: micrometres(full),
            selvedges: micrometres(20_000),
        });
        stored
    };
    let mut first = placed(cloth(1, 1, 1), "shelf 1");
    tx.insert_piece(&first)?;
    tx.insert_piece(&placed(
        sized(cloth(2, 1, 2), 500_000, 1_500_000),
        "shelf 10",
    ))?;
    tx.insert_piece(&StoredPiece {
        preparation: Some(Preparation::Washed { times: 2 }),
        ..cloth(3, 2, 1)
    })?;
    tx.insert_piece(&sized(cloth(4, 3, 1), 2 * M, 900_000))?;
    tx.insert_piece(&loose(5, 4, 1, 5_000 * M))?;
    tx.insert_piece(&loose(6, 5, 1, 24))?;
    let mut empty = sized(cloth(7, 1, 3), 0, 1_500_000);
    empty.piece.value = Millionths::new(0).unwrap();
    tx.insert_piece(&empty)?;
    tx.insert_garment(&garment(1))?;
    tx.save_need(&need(1, 1))?;
    tx.insert_reservation(&reservation(1, 1, 2_800_000))?;
    let rank = Rank {
        accepted: false,
        due: None,
        promised: day(3),
        reservation: 1,
    };
    first
        .piece
        .reserve(quantity(2_800_000), rank)
        .map_err(StorageError::from)?;
    tx.update_piece(&first)
}

/// Ids of the pieces that a filter keeps, in the order of the list.
#[track_caller]
fn kept(book: &TestDatabase, filter: ShelfFilter) -> Vec<i64> {
    let filter = ShelfFilter {
        limit: 100,
        ..filter
    };
    book.get(|tx| tx.shelf(&filter))
        .into_iter()
        .map(|row| row.id)
        .collect()
}

fn text(value: &str) -> Option<String> {
    Some(value.to_owned())
}

pub fn each_filter_keeps_what_it_names(book: &TestDatabase) {
    book.put(stock);
    let none = ShelfFilter::default;
    assert_eq!(
        kept(book, none()),
        [1, 2, 3, 4, 5, 6],
        "all but what is used up, by code"
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                kind: Some(Kind::Cloth),
                ..none()
            }
        ),
        [1, 2, 3]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                kind: Some(Kind::Trim),
                ..none()
            }
        ),
        [6]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                fibre: text("wool"),
                ..none()
            }
        ),
        [1, 2]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                fibre: text("cotton"),
                ..none()
            }
        ),
        [3, 4, 5, 6]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                fibre: text("cot"),
                ..none()
            }
        ),
        [0; 0],
        "a fibre is named in full"
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                name: text("navy"),
                ..none()
            }
        ),
        [1, 2, 5]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                colour: text("blue"),
                ..none()
            }
        ),
        [1, 2]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                place: text("shelf 1"),
                ..none()
            }
        ),
        [1],
        "a place is named in full"
    );
    // Masses and lengths: the border itself is kept, what is not known is not.
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                mass_min: Some(180_001),
                ..none()
            }
        ),
        [1, 2]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                mass_min: Some(180_000),
                ..none()
            }
        ),
        [1, 2, 3]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                mass_max: Some(250_000),
                ..none()
            }
        ),
        [1, 2, 3]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                mass_max: Some(249_999),
                ..none()
            }
        ),
        [3]
    );
    // 0.90 m less 2 cm of selvedges.
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                width_min: Some(880_000),
                ..none()
            }
        ),
        [1, 2, 3, 4]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                width_min: Some(880_001),
                ..none()
            }
        ),
        [1, 2, 3]
    );
    // 3 m less 2.80 m promised.
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                free_min: Some(200_001),
                ..none()
            }
        ),
        [2, 3, 4, 5]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                free_min: Some(200_000),
                ..none()
            }
        ),
        [1, 2, 3, 4, 5]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                after: Some((1, 1)),
                ..none()
            }
        ),
        [2, 3, 4, 5, 6]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                after: Some((1, 9)),
                ..none()
            }
        ),
        [3, 4, 5, 6]
    );
}

pub fn filters_apply_together(book: &TestDatabase) {
    book.put(stock);
    let navy = ShelfFilter {
        name: text("navy"),
        ..ShelfFilter::default()
    };
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                kind: Some(Kind::Cloth),
                ..navy.clone()
            }
        ),
        [1, 2]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                free_min: Some(M / 2),
                kind: Some(Kind::Cloth),
                ..navy.clone()
            }
        ),
        [2]
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                after: Some((1, 1)),
                ..navy.clone()
            }
        ),
        [2, 5],
        "and the cursor"
    );
    assert_eq!(
        kept(
            book,
            ShelfFilter {
                mass_min: Some(1),
                mass_max: Some(200_000),
                ..navy
            }
        ),
        [0; 0]
    );
}

pub fn wildcards_are_taken_literally(book: &TestDatabase) {
    book.put(stock);
    let named = |name: &str| {
        kept(
            book,
            ShelfFilter {
                name: text(name),
                ..ShelfFilter::default()
            },
        )
    };
    assert_eq!(named("%"), [6]);
    assert_eq!(named("_"), [5]);
    assert_eq!(named("y_5"), [5]);
    assert_eq!(named("n%y"), [0; 0]);
    assert_eq!(named("\\"), [6]);
    assert_eq!(named("horn\\bone"), [6]);
    assert_eq!(named("'"), [0; 0]);
    let fibre = |fibre: &str| {
        kept(
            book,
            ShelfFilter {
                fibre: text(fibre),
                ..ShelfFilter::default()
            },
        )
    };
    assert_eq!(fibre("%"), [0; 0]);
    assert_eq!(fibre("w__l"), [0; 0]);
}

/// In ASCII and beyond: the databases' own ideas of capitals differ and end at ASCII in places.
pub fn capitals_do_not_matter(book: &TestDatabase) {
    book.put(stock);
    let coloured = |colour: &str| {
        kept(
            book,
            ShelfFilter {
                colour: text(colour),
                ..ShelfFilter::default()
            },
        )
    };
    for typed in ["Écru", "écru", "ÉCRU", "CRU"] {
        assert_eq!(coloured(typed), [3], "{typed}");
    }
    assert_eq!(coloured("NAVY"), [1, 2]);
    assert_eq!(coloured("ecru"), [0; 0], "another letter");
    let named = |name: &str| {
        kept(
            book,
            ShelfFilter {
                name: text(name),
                ..ShelfFilter::default()
            },
        )
    };
    for typed in ["für", "FÜR", "Leinen f", "kleider"] {
        assert_eq!(named(typed), [3], "{typed}");
    }
    let fibre = ShelfFilter {
        fibre: text("Wool"),
        ..ShelfFilter::default()
    };
    assert_eq!(kept(book, fibre), [1, 2]);
    // A new name and a new colour are found, the old ones no more.
    book.put(|tx| {
        tx.save_material(&material(2, Kind::Cloth, "ÄRMELFUTTER"))?;
        let lot = tx.lot(2)?.unwrap();
        tx.update_lot(&Lot {
            colour: "RosÉ".into(),
            ..lot
        })
    });
    assert_eq!((named("ärmel"), named("leinen")), (vec![3], vec![]));
    assert_eq!((coloured("rosé"), coloured("écru")), (vec![3], vec![]));
}

pub fn pages_have_no_gaps_and_no_repeats(book: &TestDatabase) {
    book.put(|tx| {
        tx.insert_booking(&booking(1), &[], &[])?;
        tx.insert_purchase(&purchase(1))?;
        tx.save_material(&material(1, Kind::Cloth, "navy wool"))?;
        // Lots of 1 to 6 pieces; ids run against the order of the codes.
        let mut id = 22;
        for number in 1..=6 {
            tx.insert_lot(&lot(number, 1))?;
            for piece in 1..=number {
                id -= 1;
                tx.insert_piece(&cloth(id, number, piece))?;
            }
        }
        Ok(())
    });
    let expected: Vec<(i64, i64)> = (1..=6)
        .flat_map(|lot| (1..=lot).map(move |number| (lot, number)))
        .collect();
    for limit in [1, 2, 3, 5, 21, 22] {
        let (mut all, mut after) = (Vec::new(), None);
        loop {
            let filter = ShelfFilter {
                after,
                limit,
                ..ShelfFilter::default()
            };
            let page: Vec<ShelfRow> = book.get(|tx| tx.shelf(&filter));
            all.extend(page.iter().map(|row| (row.lot_id, row.number)));
            after = all.last().copied();
            if page.len() < usize::try_from(limit).unwrap() {
                break;
            }
        }
        assert_eq!(all, expected, "{limit} a page");
    }
}

pub fn a_row_says_what_the_lot_is(book: &TestDatabase) {
    book.put(stock);
    let filter = ShelfFilter {
        kind: Some(Kind::Cloth),
        limit: 3,
        ..ShelfFilter::default()
    };
    let rows = book.get(|tx| tx.shelf(&filter));
    let (first, third) = (&rows[0], &rows[2]);
    assert_eq!(
        (first.quantity, first.held, first.longest_free),
        (3 * M, 2_800_000, 200_000)
    );
    assert_eq!(
        (first.full_width_um, first.selvedges_um),
        (Some(1_500_000), Some(20_000))
    );
    assert_eq!(
        (first.value, first.owner_id, first.preparation),
        (60 * M, None, None)
    );
    assert_eq!(
        (first.colour.as_str(), first.name.as_str(), first.kind),
        ("Navy blue", "Navy Wool", Kind::Cloth)
    );
    assert_eq!(
        (first.place.as_deref(), first.offcut, first.mass_mg_m2),
        (Some("shelf 1"), false, Some(250_000))
    );
    assert_eq!((third.colour.as_str(), third.owner_id), ("Écru", Some(1)));
    assert_eq!(third.sheet, "{\"colour\":\"Écru\"}");
    assert_eq!(third.preparation, Some(Preparation::Washed { times: 2 }));
}

/// On day 3 the last 0.5 m of L1.3 were taken and 1 m came to L1.1.
pub fn what_was_there_on_a_day_is_found(book: &TestDatabase) {
    book.put(stock);
    let on_day = |id, on| Booking {
        on_date: day(on),
        ..booking(id)
    };
    let supplier = Account::new(AccountKind::Supplier, 1);
    let lines = [
        moved(Account::piece(7), Account::garment(1), 500),
        moved(supplier, Account::piece(1), 1_000),
    ];
    book.put(|tx| tx.insert_booking(&on_day(2, 3), &[], &lines));
    let on = |stood_on| {
        let filter = ShelfFilter {
            stood_on: Some(day(stood_on)),
            ..ShelfFilter::default()
        };
        kept(book, filter)
    };
    assert_eq!(on(2), [1, 2, 7, 3, 4, 5, 6]);
    assert_eq!(on(3), [1, 2, 3, 4, 5, 6]);
    let after =
        |day_of| book.get(|tx| tx.changed_after(day(day_of), AccountKind::Piece, &[1, 2, 7]));
    let change = |quantity, value| Change { quantity, value };
    assert_eq!(
        after(2),
        HashMap::from([(1, change(M, 10 * M)), (7, change(-M / 2, -5 * M))])
    );
    assert_eq!(after(3), HashMap::new());
    let pooled = |material, piece, quantity| PooledPiece {
        material,
        piece,
        quantity,
    };
    assert_eq!(
        book.get(|tx| tx.pooled_pieces(&[4, 5], None)),
        [pooled(4, 5, 5_000 * M), pooled(5, 6, 24)]
    );
    assert_eq!(
        book.get(|tx| tx.pooled_pieces(&[1], Some(day(2)))),
        [pooled(1, 1, 3 * M), pooled(1, 2, M / 2), pooled(1, 7, 0)]
    );
    // 3 m and 0.5 m; the customer's 3 m are not the workshop's.
    let kinds = book.get(|tx| tx.kinds_on_shelf());
    assert_eq!(
        (kinds[0].kind, kinds[0].counted, kinds[0].quantity),
        (Kind::Cloth, false, 3_500_000)
    );
}
