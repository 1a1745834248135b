//! The password of a database: from a file or the environment, never in an argument, never shown.
#![cfg(unix)]

use super::{assert_refused, program, run};
use std::{
    fs::{self, Permissions},
    io::{Read, Write},
    net::TcpListener,
    os::unix::fs::PermissionsExt,
    path::Path,
};
use tempfile::TempDir;

/// What a program signs in with, by PostgreSQL's protocol 3.0 ("Message Formats"): an answer of type R with 3 asks for a
/// password in the clear, which comes in a message of type p.
fn signed_in_with(folder: &Path, args: &[&str], variables: &[(&str, &str)]) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let url = format!("postgres://anna@{}/book", listener.local_addr().unwrap());
    let mut child = program(folder, &[&["migrate", "--database", &url], args].concat())
        .envs(variables.iter().copied())
        .stderr(std::process::Stdio::null())
        .spawn()
        .unwrap();
    let (mut stream, _) = listener.accept().unwrap();
    let mut message = |kind: usize| {
        let mut head = vec![0; kind + 4];
        stream.read_exact(&mut head).unwrap();
        let length = u32::from_be_bytes(head[kind..].try_into().unwrap());
        let mut body = vec![0; usize::try_from(length).unwrap() - 4];
        stream.read_exact(&mut body).unwrap();
        (body, stream.try_clone().unwrap())
    };
    let (_, mut answer) = message(0);
    answer.write_all(&[b'R', 0, 0, 0, 8, 0, 0, 0, 3]).unwrap();
    let (password, _) = message(1);
    child.kill().unwrap();
    child.wait().unwrap();
    String::from_utf8(password)
        .unwrap()
        .trim_end_matches('\0')
        .to_owned()
}

fn secret(folder: &Path, text: &str, mode: u32) -> String {
    let path = folder.join("password");
    fs::write(&path, text).unwrap();
    fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
    path.display().to_string()
}

#[test]
fn a_password_comes_from_a_file_or_the_environment() {
    let folder = TempDir::new().unwrap();
    let file = secret(folder.path(), "s3cret /%@\n", 0o640);
    let settings = folder.path().join("server.toml");
    fs::write(&settings, format!("database_password_file = \"{file}\"\n")).unwrap();
    let settings = settings.display().to_string();
    let (text, named) = (
        "ELLWAND_SERVER_DATABASE_PASSWORD",
        "ELLWAND_SERVER_DATABASE_PASSWORD_FILE",
    );
    for (args, variables, password) in [
        (
            &["--database-password-file", &file][..],
            &[][..],
            "s3cret /%@",
        ),
        (&[], &[(named, file.as_str())], "s3cret /%@"),
        (&["--config", &settings], &[], "s3cret /%@"),
        (&[], &[(text, "oth:er?&")], "oth:er?&"),
        // The environment before the settings.
        (&["--config", &settings], &[(text, "other")], "other"),
    ] {
        assert_eq!(
            signed_in_with(folder.path(), args, variables),
            password,
            "{args:?} {variables:?}"
        );
    }
}

#[test]
fn a_file_that_strangers_can_read_or_that_is_empty_is_refused() {
    let folder = TempDir::new().unwrap();
    let migrate = |file: &str| {
        let url = "postgres://anna@127.0.0.1:9/book";
        run(
            folder.path(),
            &[
                "migrate",
                "--database",
                url,
                "--database-password-file",
                file,
            ],
        )
    };
    assert_refused(
        &migrate(&secret(folder.path(), "s3cret", 0o644)),
        2,
        "everyone on this machine can read it",
    );
    assert_refused(
        &migrate(&secret(folder.path(), "\n", 0o600)),
        2,
        "it is empty",
    );
    assert_refused(&migrate("none"), 2, "none: ");
}
