//! A server and commands in process on one file.

use crate::books::{Ran, environment, run_in};
use ellwand_contract::{audit::RunAudit, bookings::ListBookings};
use ellwand_service::{Book, Caller, Clock, Options};
use std::{collections::BTreeSet, net::TcpListener, path::Path, thread};
use tempfile::TempDir;

fn run(folder: &Path, place: &str, line: &str) -> Ran {
    run_in(&environment(folder), &format!("{line} {place}"))
}

/// Six people at once, three through the server and three in the file itself: each booking is there once, under a code of
/// its own, and what one books the others see.
#[test]
fn a_server_and_commands_in_process_share_one_file() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("book.sqlite3");
    let url = format!("sqlite://{}", file.display());
    let book = Book::open(
        &url,
        Options {
            clock: Clock::system(),
            create: true,
        },
    )
    .unwrap();
    let config = ellwand_server::Config {
        open: true,
        ..ellwand_server::Config::default()
    };
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let server = ellwand_server::spawn(&config, book.clone(), listener).unwrap();
    let places = [
        format!("--server {}", server.url()),
        format!("--database '{}'", file.display()),
    ];
    thread::scope(|scope| {
        for person in 0..6 {
            let (folder, place) = (folder.path(), &places[person % 2]);
            scope.spawn(move || {
                for round in 0..10 {
                    let line = format!(
                        "buy --line 'material=button {person} {round},kind=trim,paid=3,price=1'"
                    );
                    let _ = run(folder, place, &line).done();
                    let shelf = run(folder, place, "shelf --all").done().out;
                    assert!(
                        shelf.contains(&format!("button {person} {round}")),
                        "{shelf}"
                    );
                }
            });
        }
    });
    let caller = Caller::owner("test");
    let asked = ListBookings {
        limit: Some(500),
        ..ListBookings::default()
    };
    let bookings = book.call(&caller, &asked).unwrap().answer.bookings;
    let codes: BTreeSet<String> = bookings
        .iter()
        .map(|booking| booking.booking.to_string())
        .collect();
    assert_eq!((bookings.len(), codes.len()), (60, 60));
    assert!(
        book.call(&caller, &RunAudit {})
            .unwrap()
            .answer
            .findings
            .is_empty()
    );
}
