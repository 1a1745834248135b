//! Codes and names of the book, read in the time that a shell can wait.

use crate::{
    client::{Askable, Client},
    config::{Config, Target},
    environment::Environment,
};
use clap::Arg;
use ellwand_contract::{
    bookings::ListBookings,
    garments::{GetGarment, ListGarments},
    operations::ListOperations,
    parties::{ListCustomers, ListSuppliers},
    people::{ListPeople, ListTokens, Tokens},
    purchases::ListPurchases,
    quotations::ListQuotations,
    reservations::{ListReservations, Reservation},
    sheets::ListMaterials,
    shelf::{GetShelf, ShelfPiece},
};
use ellwand_domain::{code::GarmentCode, setting::ReservationState};
use std::{
    sync::{
        OnceLock,
        mpsc::{self, Sender},
    },
    thread,
    time::{Duration, Instant},
};

/// Most rows of a kind that are offered, the newest where there are more.
const MOST: Option<u32> = Some(200);
/// Garments whose promises are looked at when none is named.
const GARMENTS: Option<u32> = Some(12);

/// Where the values of an argument come from.
pub(super) enum Source {
    Bookings,
    Customers,
    Garments,
    Lots,
    Materials,
    Needs,
    Operations,
    People,
    Pieces,
    Places,
    Promises,
    Purchases,
    Quotations,
    Suppliers,
    Tokens,
    UsualOperations,
    /// A closed list.
    Words(Vec<String>),
    /// The keys of pairs, each as the flag that reads it.
    Pairs(Vec<Arg>),
}

/// Something to ask the book.
type Question = Box<dyn FnOnce(&mut Client) + Send>;

/// A value, and what it is.
type Value = (String, Option<String>);

/// The book that a command line means.
pub(super) struct Book {
    /// Whoever asks it all, of one book that is opened with the first question.
    asker: OnceLock<Option<Sender<Question>>>,
    config: Option<Config>,
    environment: Environment,
    words: Vec<String>,
    until: Instant,
}

impl Book {
    pub(super) fn new(
        config: Option<Config>,
        environment: Environment,
        words: Vec<String>,
        patience: Duration,
    ) -> Self {
        let until = Instant::now().checked_add(patience);
        Self {
            asker: OnceLock::new(),
            config: config.and_then(to_read),
            environment,
            words,
            until: until.unwrap_or_else(Instant::now),
        }
    }

    /// What may be offered; nothing where the book does not answer in time, or not to this person.
    pub(super) fn values(&self, source: &Source) -> Vec<Value> {
        let found = match source {
            Source::Words(words) => Some(words.iter().map(|word| (word.clone(), None)).collect()),
            Source::Pairs(_) => None,
            Source::Pieces => self.pieces().map(described),
            Source::Lots => self.pieces().map(lots),
            Source::Places => self.pieces().map(places),
            Source::Garments => self.garments(MOST),
            Source::Needs => self.needs(),
            Source::Operations => self
                .planned_operations()
                .or_else(|| self.usual_operations()),
            Source::UsualOperations => self.usual_operations(),
            Source::Promises => self.promises(),
            Source::Bookings => self.bookings(),
            Source::Quotations => self.quotations(),
            Source::Purchases => self.purchases(),
            Source::Materials => self.list(
                ListMaterials { kind: None },
                |all| all.materials,
                |one| (one.material.to_string(), Some(one.name)),
            ),
            Source::Customers => self.list(
                ListCustomers {},
                |all| all.customers,
                |one| (one.customer.to_string(), Some(one.name)),
            ),
            Source::Suppliers => self.list(
                ListSuppliers {},
                |all| all.suppliers,
                |one| (one.supplier.to_string(), Some(one.name)),
            ),
            Source::Tokens => self.tokens(),
            Source::People => self.list(ListPeople {}, |all| all.people, |one| (one.person, None)),
        };
        found.unwrap_or_default()
    }

    /// The rows of an answer, each as a value.
    fn list<A: Askable, R>(
        &self,
        act: A,
        rows: impl FnOnce(A::Answer) -> Vec<R>,
        value: impl Fn(R) -> Value,
    ) -> Option<Vec<Value>> {
        Some(rows(self.ask(act)?).into_iter().map(value).collect())
    }

    /// Asks the book, and leaves it where it takes too long: whoever answers late answers nobody.
    fn ask<A: Askable>(&self, act: A) -> Option<A::Answer> {
        let asker = self.asker.get_or_init(|| self.asker());
        let (sender, receiver) = mpsc::channel();
        let question: Question = Box::new(move |client| {
            let outcome = client.call(&act).ok();
            let _ = sender.send(outcome.map(|outcome| outcome.answer));
        });
        asker.as_ref()?.send(question).ok()?;
        let left = self.until.saturating_duration_since(Instant::now());
        receiver.recv_timeout(left).ok().flatten()
    }

