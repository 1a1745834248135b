//! Taking a booking back by booking the opposite (rule 4), from what the ledger, its traces and its rows say of it.
//!
//! *Sums* (quantities, values, minutes, payments) are reversed by their rows; *facets* go back to what was there before, as long
//! as no later standing booking wrote them or rests on them; what is *derived* (what promises hold, how far a garment is) is
//! worked out anew. Promises that the booking had ended are made again under new codes where there is room. Refused, naming why,
//! only where later acts rest on it.

mod charges;
mod cut;
mod facets;
mod promise;
mod quotation;
mod rests;
mod rules;
mod sums;
mod together;
mod wording;

use crate::{
    desk::{
        Desk, Entry,
        detail::{ChargeShare, Detail},
        failure::{Done, Failure, not_found, too_early},
        trace::Traced,
    },
    promises::{self, Settled},
    shelf::shelved::{LotRecord, Shelved},
};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::BookingCode,
    ledger::{AccountKind, Movement, Rectangle},
    setting::{BookingKind, Facet, Grant},
};
use ellwand_storage::{Booking, Subject, Trace};
use std::collections::{BTreeMap, BTreeSet};
pub(crate) use wording::label as field_label;

/// What taking a booking back did.
#[derive(Debug, Default)]
struct Effect {
    /// The opposite movements.
    movements: Vec<Movement>,
    /// Shares of late charges that went along, by charge.
    moved: Vec<(i64, ChargeShare)>,
    /// Promises made again.
    restored: Vec<i64>,
    /// Promises that hold another length now.
    changed: Vec<i64>,
    /// Promises that no longer fit.
    broken: Vec<i64>,
    notes: Vec<String>,
    /// Pieces and lots whose promises must be looked at again.
    pieces: BTreeSet<i64>,
    lots: BTreeSet<i64>,
    /// Widths of pieces that follow a sheet back.
    widths: BTreeMap<i64, Rectangle>,
}

impl Effect {
    /// Takes over the promises that were settled, each once.
    fn settled(&mut self, settled: Settled) {
        let mut all = Settled {
            changed: std::mem::take(&mut self.changed),
            broken: std::mem::take(&mut self.broken),
            ..Settled::default()
        };
        all.add(settled);
        all.changed.retain(|id| !self.restored.contains(id));
        (self.changed, self.broken) = (all.changed, all.broken);
    }
}

/// A booking to be taken back, and the one that does it.
struct Case {
    booking: i64,
    /// The business date of the opposite.
    day: NaiveDate,
    target: Booking,
    detail: Detail,
    movements: Vec<Movement>,
    /// What it wrote over.
    traces: Vec<Trace>,
}

impl Case {
    /// Books the opposite.
    fn undo(&self, desk: &mut Desk<'_>) -> Done<Effect> {
        let mut effect = self.take_back(desk)?;
        self.garments_can_give(desk, &effect.movements)?;
        let summary = format!("Took back {}: {}", self.code(), self.target.summary);
        let mut entry = Entry::new(BookingKind::Undone, self.day, summary);
        entry.subjects = desk
            .tx
            .subjects_of(self.target.id)?
            .into_iter()
            .map(|subject| (subject.subject, subject.subject_id))
            .collect();
        entry.movements = std::mem::take(&mut effect.movements);
        entry.undoes = Some(self.target.id);
        let charges: BTreeSet<i64> = effect.moved.iter().map(|(charge, _)| *charge).collect();
        for charge in charges {
            entry
                .traces
                .push(Traced::wrote(Facet::Charge, charge, &())?);
        }
        entry.detail = Detail::Undone {
            moved: std::mem::take(&mut effect.moved),
        };
        desk.book(self.booking, entry)?;
        self.derive(desk, &mut effect)?;
        Ok(effect)
    }

    fn open(desk: &mut Desk<'_>, code: BookingCode, date: Option<NaiveDate>) -> Done<Self> {
        let target = desk
            .tx
            .booking(code.get())?
            .ok_or_else(|| not_found(format!("booking {code}"), "see ellwand history"))?;
        if let Some(by) = desk.tx.undone_by(target.id)? {
            let by = BookingCode::new(by);
            let detail = format!("{code} was already taken back by {by}");
            return Err(cannot(detail, "see ellwand history").naming("booking", by));
        }
        if target.undoes.is_some() {
            let detail = format!("{code} takes another booking back");
            return Err(cannot(
                detail,
                "book it again; ellwand history shows what it was",
            ));
        }
        let stored = desk.tx.movements_of(&[target.id])?;
        let mut traces = desk.tx.traces_of(target.id)?;
        traces.retain(|trace| trace.was.is_some());
        Ok(Self {
            day: day_of(desk, &target, date)?,
            booking: desk.next_booking()?,
            detail: Detail::of(&target)?,
            target,
            movements: stored.iter().map(|stored| stored.movement).collect(),
            traces,
        })
    }
}

