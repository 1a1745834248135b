//! Plans and promises that are taken back, and promises that come again.

use crate::Workshop;
use crate::stories::undo::{as_it_is, promises, stocked};

#[test]
fn what_a_flaw_or_a_wash_broke_is_promised_again() {
    for act in [
        "lot flaw L1.1 --at 80cm",
        "wash done L1.1 --preparation washed --length 3.80m",
    ] {
        let workshop = stocked();
        workshop.all(&[
            "lot measure L1.1 1.60m --really",
            "reserve G1 shell --from L1.1",
        ]);
        let before = promises(&workshop);
        workshop.all(&[&act.replace("3.80m", "1.52m")]);
        assert_eq!(promises(&workshop).len(), 0, "{act}");
        let undone = workshop.json("undo --yes");
        assert_eq!(undone["restored"].as_array().unwrap().len(), 1, "{undone}");
        let after = promises(&workshop);
        assert_eq!(
            (&after[0]["held"], &after[0]["cost"]),
            (&before[0]["held"], &before[0]["cost"]),
            "{act}"
        );
        workshop.audit();
    }
}

#[test]
fn what_was_released_is_promised_again() {
    let workshop = stocked();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let before = promises(&workshop);
    workshop.all(&["release --garment G1", "undo --yes"]);
    let after = promises(&workshop);
    assert_eq!(
        (&after[0]["held"], &after[0]["units"]),
        (&before[0]["held"], &before[0]["units"])
    );
    // Not when another took the cloth meanwhile.
    workshop.all(&["release --garment G1", "lot split L1.1 3m"]);
    workshop
        .run("undo B7 --yes")
        .refused(1, &["is no longer free", "hint: "]);
    workshop.audit();
}

#[test]
fn a_change_of_the_plan_is_taken_back() {
    let workshop = stocked();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let shown = || {
        let mut shown = as_it_is(workshop.json("garment show G1"));
        for need in shown["needs"].as_array_mut().unwrap() {
            let rows = need["reservations"].as_array_mut().unwrap();
            rows.retain(|row| row["state"] == "active");
            rows.iter_mut()
                .for_each(|row| row["reservation"] = "R".into());
        }
        shown
    };
    let before = shown();
    for edit in [
        "garment edit G1 --name gown --due 2026-12-01",
        "garment edit G1 --need 'role=shell,kind=cloth,length=1.80m,width=140cm,preparation=none'",
        "garment edit G1 --drop-need shell",
        "garment edit G1 --need 'role=button,kind=trim,count=6' --operation 'name=hem,kind=hand,planned=1h'",
    ] {
        workshop.all(&[edit]);
        assert_ne!(shown(), before, "{edit}");
        workshop.audit();
        workshop.all(&["undo --yes"]);
        assert_eq!(shown(), before, "{edit}");
        workshop.audit();
    }
    // One after another, too.
    workshop.all(&[
        "garment edit G1 --name gown",
        "garment edit G1 --need 'role=button,kind=trim,count=6'",
        "garment edit G1 --drop-need button --need 'role=hook,kind=trim,count=2'",
        "undo --yes",
        "undo --yes",
        "undo --yes",
    ]);
    assert_eq!(shown(), before);
    workshop.all(&[
        "garment edit G1 --name gown",
        "garment edit G1 --name frock",
    ]);
    let first = workshop.json("history --garment G1")["bookings"][1]["booking"]
        .as_str()
        .unwrap()
        .to_owned();
    workshop
        .run(&format!("undo {first} --yes"))
        .refused(1, &["changed again since", "hint: "]);
}

