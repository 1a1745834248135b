//! What a shell offers: codes and names of the book, closed words, and nothing where nobody answers.

use crate::{
    books::{environment, run_in},
    login::{Door, plain},
};
use ellwand::{
    Environment,
    completion::{PATIENCE, candidates},
};
use ellwand_domain::setting::Role;
use std::{
    ffi::OsString,
    net::TcpListener,
    time::{Duration, Instant},
};
use tempfile::TempDir;

/// Longer than a shell waits, since a machine that is busy with tests is slow.
const LONG: Duration = Duration::from_secs(60);

/// What is offered for the last word of a line, with what is said of it.
fn offered(environment: &Environment, line: &str, patience: Duration) -> Vec<(String, String)> {
    let words: Vec<OsString> = line.split(' ').map(OsString::from).collect();
    let last = words.len() - 1;
    let text = |candidate: &clap_complete::CompletionCandidate| {
        let about = candidate
            .get_help()
            .map(ToString::to_string)
            .unwrap_or_default();
        (candidate.get_value().to_string_lossy().into_owned(), about)
    };
    let all = candidates(words, last, environment, patience).unwrap();
    all.iter().map(text).collect()
}

fn values_within(environment: &Environment, line: &str, patience: Duration) -> Vec<String> {
    let all = offered(environment, line, patience).into_iter();
    all.map(|(value, _)| value)
        .filter(|value| !value.starts_with('-'))
        .collect()
}

fn values(environment: &Environment, line: &str) -> Vec<String> {
    values_within(environment, line, LONG)
}

const BOOK: &[&str] = &[
    "buy --supplier 'Cloth Stall' --line 'material=grey wool,kind=cloth,paid=4m,price=77.77,full-width=150cm,place=shelf A'",
    "buy --line 'material=linen,kind=cloth,paid=6m,price=88.88,full-width=140cm,place=B2'",
    "lot split L2.1 2m",
    "operation set hem --kind hand --minutes 45m",
    "garment plan vest --for Ada --need 'role=shell,kind=cloth,length=1m,width=1m,preparation=none' \
     --need 'role=collar canvas,kind=interlining,length=20cm,width=20cm,preparation=none' \
     --operation 'name=sewing,kind=hand,planned=5h'",
    "reserve G1 shell --from L1.1",
    "quote make G1 --price 250",
];

#[test]
fn codes_names_and_words_of_the_book_are_offered() {
    let folder = TempDir::new().unwrap();
    let here = environment(folder.path());
    for line in BOOK {
        let _ = run_in(&here, line).done();
    }
    let codes = |line: &str| values(&here, line);
    let history = || run_in(&here, "history --json").done().out;
    let before = history();
    assert_eq!(codes("ellwand lot flaw l2."), ["L2.1", "L2.2"]);
    assert_eq!(codes("ellwand lot show L"), ["L1", "L2"]);
    assert_eq!(codes("ellwand candidates G"), ["G1"]);
    assert_eq!(codes("ellwand reserve G1 c"), ["collar canvas"]);
    assert_eq!(codes("ellwand reserve G1 shell --from L1"), ["L1.1"]);
    assert_eq!(codes("ellwand work G1 s"), ["sewing"]);
    assert_eq!(codes("ellwand operation forget h"), ["hem"]);
    assert_eq!(codes("ellwand quote show Q"), ["Q1"]);
    assert_eq!(codes("ellwand release R"), ["R1"]);
    assert_eq!(codes("ellwand material edit M"), ["M1", "M2"]);
    assert_eq!(codes("ellwand customer show C"), ["C1"]);
    assert_eq!(codes("ellwand supplier edit S"), ["S1"]);
    assert_eq!(codes("ellwand buy show P"), ["P2", "P1"]);
    assert_eq!(codes("ellwand lot place L1.1 sh"), ["shelf A"]);
    assert_eq!(codes("ellwand shelf --place "), ["B2", "shelf A"]);
    assert_eq!(codes("ellwand shelf --units "), ["metric", "imperial"]);
    assert_eq!(codes("ellwand shelf --kind l"), ["lining"]);
    assert_eq!(codes("ellwand garment list --state cut"), ["cut-into"]);
    assert_eq!(codes("ellwand help th"), ["thread", "thread-count"]);
    // Keys of pairs, those that are not there yet, and the words that they take.
    assert_eq!(codes("ellwand garment plan top --need ro"), ["role="]);
    assert_eq!(
        codes("ellwand garment plan top --need role=shell,kind=l"),
        ["role=shell,kind=lining"]
    );
    assert_eq!(
        codes("ellwand buy --line material=linen,mat"),
        [""; 0],
        "material is given"
    );
    assert_eq!(
        codes("ellwand garment edit G1 --need role=shell,fusible="),
        ["role=shell,fusible=yes", "role=shell,fusible=no"]
    );
    assert_eq!(codes("ellwand buy --charge fr"), ["freight="]);
    assert_eq!(
        codes("ellwand buy charge P1 tax=3.00,by=t"),
        ["tax=3.00,by=taxed"]
    );
    assert_eq!(codes("ellwand customer edit C"), ["C1"]);
    let lot = offered(&here, "ellwand lot show L1", LONG);
    assert_eq!(lot, [("L1".to_owned(), "grey wool".to_owned())]);
    assert_eq!(history(), before, "nothing was booked");
}

