//! `ellwand-server serve`: addresses, ports, the log and the end.

use super::{assert_refused, program, run, url};
use std::{
    io::{BufRead, BufReader, Read, Write},
    net::TcpStream,
    process::{Command, Stdio},
};
use tempfile::TempDir;

#[test]
fn an_address_that_others_can_reach_is_refused_before_anything_is_opened() {
    let folder = TempDir::new().unwrap();
    let serve = [
        "serve",
        "--database",
        &url(folder.path()),
        "--listen",
        "0.0.0.0:0",
    ];
    assert_refused(
        &run(folder.path(), &serve),
        2,
        "tokens would travel there in the clear",
    );
    assert_refused(
        &run(folder.path(), &[&serve[..], &["--open"]].concat()),
        2,
        "lets everyone in",
    );
}

#[test]
fn a_taken_port_is_said() {
    let folder = TempDir::new().unwrap();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    run(
        folder.path(),
        &["migrate", "--database", &url(folder.path())],
    );
    let output = run(
        folder.path(),
        &[
            "serve",
            "--database",
            &url(folder.path()),
            "--listen",
            &address,
        ],
    );
    assert_refused(&output, 3, &format!("cannot listen on {address}"));
}

#[cfg(unix)]
#[test]
fn a_server_logs_a_line_a_request_and_ends_with_0_when_it_is_asked_to_stop() {
    let folder = TempDir::new().unwrap();
    let database = url(folder.path());
    run(folder.path(), &["migrate", "--database", &database]);
    let args = [
        "serve",
        "--database",
        &database,
        "--listen",
        "127.0.0.1:0",
        "--log-format",
        "json",
        "--open",
    ];
    let mut server = program(folder.path(), &args)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut log = BufReader::new(server.stderr.take().unwrap()).lines();
    let listening = log.next().unwrap().unwrap();
    let address = listening
        .split("http://")
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .unwrap();
    let mut stream = TcpStream::connect(address).unwrap();
    let head = "host: localhost\r\nx-request-id: bench-7\r\nconnection: close";
    write!(
        stream,
        "GET /v1/shelf?name=private HTTP/1.1\r\n{head}\r\n\r\n"
    )
    .unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    let line = log.next().unwrap().unwrap();
    let entry: serde_json::Value = serde_json::from_str(&line).unwrap();
    assert!(
        entry["message"]
            .as_str()
            .unwrap()
            .starts_with("GET /v1/shelf -> 200 ("),
        "{line}"
    );
    assert_eq!(
        (&entry["http.status"], &entry["request.id"]),
        (&200.into(), &"bench-7".into()),
        "{line}"
    );
    assert!(!line.contains("private"), "{line}");
    assert!(entry["duration_ms"].is_number(), "{line}");
    let signal = |name: &str| {
        assert!(
            Command::new("kill")
                .args([name, &server.id().to_string()])
                .status()
                .unwrap()
                .success()
        );
    };
    signal("-HUP");
    let line = log.next().unwrap().unwrap();
    assert!(line.contains("SIGHUP"), "{line}");
    assert!(TcpStream::connect(address).is_ok(), "it serves on");
    signal("-TERM");
    assert_eq!(server.wait().unwrap().code(), Some(0));
}

/// Whoever is turned away at the door is logged with their address, so that one who guesses can be found.
#[cfg(unix)]
#[test]
fn who_is_turned_away_is_logged_with_their_address() {
    let folder = TempDir::new().unwrap();
    let database = url(folder.path());
    run(folder.path(), &["migrate", "--database", &database]);
    let made = run(
        folder.path(),
        &[
            "token",
            "create",
            "anna",
            "--role",
            "owner",
            "--database",
            &database,
        ],
    );
    let secret = String::from_utf8(made.stdout).unwrap();
    let mut args = vec![
        "serve",
        "--database",
        &database,
        "--listen",
        "127.0.0.1:0",
        "--log-format",
        "json",
    ];
    args.extend(["--requests-per-minute", "1"]);
    let mut server = program(folder.path(), &args)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut log = BufReader::new(server.stderr.take().unwrap()).lines();
    let listening = log.next().unwrap().unwrap();
    let address = listening
        .split("http://")
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .unwrap();
    let mut ask = |more: &str, status: u16| {
        let head =
            format!("GET /v1/shelf HTTP/1.1\r\nhost: localhost\r\n{more}connection: close\r\n\r\n");
        let mut stream = TcpStream::connect(address).unwrap();
        stream.write_all(head.as_bytes()).unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        assert!(
            answer.starts_with(&format!("HTTP/1.1 {status}")),
            "{answer}"
        );
        let line = log.next().unwrap().unwrap();
        assert!(!line.contains(secret.trim()), "{line}");
        let entry: serde_json::Value = serde_json::from_str(&line).unwrap();
        (
            entry["client.address"].clone(),
            entry["client.person"].clone(),
        )
    };
    let (here, nothing) = (serde_json::json!("127.0.0.1"), serde_json::Value::Null);
    let signed = format!("authorization: Bearer {}\r\n", secret.trim());
    assert_eq!(ask("", 401), (here.clone(), nothing.clone()));
    assert_eq!(ask(&signed, 200), (nothing.clone(), nothing));
    assert_eq!(ask(&signed, 429), (here, "anna".into()));
    server.kill().unwrap();
    server.wait().unwrap();
}