/// Derived: 5 m cut of 9 m; of two garments one, so 5 m of 9 m as well.
#[test]
fn a_need_that_grew_after_it_was_cut_says_what_is_missing() {
    let thread = "material=grey thread,kind=thread,paid=100m,price=10";
    let linen = "material=linen,kind=cloth,paid=4m,price=40,full-width=150cm";
    let bought = format!("buy --line '{thread}' --line '{linen}'");
    let cloth = |size: &str| format!("--need 'role=shell,kind=cloth,{size},preparation=none'");
    for (count, plan, cut, grown, says, same) in [
        (
            1,
            "--need 'role=thread,kind=thread,length=5m'".to_owned(),
            "cut G1 thread 5m --from L1.1",
            "--need 'role=thread,kind=thread,length=9m'".to_owned(),
            "thread: what is already cut is less than the plan now needs: 5.00 m cut, 9.00 m needed",
            "--need 'role=thread,kind=thread,length=4m'".to_owned(),
        ),
        (
            2,
            "--need 'role=thread,kind=thread,length=5m'".to_owned(),
            "cut G1 thread 5m --from L1.1",
            "--need 'role=thread,kind=thread,length=9m'".to_owned(),
            "(1 of 2) is less than the plan now needs: 5.00 m cut, 9.00 m needed",
            "--need 'role=thread,kind=thread,length=5m'".to_owned(),
        ),
        (
            1,
            cloth("length=1m,width=1m"),
            "cut G1 shell 1.05m --from L2.1",
            cloth("length=1.20m,width=1m"),
            "shell: what is already cut is less than the plan now needs: 1.00 m at 100 cm cut, 1.20 m at 100 cm needed",
            cloth("length=90cm,width=1m"),
        ),
        (
            1,
            cloth("length=1m,width=1m"),
            "cut G1 shell 1.05m --from L2.1",
            cloth("length=1m,width=1.20m"),
            "1.00 m at 100 cm cut, 1.00 m at 120 cm needed",
            cloth("length=1m,width=1m"),
        ),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            &bought,
            &format!("garment plan bag --count {count} {plan}"),
            cut,
        ]);
        let report =
            |line: &str| workshop.json(&format!("garment edit G1 {line}"))["notes"].to_string();
        let notes = report(&grown);
        assert!(notes.contains(says), "{grown}: {notes}");
        assert!(
            !report(&same).contains("less than the plan now needs"),
            "{same}"
        );
        workshop.audit();
    }
}

/// Derived: twelve buttons at 2.00 are 24.00; the three that are left of them 6.00.
#[test]
fn a_promise_that_was_cut_from_in_part_costs_what_it_still_holds() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,paid=20,price=40'",
        "garment plan vest --count 4 --need 'role=buttons,kind=trim,count=3'",
        "reserve G1 --all --yes",
    ]);
    let promise = || workshop.json("garment show G1")["needs"][0]["reservations"][0].clone();
    assert_eq!(
        (&promise()["held"]["count"], &promise()["cost"]),
        (&12.into(), &"24".into())
    );
    workshop.all(&["cut G1 buttons 9 --reservation R1"]);
    assert_eq!(
        (&promise()["held"]["count"], &promise()["cost"]),
        (&3.into(), &"6".into())
    );
    assert_eq!(
        workshop.json("cost G1")["lines"][0]["cost"]["planned"],
        "24",
        "the plan stays whole"
    );
    workshop.all(&["undo --yes"]);
    assert_eq!(
        (&promise()["held"]["count"], &promise()["cost"]),
        (&12.into(), &"24".into())
    );
    workshop.audit();
}

/// A wash that broke a promise brings none back for a need that is not in the plan any more.
#[test]
fn nothing_is_promised_for_a_dropped_need() {
    let workshop = stocked();
    workshop.all(&[
        "lot measure L1.1 1.60m --really",
        "reserve G1 shell --from L1.1",
        "lot flaw L1.1 --at 80cm",
        "garment edit G1 --drop-need shell",
        "undo B6 --yes",
    ]);
    assert_eq!(
        workshop.json("shelf")["pieces"][0]["reserved"]["length_m"],
        "0"
    );
    workshop.audit();
}
