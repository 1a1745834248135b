//! Undo books the opposite, and is refused only where later acts depend on the booking.

use crate::workshop::Workshop;
use ellwand_contract::acts;
use std::collections::BTreeSet;
use uuid::Uuid;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24",
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=5%/2%'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1.50m,width=140cm,preparation=none' \
             --operation 'name=sewing,kind=hand,planned=3h'",
    ]);
    workshop
}

/// Acts that are no bookings: a setting or a record is set again, a token is revoked; and those that cannot be taken back.
const NEVER_TAKEN_BACK: &[&str] = &[
    "create_token",
    "edit_customer",
    "edit_material",
    "edit_supplier",
    "erase_customer",
    "forget_operation",
    "revoke_token",
    "set_figures",
    "set_operation",
    "set_overhead_rate",
    "set_overhead_spent",
    "set_pay_rate",
    "set_person",
    "set_tax_rate",
    "set_tax_reclaim",
    "set_workshop",
    "undo",
];

#[test]
fn every_kind_of_booking_is_taken_back_to_where_the_shelf_was() {
    let mut taken_back = BTreeSet::new();
    for act in [
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1.50m --from L1.1",
        "cut G1 shell 1.50m --from L1.1 --at 1m",
        "cut G1 shell 1.50m --from L1.1 --end inner",
        "cut G1 shell 3.90m --from L1.1",
        "cut G1 shell 1.50m --from L1.1 --panel 60cm --keep-strip",
        "cut G1 shell 1m --from L1.1 --reason own-mistake",
        "cut G1 shell 1m --from L1.1 --piece-was 3.90m",
        "wash done L1.1 --preparation washed --length 3.80m --width 147cm",
        "wash test L1 --preparation washed --length 350mm=334mm --swatch 50cmx50cm --from L1.1",
        "lot stiffness L1 --lengthwise 62mm --mass 200gsm",
        "lot split L1.1 1m",
        "lot measure L1.1 3.95m",
        "lot flaw L1.1 --at 2m",
        "lot edit L1 --shrinkage 6%/2% --full-width 148cm",
        "lot edit L1 --dye-lot 4711 --place A9",
        "buy charge P1 'freight=5,by=value'",
        "work G1 sewing 1h",
        "garment finish G1",
        "garment cancel G1",
        "garment finish G1; garment deliver G1",
        "garment edit G1 --due 2026-12-01",
        "garment copy G1",
        "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none'",
        "garment edit G1 --operation 'name=hem,kind=hand,planned=1h,detail=hem'; garment finish G1; garment rate G1 hem 4",
        "reserve G1 shell --from L1.1; release R1",
        "lot place L1.1 A2",
        "lot flaw L1.1 --at 2m; lot flaw-remove L1.1 1",
        "lot edit L1 --mass 200gsm; lot weigh L1.1 1.1kg --really",
        "buy --line 'material=silk,kind=cloth,paid=1m,price=9,full-width=90cm'",
        "quote make G1 --margin 35%",
        "quote make G1 --margin 35%; quote again Q1 --margin 40%",
        "quote make G1 --margin 35%; quote accept Q1 --version 1",
        "quote make G1 --margin 35%; quote accept Q1 --version 1; quote pay Q1 10.00",
        "quote make G1 --margin 35%; quote close Q1",
        "workshop close 2026-10-01 --yes",
    ] {
        let workshop = stocked();
        let mut lines: Vec<&str> = act.split("; ").collect();
        let line = lines.pop().unwrap();
        workshop.all(&lines);
        let pieces = workshop.run("shelf --json").done().out;
        let purchase = workshop.json("buy show P1")["lines"][0]["landed"].clone();
        let dye_lot = workshop.json("lot show L1")["dye_lot"].clone();
        let mut garment = as_it_is(workshop.json("garment show G1"));
        let promised = take_active(&mut garment);
        let cost = workshop.json("cost G1");
        let request = Uuid::now_v7();
        workshop.all(&[&format!("{line} --id {request}")]);
        taken_back.insert(workshop.act_of(request));
        workshop.audit();
        workshop.all(&["undo --yes"]);
        workshop.audit();
        assert_eq!(workshop.run("shelf --json").done().out, pieces, "{act}");
        assert_eq!(
            workshop.json("buy show P1")["lines"][0]["landed"],
            purchase,
            "{act}"
        );
        let mut after = as_it_is(workshop.json("garment show G1"));
        assert_eq!(take_active(&mut after), promised, "{act}");
        assert_eq!(after, garment, "{act}");
        assert_eq!(workshop.json("lot show L1")["dye_lot"], dye_lot, "{act}");
        assert_eq!(workshop.json("cost G1"), cost, "{act}");
    }
    let never = NEVER_TAKEN_BACK.iter().map(|act| (*act).to_owned());
    let known: BTreeSet<String> = never.chain(taken_back.iter().cloned()).collect();
    let written = acts::WRITTEN.iter().map(|(act, _)| (*act).to_owned());
    assert_eq!(
        known,
        written.collect(),
        "each act that writes is known here"
    );
    assert_eq!(known.len(), NEVER_TAKEN_BACK.len() + taken_back.len());
}

