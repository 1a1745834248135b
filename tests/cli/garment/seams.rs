//! `ellwand garment seams`: seams of a plan and the thread they take.

use crate::books::Workshop;
use crate::stories::seams::{SHIRT, length};
use serde_json::{Value, json};
use std::fs;

#[test]
fn a_thread_need_adds_up_its_seams_with_ends_and_waste() {
    let workshop = Workshop::new();
    workshop.all(&[SHIRT]);
    // (30 + 0.8) × 1.15.
    assert_eq!(length(&workshop, "G1", "thread"), "35.42");
    let shown = workshop.run("garment show G1").done().out;
    assert!(
        shown.contains("the length comes from the seam plan"),
        "{shown}"
    );
    assert!(
        shown.contains("seams: side seam (ellwand garment seams G1)"),
        "{shown}"
    );
    let seams = workshop.json("garment seams G1");
    let seam = &seams["seams"][0];
    assert_eq!(
        (&seam["per_m"], &seam["length_m"], &seam["total_m"]),
        (&"2.5".into(), &"12".into(), &"30".into())
    );
    assert_eq!(
        (&seam["needle_m"], &seam["under_m"]),
        (&"15".into(), &"15".into())
    );
    assert_eq!(
        (&seam["method"], &seam["certainty"]),
        (&"ratio".into(), &"estimated".into())
    );
    let thread = &seams["threads"][0];
    assert_eq!(
        (&thread["tails"], &thread["ends_m"], &thread["waste_m"]),
        (&32.into(), &"0.8".into(), &"4.62".into())
    );
    assert_eq!(
        (&thread["low_m"], &thread["high_m"]),
        (&"33.88".into(), &"36.96".into())
    );
    assert_eq!(
        (&seams["ends_m"], &seams["waste_percent"]),
        (&"0.025".into(), &"15".into())
    );
    let shown = workshop.joined_output("garment seams G1");
    for part in [
        "32 ends of 25 mm = 0.80 m, together 30.80 m",
        "30.80 m + 15 % for waste = 35.42 m",
        "50:50",
    ] {
        assert!(shown.contains(part), "{shown}");
    }
    assert!(
        shown.contains("about 7 stitches/cm and thin cloth"),
        "{shown}"
    );
    // A garment without seams says how one is added.
    workshop.all(&["garment plan coat"]);
    let none = workshop.run("garment seams G2").done();
    assert!(
        none.out.is_empty() && none.err.contains("ellwand garment edit G2 --seam"),
        "{none:?}"
    );
}

#[test]
fn a_change_of_the_seams_changes_the_need_and_undo_brings_both_back() {
    let workshop = Workshop::new();
    workshop.all(&[SHIRT]);
    let before = (
        workshop.json("garment show G1")["needs"].clone(),
        workshop.json("garment seams G1")["seams"].clone(),
    );
    workshop.all(&["garment edit G1 --seam 'name=Side seam,length=1m,count=8,stitch=301' --seam-ends 0mm --seam-waste 10%"]);
    // 8 × 2.5 × 1.1; the name stays as it was spelled first.
    assert_eq!(length(&workshop, "G1", "thread"), "22");
    assert_eq!(
        workshop.json("garment show G1")["seams"],
        json!(["side seam"])
    );
    workshop.all(&["garment edit G1 --seam 'name=overlock,length=62cm,stitch=504,per-cm=4,thickness=0.8mm,width=5mm,under=looper,\
         detail=neat inside' --need 'role=looper,kind=thread,seams=yes'"]);
    // 5 + 4·4·(0.08 + 0.5) = 14.28 m/m on 0.62 m, of which 20 % are needle thread (from memory).
    let overlock = &workshop.json("garment seams G1")["seams"][1];
    assert_eq!(
        (&overlock["per_m"], &overlock["total_m"]),
        (&"14.28".into(), &"8.8536".into())
    );
    assert_eq!(
        (&overlock["needle_m"], &overlock["under_m"]),
        (&"1.77072".into(), &"7.08288".into())
    );
    assert_eq!(
        (&overlock["shared"], &overlock["seam"]["detail"]),
        (&"20:80, a rule of thumb".into(), &"neat inside".into())
    );
    assert_eq!(
        (
            length(&workshop, "G1", "thread"),
            length(&workshop, "G1", "looper")
        ),
        ("23.947792".into(), "7.791168".into())
    );
    let history = workshop.run("history").done().out;
    assert!(
        history.contains("seam overlock, looper, thread"),
        "{history}"
    );
    workshop.all(&["undo B3"]);
    assert_eq!(
        (
            length(&workshop, "G1", "thread"),
            length(&workshop, "G1", "looper")
        ),
        ("22".into(), Value::Null)
    );
    workshop.all(&["undo B2"]);
    let after = (
        workshop.json("garment show G1")["needs"].clone(),
        workshop.json("garment seams G1")["seams"].clone(),
    );
    assert_eq!(after, before);
    assert_eq!(workshop.json("garment seams G1")["waste_percent"], "15");
    workshop.audit();
}

