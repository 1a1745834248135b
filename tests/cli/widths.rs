//! No line is wider than the screen: main lists and sheets of the demo's workshop.

use crate::books::{environment, run_in};
use ellwand::Environment;
use serde::Deserialize;
use std::path::{Path, PathBuf};

#[derive(Deserialize)]
struct Story {
    step: Vec<Step>,
}

#[derive(Deserialize)]
struct Step {
    command: String,
    now: Option<String>,
    #[serde(default)]
    expect_exit: u8,
}

fn seeds() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../seeds")
}

/// The book that the demo leaves.
pub fn demo(folder: &Path) -> Environment {
    let story: Story =
        toml::from_str(&std::fs::read_to_string(seeds().join("demo.toml")).unwrap()).unwrap();
    let mut environment = Environment {
        database: Some(folder.join("book.sqlite3").display().to_string()),
        ..environment(folder)
    };
    for step in story.step {
        if let Some(now) = step.now {
            environment.now = Some(Ok(now.parse().unwrap()));
        }
        let line = step
            .command
            .replace("\\\n", " ")
            .replace('"', "'")
            .replace("--file ", &format!("--file {}/", seeds().display()));
        let ran = run_in(&environment, line.trim());
        assert_eq!(ran.code, step.expect_exit, "{line}\n{}", ran.err);
    }
    environment
}

/// Every list, and a sheet of each kind of thing.
const SHOWN: &[&str] = &[
    "shelf",
    "material list",
    "buy list",
    "buy show P1",
    "buy show P2",
    "lot show L1",
    "lot show L2",
    "lot show L4",
    "lot show L5",
    "lot stiffness L5",
    "garment list",
    "garment show G1",
    "garment show G2",
    "garment show G3",
    "garment seams G2",
    "garment promises G1",
    "candidates G4",
    "candidates G4 --all",
    "cost G1",
    "cost G3",
    "quote list",
    "quote show Q1",
    "quote show Q1 --inside",
    "quote outcome Q1",
    "details",
    "history",
    "history B1",
    "history B12",
    "month 2026-09",
    "person list",
    "supplier list",
    "customer list",
    "operation list",
    "workshop",
    "workshop spent",
];

#[test]
fn no_line_is_wider_than_the_screen() {
    let folder = tempfile::TempDir::new().unwrap();
    let mut environment = demo(folder.path());
    let mut wide = Vec::new();
    for (width, lines) in [(80, SHOWN), (60, &["shelf"])] {
        environment.width = Some(width);
        for line in lines {
            let ran = run_in(&environment, line).done();
            let too_wide = |text: &&str| text.chars().count() > usize::from(width);
            // Sentences and hints beside the result stay whole, so that a command in them can be copied.
            let found = ran.out.lines().filter(too_wide);
            wide.extend(found.map(|text| format!("{line}: {text}")));
        }
    }
    assert!(wide.is_empty(), "{}", wide.join("\n"));
}