/// A garment without its version, which goes on with every booking.
fn as_it_is(mut garment: serde_json::Value) -> serde_json::Value {
    garment.as_object_mut().unwrap().remove("version").unwrap();
    garment
}

/// What its active promises hold of which piece; a promise that is made again has a new code.
fn take_active(garment: &mut serde_json::Value) -> Vec<[serde_json::Value; 2]> {
    let promises = garment["needs"][0]["reservations"].take();
    let active = promises.as_array().unwrap().iter();
    let active = active.filter(|promise| promise["state"] == "active");
    active
        .map(|promise| [promise["piece"].clone(), promise["held"].clone()])
        .collect()
}

fn promises(workshop: &Workshop) -> Vec<serde_json::Value> {
    let shown = workshop.json("garment show G1")["needs"][0]["reservations"].clone();
    let active = |promise: &&serde_json::Value| promise["state"] == "active";
    shown
        .as_array()
        .unwrap()
        .iter()
        .filter(active)
        .cloned()
        .collect()
}

#[test]
fn a_cut_that_is_taken_back_leaves_the_plan_as_it_was() {
    let workshop = stocked();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let planned = workshop.json("cost G1")["job"]["planned"].clone();
    for _ in 0..2 {
        workshop.all(&["cut G1 shell", "undo --yes"]);
        assert_eq!(workshop.json("cost G1")["job"]["planned"], planned);
    }
    // And the promise itself goes with its booking, whatever code it has by now.
    workshop.all(&["undo B3 --yes"]);
    assert_eq!(promises(&workshop), Vec::<serde_json::Value>::new());
    workshop.audit();
}

#[test]
fn cuts_of_a_batch_are_taken_back_in_any_order() {
    for order in [["B4", "B5"], ["B5", "B4"]] {
        let workshop = stocked();
        workshop.all(&[
            "garment plan bags --count 2 --need 'role=base,kind=cloth,length=95cm,width=140cm,preparation=none'",
            "reserve G2 base --from L1.1",
            "cut G2 base 1m",
            "cut G2 base 1m",
        ]);
        let bookings = workshop.json("history")["bookings"].clone();
        let code = |name: &str| {
            let back = if name == "B5" { 0 } else { 1 };
            bookings[back]["booking"].as_str().unwrap().to_owned()
        };
        for name in order {
            workshop.all(&[&format!("undo {} --yes", code(name))]);
            workshop.audit();
        }
        let shown = workshop.json("garment show G2")["needs"][0]["reservations"].clone();
        let active: Vec<_> = shown
            .as_array()
            .unwrap()
            .iter()
            .filter(|promise| promise["state"] == "active")
            .collect();
        assert_eq!(active.len(), 1, "{shown}");
        assert_eq!(
            (&active[0]["units"], &active[0]["held"]["length_m"]),
            (&2.into(), &"2".into())
        );
        assert_eq!(workshop.json("cost G2")["job"]["planned"], "20");
    }
}

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
fn trims_of_a_cancelled_garment_are_taken_back_until_they_are_used() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,paid=7,price=10'",
        "garment plan vest --need 'role=button,kind=trim,count=3'",
        "garment plan coat --need 'role=button,kind=trim,count=3'",
        "cut G1 button 3 --from L1.1",
    ]);
    let before = (workshop.json("shelf"), workshop.json("cost G1"));
    workshop.all(&[
        "garment cancel G1 --cut-material shelf --return B4=3",
        "undo --yes",
    ]);
    assert_eq!((workshop.json("shelf"), workshop.json("cost G1")), before);
    workshop.audit();
    workshop.all(&[
        "garment cancel G1 --cut-material shelf --return B4=3",
        "cut G2 button 6 --from L1.1",
    ]);
    workshop
        .run("undo B7 --yes")
        .refused(1, &["used since, by B8", "hint: "]);
    workshop.audit();
}

