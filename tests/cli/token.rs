//! `ellwand token`: who is let in over a server, by someone who is signed in there.

use crate::login::{Door, plain};
use ellwand_domain::setting::{Grant, Role};
use serde_json::{Value, json};

/// A token that is kept in a file opens the server; it is shown nowhere, and no file is overwritten.
#[test]
fn a_token_is_created_used_listed_and_revoked() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let file = door.path("anna.token");
    let place = file.display();
    let line = format!(
        "token create anna --grant pay-rates --label 'workshop tablet' --until 2099-01-31 --to-file '{place}'"
    );
    let made = door.run_in(&owner, &line).done();
    assert!(
        made.err
            .contains("T2 for anna, maker with pay-rates, until 2099-01-31. It is in "),
        "{made:?}"
    );
    let secret = std::fs::read_to_string(&file).unwrap();
    assert!(!format!("{}{}", made.out, made.err).contains(secret.trim()));
    #[cfg(unix)]
    assert_eq!(
        std::os::unix::fs::PermissionsExt::mode(&std::fs::metadata(&file).unwrap().permissions())
            & 0o777,
        0o600
    );
    door.run_in(&owner, &format!("{line} --same-person"))
        .refused(2, &["anna.token", "no file is overwritten"]);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), secret);
    let mut anna = owner.clone();
    anna.token = Some(secret.trim().to_owned());
    let me = door.run_in(&anna, "whoami").done();
    assert_eq!(me.out, "anna, maker with pay-rates, by T2\n");
    let listed = door.run_in(&owner, "token list").done().out;
    assert!(
        listed.lines().all(|row| row.chars().count() <= 80),
        "{listed}"
    );
    for words in ["workshop", "2099-01-31", "pay-rates"] {
        assert!(listed.contains(words), "{words}: {listed}");
    }
    let rows = door.run_in(&owner, "token list --format csv").done().out;
    assert!(rows.starts_with("token,person,role,"), "{rows}");
    let list: Value =
        serde_json::from_str(&door.run_in(&owner, "token list --json").done().out).unwrap();
    assert_eq!(list["tokens"][1]["label"], "workshop tablet");
    assert!(list["tokens"][1]["used_on"].is_string(), "{list}");
    let gone = door.run_in(&owner, "token revoke --person anna").done();
    assert!(
        gone.err.contains("T2 of anna no longer opens anything."),
        "{gone:?}"
    );
    door.run_in(&anna, "whoami").refused(4, &["T2 was revoked"]);
    door.run_in(&owner, "undo B3")
        .refused(1, &["revoked a token, and that stays"]);
}

/// Without a file the secret is shown once, on a line of its own or in a field; a refusal leaves no file behind.
#[test]
fn a_secret_is_shown_once_and_a_refusal_leaves_no_file() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let made = door
        .run_in(&owner, "token create bo --role apprentice")
        .done();
    let mut bo = owner.clone();
    bo.token = Some(made.out.trim().to_owned());
    assert_eq!(
        door.run_in(&bo, "whoami").done().out,
        "bo, apprentice, by T2\n"
    );
    let answer = door
        .run_in(&owner, "token create cleo --role viewer --json")
        .done();
    let answer: Value = serde_json::from_str(&answer.out).unwrap();
    assert_eq!(
        (&answer["token"], answer["secret"].as_str().unwrap().len()),
        (&json!("T3"), 72)
    );
    let file = door.path("dee.token");
    door.run_in(
        &owner,
        &format!(
            "token create dee --role viewer --grant settings --to-file '{}'",
            file.display()
        ),
    )
    .refused(1, &["a viewer can only read"]);
    assert!(!file.exists());
    door.run_in(&owner, "token create dee --until 2020-01-31")
        .refused(1, &["2020-01-31 is over", "--until"]);
}

/// The same request again lets nobody in twice, and says what to do about a secret that was lost.
#[test]
fn a_repeat_makes_no_second_token() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let line = "token create bo --id 0192f0c0-0000-7000-8000-00000000000a";
    let _ = door.run_in(&owner, line).done();
    let again = door.run_in(&owner, line).done();
    assert_eq!(again.out, "", "the secret was shown before");
    for words in ["already booked", "T2 for bo, maker.", "token revoke T2"] {
        assert!(again.err.contains(words), "{words}: {again:?}");
    }
    let listed = door.run_in(&owner, "token list").done().out;
    assert!(!listed.contains("T3"), "{listed}");
}

#[test]
fn tokens_are_for_owners_and_whoever_has_the_grant() {
    let door = Door::new(plain);
    let _ = door.person("owner", Role::Owner, &[]);
    let maker = door.person("mo", Role::Maker, &[]);
    let trusted = door.person("tru", Role::Maker, &[Grant::People]);
    for line in [
        "token list",
        "token create dee",
        "token revoke T1",
        "token revoke --person tru",
        "undo B2",
    ] {
        door.run_in(&maker, line)
            .refused(4, &["mo is a maker", "the grant people"]);
    }
    door.run_in(&trusted, "token create dee --role owner")
        .refused(4, &["only an owner makes owners"]);
    door.run_in(&trusted, "token revoke T1")
        .refused(4, &["only an owner can revoke"]);
    let _ = door.run_in(&trusted, "token create dee").done();
    let undone = door.run_in(&trusted, "undo --yes").done();
    assert!(
        format!("{}{}", undone.out, undone.err)
            .contains("T4 is revoked: it never opens the book again"),
        "{undone:?}"
    );
}
