//! `ellwand undo`: what is said of a booking that is taken back.

use crate::Workshop;
use crate::stories::undo::{as_it_is, stocked};
use ellwand_contract::acts;
use std::collections::BTreeSet;
use uuid::Uuid;

/// Acts that cannot be taken back.
const NEVER_TAKEN_BACK: &[&str] = &["erase_customer", "revoke_token", "revoke_tokens", "undo"];

/// Commands that change a record or a setting; others leave those whom they named.
const RECORDS: [&str; 6] = [
    "customer ",
    "material ",
    "operation ",
    "person ",
    "supplier ",
    "workshop ",
];

fn records_of(workshop: &Workshop) -> Vec<serde_json::Value> {
    let mut settings = workshop.json("workshop");
    settings.as_object_mut().unwrap().remove("version").unwrap();
    let lists = [
        "customer list",
        "supplier list",
        "material list",
        "operation list",
        "person list",
        "workshop figures",
        "workshop spent --from 2026-09-01 --to 2026-09-30",
    ];
    let lists = lists.map(|line| workshop.json(line));
    [vec![settings], lists.to_vec()].concat()
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

#[test]
fn every_kind_of_booking_is_taken_back_to_where_the_shelf_was() {
    let mut taken_back = BTreeSet::new();
    let words = tempfile::NamedTempFile::new().unwrap();
    std::fs::write(&words, "quotation = \"Tilbud\"\n").unwrap();
    let forget = format!(
        "quote words {}; quote words --forget",
        words.path().display()
    );
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
        "lot split L1.1 2m; wash done L1.1=1.90m L1.2=1.91m",
        "reserve G1 shell --from L1.1; cut G1 --all --yes",
        "wash test L1 --preparation washed --length 350mm=334mm --swatch 50cmx50cm --from L1.1",
        "lot stiffness L1 --lengthwise 62mm --mass 200gsm",
        "give L1.1 1m",
        "give L1.1 50cm --panel 50cm --own-use",
        "sell L1.1 1m --price 30",
        "discard L1.1 --reason moths",
        "reserve G1 shell --from L1.1; discard L1.1 3m --reason moths --break G1",
        "lot split L1.1 1m",
        "lot measure L1.1 3.95m",
        "lot flaw L1.1 --at 2m",
        "lot edit L1 --shrinkage 6%/2% --full-width 148cm",
        "lot edit L1 --dye-lot 4711 --place A9",
        "buy charge P1 'freight=5,by=value'",
        "buy --line 'material=silk,kind=cloth,paid=1m,price=unknown,full-width=90cm'; lot price L2 9.00",
        "work G1 sewing 1h",
        "garment finish G1 --really",
        "garment cancel G1",
        "garment finish G1 --really; garment deliver G1",
        "garment deliver G1 --finish --really",
        "garment edit G1 --due 2026-12-01",
        "garment copy G1",
        "garment copy G1 --for Ada; customer measure C1 chest=104cm,collar=41cm",
        "garment copy G1 --for Ada; customer edit C1 --name Ida",
        "buy --supplier Stall --line 'material=silk,kind=cloth,paid=1m,price=9,full-width=90cm'; supplier edit S1 --note small",
        "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none'",
        "garment plan cap --need 'role=shell,kind=cloth,grain=lengthwise,preparation=none' --part 'need=shell,name=crown,length=30cm,width=20cm'; lay G2 --width 60cm --keep",
        "garment edit G1 --operation 'name=hem,kind=hand,planned=1h,detail=hem'; garment finish G1 --really; garment rate G1 hem 4",
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
        &forget,
        "workshop close 2026-10-01 --yes",
        "workshop set --cutting-step 1cm --zone Europe/Vienna",
        "workshop pay-rate owner 30",
        "workshop overhead 6.50",
        "workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%",
        "workshop spent --from 2026-09-01 --to 2026-09-30 --overhead 500",
        "workshop tax VAT 20%",
        "workshop tax-reclaim no",
        "workshop price-rule --margin 35%",
        "operation set hem --minutes 45m",
        "operation set hem --minutes 45m; operation forget hem",
        "person set bo --paid; person set bo --own",
        "token create cleo --role viewer",
        "material edit M1 --name serge --least 2m --mass 250gsm",
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
        let records = records_of(&workshop);
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
        if RECORDS.iter().any(|noun| line.starts_with(noun)) {
            assert_eq!(records_of(&workshop), records, "{act}");
        }
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
    let notes_of = |line: &str| workshop.json(line)["notes"].to_string();
    let both = notes_of("garment edit G1 --drop-need thread --drop-seam side");
    assert!(
        both.contains("R1 on L1.1 is released: thread is no longer in the plan"),
        "{both}"
    );
    assert!(!both.contains("R2"), "the shell is still promised: {both}");
    let shown = workshop.run("undo --yes").done();
    assert!(
        !format!("{}{}", shown.out, shown.err).contains("not made again"),
        "{shown:?}"
    );
    // For people, too; nothing is reported where nothing was promised.
    let ran = workshop.run("garment edit G1 --drop-need shell").done();
    assert!(
        format!("{}{}", ran.out, ran.err).contains("R2 on L2.1 is released"),
        "{ran:?}"
    );
    workshop.all(&["garment edit G1 --need 'role=button,kind=trim,count=2'"]);
    assert!(!notes_of("garment edit G1 --drop-need button").contains("no longer in the plan"));
    workshop.audit();
}

/// Whoever knows the thing need not look for the booking: the last one that stands on it is shown, and then taken back.
#[test]
fn the_last_booking_of_a_thing_is_found_shown_and_taken_back() {
    let workshop = stocked();
    workshop.all(&[
        "buy charge P1 freight=4.00",
        "reserve G1 shell --from L1.1",
        "quote make G1 --margin 35%",
        "quote accept Q1 --version 1",
        "quote pay Q1 10.00",
        "lot place L1.1 A2",
    ]);
    // Each in turn, the payment before the acceptance, and what was taken back is not found again.
    for (of, said) in [
        ("Q1", "paid"),
        ("q1", "accepted"),
        ("L1", "placed"),
        ("R1", "reserved"),
        ("P1", "charged"),
        ("Q1", "quoted"),
        ("G1", "planned"),
        ("P1", "bought"),
    ] {
        let shown = workshop.run(&format!("undo {of}"));
        assert_eq!(shown.code, 2, "{of}: {}", shown.err);
        let kind = format!("{said} for 2026-10-12");
        assert!(shown.out.contains(&kind), "{of}: {}", shown.out);
        workshop.all(&[&format!("undo {of} --yes")]);
        workshop.audit();
    }
    workshop
        .run("undo P1 --yes")
        .refused(1, &["no booking of P1 to take back"]);
    workshop
        .run("undo R9 --yes")
        .refused(1, &["no booking of R9"]);
    workshop.run("undo M1").refused(2, &["M1"]);
}

/// The history by person, kind and days; a day is the one that a booking counts for, the time the workshop's.
#[test]
fn the_history_is_asked_by_person_kind_and_days_in_the_workshops_time() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --zone Pacific/Auckland",
        "buy --date 2026-10-01 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "lot place L1.1 A2",
        "lot place L1.1 A3",
        "undo --yes",
    ]);
    let listed = |line: &str| -> Vec<String> {
        let shown = workshop.json(line)["bookings"].take();
        let codes = shown.as_array().unwrap().iter();
        codes
            .map(|booking| booking["booking"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(listed("history --kind placed"), ["B4", "B3"]);
    assert_eq!(listed("history --to 2026-10-01"), ["B2"]);
    assert_eq!(listed("history --from 2026-10-02 --kind undone"), ["B5"]);
    assert_eq!(listed("history --by owner --limit 2"), ["B5", "B4"]);
    assert_eq!(listed("history --lot L1 --kind bought"), ["B2"]);
    workshop
        .run("history --by nobody")
        .refused(1, &["person called \"nobody\""]);
    workshop
        .run("history --from 2026-10-02 --to 2026-10-01")
        .refused(1, &["ends before it begins"]);
    // The tests' clock is 2026-10-12 09:00 UTC, in Auckland 13 hours on: daylight saving began on 27 September (tz database).
    let shown = workshop.run("history B2").done().out;
    assert!(shown.contains("2026-10-12 22:00"), "{shown}");
}

/// Two pieces that one command washed: B5 and B6.
fn washed() -> Workshop {
    let workshop = stocked();
    workshop.all(&["lot split L1.1 2m", "wash done L1.1=1.90m L1.2=1.91m"]);
    workshop
}

#[test]
fn what_one_command_booked_is_taken_back_together() {
    let workshop = washed();
    let undone = workshop.run("undo --yes").done();
    assert!(undone.err.contains("Undid B6"), "{undone:?}");
    for booking in ["B5", "B6"] {
        let shown = workshop.json(&format!("history {booking}"));
        assert!(shown["undone_by"].is_string(), "{booking}: {shown}");
    }
    workshop.audit();
}

#[test]
fn one_of_them_alone_leaves_the_others_and_says_so() {
    let workshop = washed();
    let undone = workshop.run("undo B5").done();
    assert!(
        undone
            .err
            .contains("B6 of the same command stands: ellwand undo B6 --together"),
        "{undone:?}"
    );
    assert!(workshop.json("history B6")["undone_by"].is_null());
    workshop.all(&["undo B6 --together"]);
    workshop.audit();
    workshop
        .run("undo B5 --together")
        .refused(1, &["B5 was already taken back"]);
}

/// A flaw that was marked on the first piece since stands in the way of both.
#[test]
fn all_of_them_or_none() {
    let workshop = washed();
    workshop.all(&["lot flaw L1.1 --at 1m"]);
    let before = workshop.dump();
    workshop.run("undo B6 --together").refused(1, &["B7"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&["undo B7", "undo B6 --together"]);
    assert!(workshop.json("history B5")["undone_by"].is_string());
    workshop.audit();
}