/// The answer of a request is repeated even where the command works its request out anew.
#[test]
fn commands_that_choose_repeat_what_they_chose() {
    let workshop = stocked();
    let (reserve, undo) = (
        "0192f0c0-0000-7000-8000-00000000000a",
        "0192f0c0-0000-7000-8000-00000000000b",
    );
    let lines = [
        format!("reserve G1 --all --yes --id {reserve}"),
        format!("undo --yes --id {undo}"),
    ];
    for line in lines {
        let first = workshop.json(&line);
        let before = workshop.dump();
        assert_eq!(workshop.json(&line), first, "{line}");
        assert_eq!(workshop.dump(), before);
    }
    let other = workshop.run(&format!("undo B1 --id {reserve}"));
    other.refused(1, &["already used with another act"]);
    workshop.audit();
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
        .run("undo B6 --yes")
        .refused(1, &["is not free any more", "hint: "]);
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

/// A promise that a longer need broke is made again as it was, of thread, of cloth and of a seam plan.
#[test]
fn a_promise_that_a_longer_need_broke_comes_back_with_the_plan() {
    let thread = "buy --line 'material=grey thread,kind=thread,paid=100m,price=10'";
    let linen = "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'";
    for (bought, plan, longer, held, cost) in [
        (
            thread,
            "--need 'role=t,kind=thread,length=5m'",
            "--need 'role=t,kind=thread,length=500m'",
            "5",
            "0.5",
        ),
        (
            linen,
            "--need 'role=t,kind=cloth,length=2m,width=1m,preparation=none'",
            "--need 'role=t,kind=cloth,length=20m,width=1m,preparation=none'",
            // 2.04 m with the allowance, rounded up to the step.
            "2.05",
            "20.5",
        ),
        // (30 + 0.8) × 1.15; e-11 of the reference.
        (
            thread,
            "--need 'role=t,kind=thread,seams=yes' --seam 'name=side seam,length=1.5m,count=8,stitch=301,needle=t,under=t'",
            "--seam 'name=side seam,length=50m,count=8,stitch=301,needle=t,under=t'",
            "35.42",
            "3.542",
        ),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            bought,
            &format!("garment plan bag {plan}"),
            "reserve G1 --all --yes",
        ]);
        let edited = workshop.json(&format!("garment edit G1 {longer}"));
        assert!(
            edited["notes"].to_string().contains("R1 no longer fits"),
            "{edited}"
        );
        let undone = workshop.run("undo --yes").done();
        assert!(
            !format!("{}{}", undone.out, undone.err).contains("not made again"),
            "{undone:?}"
        );
        let need = workshop.json("garment show G1")["needs"][0].clone();
        assert_eq!(need["units_reserved"], 1, "{longer}");
        let rows = need["reservations"].as_array().unwrap();
        let again = rows.iter().find(|row| row["state"] == "active").unwrap();
        assert_eq!(
            (&again["held"]["length_m"], &again["cost"]),
            (&held.into(), &cost.into()),
            "{longer}: {again}"
        );
        workshop.audit();
        // And cut as it was meant.
        workshop.all(&["cut G1 t --reservation R2"]);
        workshop.audit();
    }
}