    /// Opens the book beside the one who waits, and answers one question after another.
    fn asker(&self) -> Option<Sender<Question>> {
        let (config, environment) = (self.config.clone()?, self.environment.clone());
        let (sender, questions) = mpsc::channel::<Question>();
        thread::spawn(move || {
            if let Ok(mut client) = Client::new(&config, &environment) {
                questions.into_iter().for_each(|ask| ask(&mut client));
            }
        });
        Some(sender)
    }

    /// Those that still open the book.
    fn tokens(&self) -> Option<Vec<Value>> {
        let stand = |all: Tokens| {
            let all = all.tokens.into_iter();
            all.filter(|token| token.revoked_at.is_none()).collect()
        };
        self.list(ListTokens {}, stand, |one| {
            let label = one.label.map(|label| format!(", {label}"));
            let about = one.person + &label.unwrap_or_default();
            (one.token.to_string(), Some(about))
        })
    }

    fn pieces(&self) -> Option<Vec<ShelfPiece>> {
        let shelf = GetShelf {
            limit: Some(500),
            ..GetShelf::default()
        };
        Some(self.ask(shelf)?.pieces)
    }

    fn garments(&self, limit: Option<u32>) -> Option<Vec<Value>> {
        let list = ListGarments {
            limit,
            ..ListGarments::default()
        };
        self.list(
            list,
            |all| all.garments,
            |one| {
                let about = format!("{}, {}", one.name, one.state);
                (one.garment.to_string(), Some(about))
            },
        )
    }

    /// The garment that the line names.
    fn garment(&self) -> Option<GarmentCode> {
        self.words.iter().find_map(|word| word.parse().ok())
    }

    fn needs(&self) -> Option<Vec<Value>> {
        let garment = self.garment()?;
        self.list(
            GetGarment { garment },
            |found| found.needs,
            |need| (need.role, Some(need.kind.to_string())),
        )
    }

    fn planned_operations(&self) -> Option<Vec<Value>> {
        let garment = self.garment()?;
        let planned = self.list(
            GetGarment { garment },
            |found| found.operations,
            |one| (one.name, Some(one.kind.to_string())),
        );
        planned.filter(|all| !all.is_empty())
    }

    fn usual_operations(&self) -> Option<Vec<Value>> {
        self.list(
            ListOperations {},
            |all| all.operations,
            |one| (one.name, Some(one.kind.to_string())),
        )
    }

    /// Promises that hold, of the garment that is named or of the newest.
    fn promises(&self) -> Option<Vec<Value>> {
        let garments = match self.garment() {
            Some(garment) => vec![garment],
            None => {
                let newest = self.garments(GARMENTS)?.into_iter();
                newest.filter_map(|(code, _)| code.parse().ok()).collect()
            }
        };
        let of = |garment: GarmentCode| {
            let list = ListReservations {
                garment,
                state: Some(ReservationState::Active),
                after: None,
                limit: MOST,
            };
            let value = |one: Reservation| {
                let about = format!("{} {}", one.garment, one.need);
                (one.reservation.to_string(), Some(about))
            };
            self.list(list, |all| all.reservations, value)
        };
        Some(garments.into_iter().filter_map(of).flatten().collect())
    }

    fn bookings(&self) -> Option<Vec<Value>> {
        let list = ListBookings {
            limit: Some(50),
            ..ListBookings::default()
        };
        self.list(
            list,
            |all| all.bookings,
            |one| (one.booking.to_string(), Some(one.kind.to_string())),
        )
    }

    fn quotations(&self) -> Option<Vec<Value>> {
        let list = ListQuotations {
            limit: MOST,
            ..ListQuotations::default()
        };
        self.list(
            list,
            |all| all.quotations,
            |one| {
                let about = format!("{} {}, {}", one.garment, one.name, one.state);
                (one.quotation.to_string(), Some(about))
            },
        )
    }

    fn purchases(&self) -> Option<Vec<Value>> {
        let list = ListPurchases {
            after: None,
            limit: MOST,
        };
        self.list(
            list,
            |all| all.purchases,
            |one| (one.purchase.to_string(), one.supplier),
        )
    }
}

/// The book as one that is only read: none is made and none is brought up to date.
fn to_read(mut config: Config) -> Option<Config> {
    match &mut config.target {
        Target::Unsaid(_) => return None,
        Target::File { path, named } => {
            if !path.exists() {
                return None;
            }
            *named = true;
        }
        Target::Server(_) | Target::Database(_) => {}
    }
    Some(config)
}

fn described(pieces: Vec<ShelfPiece>) -> Vec<Value> {
    let row = |piece: ShelfPiece| (piece.piece.to_string(), Some(piece.name));
    pieces.into_iter().map(row).collect()
}

fn lots(pieces: Vec<ShelfPiece>) -> Vec<Value> {
    let row = |piece: ShelfPiece| (piece.piece.lot.to_string(), Some(piece.name));
    let mut all: Vec<Value> = pieces.into_iter().map(row).collect();
    all.dedup();
    all
}

fn places(pieces: Vec<ShelfPiece>) -> Vec<Value> {
    let mut all: Vec<Value> = pieces
        .into_iter()
        .filter_map(|piece| Some((piece.place?, None)))
        .collect();
    all.sort();
    all.dedup();
    all
}