impl Case {
    fn code(&self) -> BookingCode {
        BookingCode::new(self.target.id)
    }

    fn kind(&self) -> BookingKind {
        self.target.kind
    }

    fn because(&self) -> String {
        format!("{} was taken back", self.code())
    }

    fn take_back(&self, desk: &mut Desk<'_>) -> Done<Effect> {
        // Whoever may not book such a loss may not take one back either.
        let loses = |line: &Movement| line.to.kind == AccountKind::Abandoned;
        if self.movements.iter().any(loses) {
            desk.context.caller.needs(Grant::WriteOffs)?;
        }
        self.rules(desk)?;
        self.facets_stand(desk)?;
        let made = self.made(desk)?;
        self.sums_stand(desk, &made)?;
        let mut effect = Effect::default();
        self.opposite(desk, &made, &mut effect)?;
        self.promises_go(desk, &mut effect)?;
        self.rows_back(desk, &mut effect)?;
        self.sheets_back(desk, &mut effect)?;
        self.sums_back(desk, &made, &mut effect)?;
        self.facets_back(desk, &mut effect)?;
        Ok(effect)
    }

    /// Works out anew what is derived, now that the booking stands no more.
    fn derive(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        if let Detail::Cut(cut) = &self.detail {
            self.cut_back(desk, cut, effect)?;
        }
        self.settle(desk, effect)?;
        self.promises_again(desk, effect)?;
        self.settle(desk, effect)?;
        self.settle_bound(desk, effect)
    }

    /// Looks again at the promises on what changed.
    fn settle(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let (booking, because) = (self.booking, self.because());
        for lot in std::mem::take(&mut effect.lots) {
            let record = LotRecord::load(desk, lot)?;
            let settled = promises::resettle_stiffness(desk, booking, &record, &because)?;
            effect.settled(settled);
        }
        for piece in std::mem::take(&mut effect.pieces) {
            let mut shelved = Shelved::load_row(desk, piece)?;
            let settled = promises::resettle(desk, booking, &mut shelved, &because)?;
            effect.settled(settled);
            let last_on = shelved.stored.last_on;
            shelved.save(desk, last_on)?;
        }
        Ok(())
    }

    /// Looks again at promises that must be of the lot of a garment whose promises or cuts are as they were.
    fn settle_bound(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let subjects = desk.tx.subjects_of(self.target.id)?;
        let garments = subjects
            .iter()
            .filter(|row| row.subject == Subject::Garment);
        let garments = garments.map(|row| row.subject_id).collect();
        let settled = promises::resettle_bound_to(desk, self.booking, &garments)?;
        effect.restored.retain(|id| !settled.broken.contains(id));
        effect.settled(settled);
        Ok(())
    }
}

/// The day of the opposite: not before the last booking on what it touches, so that no day in between goes negative. Where none is
/// asked for it is that one, so that a slip stands in no month; today where its books are closed.
fn day_of(desk: &mut Desk<'_>, target: &Booking, date: Option<NaiveDate>) -> Done<NaiveDate> {
    let day = desk.context.day(date)?;
    let mut last = target.on_date;
    for row in desk.tx.subjects_of(target.id)? {
        last = last.max(
            desk.tx
                .last_day_of(row.subject, row.subject_id)?
                .unwrap_or(last),
        );
    }
    if date.is_none() && desk.context.is_open(last).is_ok() {
        return Ok(last.min(day));
    }
    if date.is_none() || day >= last {
        return Ok(day);
    }
    let code = BookingCode::new(target.id);
    let detail = format!(
        "{code} cannot be undone on {day}: the last booking on what it touches is of {last}"
    );
    Err(too_early(detail, day, last))
}

/// Refuses, naming why.
pub(crate) fn cannot(detail: impl Into<String>, hint: &str) -> Failure {
    Problem::new(ProblemType::CannotUndo, detail)
        .hint(hint)
        .into()
}

/// Refuses for a booking that was made since and must go first.
fn first_back(detail: impl Into<String>, by: BookingCode) -> Failure {
    cannot(detail, &format!("take that back first: ellwand undo {by}")).naming("booking", by)
}

/// Refuses for what was booked since and must go first, whichever booking it was.
fn first(detail: impl Into<String>) -> Failure {
    cannot(
        detail,
        "take that back first, with ellwand undo and its code",
    )
}