#[test]
fn a_need_that_is_dropped_tells_the_promises_it_gives_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey thread,kind=thread,paid=100m,price=10' \
         --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan bag --need 'role=thread,kind=thread,seams=yes' \
         --seam 'name=side,length=1m,stitch=301' --need 'role=shell,kind=cloth,length=1m,preparation=none'",
        "reserve G1 --all --yes",
    ]);
    let told = |line: &str| workshop.json(line)["notes"].to_string();
    let both = told("garment edit G1 --drop-need thread --drop-seam side");
    assert!(
        both.contains("R1 on L1.1 is released: thread is not in the plan any more"),
        "{both}"
    );
    assert!(!both.contains("R2"), "the shell is still promised: {both}");
    let shown = workshop.run("undo --yes").done();
    assert!(
        !format!("{}{}", shown.out, shown.err).contains("not made again"),
        "{shown:?}"
    );
    // For people, too; nothing is told where nothing was promised.
    let ran = workshop.run("garment edit G1 --drop-need shell").done();
    assert!(
        format!("{}{}", ran.out, ran.err).contains("R2 on L2.1 is released"),
        "{ran:?}"
    );
    workshop.all(&["garment edit G1 --need 'role=button,kind=trim,count=2'"]);
    assert!(!told("garment edit G1 --drop-need button").contains("in the plan any more"));
    workshop.audit();
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
            "thread: what is cut already was for less: 5.00 m cut, 9.00 m needed now",
            "--need 'role=thread,kind=thread,length=4m'".to_owned(),
        ),
        (
            2,
            "--need 'role=thread,kind=thread,length=5m'".to_owned(),
            "cut G1 thread 5m --from L1.1",
            "--need 'role=thread,kind=thread,length=9m'".to_owned(),
            "(1 of 2) was for less: 5.00 m cut, 9.00 m needed now",
            "--need 'role=thread,kind=thread,length=5m'".to_owned(),
        ),
        (
            1,
            cloth("length=1m,width=1m"),
            "cut G1 shell 1.05m --from L2.1",
            cloth("length=1.20m,width=1m"),
            "shell: what is cut already was for less: 1.00 m at 100 cm cut, 1.20 m at 100 cm needed now",
            cloth("length=90cm,width=1m"),
        ),
        (
            1,
            cloth("length=1m,width=1m"),
            "cut G1 shell 1.05m --from L2.1",
            cloth("length=1m,width=1.20m"),
            "1.00 m at 100 cm cut, 1.00 m at 120 cm needed now",
            cloth("length=1m,width=1m"),
        ),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            &bought,
            &format!("garment plan bag --count {count} {plan}"),
            cut,
        ]);
        let told =
            |line: &str| workshop.json(&format!("garment edit G1 {line}"))["notes"].to_string();
        let notes = told(&grown);
        assert!(notes.contains(says), "{grown}: {notes}");
        assert!(!told(&same).contains("was for less"), "{same}");
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

#[test]
fn nobody_works_on_a_finished_garment() {
    let workshop = stocked();
    workshop.all(&["work G1 sewing 1h", "garment finish G1"]);
    workshop
        .run("work G1 sewing 5h")
        .refused(1, &["G1 is finished", "hint: its cost is final"]);
    workshop.all(&["undo --yes", "work G1 sewing 5h"]);
}

