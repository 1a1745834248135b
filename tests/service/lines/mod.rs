//! A workshop whose acts are written as lines, as they are typed: the flags of the contract's requests give the request,
//! the service alone answers it. No command runs, and nothing is put on a screen.

mod lay;
mod line;
mod money;
mod plan;
mod stock;

use crate::book::TestBook;
use clap::Parser;
use ellwand_contract::{Problem, Sending};
use ellwand_domain::setting::UnitSystem;
use ellwand_service::{Caller, Perform};
use serde_json::Value;
use uuid::Uuid;

/// What the service said: the answer as JSON, or the problem.
pub type Answer = Result<Value, Box<Problem>>;

/// An answer that is looked at.
#[must_use]
pub struct Asked(Answer);

impl Asked {
    /// The act was done.
    #[track_caller]
    pub fn done(self) -> Value {
        self.0.unwrap_or_else(|problem| panic!("{problem:?}"))
    }

    /// The problem of a refusal, where its numbers are looked at.
    #[track_caller]
    pub fn problem(self) -> Problem {
        *self.0.expect_err("a refusal")
    }

    /// The act was refused with this exit code, and its detail and hint contain each of `parts`.
    #[track_caller]
    pub fn refused(self, code: u8, parts: &[&str]) {
        let problem = self.0.expect_err("a refusal");
        assert_eq!(problem.kind.exit(), code, "{problem:?}");
        let text = format!(
            "{}\nhint: {}",
            problem.detail,
            problem.hint.as_deref().unwrap_or_default()
        );
        for part in parts {
            assert!(text.contains(part), "no \"{part}\" in: {text}");
        }
    }
}

/// A book of a workshop.
pub struct Workshop {
    book: TestBook,
}

impl Workshop {
    /// An empty book on 12 October 2026, 9:00 UTC.
    pub fn new() -> Self {
        Self {
            book: TestBook::new(),
        }
    }

    /// Asks one line.
    #[track_caller]
    pub fn run(&self, line: &str) -> Asked {
        let read =
            Line::try_parse_from(words(line)).unwrap_or_else(|error| panic!("{line}: {error}"));
        Asked(read.act.ask(&Asking {
            book: &self.book,
            units: read.units,
        }))
    }

    /// Asks for what no line says.
    #[track_caller]
    pub fn ask<A: Perform>(&self, act: A) -> Asked {
        let asking = Asking {
            book: &self.book,
            units: None,
        };
        Asked(asking.ask(act))
    }

    /// Asks lines that must all be done.
    #[track_caller]
    pub fn all(&self, lines: &[&str]) {
        for line in lines {
            self.run(line).done();
        }
    }

    /// The answer to a line, which must be done.
    #[track_caller]
    pub fn json(&self, line: &str) -> Value {
        self.run(line).done()
    }

    /// What a reader can see of the book: it must not change when an act is refused.
    #[track_caller]
    pub fn dump(&self) -> Vec<Value> {
        let parts = ["shelf --all", "history --all", "garment list", "buy list"];
        parts.iter().map(|line| self.json(line)).collect()
    }

    /// The rules hold, by the ledger alone.
    #[track_caller]
    pub fn audit(&self) {
        self.book.audit();
    }
}

#[derive(Parser)]
#[command(no_binary_name = true)]
struct Line {
    #[command(subcommand)]
    act: line::Act,
    /// Every question is answered yes.
    #[arg(long, global = true)]
    yes: bool,
    #[arg(long, global = true)]
    units: Option<UnitSystem>,
}

/// Whom a line asks.
struct Asking<'a> {
    book: &'a TestBook,
    units: Option<UnitSystem>,
}

impl Asking<'_> {
    /// Asks for what another request is made of.
    fn call<A: Perform>(&self, act: &A) -> Result<A::Answer, Box<Problem>> {
        let sent = self
            .book
            .book
            .send(&Caller::owner("owner"), act, Sending::default());
        sent.map(|outcome| outcome.answer).map_err(Box::new)
    }

    /// Asks; a write gets an id.
    fn ask<A: Perform>(&self, mut act: A) -> Answer {
        act.set_request_id(Uuid::now_v7());
        self.call(&act)
            .map(|answer| serde_json::to_value(answer).unwrap())
    }
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
