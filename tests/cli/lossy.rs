//! A way to the server that loses answers.

use crate::workshop::{Ran, environment, run_in};
use ellwand::Environment;
use ellwand_contract::bookings::ListBookings;
use ellwand_server::{Config, Running, spawn};
use ellwand_service::{Book, Caller, Clock, Options};
use std::{
    io::{Read, Write},
    net::{Shutdown, SocketAddr, TcpListener, TcpStream},
    path::Path,
    sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    },
    thread,
};
use tempfile::TempDir;

/// Passes connections on, and closes every `nth` one when the server has answered and before the client hears of it.
fn lossy(server: SocketAddr, nth: usize) -> (SocketAddr, Arc<AtomicUsize>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let (address, lost) = (listener.local_addr().unwrap(), Arc::new(AtomicUsize::new(0)));
    let counted = Arc::clone(&lost);
    thread::spawn(move || {
        for (number, client) in listener.incoming().enumerate() {
            let (client, lost) = (client.unwrap(), Arc::clone(&counted));
            let lose = number % nth == nth - 1;
            thread::spawn(move || pass(client, server, lose.then_some(lost)));
        }
    });
    (address, lost)
}

fn pass(mut client: TcpStream, server: SocketAddr, lose: Option<Arc<AtomicUsize>>) {
    let Ok(mut server) = TcpStream::connect(server) else { return };
    let (mut from_client, mut to_server) = (client.try_clone().unwrap(), server.try_clone().unwrap());
    thread::spawn(move || {
        let _ = std::io::copy(&mut from_client, &mut to_server);
    });
    let mut buffer = [0; 4096];
    while let Ok(read @ 1..) = server.read(&mut buffer) {
        if let Some(lost) = &lose {
            lost.fetch_add(1, Ordering::SeqCst);
            break;
        }
        if client.write_all(&buffer[..read]).is_err() {
            break;
        }
    }
    let _ = (client.shutdown(Shutdown::Both), server.shutdown(Shutdown::Both));
}

fn run(folder: &Path, server: &str, line: &str) -> Ran {
    run_in(&Environment { server: Some(server.to_owned()), ..environment(folder) }, line)
}

/// A book in this folder, and an open server on it.
fn served(folder: &Path) -> (Book, Running) {
    let url = format!("sqlite://{}", folder.join("book.sqlite3").display());
    let book = Book::open(&url, Options { clock: Clock::system(), create: true }).unwrap();
    let config = Config { open: true, ..Config::default() };
    let server = spawn(&config, book.clone(), TcpListener::bind("127.0.0.1:0").unwrap()).unwrap();
    (book, server)
}

/// Every tenth answer is lost, and nothing is booked twice, forgotten or asked of the user.
#[test]
fn lost_answers_are_asked_for_again() {
    let folder = TempDir::new().unwrap();
    let (book, server) = served(folder.path());
    let (way, lost) = lossy(server.address(), 10);
    let way = format!("http://{way}");
    for number in 0..60 {
        let line = format!("buy --line 'material=button {number},kind=trim,paid=3,price=1'");
        let ran = run(folder.path(), &way, &line).done();
        assert!(!ran.err.contains("was not answered"), "{}", ran.err);
    }
    assert!(lost.load(Ordering::SeqCst) >= 6, "answers were lost");
    let asked = ListBookings { limit: Some(500), ..ListBookings::default() };
    let booked = book.call(&Caller::owner("test"), &asked).unwrap().answer.bookings;
    assert_eq!(booked.len(), 60);
    assert_eq!(
        std::fs::read_dir(folder.path().join("state/pending")).unwrap().count(),
        0,
        "nothing is left to ask"
    );
}

/// A way that loses every answer: the command ends with what to do, and the next run finds the request.
#[test]
fn an_answer_that_is_lost_for_good_is_offered_to_the_next_run() {
    let folder = TempDir::new().unwrap();
    let (book, server) = served(folder.path());
    let (way, lost) = lossy(server.address(), 1);
    let way = format!("http://{way}");
    let ran = run(folder.path(), &way, "buy --line 'material=button,kind=trim,paid=3,price=1'");
    ran.clone().refused(3, &["safe to repeat: ellwand buy", "--id "]);
    assert_eq!(lost.load(Ordering::SeqCst), 4, "asked for again, and given up");
    let repeat = ran.err.split("safe to repeat: ellwand ").nth(1).unwrap().trim().to_owned();
    assert!(repeat.ends_with(&format!(" --server {way}")), "it goes to no other book: {repeat}");
    let told = run(folder.path(), &server.url(), &repeat.replace(&way, &server.url())).done();
    assert!(told.err.contains("had been booked before"), "{}", told.err);
    let booked = book.call(&Caller::owner("test"), &ListBookings::default()).unwrap().answer.bookings;
    assert_eq!(booked.len(), 1);
}

/// Nothing was sent where nobody listens: there is nothing to repeat later, when it may have been typed anew.
#[test]
fn a_request_that_reached_no_server_is_not_offered_again() {
    let folder = TempDir::new().unwrap();
    let nobody = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let line = "buy --line 'material=button,kind=trim,paid=3,price=1'";
    run(folder.path(), &format!("http://{nobody}"), line)
        .refused(3, &["cannot be reached", "safe to repeat"]);
    assert_eq!(std::fs::read_dir(folder.path().join("state/pending")).unwrap().count(), 0);
}