/// In any other order: refused, naming the later booking, and possible once that is taken back.
#[test]
fn what_later_bookings_rest_on_is_refused_first() {
    let cases: Vec<(Vec<&str>, usize)> = vec![
        // A charge of which a cut took its share.
        (
            vec!["buy charge P1 other=6", "cut G1 shell 2m --from L1.1"],
            0,
        ),
        (
            vec!["buy charge P1 other=6", "cut G1 shell 4m --from L1.1"],
            0,
        ),
        // What came off by a split, or lay before a cut, was used.
        (
            vec!["lot split L1.1 1m", "cut G1 shell 50cm --from L1.2"],
            0,
        ),
        (
            vec![
                "cut G1 shell 50cm --from L1.1 --at 1m",
                "cut G1 shell 50cm --from L1.2",
            ],
            0,
        ),
        // A length that was said since.
        (
            vec![
                "cut G1 shell 50cm --from L1.1",
                "cut G1 shell 50cm --from L1.1 --piece-was 3.40m",
            ],
            0,
        ),
        // A need that is not in the plan any more; a plan that was changed.
        (
            vec![
                "reserve G1 shell --from L1.1",
                "release --garment G1",
                "garment edit G1 --drop-need shell",
            ],
            1,
        ),
    ];
    for (acts, first) in cases {
        let workshop = stocked();
        let mut bookings = Vec::new();
        for act in &acts {
            workshop.all(&[act]);
            let last = workshop.json("history")["bookings"][0]["booking"]
                .as_str()
                .unwrap()
                .to_owned();
            bookings.push(last);
        }
        let before = workshop.dump();
        workshop
            .run(&format!("undo {} --yes", bookings[first]))
            .refused(1, &["hint: take "]);
        assert_eq!(workshop.dump(), before, "{acts:?}");
        for booking in bookings.iter().rev() {
            workshop.all(&[&format!("undo {booking} --yes")]);
            workshop.audit();
        }
        assert_eq!(
            workshop.json("shelf")["pieces"][0]["value"],
            "40",
            "{acts:?}"
        );
        assert_eq!(workshop.json("cost G1")["all"]["actual"], "0", "{acts:?}");
    }
    let workshop = stocked();
    workshop.all(&["garment edit G1 --due 2026-12-24"]);
    workshop.run("undo B2 --yes").refused(1, &["B3", "hint: "]);
    // An edit that changed nothing of the sheet is in nobody's way.
    workshop.all(&[
        "lot edit L1 --colour blue",
        "lot edit L1 --place A9",
        "undo B4 --yes",
        "undo B5 --yes",
    ]);
    workshop.audit();
}

/// What came off a piece is laid back at its end, its flaws with it, whatever was cut off the piece since (derived).
#[test]
fn later_acts_on_the_rest_of_a_piece_block_nothing() {
    let flaws = |workshop: &Workshop| {
        let flaws = workshop.json("lot show L1")["pieces"][0]["flaws"].clone();
        let flaws = flaws.as_array().unwrap();
        let at = |flaw: &serde_json::Value| flaw["at_m"].as_str().unwrap().to_owned();
        flaws.iter().map(at).collect::<Vec<_>>()
    };
    // Flaws at 0.50 m and 3.90 m of 4 m; what lies where after each is taken back.
    for (first, later, length, at) in [
        (
            "cut G1 shell 50cm --from L1.1 --at 1m",
            "cut G1 shell 50cm --from L1.1",
            "3.5",
            vec!["0.5", "3.4"],
        ),
        (
            "lot split L1.1 1m",
            "cut G1 shell 50cm --from L1.1",
            "3.5",
            vec!["0.5", "3.4"],
        ),
        (
            "wash test L1 --preparation washed --length 350mm=334mm --swatch 20cmx50cm --from L1.1",
            "cut G1 shell 20cm --from L1.1",
            "3.8",
            vec!["0.3", "3.7"],
        ),
    ] {
        let workshop = stocked();
        workshop.all(&["lot flaw L1.1 --at 50cm", "lot flaw L1.1 --at 3.90m"]);
        workshop.all(&[first, later, "undo B5 --yes"]);
        workshop.audit();
        let piece = workshop.json("lot show L1")["pieces"][0].clone();
        assert_eq!(piece["on_hand"]["length_m"], length, "{first}, {later}");
        assert_eq!(flaws(&workshop), at, "{first}, {later}");
        workshop.all(&["undo B6 --yes"]);
        workshop.audit();
        let piece = workshop.json("lot show L1")["pieces"][0].clone();
        assert_eq!(piece["on_hand"]["length_m"], "4", "{first}, {later}");
    }
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
        "undo B5 --yes",
    ]);
    assert_eq!(
        workshop.json("shelf")["pieces"][0]["reserved"]["length_m"],
        "0"
    );
    workshop.audit();
}

