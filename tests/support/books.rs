//! A workshop for end-to-end tests: one book that is asked in process, one that is asked over HTTP, and where there is a
//! server one on PostgreSQL over HTTP. Every command is run on all; the answers must be the same to the letter.

use crate::{own_schema, place::Place};
use chrono::{DateTime, TimeZone, Utc};
use ellwand::{
    Environment,
    config::{Config, Target},
    global::Global,
};
use ellwand_contract::bookings::GetRequest;
use ellwand_server::Running;
use ellwand_service::{Book, Caller, Clock, Options};
use serde_json::Value;
use std::{ffi::OsString, net::TcpListener, path::Path};
use tempfile::TempDir;
use uuid::Uuid;

/// What a command wrote and how it ended.
#[must_use]
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ran {
    pub code: u8,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// The same without the secret of a token, which is another one each time.
    fn without_secrets(&self) -> Self {
        let digits = |text: &str| text.chars().take_while(char::is_ascii_hexdigit).count();
        let parts: Vec<&str> = self.out.split("ellwand_").collect();
        let rest = |part: &&str| match digits(part) {
            64 => part[64..].to_owned(),
            _ => (*part).to_owned(),
        };
        Self {
            out: parts.iter().map(rest).collect::<Vec<_>>().join("ellwand_"),
            ..self.clone()
        }
    }

    /// The command succeeded.
    #[track_caller]
    pub fn done(self) -> Self {
        assert_eq!(self.code, 0, "{}{}", self.out, self.err);
        self
    }

    /// The command was refused with this exit code, and its message contains each of `parts`.
    #[track_caller]
    pub fn refused(self, code: u8, parts: &[&str]) {
        assert_eq!(self.code, code, "{}{}", self.out, self.err);
        for part in parts {
            assert!(self.err.contains(part), "no \"{part}\" in: {}", self.err);
        }
        assert_eq!(
            self.err.matches("error: ").count(),
            1,
            "one clear error: {}",
            self.err
        );
        assert!(
            self.out.is_empty(),
            "a refusal writes no data: {}",
            self.out
        );
    }
}

/// Books that live through the same history.
pub struct Workshop {
    folder: TempDir,
    now: DateTime<Utc>,
    served: Vec<(Running, Place)>,
}

impl Workshop {
    /// Empty books on 12 October 2026, 9:00 UTC.
    pub fn new() -> Self {
        let folder = TempDir::new().unwrap();
        let now = Utc.with_ymd_and_hms(2026, 10, 12, 9, 0, 0).unwrap();
        let on_server = own_schema::server().map(|_| Place::postgresql());
        let served = std::iter::once(Place::sqlite()).chain(on_server);
        let served = served.map(|place| (serve(&place, now), place)).collect();
        Self {
            folder,
            now,
            served,
        }
    }

    fn one(&self, line: &str, server: Option<String>) -> Ran {
        // Someone else's folders: whoever has asked a server is not taken to mean the book on their machine.
        let folder = self
            .folder
            .path()
            .join(if server.is_some() { "away" } else { "here" });
        run_in(
            &Environment {
                now: Some(Ok(self.now)),
                server,
                ..environment(&folder)
            },
            line,
        )
    }

    /// Runs a command on all books and compares the answers.
    #[track_caller]
    pub fn run(&self, line: &str) -> Ran {
        let here = self.one(line, None);
        for (server, place) in &self.served {
            let there = self.one(line, Some(server.url()));
            assert_eq!(
                here.without_secrets(),
                there.without_secrets(),
                "in process and over HTTP ({}) differ: ellwand {line}",
                place.url
            );
        }
        here
    }

    /// Runs commands that must all succeed.
    #[track_caller]
    pub fn all(&self, lines: &[&str]) {
        for line in lines {
            let _ = self.run(line).done();
        }
    }

    /// Everything that a command writes, its lines joined.
    #[track_caller]
    pub fn joined_output(&self, line: &str) -> String {
        let ran = self.run(line).done();
        let words = format!("{} {}", ran.out, ran.err);
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// A command's answer as JSON.
    #[track_caller]
    pub fn json(&self, line: &str) -> Value {
        serde_json::from_str(&self.run(&format!("{line} --json")).done().out).unwrap()
    }

    /// What a reader can see of the book: it must not change when an act is refused.
    #[track_caller]
    pub fn dump(&self) -> String {
        let parts = [
            "shelf --json --all",
            "history --json --all",
            "garment list --json",
            "buy list --json",
        ];
        parts.iter().map(|line| self.run(line).done().out).collect()
    }

    /// The act that a request was, as the book on this machine keeps it.
    #[track_caller]
    pub fn act_of(&self, request: Uuid) -> String {
        let place = environment(&self.folder.path().join("here"));
        let target = Config::load(&Global::default(), &place).unwrap().target;
        let Target::File { path, .. } = target else {
            panic!("a book on this machine is a file")
        };
        let options = Options {
            clock: Clock::fixed(self.now),
            create: false,
        };
        let book = Book::open(&format!("sqlite://{}", path.display()), options).unwrap();
        let by = self.json("history --limit 1")["bookings"][0]["by"].clone();
        let caller = Caller::owner(by.as_str().unwrap());
        let kept = book.call(&caller, &GetRequest { request }).unwrap();
        kept.answer.act
    }

    /// The rules hold, by the ledger alone.
    #[track_caller]
    pub fn audit(&self) {
        assert!(
            self.json("audit")["findings"]
                .as_array()
                .unwrap()
                .is_empty()
        );
    }
}

/// A person's own folders under this one, and nothing of the machine's.
pub fn environment(folder: &Path) -> Environment {
    let path = |name: &str| Some(folder.join(name));
    Environment {
        data_dir: path("data"),
        config_dir: path("config"),
        state_dir: path("state"),
        width: Some(100),
        no_color: true,
        ..Environment::default()
    }
}

/// Runs a command in process.
pub fn run_in(environment: &Environment, line: &str) -> Ran {
    let args = std::iter::once("ellwand".to_owned())
        .chain(words(line))
        .map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = ellwand::run(args, environment, &mut out, &mut err);
    Ran {
        code,
        out: String::from_utf8(out).unwrap(),
        err: String::from_utf8(err).unwrap(),
    }
}

/// A book that is asked over HTTP.
fn serve(place: &Place, now: DateTime<Utc>) -> Running {
    let book = Book::open(
        &place.url,
        Options {
            clock: Clock::fixed(now),
            create: true,
        },
    )
    .unwrap();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let config = ellwand_server::Config {
        open: true,
        ..ellwand_server::Config::default()
    };
    ellwand_server::spawn(&config, book, listener).unwrap()
}

/// Splits a line as a shell does, with single quotes.
fn words(line: &str) -> Vec<String> {
    let (mut words, mut word, mut quoted, mut some) = (Vec::new(), String::new(), false, false);
    for letter in line.chars() {
        match letter {
            '\'' => (quoted, some) = (!quoted, true),
            ' ' | '\n' if !quoted => {
                if some {
                    words.push(std::mem::take(&mut word));
                }
                some = false;
            }
            letter => {
                word.push(letter);
                some = true;
            }
        }
    }
    if some {
        words.push(word);
    }
    words
}

/// Without a server each line is asked of two books alone, and this says so.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn every_line_is_asked_of_a_book_on_postgresql_too() {
    let workshop = Workshop::new();
    let places = workshop.served.iter().map(|(_, place)| &place.url);
    let on_server = places.filter(|url| url.starts_with("postgres"));
    assert_eq!(on_server.count(), 1);
}
