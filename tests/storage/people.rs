//! People, whom tokens, hours, rates, plans and bookings refer to.

use crate::database::TestDatabase;
use crate::draft::{ADA, day, person};
use crate::garments::work;
use crate::migrations::step;
use crate::rules::refused;
use crate::sample;
use ellwand_domain::setting::WorkReason;
use ellwand_storage::{PayRate, Person};

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
            "INSERT INTO bookings (id, kind, summary, on_date, booked_at, detail, person_id) \
             VALUES (1, 'bought', '', '2026-10-01', '2026-10-01 00:00:00', '{{}}', {person})"
        )
    };
    refused(book, &booked("NULL"));
    refused(book, &booked("9"));
    assert_eq!(book.run(&booked("2")).ok(), Some(1));
}

/// Books from before knew people by name only.
pub fn names_become_rows_and_names_again(book: &TestDatabase) {
    sample::stock(book);
    book.put(|tx| {
        tx.save_pay_rate(&PayRate {
            id: 1,
            person_id: ADA,
            per_hour: 180_000,
            from_date: day(5),
        })?;
        tx.save_pay_rate(&PayRate {
            id: 2,
            person_id: Person::OWNER,
            per_hour: 240_000,
            from_date: day(5),
        })?;
        tx.insert_work(&work(1, 1, WorkReason::Planned))
    });
    let names =
        "SELECT name || CASE WHEN paid THEN ' paid' ELSE '' END AS text FROM people ORDER BY id";
    // A book is not read through its handle while its schema is another one's.
    let there = |query: &str| book.texts_at(&book.url, query);
    let has_people = || {
        let query = match book.is_sqlite() {
            true => "SELECT name AS text FROM sqlite_schema WHERE name = 'people'",
            false => {
                "SELECT table_name::text AS text FROM information_schema.tables \
                 WHERE table_schema = current_schema() AND table_name = 'people'"
            }
        };
        !there(query).is_empty()
    };
    let mut steps = 0;
    while has_people() {
        step(book, false);
        steps += 1;
    }
    let of = |table: &str, column: &str| {
        there(&format!("SELECT {column} AS text FROM {table} ORDER BY id"))
    };
    assert_eq!(of("bookings", "by_name"), ["ada"]);
    assert_eq!(
        (of("pay_rates", "person"), of("work_entries", "person")),
        (vec!["ada".into(), "owner".into()], vec!["ada".to_owned()])
    );
    for _ in 0..steps {
        step(book, true);
    }
    // Whoever stands in no row is gone; ada's rate says that the hours are wages.
    assert_eq!(there(names), ["owner", "ada paid"]);
    let of = |table: &str| {
        there(&format!(
            "SELECT people.name AS text FROM {table} JOIN people ON people.id = {table}.person_id ORDER BY {table}.id"
        ))
    };
    assert_eq!(
        (of("bookings"), of("pay_rates")),
        (vec!["ada".to_owned()], vec!["ada".into(), "owner".into()])
    );
    assert_eq!(
        (
            of("work_entries"),
            book.put(|tx| tx.next_numbers("person", 1))
        ),
        (vec!["ada".to_owned()], 3)
    );
}