/// A cut out of the middle moves its promise to the outer part; taken back, the promise is whole again.
#[test]
fn a_cut_out_of_the_middle_of_a_promise_is_taken_back() {
    let workshop = stocked();
    workshop.all(&[
        "lot measure L1.1 1.70m --really",
        "reserve G1 shell --from L1.1",
    ]);
    let before = promises(&workshop);
    workshop.all(&["cut G1 shell 1m --at 20cm"]);
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(promises(&workshop)[0]["held"], before[0]["held"]);
    assert_eq!(promises(&workshop)[0]["units"], before[0]["units"]);
    workshop.audit();
}

#[test]
fn a_garment_that_takes_material_over_is_cut_into_as_long_as_it_has_it() {
    let workshop = stocked();
    workshop.all(&[
        "garment plan other --need 'role=shell,kind=cloth,length=50cm,width=140cm,preparation=none'",
        "cut G1 shell 1m --from L1.1",
        "garment cancel G1 --cut-material garment=G2",
        "cut G2 shell 50cm --from L1.1",
    ]);
    for state in ["cut-into", "planned"] {
        workshop.all(&["undo --yes"]);
        assert_eq!(workshop.json("garment show G2")["state"], state);
        workshop.audit();
    }
}

/// What was taken back since does not stand in the way: one undo after another leads back to the first day.
#[test]
fn a_whole_day_is_taken_back_one_booking_at_a_time() {
    let workshop = stocked();
    let (shelf, lot) = (
        workshop.json("shelf"),
        workshop.json("lot show L1")["value_went"].clone(),
    );
    let day = [
        "lot flaw L1.1 --at 3m --note slub",
        "wash done L1.1 --preparation washed --length 3.80m",
        "cut G1 shell 50cm --from L1.1 --at 20cm",
        "lot split L1.1 30cm",
        "cut G1 shell 20cm --from L1.1",
        "lot measure L1.1 2.70m",
        "buy charge P1 'freight=5,by=value'",
        "cut G1 shell 20cm --from L1.1 --end inner",
        "lot flaw L1.1 --at 1m",
    ];
    workshop.all(&day);
    workshop.audit();
    for _ in day {
        workshop.all(&["undo --yes"]);
        workshop.audit();
    }
    assert_eq!(workshop.json("shelf"), shelf);
    assert_eq!(workshop.json("lot show L1")["value_went"], lot);
}

#[test]
fn two_cuts_of_one_promise_are_taken_back_to_the_whole_promise() {
    let workshop = stocked();
    workshop.all(&[
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1m",
        "cut G1 shell 0.2m --last",
        "undo --yes",
        "undo --yes",
    ]);
    let piece = workshop.json("lot show L1")["pieces"][0].clone();
    assert_eq!(piece["on_hand"]["length_m"], "4");
    assert_eq!(
        piece["reserved"]["length_m"], "1.55",
        "the promise holds what it held"
    );
    workshop.audit();
}

#[test]
fn a_later_cut_of_the_piece_does_not_block_but_a_wash_does() {
    let workshop = stocked();
    workshop.all(&[
        "cut G1 shell 1m --from L1.1",
        "cut G1 shell 0.5m --from L1.1",
        "undo B3 --yes",
    ]);
    assert_eq!(
        workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"],
        "3.5"
    );
    workshop.all(&["wash done L1.1 --preparation washed --length 3.3m --width 147cm"]);
    let before = workshop.dump();
    workshop.run("undo B4 --yes").refused(1, &["L1.1", "since"]);
    workshop
        .run("undo B3 --yes")
        .refused(1, &["taken back already"]);
    workshop.run("undo B1 --yes").refused(1, &["L1.1"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}

#[test]
fn an_untouched_purchase_can_be_taken_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "undo --yes",
    ]);
    assert!(
        workshop.json("shelf")["pieces"]
            .as_array()
            .unwrap()
            .is_empty()
    );
    assert_eq!(workshop.json("buy show P1")["home_total"], "0");
    workshop.audit();
}
