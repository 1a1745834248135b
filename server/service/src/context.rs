//! What every act knows: who asks, when, and the workshop's settings; and how it books.

use crate::{
    caller::Caller,
    clock,
    detail::Detail,
    failure::{Done, invalid},
    trace::Traced,
};
use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;
use ellwand_contract::{Problem, ProblemType, Sending};
use ellwand_domain::{
    ledger::Movement,
    need::CuttingRule,
    quantity::{Currency, Micrometres, Millionths, Money, Units},
    setting::{
        BookingKind, OffcutValue, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem,
    },
};
use ellwand_storage::{Booking, BookingSubject, Subject, Tx, Workshop};

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
    pub(crate) const WORK: &str = "work";
    pub(crate) const WASH_TEST: &str = "wash_test";
    pub(crate) const RATE: &str = "rate";
    pub(crate) const QUOTATION: &str = "quotation";
    pub(crate) const TOKEN: &str = "token";
    pub(crate) const PERSON: &str = "person";
}

/// What an act knows.
pub struct Context<'a> {
    pub(crate) caller: &'a Caller,
    pub(crate) now: DateTime<Utc>,
    /// The workshop's day.
    pub(crate) today: NaiveDate,
    pub(crate) workshop: Workshop,
    pub(crate) currency: Currency,
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

impl<'a> Context<'a> {
    pub(crate) fn new(tx: &mut Tx<'_>, caller: &'a Caller, now: DateTime<Utc>) -> Done<Self> {
        let workshop = tx.workshop()?;
        Self::with(workshop, caller, now)
    }

    /// For a write: the clock is asked about where it is in doubt.
    pub(crate) fn writing(
        tx: &mut Tx<'_>,
        caller: &'a Caller,
        now: DateTime<Utc>,
        sending: Sending,
    ) -> Done<Self> {
        let (workshop, last) = tx.workshop_and_last()?;
        clock::is_plausible(now, last.map(|last| last.and_utc()), sending)?;
        Self::with(workshop, caller, now)
    }

    fn with(workshop: Option<Workshop>, caller: &'a Caller, now: DateTime<Utc>) -> Done<Self> {
        let workshop = workshop.unwrap_or_else(defaults);
        let zone: Tz = workshop.zone.parse().unwrap_or(Tz::UTC);
        let currency = workshop.currency.parse().map_err(|_| {
            Problem::new(
                ProblemType::Internal,
                format!("the book's currency {} is unknown", workshop.currency),
            )
        })?;
        Ok(Self {
            caller,
            now,
            today: now.with_timezone(&zone).date_naive(),
            workshop,
            currency,
        })
    }

    /// The day in the workshop on which something was booked.
    pub(crate) fn day_of(&self, booked_at: NaiveDateTime) -> NaiveDate {
        let zone: Tz = self.workshop.zone.parse().unwrap_or(Tz::UTC);
        booked_at.and_utc().with_timezone(&zone).date_naive()
    }

    /// The business date of an act: today unless another is given; never in the future.
    pub(crate) fn day(&self, asked: Option<NaiveDate>) -> Done<NaiveDate> {
        let day = asked.unwrap_or(self.today);
        if day > self.today {
            return Err(Problem::new(
                ProblemType::InvalidDate,
                format!(
                    "{day} lies in the future: today is {} in the workshop",
                    self.today
                ),
            )
            .field("date")
            .hint("book it when it has happened")
            .into());
        }
        self.is_open(day)?;
        Ok(day)
    }

    /// Refuses a day in books that are closed.
    pub(crate) fn is_open(&self, day: NaiveDate) -> Done<()> {
        let Some(closed) = self.workshop.closed_to.filter(|closed| day <= *closed) else {
            return Ok(());
        };
        Err(Problem::new(
            ProblemType::BooksClosed,
            format!("the books are closed up to {closed}, and {day} is in them"),
        )
        .field("date")
        .hint("book the correction on a later day")
        .with("closed_to", closed.to_string())
        .into())
    }

    /// Takes the number of the next booking; rows may name it before it is written.
    pub(crate) fn next_booking(&self, tx: &mut Tx<'_>) -> Done<i64> {
        Ok(tx.next_numbers(counter::BOOKING, 1)?)
    }

    /// Writes a booking under a number taken with [`Self::next_booking`].
    ///
    /// The one door to the ledger, so that nothing passes it into closed books.
    pub(crate) fn book(&self, tx: &mut Tx<'_>, id: i64, entry: Entry) -> Done<()> {
        self.is_open(entry.on)?;
        let detail = serde_json::to_string(&entry.detail)
            .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
        let booking = Booking {
            id,
            kind: entry.kind,
            summary: entry.summary,
            on_date: entry.on,
            booked_at: self.now.naive_utc(),
            undoes: entry.undoes,
            detail,
            person_id: self.person(tx)?,
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
        tx.insert_booking(&booking, &subjects, &entry.movements)?;
        for trace in entry.traces {
            tx.insert_trace(&trace.row(id))?;
        }
        Ok(())
    }

    /// How the workshop cuts.
    pub(crate) fn rule(&self) -> Done<CuttingRule> {
        Ok(CuttingRule {
            step: Micrometres::new(self.workshop.cutting_step_um)?,
            end_allowance: Micrometres::new(self.workshop.end_allowance_um)?,
        })
    }

    /// Units that people of the workshop read.
    pub(crate) fn units(&self) -> Units {
        match self.workshop.units {
            UnitSystem::Metric => Units::Metric,
            UnitSystem::Imperial => Units::Imperial,
        }
    }

    /// An amount in the workshop's currency, typed by a user; not negative.
    pub(crate) fn home_money(&self, field: &str, text: &str) -> Done<Millionths> {
        let money = Money::parse(text, Some(self.currency))
            .map_err(|error| invalid(field, error.to_string()))?;
        if money.currency != self.currency {
            return Err(invalid(
                field,
                format!(
                    "\"{text}\" is in {}, the workshop counts in {}",
                    money.currency, self.currency
                ),
            ));
        }
        Ok(money.to_millionths()?)
    }

    /// A value in minor units of the workshop's currency, half up: `85.94`.
    pub(crate) fn printed(&self, value: Millionths) -> String {
        value.rounded(self.currency.digits())
    }
}

/// Settings of a workshop that has not chosen any: metric, 5 cm steps, 4 cm end allowance (20 mm each end,
/// textile teaching pages; common practice), offcuts from 30 × 20 cm; prices without tax, tax rounded half up per rate.
pub(crate) fn defaults() -> Workshop {
    Workshop {
        id: 1,
        currency: "EUR".to_owned(),
        currency_fixed: false,
        zone: "UTC".to_owned(),
        units: UnitSystem::Metric,
        cutting_step_um: 50_000,
        end_allowance_um: 40_000,
        offcut_length_um: 300_000,
        offcut_width_um: 200_000,
        strip_value: OffcutValue::Area,
        pooled_method: PooledMethod::Fifo,
        pooled_method_fixed: false,
        closed_to: None,
        version: 0,
        changed_by: None,
        changed_at: None,
        changed_what: None,
        prices_shown: PricesShown::WithoutTax,
        tax_rounding: Rounding::HalfUp,
        tax_place: TaxPlace::Rate,
        cash_step_minor: None,
        name: String::new(),
        address: String::new(),
    }
}
