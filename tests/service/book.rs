//! A book of its own, asked with requests as JSON.

use crate::place::Place;
use chrono::{DateTime, Days, TimeZone, Utc};
use ellwand_contract::{Act, Problem, Sending, audit::RunAudit};
use ellwand_service::{Book, Caller, Clock, Options, Perform};
use serde_json::{Value, json};
use std::sync::OnceLock;
use uuid::Uuid;

/// A book and its place.
pub struct TestBook {
    pub book: Book,
    place: Place,
}

/// 12 October 2026 plus some days, 9:00 UTC.
pub fn day(after: u32) -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 10, 12, 9, 0, 0).unwrap() + Days::new(u64::from(after))
}

impl TestBook {
    pub fn new() -> Self {
        Self::at(Place::new())
    }

    /// In a file, whatever is tested else.
    pub fn sqlite() -> Self {
        Self::at(Place::sqlite())
    }

    /// A book as `begin` leaves it. Where books are files, the first one is kept and the others are copies of it, which is
    /// quicker than making each from nothing.
    pub fn begun(kept: &OnceLock<Option<Vec<u8>>>, begin: impl Fn(&Self)) -> Self {
        let begin_new = || {
            let book = Self::new();
            begin(&book);
            book
        };
        let file = kept.get_or_init(|| {
            let book = begin_new();
            book.book.close().unwrap();
            std::fs::read(book.file()).ok()
        });
        match file {
            Some(content) => {
                let place = Place::sqlite();
                std::fs::write(place.file("book.sqlite3"), content).unwrap();
                Self::at(place)
            }
            None => begin_new(),
        }
    }

    fn at(place: Place) -> Self {
        let book = Book::open(
            &place.url,
            Options {
                clock: Clock::fixed(day(0)),
                create: true,
            },
        )
        .unwrap();
        Self { book, place }
    }

    pub fn url(&self) -> String {
        self.place.url.clone()
    }

    pub fn file(&self) -> String {
        self.place.file("book.sqlite3").display().to_string()
    }

    /// Another handle on the same book, whose clock stands on another day.
    pub fn handle(&self, after: u32) -> Book {
        let options = Options {
            clock: Clock::fixed(day(after)),
            create: false,
        };
        Book::open(&self.place.url, options).unwrap()
    }

    pub fn ask<A: Perform>(&self, request: Value) -> Result<A::Answer, Box<Problem>> {
        ask::<A>(&self.book, request)
    }

    #[track_caller]
    pub fn audit(&self) {
        let audit = self.ask::<RunAudit>(json!({})).unwrap();
        assert!(audit.findings.is_empty(), "{:?}", audit.findings);
    }
}

/// Asks a book; a write without an id gets one.
pub fn ask<A: Perform>(book: &Book, request: Value) -> Result<A::Answer, Box<Problem>> {
    send::<A>(book, request, Sending::default())
}

/// The same by whoever has confirmed the book's clock.
pub fn confirmed<A: Perform>(book: &Book, request: Value) -> Result<A::Answer, Box<Problem>> {
    send::<A>(
        book,
        request,
        Sending {
            clock_confirmed: true,
            ..Sending::default()
        },
    )
}

/// The same for a request that says how it is sent.
pub fn send<A: Perform>(
    book: &Book,
    mut request: Value,
    sending: Sending,
) -> Result<A::Answer, Box<Problem>> {
    if A::METHOD != ellwand_contract::Method::Get && request.get("id").is_none() {
        request["id"] = json!(Uuid::now_v7());
    }
    let act: A = serde_json::from_value(request)
        .unwrap_or_else(|error| panic!("{}: {error}", <A as Act>::NAME));
    let caller = Caller::owner("owner");
    book.send(&caller, &act, sending)
        .map(|outcome| outcome.answer)
        .map_err(Box::new)
}
