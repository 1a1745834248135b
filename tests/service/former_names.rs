//! A customer or supplier that was renamed is still found by the name of before.

use crate::Workshop;

#[test]
fn a_renamed_customer_is_found_by_the_old_name_and_not_made_twice() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest --for Ada",
        "customer edit C1 --name 'Ada Byron'",
    ]);
    let planned = workshop.json("garment plan coat --for Ada");
    assert_eq!(planned["customer"], "Ada Byron");
    assert_eq!(planned["notes"][0], "Ada is called Ada Byron now (C1)");
    let copied = workshop.json("garment copy G1 --for ' Ada '");
    assert_eq!(copied["notes"][0], "Ada is called Ada Byron now (C1)");
    // By the name of now, or by the code, nothing has to be said.
    for line in [
        "garment plan cape --for 'Ada Byron'",
        "garment plan cape --for C1",
    ] {
        let notes = workshop.json(line)["notes"].to_string();
        assert!(!notes.contains("is called"), "{line}: {notes}");
    }
    assert_eq!(
        workshop.json("customer list")["customers"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
}

#[test]
fn a_renamed_supplier_too() {
    let workshop = Workshop::new();
    let buy =
        "buy --supplier Stall --line 'material=linen,kind=cloth,paid=1m,price=9,full-width=90cm'";
    workshop.all(&[buy, "supplier edit S1 --name 'Cloth Barn'"]);
    let bought = workshop.json(buy);
    assert!(
        bought["notes"]
            .to_string()
            .contains("Stall is called Cloth Barn now (S1)"),
        "{bought}"
    );
    assert_eq!(
        workshop.json("supplier list")["suppliers"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
}

/// Whoever has the name now is meant; a name that two had is asked about.
#[test]
fn the_name_of_now_comes_first_and_a_doubt_is_asked_about() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest --for Ada",
        "customer edit C1 --name Bo",
        "customer edit C1 --name Cy",
        "garment plan vest --for Dan",
        "customer edit C2 --name Bo",
    ]);
    assert_eq!(
        workshop.json("garment plan vest --for Bo")["customer"],
        "Bo"
    );
    workshop.all(&["customer edit C2 --name Eve"]);
    workshop
        .run("garment plan vest --for Bo")
        .refused(1, &["Bo was the name of both C1 and C2", "give the code"]);
}

#[test]
fn an_erased_customer_is_found_by_no_name() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest --for Ada",
        "customer edit C1 --name 'Ada Byron'",
        "garment cancel G1",
        "customer erase C1",
    ]);
    for name in ["Ada", "'Ada Byron'"] {
        let planned = workshop.json(&format!("garment plan coat --for {name}"));
        assert!(
            !planned["notes"].to_string().contains("is called"),
            "{planned}"
        );
    }
    assert_eq!(
        workshop.json("customer list")["customers"]
            .as_array()
            .unwrap()
            .len(),
        3
    );
}
