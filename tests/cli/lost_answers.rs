//! A way to the server that loses answers.

use crate::books::{Ran, environment, run_in};
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
        mpsc,
    },
    thread,
    time::Duration,
};
use tempfile::TempDir;

/// Passes connections on, and closes every `nth` one when the server has answered and before the client hears of it.
fn lossy(server: SocketAddr, nth: usize) -> (SocketAddr, Arc<AtomicUsize>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let (address, lost) = (
        listener.local_addr().unwrap(),
        Arc::new(AtomicUsize::new(0)),
    );
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
    let Ok(mut server) = TcpStream::connect(server) else {
        return;
    };
    let (mut from_client, mut to_server) =
        (client.try_clone().unwrap(), server.try_clone().unwrap());
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
    let _ = (
        client.shutdown(Shutdown::Both),
        server.shutdown(Shutdown::Both),
    );
}

fn run(folder: &Path, server: &str, line: &str) -> Ran {
    run_in(
        &Environment {
            server: Some(server.to_owned()),
            ..environment(folder)
        },
        line,
    )
}

/// A book in this folder, and an open server on it.
fn served(folder: &Path) -> (Book, Running) {
    let url = format!("sqlite://{}", folder.join("book.sqlite3").display());
    let book = Book::open(
        &url,
        Options {
            clock: Clock::system(),
            create: true,
        },
    )
    .unwrap();
    let config = Config {
        open: true,
        ..Config::default()
    };
    let server = spawn(
        &config,
        book.clone(),
        TcpListener::bind("127.0.0.1:0").unwrap(),
    )
    .unwrap();
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
    let asked = ListBookings {
        limit: Some(500),
        ..ListBookings::default()
    };
    let booked = book
        .call(&Caller::owner("test"), &asked)
        .unwrap()
        .answer
        .bookings;
    assert_eq!(booked.len(), 60);
    assert_eq!(
        std::fs::read_dir(folder.path().join("state/pending"))
            .unwrap()
            .count(),
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
    let ran = run(
        folder.path(),
        &way,
        "buy --line 'material=button,kind=trim,paid=3,price=1'",
    );
    ran.clone()
        .refused(3, &["safe to repeat: ellwand buy", "--id "]);
    assert_eq!(
        lost.load(Ordering::SeqCst),
        4,
        "asked for again, and given up"
    );
    let repeat = ran
        .err
        .split("safe to repeat: ellwand ")
        .nth(1)
        .unwrap()
        .trim()
        .to_owned();
    assert!(
        repeat.ends_with(&format!(" --server {way}")),
        "it goes to no other book: {repeat}"
    );
    let report = run(
        folder.path(),
        &server.url(),
        &repeat.replace(&way, &server.url()),
    )
    .done();
    assert!(report.err.contains("was already booked"), "{}", report.err);
    let booked = book
        .call(&Caller::owner("test"), &ListBookings::default())
        .unwrap()
        .answer
        .bookings;
    assert_eq!(booked.len(), 1);
}

/// Nothing was sent where nobody listens: there is nothing to repeat later, when it may have been typed anew.
#[test]
fn a_request_that_reached_no_server_is_not_offered_again() {
    let folder = TempDir::new().unwrap();
    let nobody = TcpListener::bind("127.0.0.1:0")
        .unwrap()
        .local_addr()
        .unwrap();
    let line = "buy --line 'material=button,kind=trim,paid=3,price=1'";
    run(folder.path(), &format!("http://{nobody}"), line)
        .refused(3, &["cannot be reached", "safe to repeat"]);
    assert_eq!(
        std::fs::read_dir(folder.path().join("state/pending"))
            .unwrap()
            .count(),
        0
    );
}

/// Passes connections on, but holds the first reservation back: its client is cut off, and it goes to the server when it is
/// let go.
fn holding_back(server: SocketAddr) -> (SocketAddr, mpsc::Sender<()>, thread::JoinHandle<String>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap();
    let (let_go, wait) = mpsc::channel();
    let (hold, held) = mpsc::channel::<Vec<u8>>();
    thread::spawn(move || {
        let mut hold = Some(hold);
        for client in listener.incoming() {
            let mut client = client.unwrap();
            let head = whole_request(&mut client);
            if head.starts_with(b"POST /v1/reservations ")
                && let Some(hold) = hold.take()
            {
                hold.send(head).unwrap();
                let _ = client.shutdown(Shutdown::Both);
                continue;
            }
            thread::spawn(move || {
                let _ = client.write_all(&exchanged(server, &head));
            });
        }
    });
    let late = thread::spawn(move || {
        let request = held.recv().unwrap();
        wait.recv().unwrap();
        String::from_utf8(exchanged(server, &request)).unwrap()
    });
    (address, let_go, late)
}

/// Reads until nothing more comes for a moment.
fn whole_request(client: &mut TcpStream) -> Vec<u8> {
    client
        .set_read_timeout(Some(Duration::from_millis(200)))
        .unwrap();
    let (mut request, mut buffer) = (Vec::new(), [0; 4096]);
    while let Ok(read @ 1..) = client.read(&mut buffer) {
        request.extend_from_slice(&buffer[..read]);
    }
    request
}

fn exchanged(server: SocketAddr, request: &[u8]) -> Vec<u8> {
    let mut server = TcpStream::connect(server).unwrap();
    server.write_all(request).unwrap();
    server.shutdown(Shutdown::Write).unwrap();
    let mut answer = Vec::new();
    server.read_to_end(&mut answer).unwrap();
    answer
}

/// The first sending is held back on its way, the repeat is refused, the cloth becomes free, and then the first sending
/// arrives: it meets the refusal that the client was reported (design, section 4, rule 5).
#[test]
fn a_sending_that_arrives_late_gets_the_refusal_of_its_repeat() {
    let folder = TempDir::new().unwrap();
    let (_book, server) = served(folder.path());
    let (way, let_go, late) = holding_back(server.address());
    let book = |line: &str| drop(run(folder.path(), &server.url(), line).done());
    book("buy --line 'material=linen,kind=cloth,paid=1m,price=10,full-width=150cm'");
    let need = "--need 'role=shell,kind=cloth,length=96cm,width=140cm,preparation=none'";
    book(&format!("garment plan vest {need}"));
    book(&format!("garment plan vest {need}"));
    book("reserve G1 shell --from L1.1");
    run(
        folder.path(),
        &format!("http://{way}"),
        "reserve G2 shell --from L1.1",
    )
    .refused(1, &["free", "final"]);
    book("release R1");
    let_go.send(()).unwrap();
    let answer = late.join().unwrap();
    assert!(
        answer.starts_with("HTTP/1.1 409") && answer.contains("exceeds-available"),
        "{answer}"
    );
    book("reserve G1 shell --from L1.1");
}