#[test]
fn promises_follow_the_seams() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey thread,kind=thread,paid=200m,price=4'",
        SHIRT,
    ]);
    let report = workshop.run("candidates G1").done().out;
    assert!(report.contains("35.42 m"), "{report}");
    let serving = workshop.json("candidates G1")["needs"][0]["serve"][0].clone();
    assert_eq!(
        serving["steps"],
        json!(["35.42 m for one by the seam plan of G1, ends and waste included"])
    );
    workshop.all(&["reserve G1 thread --from L1.1"]);
    let held = || workshop.json("garment show G1")["needs"][0]["reservations"][0]["held"].clone();
    assert_eq!(held(), json!({"length_m": "35.42"}));
    let edit = workshop
        .run("garment edit G1 --seam 'name=hem,length=2m,stitch=301'")
        .done();
    assert!(
        format!("{}{}", edit.out, edit.err).contains("R1 now holds another length"),
        "{edit:?}"
    );
    // (30 + 5 + 0.9) × 1.15.
    assert_eq!(held(), json!({"length_m": "41.285"}));
    workshop.all(&["undo B4"]);
    assert_eq!(held(), json!({"length_m": "35.42"}));
    workshop.audit();
}

#[test]
fn a_plan_file_has_seams_and_a_fault_in_one_is_reported_with_its_line() {
    let workshop = Workshop::new();
    let folder = tempfile::TempDir::new().unwrap();
    let file = folder.path().join("plan.toml");
    let plan = |last: &str| {
        let text = format!(
            "name = \"jacket\"\nseam_waste = \"10%\"\n\n[[need]]\nrole = \"thread\"\nkind = \"thread\"\nseams = true\n\n\
             [[seam]]\nname = \"hem\"\nstitch = \"back\"\nlength = \"1m\"\nstep = \"3mm\"\n{last}\n"
        );
        fs::write(&file, text).unwrap();
        format!("garment plan --file {}", file.display())
    };
    // e-10 of the reference (computed): 3 + 2 × 0.6/3; one thread has two ends.
    workshop.all(&[&plan("thickness = \"0.6mm\"")]);
    assert_eq!(length(&workshop, "G1", "thread"), "3.795");
    workshop
        .run(&plan("thickness = \"0.6\""))
        .refused(2, &["plan.toml, line 14: thickness: ", "needs a unit"]);
    workshop.run(&plan("")).refused(
        1,
        &["hem: the back stitch by hand has no thickness", "3 + 2·T/p"],
    );
    workshop
        .run(&plan("thickness = \"0mm\""))
        .refused(1, &["line 14", "thickness must be more than zero"]);
    workshop
        .run(&plan("under = \"silk\""))
        .refused(1, &["line 14", "one thread only"]);
    workshop
        .run(&plan("thread = \"silk\""))
        .refused(2, &["line 14", "unknown field"]);
}

#[test]
fn what_does_not_fit_together_is_refused_and_nothing_is_changed() {
    let workshop = Workshop::new();
    workshop.all(&[
        SHIRT,
        "garment plan coat --need 'role=shell,kind=cloth,length=2m'",
    ]);
    let before = (workshop.dump(), workshop.json("garment seams G1"));
    let need = "--need 'role=thread,kind=thread,seams=yes'";
    for (line, parts) in [
        (
            "garment edit G2 --seam 'name=hem,length=1m,stitch=301'",
            vec![
                "hem takes its thread from the role thread",
                "it has no thread",
                "--need 'role=thread,kind=thread,seams=yes'",
            ],
        ),
        (
            "garment edit G1 --seam 'name=hem,length=1m,stitch=301,under=bobbin'",
            vec!["from the role bobbin", "its thread needs are thread"],
        ),
        (
            "garment edit G2 --seam 'name=hem,length=1m,stitch=301,needle=shell'",
            vec!["the need shell is cloth"],
        ),
        (
            "garment edit G2 --need 'role=thread,kind=thread,seams=yes'",
            vec!["nothing to add up", "--seam 'name="],
        ),
        (
            "garment edit G2 --need 'role=lining,kind=cloth,seams=yes'",
            vec!["cloth is not taken by seams"],
        ),
        (
            "garment edit G1 --need 'role=thread,kind=thread,seams=yes,length=5m'",
            vec!["comes from the seams"],
        ),
        (
            "garment edit G1 --drop-need thread",
            vec!["side seam takes its thread"],
        ),
        (
            "garment edit G1 --drop-seam 'side seam'",
            vec!["nothing to add up"],
        ),
        (
            "garment edit G1 --drop-seam hem",
            vec!["G1 has no seam hem"],
        ),
        (
            "garment edit G1 --seam 'name=hem,length=1m,stitch=514'",
            vec![
                "how much thread 514 takes is unknown",
                "measure 3 cm and unpick",
            ],
        ),
        (
            "garment edit G1 --seam 'name=hem,length=1m,stitch=103'",
            vec!["how much thread 103 takes is unknown"],
        ),
        (
            "garment edit G1 --seam 'name=hem,stitch=301'",
            vec!["has no length"],
        ),
        (
            "garment edit G1 --seam 'name=hem,stitch=301,length=1m,per-cm=4,step=2mm'",
            vec!["are the same figure"],
        ),
        (
            "garment edit G1 --seam 'name=hem,stitch=301,length=1m,sample=3cm,sample-needle=4cm'",
            vec!["under thread if"],
        ),
        ("garment edit G1 --seam-ends 2m", vec!["1 m is the most"]),
        (
            "garment edit G1 --seam-waste 101%",
            vec!["between 0 % and 100 %"],
        ),
        (
            "garment edit G1 --seam-waste -1%",
            vec!["between 0 % and 100 %"],
        ),
    ] {
        workshop.run(line).refused(1, &parts);
    }
    let twice = "--seam 'name=hem,length=1m,stitch=301' --seam 'name=Hem,length=2m,stitch=301'";
    workshop
        .run(&format!("garment plan vest {need} {twice}"))
        .refused(1, &["is in the plan twice"]);
    for (seam, part) in [
        (
            "stitch=330",
            "330 is not a stitch type of ISO 4915; the nearest known ones are 301, 401, 406",
        ),
        ("stitch=zigzag", "is not a stitch"),
        ("stitch=301,thickness=-0.8mm", "must not be negative"),
        ("stitch=301,per-cm=0", "must be more than zero"),
    ] {
        workshop
            .run(&format!(
                "garment edit G1 --seam 'name=hem,length=1m,{seam}'"
            ))
            .refused(2, &[part]);
    }
    assert_eq!((workshop.dump(), workshop.json("garment seams G1")), before);
}

