//! Clients that hold a server up.

use crate::{
    access::token,
    app::TestApp,
    cluster::port,
    place::Place,
    served::{Served, migrate, rounds},
};
use ellwand_domain::setting::Role;
use ellwand_server::{Config, spawn};
use reqwest::blocking::Client;
use std::{
    io::{Read, Write},
    net::{Ipv4Addr, TcpListener, TcpStream},
    time::{Duration, Instant},
};

fn connect(server: &Served) -> Option<TcpStream> {
    TcpStream::connect(server.url.trim_start_matches("http://")).ok()
}

/// The whole answer to a whole request.
fn ask(server: &Served) -> String {
    let mut stream = connect(server).expect("a connection");
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .unwrap();
    write!(
        stream,
        "GET /v1/shelf HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n"
    )
    .unwrap();
    let mut answer = String::new();
    let _ = stream.read_to_string(&mut answer);
    answer
}

/// Hundreds (10 000 in the long run) of connections that say half of a request and no more: whoever asks properly is
/// answered within the time that a head may take, and the server is as it was when they are gone.
#[test]
fn half_open_connections_hold_nobody_up_for_long() {
    let place = Place::sqlite();
    migrate(&place.url);
    let server = Served::new(&place.url, port());
    let half: Vec<TcpStream> = (0..rounds(800, 10_000))
        .map_while(|_| {
            let mut stream = connect(&server)?;
            let _ = stream.write_all(b"GET /v1/shelf HTTP/1.1\r\nhost: local");
            Some(stream)
        })
        .collect();
    assert!(half.len() >= 800, "{} connections", half.len());
    let begun = Instant::now();
    let answer = ask(&server);
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    assert!(
        begun.elapsed() < Duration::from_secs(20),
        "{:?}",
        begun.elapsed()
    );
    drop(half);
    let begun = Instant::now();
    assert!(ask(&server).starts_with("HTTP/1.1 200"));
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
}

/// A body that comes a byte at a time, or never: the connection is given up, and others are answered meanwhile.
#[test]
fn a_body_that_never_comes_holds_nobody_up() {
    let place = Place::sqlite();
    migrate(&place.url);
    let server = Served::new(&place.url, port());
    let head = "POST /v1/purchases HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 900\r\n\r\n{";
    let slow: Vec<TcpStream> = (0..100)
        .map(|_| {
            let mut stream = connect(&server).expect("a connection");
            stream.write_all(head.as_bytes()).unwrap();
            stream
        })
        .collect();
    let begun = Instant::now();
    assert!(ask(&server).starts_with("HTTP/1.1 200"));
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
    // The first of them is reported after the 30 s that a body may take.
    let mut first = slow.into_iter().next().expect("a connection");
    first
        .set_read_timeout(Some(Duration::from_secs(60)))
        .unwrap();
    let mut answer = [0; 32];
    let read = first.read(&mut answer).unwrap();
    let report = String::from_utf8_lossy(&answer[..read]);
    assert!(report.starts_with("HTTP/1.1 408"), "{report}");
}

/// A client from this address of the machine.
fn client(from: [u8; 4]) -> Client {
    let _ = rustls::crypto::ring::default_provider().install_default();
    let client = Client::builder()
        .tls_certs_only([])
        .no_proxy()
        .timeout(Duration::from_secs(30));
    client
        .local_address(Some(Ipv4Addr::from(from).into()))
        .build()
        .unwrap()
}

/// 600 strangers at one address that keep their connections open, or promise a body and never send it: the owner, at another
/// address, is answered at once, and so is whoever has signed in at theirs.
#[test]
fn strangers_keep_no_connections_from_those_signed_in() {
    let app = TestApp::new();
    let secret = token(&app, "bo", Role::Owner, &[]);
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let running = spawn(&Config::default(), app.book.clone(), listener).unwrap();
    let signed = |client: &Client| {
        let begun = Instant::now();
        let sent = client
            .get(format!("{}/v1/self", running.url()))
            .bearer_auth(secret.expose())
            .send();
        (
            sent.map(|answer| answer.status().as_u16()).ok(),
            begun.elapsed() < Duration::from_secs(2),
        )
    };
    let neighbour = client([127, 0, 0, 1]);
    assert_eq!(signed(&neighbour), (Some(200), true));
    let head = "POST /v1/purchases HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: 900\r\n\r\n{";
    let strangers: Vec<TcpStream> = (0..600)
        .filter_map(|number| {
            let mut stream = TcpStream::connect(running.address()).ok()?;
            if number % 2 == 0 {
                let _ = stream.write_all(head.as_bytes());
            }
            Some(stream)
        })
        .collect();
    assert!(strangers.len() >= 500, "{}", strangers.len());
    assert_eq!(signed(&client([127, 0, 0, 2])), (Some(200), true));
    assert_eq!(signed(&neighbour), (Some(200), true));
    drop(strangers);
    running.stop().unwrap();
}

/// A stranger's body is not waited for, and the connection ends with the answer.
#[test]
fn a_stranger_is_turned_away_before_the_body() {
    let app = TestApp::new();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let running = spawn(&Config::default(), app.book.clone(), listener).unwrap();
    let mut stream = TcpStream::connect(running.address()).unwrap();
    stream
        .set_read_timeout(Some(Duration::from_secs(10)))
        .unwrap();
    write!(
        stream,
        "POST /v1/purchases HTTP/1.1\r\nhost: localhost\r\ncontent-length: 900\r\n\r\n{{"
    )
    .unwrap();
    let begun = Instant::now();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    assert!(
        answer.starts_with("HTTP/1.1 401") && answer.contains("connection: close"),
        "{answer}"
    );
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
    running.stop().unwrap();
}
