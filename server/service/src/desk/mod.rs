//! Where an act is done: the transaction, what the act knows, and how it books.

pub(crate) mod address;
pub(crate) mod book;
pub(crate) mod caller;
pub(crate) mod clock;
pub(crate) mod context;
pub(crate) mod detail;
pub(crate) mod failure;
pub(crate) mod page;
pub(crate) mod perform;
pub(crate) mod person;
pub(crate) mod trace;
pub(crate) mod version;

use crate::desk::{context::Context, detail::Detail, failure::Done, trace::Traced};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{ledger::Movement, setting::BookingKind};
use ellwand_storage::{Booking, BookingSubject, Subject, Tx};
use std::ops::{Deref, DerefMut};

/// Kinds of numbers that codes are made of.
pub(crate) mod counter {
    pub(crate) const BOOKING: &str = "booking";
    pub(crate) const MATERIAL: &str = "material";
    pub(crate) const LOT: &str = "lot";
    pub(crate) const PIECE: &str = "piece";
    pub(crate) const LAYER: &str = "layer";
    pub(crate) const PURCHASE: &str = "purchase";
    pub(crate) const SUPPLIER: &str = "supplier";
    pub(crate) const CUSTOMER: &str = "customer";
    pub(crate) const GARMENT: &str = "garment";
    pub(crate) const NEED: &str = "need";
    pub(crate) const RESERVATION: &str = "reservation";
    pub(crate) const LAY: &str = "lay";
    pub(crate) const WORK: &str = "work";
    pub(crate) const WASH_TEST: &str = "wash_test";
    pub(crate) const RATE: &str = "rate";
    pub(crate) const LOGO: &str = "logo";
    pub(crate) const QUOTATION: &str = "quotation";
    pub(crate) const TOKEN: &str = "token";
    pub(crate) const PERSON: &str = "person";
}

/// The book as one act has it before it; passed on where only the transaction is asked for.
pub struct Desk<'a> {
    pub(crate) tx: Tx<'a>,
    pub(crate) context: &'a Context<'a>,
}

impl<'a> Deref for Desk<'a> {
    type Target = Tx<'a>;
    fn deref(&self) -> &Tx<'a> {
        &self.tx
    }
}

impl<'a> DerefMut for Desk<'a> {
    fn deref_mut(&mut self) -> &mut Tx<'a> {
        &mut self.tx
    }
}

/// A booking to be made.
pub(crate) struct Entry {
    pub(crate) kind: BookingKind,
    pub(crate) summary: String,
    pub(crate) on: NaiveDate,
    pub(crate) subjects: Vec<(Subject, i64)>,
    pub(crate) movements: Vec<Movement>,
    /// What it wrote over, and what it rests on.
    pub(crate) traces: Vec<Traced>,
    pub(crate) detail: Detail,
    pub(crate) undoes: Option<i64>,
}

impl Entry {
    /// A booking without movements.
    pub(crate) fn new(kind: BookingKind, on: NaiveDate, summary: impl Into<String>) -> Self {
        Self {
            kind,
            summary: summary.into(),
            on,
            subjects: Vec::new(),
            movements: Vec::new(),
            traces: Vec::new(),
            detail: Detail::None {},
            undoes: None,
        }
    }
}

impl<'a> Desk<'a> {
    pub(crate) fn new(tx: &'a mut Tx<'_>, context: &'a Context<'a>) -> Self {
        Self {
            tx: tx.lend(),
            context,
        }
    }

    /// Takes the number of the next booking; rows may name it before it is written.
    pub(crate) fn next_booking(&mut self) -> Done<i64> {
        Ok(self.tx.next_numbers(counter::BOOKING, 1)?)
    }

    /// Writes a booking under a number taken with [`Self::next_booking`].
    ///
    /// The one door to the ledger, so that nothing passes it into closed books.
    pub(crate) fn book(&mut self, id: i64, entry: Entry) -> Done<()> {
        self.context.is_open(entry.on)?;
        let detail = serde_json::to_string(&entry.detail)
            .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
        let booking = Booking {
            id,
            kind: entry.kind,
            summary: entry.summary,
            on_date: entry.on,
            booked_at: self.context.now.naive_utc(),
            undoes: entry.undoes,
            detail,
            person_id: self.person()?,
            request_id: self.context.request.to_string(),
        };
        let mut subjects: Vec<BookingSubject> = Vec::new();
        for (subject, subject_id) in entry.subjects {
            let row = BookingSubject {
                booking_id: id,
                subject,
                subject_id,
            };
            if !subjects.contains(&row) {
                subjects.push(row);
            }
        }
        self.tx
            .insert_booking(&booking, &subjects, &entry.movements)?;
        for trace in entry.traces {
            self.tx.insert_trace(&trace.row(id))?;
        }
        Ok(())
    }

    /// Does a job and takes back all that it wrote, whatever comes out of it: for what an act would lead to.
    pub(crate) fn aside<T>(&mut self, job: impl FnOnce(&mut Desk<'_>) -> T) -> Done<T> {
        let context = self.context;
        Ok(self.tx.aside(|tx| job(&mut Desk::new(tx, context)))?)
    }

    /// Whoever asks, as a row: without a token they are named for the first time by what they do.
    pub(crate) fn person(&mut self) -> Done<i64> {
        let caller = self.context.caller;
        match caller.person {
            Some(known) => Ok(known),
            None => {
                let made = self.context.made();
                Ok(person::find_or_make(&mut self.tx, "name", &caller.name, false, made)?.id)
            }
        }
    }
}