/// An option that leaves a detail out leaves its seams out, and the thread with them.
#[test]
fn an_option_without_a_detail_takes_less_thread() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20",
        "buy --line 'material=grey thread,kind=thread,paid=1000m,price=100'",
        "garment plan shirt --seam 'name=side seam,length=1.5m,count=8,stitch=301' \
         --seam 'name=collar rows,length=10m,stitch=301,detail=stitched collar' \
         --need 'role=thread,kind=thread,seams=yes,material=M1' \
         --operation 'name=collar,kind=hand,planned=1h,detail=stitched collar' \
         --operation 'name=sewing,kind=machine,planned=2h'",
    ]);
    let whole = length(&workshop, "G1", "thread");
    workshop.all(&[
        "quote make G1 --margin 20% --option plain --option-without 'plain=stitched collar'",
    ]);
    assert_eq!(
        length(&workshop, "G1", "thread"),
        whole,
        "an option is only tried out"
    );
    workshop.all(&["quote accept Q1 --option plain --yes"]);
    assert_eq!(length(&workshop, "G1", "thread"), "35.42");
    assert_eq!(
        workshop.json("garment show G1")["seams"],
        json!(["side seam"])
    );
}

/// A detail that has nothing but a seam is a detail all the same, and adds its share of the thread: 25 m at 2.5 with two ends
/// of two threads and 15 %, 28.865 m of 64.285 m for 6.43 (derived).
#[test]
fn a_detail_of_seams_alone_adds_its_thread_and_can_be_left_out() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20",
        "buy --line 'material=grey thread,kind=thread,paid=1000m,price=100'",
        "garment plan shirt --seam 'name=side seam,length=1.5m,count=8,stitch=301' \
         --seam 'name=collar rows,length=10m,stitch=301,detail=topstitch' \
         --need 'role=thread,kind=thread,seams=yes,material=M1' \
         --operation 'name=sewing,kind=machine,planned=2h'",
    ]);
    let made =
        workshop.json("quote make G1 --margin 20% --option plain --option-without plain=topstitch");
    let detail = &made["inside"]["details"][0];
    assert_eq!(
        (&detail["detail"], &detail["materials"]),
        (&"topstitch".into(), &"2.89".into()),
        "{detail}"
    );
    workshop.all(&["quote accept Q1 --option plain --yes"]);
    assert_eq!(length(&workshop, "G1", "thread"), "35.42");
    workshop
        .run("quote make G1 --margin 20% --option x --option-without x=braid")
        .refused(1, &["no detail, need or operation braid"]);
    // A name that a need has as well is said with its kind.
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20",
        "buy --line 'material=grey thread,kind=thread,paid=1000m,price=100'",
        "garment plan shirt --seam 'name=side seam,length=1.5m,count=8,stitch=301' \
         --seam 'name=rows,length=10m,stitch=301,detail=topstitch' \
         --need 'role=thread,kind=thread,seams=yes,material=M1' \
         --need 'role=topstitch,kind=thread,length=1m,material=M1'",
    ]);
    workshop
        .run("quote make G1 --margin 20% --option x --option-without x=topstitch")
        .refused(
            1,
            &["G1 has more than one", "detail:topstitch or need:topstitch"],
        );
}
