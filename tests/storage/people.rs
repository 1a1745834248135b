//! People, whom tokens, hours, rates, plans and bookings refer to.

use crate::database::TestDatabase;
use crate::draft::{ADA, person};
use crate::rules::refused;
use ellwand_storage::Person;

pub fn a_person_is_found_by_name_and_by_what_looks_like_it(book: &TestDatabase) {
    let row = Person {
        skeleton: "rnarte".into(),
        ..person(4, "Marte", true)
    };
    book.put(|tx| tx.insert_person(&row));
    let found = |name: &str, skeleton: &str| book.get(|tx| tx.person_alike(name, skeleton));
    assert_eq!(found("rnarte", "rnarte"), Some(row.clone()));
    assert_eq!(found("Marte", "of another time"), Some(row.clone()));
    assert_eq!(found("Merte", "rnerte"), None);
    book.put(|tx| tx.mark_person(4, false));
    assert_eq!(
        book.get(|tx| tx.person(4)),
        Some(Person { paid: false, ..row })
    );
    let names: Vec<String> = book
        .get(|tx| tx.people())
        .into_iter()
        .map(|person| person.name)
        .collect();
    assert_eq!(names, ["owner", "ada", "bo", "Marte"]);
}

pub fn a_name_is_of_one_person_for_good(book: &TestDatabase) {
    for row in [
        person(4, "ada", true),
        Person {
            skeleton: "ada".into(),
            ..person(4, "Ada", true)
        },
        Person {
            skeleton: String::new(),
            ..person(4, "cy", true)
        },
    ] {
        assert!(book.write(|tx| tx.insert_person(&row)).is_err(), "{row:?}");
    }
    refused(
        book,
        &format!("UPDATE people SET name = 'eve' WHERE id = {ADA}"),
    );
    refused(book, &format!("DELETE FROM people WHERE id = {ADA}"));
    refused(book, "UPDATE people SET paid = TRUE WHERE id = 1");
}

pub fn every_booking_has_its_person(book: &TestDatabase) {
    let booked = |person: &str| {
        format!(
            "INSERT INTO bookings (id, kind, summary, on_date, booked_at, detail, person_id, request_id) \
             SELECT 1, 'bought', '', '2026-10-01', '2026-10-01 00:00:00', '{{}}', {person}, MIN(id) FROM requests"
        )
    };
    refused(book, &booked("NULL"));
    refused(book, &booked("9"));
    assert_eq!(book.run(&booked("2")).ok(), Some(1));
}
