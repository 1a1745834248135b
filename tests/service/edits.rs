//! Edits of customers and suppliers stand in the history and are taken back like bookings; an erased name never comes back.

use crate::{Workshop, book::TestBook};
use diesel::{Connection, QueryableByName, RunQueryDsl, SqliteConnection, sql_types::Text};
use ellwand_contract::{
    bookings::{GetLastBooking, Undo},
    garments::{CancelGarment, PlanGarment},
    parties::{EditCustomer, EraseCustomer},
};
use serde_json::{Value, json};

/// Each part by itself; a later edit of the same part comes first; what changes nothing is no booking.
#[test]
fn an_edit_is_taken_back_part_by_part() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --supplier Stall --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "supplier edit S1 --name Barn --note 'open on Thursdays'",
        "supplier edit S1 --note 'open on Fridays'",
        "supplier edit S1 --name Barn",
    ]);
    let seen = || -> (Value, Value) {
        let row = workshop.json("supplier list")["suppliers"][0].clone();
        (row["name"].clone(), row["note"].clone())
    };
    let last = workshop.json("history --limit 1")["bookings"][0].clone();
    assert_eq!(
        (&last["booking"], &last["kind"]),
        (&"B3".into(), &"edited".into())
    );
    assert_eq!(last["summary"], "Edited the note of S1.");
    workshop
        .run("undo B2")
        .refused(1, &["the note of S1 has been edited again since, by B3"]);
    // Without a code it is what was done last, not the delivery.
    workshop.all(&["undo"]);
    assert_eq!(seen(), ("Barn".into(), "open on Thursdays".into()));
    workshop.all(&["undo"]);
    assert_eq!(seen(), ("Stall".into(), "".into()));
    // The name that was given up is still theirs.
    workshop.all(&["buy --supplier Barn --line 'material=silk,kind=thread,paid=9m,price=1'"]);
    assert_eq!(
        workshop.json("supplier list")["suppliers"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    workshop.audit();
}

/// A rename that is taken back finds by both names, and not where another has the name by now.
#[test]
fn a_rename_is_taken_back_unless_another_has_the_name() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest --for Ada",
        "customer edit C1 --name 'Ada Quill'",
        "garment plan coat --for Bo",
        "customer edit C2 --name Ada",
    ]);
    workshop
        .run("undo B2")
        .refused(1, &["customer \"Ada\" already exists: C2"]);
    workshop.all(&["undo B4", "undo B2"]);
    let names = workshop.json("customer list")["customers"].clone();
    assert_eq!(
        (&names[0]["name"], &names[1]["name"]),
        (&"Ada".into(), &"Bo".into())
    );
}

#[derive(QueryableByName)]
struct Kept {
    #[diesel(sql_type = Text)]
    text: String,
}

/// The name is in no booking, no trace and no request, and nothing brings it back.
#[test]
fn an_erased_name_is_nowhere_and_stays_away() {
    let book = TestBook::sqlite();
    book.ask::<PlanGarment>(json!({"name": "vest", "customer": "Adelheid"}))
        .unwrap();
    for edit in [
        json!({"name": "Griselda", "note": "pays late"}),
        json!({"name": "Kunigunde"}),
    ] {
        let mut edit = edit;
        edit["customer"] = "C1".into();
        book.ask::<EditCustomer>(edit).unwrap();
    }
    book.ask::<Undo>(json!({"booking": "B3"})).unwrap();
    book.ask::<CancelGarment>(json!({"garment": "G1"})).unwrap();
    let names = ["Adelheid", "Griselda", "Kunigunde", "pays late"];
    let kept_names = |book: &TestBook| -> Vec<&str> {
        let mut direct = SqliteConnection::establish(&book.file()).unwrap();
        let rows = diesel::sql_query(
            "SELECT summary || detail AS text FROM bookings UNION ALL SELECT coalesce(was, '') FROM traces \
             UNION ALL SELECT content || answer FROM requests UNION ALL SELECT name || note FROM customers \
             UNION ALL SELECT name FROM former_names",
        );
        let rows: Vec<Kept> = rows.load(&mut direct).unwrap();
        let holds = |name: &&str| rows.iter().any(|row| row.text.contains(*name));
        names.into_iter().filter(holds).collect()
    };
    assert_eq!(kept_names(&book), names);
    book.ask::<EraseCustomer>(json!({"customer": "C1"}))
        .unwrap();
    assert_eq!(kept_names(&book), [""; 0]);
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    assert_eq!(last.summary, "Erased the name of C1 for good.");
    for (booking, why) in [
        ("B2", "edited again or erased since, by B6"),
        ("B6", "B6 erased a name for good"),
    ] {
        let refused = book.ask::<Undo>(json!({"booking": booking})).unwrap_err();
        assert!(refused.detail.contains(why), "{refused:?}");
    }
    book.audit();
}
