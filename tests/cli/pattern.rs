//! `ellwand pattern`: what a file holds, to scale, and what is wrong with it.

use crate::Workshop;
use std::fs;
use tempfile::TempDir;

/// The drawing of the pattern crate's own tests: half a back of 72 cm × 26 cm with its fold, and a tab.
const DXF: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/data/half_back.dxf");

#[test]
fn the_parts_of_a_drawing_are_measured() {
    let workshop = Workshop::new();
    let shown = workshop.run(&format!("pattern show {DXF}")).done();
    let table: Vec<&str> = shown.out.lines().collect();
    assert!(table[2].starts_with("Back"), "{}", shown.out);
    assert!(
        table[2].contains("72 cm") && table[2].contains("52 cm"),
        "{}",
        shown.out
    );
    assert!(table[3].contains("2 in pairs"), "{}", shown.out);
    let json = workshop.json(&format!("pattern show {DXF} --known 'Back=36cm x 26cm'"));
    assert_eq!(json["parts"][0]["length_m"], "0.36");
    assert_eq!(json["parts"][1]["width_m"], "0.02");
    assert_eq!(json["notes"][1], "what is on layer 4 is left out");
}

/// As rectangles they go into a plan as they are printed.
#[test]
fn parts_go_into_a_plan() {
    let workshop = Workshop::new();
    let printed = workshop
        .run(&format!("pattern show {DXF} --as-parts shell"))
        .done()
        .out;
    let parts: String = printed
        .lines()
        .map(|line| format!(" --part '{line}'"))
        .collect();
    workshop.all(&[&format!(
        "garment plan vest --need 'role=shell,kind=cloth,preparation=none'{parts}"
    )]);
    let laid = workshop.json("lay G1 --width 60cm");
    assert_eq!(laid["parts"].as_array().unwrap().len(), 3, "{laid}");
}

#[test]
fn the_example_reads_and_slips_say_what_to_do() {
    let workshop = Workshop::new();
    let example = workshop.run("pattern show --example").done().out;
    let folder = TempDir::new().unwrap();
    let written = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path.display().to_string()
    };
    let file = written("example.toml", &example);
    let json = workshop.json(&format!("pattern show {file}"));
    assert_eq!(json["parts"][2]["length_m"], "0.13");
    let bad = written("bad.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>");
    for (line, holds) in [
        (format!("pattern show {bad}"), "--unit mm"),
        ("pattern show nowhere.dxf".to_owned(), "cannot be read"),
        (
            format!("pattern show {file} --known front=74"),
            "'front=74cm x 31cm'",
        ),
        (
            format!("pattern show {file} --known 'back=74cm x 31cm'"),
            "it has front, neck facing, welt",
        ),
        (
            format!("pattern show {file} --unit ell"),
            "use mm, cm or in",
        ),
        ("pattern show".to_owned(), "FILE"),
    ] {
        workshop.run(&line).refused(2, &[holds]);
    }
}
