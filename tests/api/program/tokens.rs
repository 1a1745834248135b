//! `ellwand-server token`, and the token of the first start.

use super::{assert_refused, program, run, url};
use std::{
    io::{BufRead, BufReader},
    process::{Command, Stdio},
};
use tempfile::TempDir;

/// A token is printed once and opens the book until it is revoked.
#[test]
fn tokens_are_given_out_listed_and_taken_back_by_command() {
    let folder = TempDir::new().unwrap();
    let database = url(folder.path());
    let token = |args: &[&str]| {
        run(
            folder.path(),
            &[&["token"], args, &["--database", &database]].concat(),
        )
    };
    run(folder.path(), &["migrate", "--database", &database]);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    let made = token(&["create", "anna", "--role", "maker", "--grant", "pay-rates"]);
    assert_eq!(made.status.code(), Some(0), "{made:?}");
    let secret = text(&made.stdout).trim().to_owned();
    assert!(
        secret.starts_with("ellwand_") && secret.len() == 72,
        "{secret}"
    );
    assert!(text(&made.stderr).contains("T1 for anna, maker with pay-rates. It is shown only now"));
    assert_refused(
        &token(&["create", "bo", "--role", "viewer", "--grant", "settings"]),
        1,
        "can only read",
    );
    assert_refused(&token(&["create", "bo", "--role", "boss"]), 2, "boss");
    assert_refused(&token(&["revoke", "T9"]), 1, "there is no token T9");
    assert_eq!(token(&["revoke", "T1"]).status.code(), Some(0));
    let listed = text(&token(&["list"]).stdout);
    assert!(
        listed.starts_with("T1 ") && listed.contains("revoked"),
        "{listed}"
    );
    let made = token(&[
        "create",
        "cy",
        "--label",
        "tablet",
        "--until",
        "2099-01-31",
        "--to-file",
        "cy.token",
    ]);
    assert_eq!(
        (made.status.code(), made.stdout.len()),
        (Some(0), 0),
        "{made:?}"
    );
    let kept = std::fs::read_to_string(folder.path().join("cy.token")).unwrap();
    assert_eq!(kept.trim().len(), 72);
    assert_refused(
        &token(&["create", "dee", "--to-file", "cy.token"]),
        3,
        "the token cannot be saved in cy.token",
    );
    let listed = text(&token(&["list"]).stdout);
    assert!(
        listed.contains("cy, maker (tablet)\n") && listed.contains("until 2099-01-31"),
        "{listed}"
    );
    let gone = token(&["revoke", "--person", "cy"]);
    assert!(
        text(&gone.stderr).contains("T2 of cy no longer opens anything."),
        "{gone:?}"
    );
    let json = text(&token(&["list", "--json"]).stdout);
    assert!(
        !listed.contains(&secret) && !json.contains(&secret) && json.contains("\"pay-rates\""),
        "{json}"
    );
}

/// The first start keeps the owner's token where its owner alone can read it, and the second one says nothing. The journal
/// of a service is read by others.
#[cfg(unix)]
#[test]
fn the_first_start_keeps_an_owners_token_for_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = TempDir::new().unwrap();
    let database = url(folder.path());
    run(folder.path(), &["migrate", "--database", &database]);
    let args = ["serve", "--database", &database, "--listen", "127.0.0.1:0"];
    let mut report = Vec::new();
    for _ in 0..2 {
        let mut server = program(folder.path(), &args)
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(server.stderr.take().unwrap()).lines();
        let until = lines
            .by_ref()
            .map(Result::unwrap)
            .take_while(|line| !line.contains("listening on"));
        report.push(until.collect::<Vec<_>>().join("\n"));
        assert!(
            Command::new("kill")
                .args(["-TERM", &server.id().to_string()])
                .status()
                .unwrap()
                .success()
        );
        assert_eq!(server.wait().unwrap().code(), Some(0));
    }
    let file = folder.path().join("book.sqlite3.owner-token");
    let secret = std::fs::read_to_string(&file).unwrap();
    assert!(
        secret.starts_with("ellwand_") && secret.trim_end().len() == 72,
        "{secret}"
    );
    assert_eq!(
        std::fs::metadata(&file).unwrap().permissions().mode() & 0o777,
        0o600
    );
    assert!(
        report[0].contains(&file.display().to_string()),
        "{}",
        report[0]
    );
    assert!(!report[0].contains(secret.trim_end()), "{}", report[0]);
    assert_eq!(report[1], "");
    // Something else of that name is not overwritten, and then no token is made that nobody has.
    let other = TempDir::new().unwrap();
    let database = url(other.path());
    run(other.path(), &["migrate", "--database", &database]);
    std::fs::write(other.path().join("notes"), "mine").unwrap();
    let args = [
        "serve",
        "--database",
        &database,
        "--listen",
        "127.0.0.1:0",
        "--token-file",
        "notes",
    ];
    assert_refused(
        &run(other.path(), &args),
        3,
        "the token cannot be saved in notes",
    );
    assert_eq!(
        std::fs::read_to_string(other.path().join("notes")).unwrap(),
        "mine"
    );
    let listed = run(other.path(), &["token", "list", "--database", &database]);
    assert!(listed.stdout.is_empty(), "{listed:?}");
}
