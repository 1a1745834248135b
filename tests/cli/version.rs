//! A client and a server of different versions say so.

use crate::books::{environment, run_in};
use ellwand::Environment;
use ellwand_contract::version::WIRE;
use std::{
    io::{BufRead, BufReader, Read, Write},
    net::{TcpListener, TcpStream},
    sync::{Arc, Mutex},
    thread,
};
use tempfile::TempDir;

/// A server of another version, which answers everything alike and notes what it was asked.
struct Other {
    url: String,
    asked: Arc<Mutex<Vec<String>>>,
}

impl Other {
    fn new(wire: u32, status: &'static str, body: &'static str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let url = format!("http://{}", listener.local_addr().unwrap());
        let asked = Arc::new(Mutex::new(Vec::new()));
        let noted = Arc::clone(&asked);
        thread::spawn(move || {
            for stream in listener.incoming().map(Result::unwrap) {
                let line = request(&stream);
                let version =
                    format!(r#"{{"name":"ellwand-server","version":"9.1.0","wire":{wire}}}"#);
                let (status, body) = match line.contains("/v1/version") {
                    true => ("200 OK", version.as_str()),
                    false => (status, body),
                };
                noted.lock().unwrap().push(line);
                let head = format!(
                    "HTTP/1.1 {status}\r\ncontent-length: {}\r\nconnection: close",
                    body.len()
                );
                let _ = (&stream).write_all(format!("{head}\r\n\r\n{body}").as_bytes());
            }
        });
        Self { url, asked }
    }

    fn run(&self, line: &str) -> crate::books::Ran {
        let folder = TempDir::new().unwrap();
        let server = Some(self.url.clone());
        run_in(
            &Environment {
                server,
                ..environment(folder.path())
            },
            line,
        )
    }

    fn times_asked_for_its_version(&self) -> usize {
        let asked = self.asked.lock().unwrap();
        asked
            .iter()
            .filter(|line| line.contains("/v1/version"))
            .count()
    }
}

/// The first line of a request, once all of it was read.
fn request(stream: &TcpStream) -> String {
    let mut lines = BufReader::new(stream);
    let mut first = String::new();
    lines.read_line(&mut first).unwrap();
    let mut length = 0;
    loop {
        let mut line = String::new();
        lines.read_line(&mut line).unwrap();
        match line.trim().split_once(": ") {
            Some((name, value)) if name.eq_ignore_ascii_case("content-length") => {
                length = value.parse().unwrap();
            }
            Some(_) => {}
            None => break,
        }
    }
    lines.read_exact(&mut vec![0; length]).unwrap();
    first
}

const UNKNOWN_FIELD: &str = r#"{"type":"invalid-request","title":"The request cannot be read","status":422,
    "detail":"unknown field `colour_card`"}"#;

#[test]
fn a_newer_server_is_named_instead_of_an_unknown_field() {
    let server = Other::new(WIRE + 1, "422 Unprocessable Entity", UNKNOWN_FIELD);
    server.run("release R1").refused(
        1,
        &[
            "the server is ellwand-server 9.1.0",
            "do not understand one another",
            "colour_card",
            "hint: update this program to 9.1.0",
        ],
    );
    assert_eq!(server.times_asked_for_its_version(), 1);
}

#[test]
fn an_older_server_is_named_when_its_answer_cannot_be_read() {
    let server = Other::new(WIRE - 1, "200 OK", r#"{"garment":"G1"}"#);
    let update = format!("update the server to {}", env!("CARGO_PKG_VERSION"));
    server
        .run("cost G1")
        .refused(3, &["ellwand-server 9.1.0", &update]);
}

#[test]
fn the_version_is_asked_for_only_when_it_can_explain_an_error() {
    let same = Other::new(WIRE, "422 Unprocessable Entity", UNKNOWN_FIELD);
    let ran = same.run("release R1");
    assert!(
        !ran.err.contains("9.1.0") && ran.err.contains("colour_card"),
        "{}",
        ran.err
    );
    let refused = Other::new(
        WIRE + 1,
        "409 Conflict",
        r#"{"type":"wrong-state","title":"x","status":409,"detail":"R1 has ended"}"#,
    );
    refused.run("release R1").refused(1, &["R1 has ended"]);
    let answered = Other::new(
        WIRE + 1,
        "200 OK",
        r#"{"details":[],"weeks":0,"suppliers":[]}"#,
    );
    let _ = answered.run("supplier list --json").done();
    assert_eq!(
        (
            refused.times_asked_for_its_version(),
            answered.times_asked_for_its_version()
        ),
        (0, 0)
    );
}
