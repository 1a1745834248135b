//! Hints say what to type.

use std::{fs, path::Path};

/// What a hint names: a command, a flag, a key with its `=`, an example with a figure, or what the code puts in.
fn names_what_to_type(hint: &str) -> bool {
    let of = ["ellwand", "--", "=", "{"];
    of.iter().any(|part| hint.contains(part)) || hint.contains(|c: char| c.is_ascii_digit())
}

/// Hints for whoever writes a program, or looks after the machine: they have no command to type.
const NO_COMMAND: [&str; 5] = [
    "desk/failure.rs",
    "desk/book.rs",
    "desk/page.rs",
    "desk/secret.rs",
    "ledger/bookings.rs",
];

/// The texts right behind each `.hint(` of the sources, with or without `format!`.
fn hints(source: &str) -> Vec<&str> {
    let after = source.split(".hint(").skip(1).filter_map(|rest| {
        let rest = rest.trim_start();
        let rest = rest.strip_prefix("format!(").unwrap_or(rest).trim_start();
        rest.strip_prefix('"')?.split('"').next()
    });
    after.collect()
}

fn walk(folder: &Path, look: &mut impl FnMut(&Path, &str)) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, look);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            look(&path, &fs::read_to_string(&path).unwrap());
        }
    }
}

#[test]
fn every_hint_in_the_sources_names_what_to_type() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let (mut vague, mut seen) = (Vec::new(), 0);
    for folder in ["server/service/src", "server/contract/src", "cli/src"] {
        walk(&root.join(folder), &mut |path, source| {
            let name = path.display().to_string();
            if NO_COMMAND.iter().any(|known| name.ends_with(known)) {
                return;
            }
            let found = hints(source);
            seen += found.len();
            let wrong = found.iter().filter(|hint| !names_what_to_type(hint));
            vague.extend(wrong.map(|hint| format!("{name}: {hint}")));
            // Wherever a text tells people to look something up, it names the command that shows it.
            let looks = source
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"));
            let texts = looks.flat_map(|line| line.split('"').skip(1).step_by(2));
            let look_up = texts.filter(|text| text.starts_with("see ") || text.contains("; see "));
            let wrong = look_up.filter(|text| !names_what_to_type(text));
            vague.extend(wrong.map(|text| format!("{name}: {text}")));
        });
    }
    assert_eq!(vague, Vec::<String>::new());
    assert!(seen > 120, "{seen} hints were looked at");
}
