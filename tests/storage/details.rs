//! Details: where they are found, what they were worth, and what is tried out aside.

use crate::database::TestDatabase;
use crate::draft::{booking, garment, need};
use crate::rules::refused;
use crate::sample;
use ellwand_domain::setting::GarmentState;
use ellwand_storage::{DetailRating, Garment, Need};

fn rating(garment_id: i64, name: &str, rating: i64) -> DetailRating {
    DetailRating {
        garment_id,
        name_search: name.to_lowercase(),
        name: name.into(),
        rating,
        booking_id: 1,
    }
}

/// Garment 1 is planned, 2 delivered, 3 and 4 finished; each has a hem, 3 it as a need that was dropped, 4 in capitals.
fn made(book: &TestDatabase) {
    book.put(|tx| {
        sample::write(tx)?;
        tx.save_need(&Need {
            detail: Some("Säumchen".into()),
            ..need(1, 1)
        })?;
        for (id, state) in [
            (2, GarmentState::Delivered),
            (3, GarmentState::Finished),
            (4, GarmentState::Finished),
        ] {
            tx.insert_garment(&Garment {
                state,
                ..garment(id)
            })?;
        }
        let hem = |id, name: &str| Need {
            detail: Some(name.into()),
            ..need(id, id)
        };
        tx.save_need(&hem(2, "Säumchen"))?;
        tx.save_need(&Need {
            dropped: true,
            ..hem(3, "Säumchen")
        })?;
        tx.save_need(&hem(4, "SÄUMCHEN"))
    });
}

pub fn details_are_found_on_garments_that_were_made(book: &TestDatabase) {
    made(book);
    assert_eq!(book.get(|tx| tx.garments_with_detail(None, 9)), [4, 2]);
    assert_eq!(
        book.get(|tx| tx.garments_with_detail(Some("säumchen"), 9)),
        [4, 2]
    );
    assert_eq!(
        book.get(|tx| tx.garments_with_detail(Some("säumchen"), 1)),
        [4]
    );
    assert_eq!(
        book.get(|tx| tx.garments_with_detail(Some("collar"), 9)),
        Vec::<i64>::new()
    );
    for set in [
        "detail = ''",
        "detail = NULL",
        "detail_search = NULL",
        "detail_search = ''",
    ] {
        refused(book, &format!("UPDATE needs SET {set} WHERE id = 2"));
    }
}

pub fn a_detail_has_one_rating_from_one_to_five(book: &TestDatabase) {
    made(book);
    book.put(|tx| {
        tx.save_detail_rating(&rating(2, "hem", 4))?;
        tx.save_detail_rating(&rating(2, "collar", 5))?;
        tx.save_detail_rating(&rating(2, "HEM", 2))
    });
    assert_eq!(
        book.get(|tx| tx.detail_ratings(2)),
        [rating(2, "collar", 5), rating(2, "HEM", 2)]
    );
    for set in [
        "rating = 0",
        "rating = 6",
        "name = ''",
        "name_search = ''",
        "garment_id = 77",
        "booking_id = 77",
    ] {
        refused(book, &format!("UPDATE detail_ratings SET {set}"));
    }
    book.put(|tx| tx.delete_detail_rating(2, "Hem"));
    assert_eq!(
        book.get(|tx| tx.detail_ratings(2)),
        [rating(2, "collar", 5)]
    );
}

/// What is tried out is seen inside and gone after it, also where it broke a rule or where one stands in another.
pub fn what_is_tried_out_aside_leaves_nothing(book: &TestDatabase) {
    book.put(sample::write);
    book.put(|tx| {
        tx.insert_booking(&booking(2), &[], &[])?;
        let inside = tx.aside(|tx| {
            tx.insert_garment(&garment(2))?;
            let twice = tx.aside(|tx| tx.insert_garment(&garment(2)))?;
            assert!(twice.is_err(), "the number is taken");
            tx.garment(2)
        })?;
        assert!(inside?.is_some());
        assert_eq!(tx.garment(2)?, None);
        tx.insert_garment(&garment(3))
    });
    assert_eq!(book.get(|tx| tx.garment(2)), None);
    assert!(book.get(|tx| tx.garment(3)).is_some() && book.get(|tx| tx.booking(2)).is_some());
}