/// No book is made by asking for one, and none is asked that was not meant.
#[test]
fn without_a_book_only_commands_flags_and_words_are_offered() {
    let folder = TempDir::new().unwrap();
    let here = environment(folder.path());
    assert_eq!(values(&here, "ellwand lot show "), [""; 0]);
    assert_eq!(values(&here, "ellwand thread"), ["thread-count"]);
    assert_eq!(values(&here, "ellwand shelf --units i"), ["imperial"]);
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        0,
        "nothing was made"
    );
}

/// A server that takes a connection and never answers costs 0.3 s, which is the stated limit, and what the machine takes beside.
#[test]
fn a_server_that_does_not_answer_is_not_waited_for() {
    let folder = TempDir::new().unwrap();
    let silent = TcpListener::bind("127.0.0.1:0").unwrap();
    let away = Environment {
        server: Some(format!("http://{}", silent.local_addr().unwrap())),
        ..environment(folder.path())
    };
    let begun = Instant::now();
    assert_eq!(
        values_within(&away, "ellwand lot show L", PATIENCE),
        [""; 0]
    );
    let taken = begun.elapsed();
    assert!(
        taken >= PATIENCE && taken < Duration::from_secs(15),
        "{taken:?}"
    );
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        0,
        "nothing was kept"
    );
}

/// An apprentice is offered what the daily work needs, and no amount of money with it.
#[test]
fn an_apprentice_is_offered_no_money() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    for line in BOOK {
        let _ = door.run_in(&owner, line).done();
    }
    let apprentice = door.person("ned", Role::Apprentice, &[]);
    assert_eq!(values(&apprentice, "ellwand cut G"), ["G1"]);
    assert_eq!(values(&apprentice, "ellwand quote show Q"), [""; 0]);
    for line in [
        "ellwand lot show L",
        "ellwand cut G",
        "ellwand undo B",
        "ellwand material edit M",
        "ellwand buy show P",
    ] {
        for (value, about) in offered(&apprentice, line, LONG) {
            let money = ["77", "88", "250", "EUR"]
                .iter()
                .any(|part| about.contains(part));
            assert!(!money, "{line}: {value} {about}");
        }
    }
}

/// The script of each shell asks the program by the variable that it reads.
#[test]
fn the_scripts_ask_the_program() {
    let folder = TempDir::new().unwrap();
    for shell in ["bash", "zsh", "fish"] {
        let script = run_in(&environment(folder.path()), &format!("completions {shell}"))
            .done()
            .out;
        assert!(
            script.contains(&format!("ELLWAND_COMPLETE=\"{shell}\""))
                || script.contains(&format!("ELLWAND_COMPLETE={shell}")),
            "{script}"
        );
    }
}
