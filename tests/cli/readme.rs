//! README is typed from top to bottom, on one book, as it stands.

use crate::books::Workshop;
use tempfile::TempDir;

const README: &str = include_str!("../../README.md");

/// The blocks of this language before the chapter on a server, in order.
fn blocks(language: &str) -> Vec<&'static str> {
    let (own_book, _) = README.split_once("\n## A server\n").unwrap();
    own_book
        .split(&format!("```{language}\n"))
        .skip(1)
        .map(|rest| rest.split_once("```").unwrap().0)
        .collect()
}

/// The commands of a block, each in one line, without its comment and the program's name.
fn commands(block: &str) -> Vec<String> {
    block
        .replace("\\\n", " ")
        .lines()
        .map(|line| line.split(" # ").next().unwrap().trim().to_owned())
        .filter_map(|line| line.strip_prefix("ellwand ").map(str::to_owned))
        .collect()
}

#[test]
fn every_example_runs_on_one_book() {
    let workshop = Workshop::new();
    let folder = TempDir::new().unwrap();
    let mut typed = 0;
    for command in blocks("sh").into_iter().flat_map(commands) {
        if command == "-- demo" {
            continue;
        }
        let path = format!("{}/coat.pdf", folder.path().display());
        let mut line = command.replace("coat.pdf", &path);
        // What is shown is confirmed, as a person does at the terminal; the second book writes over the first one's sheet.
        let asks = [" --all", "--pdf", "quote accept"];
        if asks.iter().any(|part| line.contains(part)) {
            line.push_str(" --yes");
        }
        let _ = workshop.run(&line).done();
        typed += 1;
    }
    assert!(typed >= 30, "only {typed} commands were found");
    for file in blocks("toml") {
        let path = folder.path().join("purchase.toml");
        std::fs::write(&path, file).unwrap();
        let line = format!("buy --file '{}' --really", path.display());
        let _ = workshop.run(&line).done();
    }
    // What the text says of its examples: the waistcoat is done, and the coat was paid for.
    assert_eq!(workshop.json("garment show G1")["state"], "finished");
    assert_eq!(workshop.json("garment show G3")["state"], "delivered");
    workshop.audit();
}
