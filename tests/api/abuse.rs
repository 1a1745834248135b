//! Clients that hold a server up.

use crate::{
    cluster::port,
    place::Place,
    served::{Served, migrate, rounds},
};
use std::{
    io::{Read, Write},
    net::TcpStream,
    time::{Duration, Instant},
};

fn connect(server: &Served) -> Option<TcpStream> {
    TcpStream::connect(server.url.trim_start_matches("http://")).ok()
}

/// The whole answer to a whole request.
fn ask(server: &Served) -> String {
    let mut stream = connect(server).expect("a connection");
    stream.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
    write!(stream, "GET /v1/shelf HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n").unwrap();
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
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    drop(half);
    let begun = Instant::now();
    assert!(ask(&server).starts_with("HTTP/1.1 200"));
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
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
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    // The first of them is told after the 30 s that a body may take.
    let mut first = slow.into_iter().next().expect("a connection");
    first.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
    let mut answer = [0; 32];
    let read = first.read(&mut answer).unwrap();
    let told = String::from_utf8_lossy(&answer[..read]);
    assert!(told.starts_with("HTTP/1.1 408"), "{told}");
}
