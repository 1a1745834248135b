//! A piece was washed or steamed, and measures something else now.

use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::{Detail, PieceBefore},
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
        trace,
    },
    promises::{self, fit},
    shelf::{
        doubts,
        lots::{
            changed,
            measure::{before, correct, used_up, widths},
        },
        shelved::Shelved,
    },
};
use chrono::NaiveDate;
use ellwand_contract::{lots::PieceChanged, wash::FinishWash};
use ellwand_domain::{
    ledger::{Quantity, Rectangle},
    quantity::Micrometres,
    setting::BookingKind,
    shrinkage::{Chosen, Preparation, Progress, Ratio, ShrinkageError},
};
use ellwand_storage::{Subject, Tx};

impl Perform for FinishWash {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(desk, self.piece)?;
        let day = desk.context.day(self.date)?;
        let rectangle = check(&shelved, self.preparation, day)?;
        let mut notes = Vec::new();
        let next = self.step_of(desk, &shelved)?;
        let next = match shelved.stored.preparation {
            Some(Preparation::Steamed) if self.preparation != Preparation::Steamed => {
                next.map(Chosen::after_steaming)
            }
            _ => next,
        };
        let rectangle = match &self.width {
            Some(width) => widths(desk.context, &shelved, Some(width.value()), true)?,
            None => Some(computed_widths(desk.context, &next, rectangle, &mut notes)?),
        };
        let booking = desk.next_booking()?;
        let was = shelved.stored.piece.quantity;
        let as_it_was = shelved.stored.clone();
        let mut movements = Vec::new();
        // Asked about with what was expected; a width that was computed is no finding.
        let (length, width) = (
            self.length.value().into(),
            self.width.as_ref().map(|width| width.value()),
        );
        doubts::ask_of_piece(&shelved, length, width, next.as_ref().ok(), self.really)?;
        correct(&mut shelved, length, rectangle, true, true, &mut movements)?;
        shelved.stored.estimated = false;
        shelved.stored.preparation = Some(self.added_to(shelved.stored.preparation));
        shelved.stored.prepared = Some(day);
        let because = format!("{} was {}", self.piece, self.preparation);
        let settled = promises::resettle(desk, booking, &mut shelved, &because)?;
        shelved.save(desk, day)?;
        notes.push(self.expected(&next, was, desk.context)?);
        let now = shelved.show(desk.context, shelved.stored.piece.quantity);
        let summary = format!(
            "{} {} was {}: {} → {now}.",
            self.piece,
            shelved.record.material.name,
            self.preparation,
            shelved.show(desk.context, was)
        );
        let mut entry = Entry::new(BookingKind::Prepared, day, summary);
        entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
        entry.movements = movements;
        entry.traces = trace::of_measured(&as_it_was, &shelved.stored)?;
        entry.detail = Detail::Remeasured {
            before: PieceBefore {
                width_computed: self.width.is_none(),
                ..before(&as_it_was)
            },
        };
        desk.book(booking, entry)?;
        notes.retain(|note| !note.is_empty());
        changed(desk, booking, &shelved, Vec::new(), settled, notes)
    }
}

/// Refuses what cannot be prepared so; returns its widths.
fn check(shelved: &Shelved, preparation: Preparation, day: NaiveDate) -> Done<Rectangle> {
    let code = shelved.code();
    let Some(rectangle) = shelved.stored.piece.rectangle else {
        let kind = shelved.record.kind();
        let detail = format!("{code} is {kind}: only cloth and interlining are prepared");
        return Err(invalid("piece", detail));
    };
    if preparation.is_nothing() {
        let detail =
            format!("\"{preparation}\" is not a preparation to record; choose washed or steamed");
        return Err(invalid("preparation", detail));
    }
    shelved.check_day(day)?;
    if shelved.stored.piece.quantity.is_zero() {
        return Err(used_up(shelved));
    }
    // What was steamed can still be washed; steaming after a wash adds nothing that the book keeps.
    let was = shelved.stored.preparation;
    if let Some(was) = was.filter(|was| leads_elsewhere(*was, preparation)) {
        return Err(wrong_state(
            format!("{code} was already {was}; steaming adds nothing to that"),
            "enter its length now with ellwand lot measure",
        )
        .naming("piece", code));
    }
    Ok(rectangle)
}

/// True for cloth that cannot be prepared so any more.
fn leads_elsewhere(was: Preparation, next: Preparation) -> bool {
    !was.same_kind(next) && next.progress(Some(was)) == Progress::Elsewhere
}

/// What the next washes are expected to do.
type Step = Result<Chosen, ShrinkageError>;

trait Prepared {
    fn added_to(&self, before: Option<Preparation>) -> Preparation;
    fn step_of(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<Step>;
    fn expected(&self, step: &Step, was: Quantity, context: &Context<'_>) -> Done<String>;
}

impl Prepared for FinishWash {
    /// Washes add up.
    fn added_to(&self, before: Option<Preparation>) -> Preparation {
        match (before, self.preparation) {
            (Some(Preparation::Washed { times }), Preparation::Washed { times: more }) => {
                Preparation::Washed {
                    times: times.saturating_add(more),
                }
            }
            (_, preparation) => preparation,
        }
    }

    /// What the piece is expected to do now: of a second wash only the step from the first to the second.
    fn step_of(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<Step> {
        let before = shelved.stored.preparation;
        let done = before
            .filter(|was| was.same_kind(self.preparation))
            .map_or(0, Preparation::cycles);
        fit::step_of(tx, &shelved.record, self.added_to(before), done)
    }

    /// What the piece really did, beside what the book expected.
    fn expected(&self, step: &Step, was: Quantity, context: &Context<'_>) -> Done<String> {
        let Ok(real) = Ratio::new(was.get(), self.length.value().get()) else {
            return Ok(String::new());
        };
        let change = format!("it changed by {} lengthwise", real.change_text());
        Ok(match step {
            Ok(chosen) => {
                let raw = Micrometres::new(was.get())?;
                let expected = chosen.length.washed_from(raw)?.show(context.units());
                format!("{change}; {expected} was expected ({})", chosen.source)
            }
            Err(ShrinkageError::UnknownStep { .. }) => {
                format!("{change}; what a further wash would do to it was not known")
            }
            Err(_) => change,
        })
    }
}

/// Widths after preparation by the shrinkage that is known crosswise; else as they were, and said. What lies between the
/// selvedges is what a promise was worked out with.
fn computed_widths(
    context: &Context<'_>,
    step: &Step,
    before: Rectangle,
    notes: &mut Vec<String>,
) -> Done<Rectangle> {
    let chosen = step.as_ref().ok();
    let Some(width) =
        chosen.and_then(|chosen| chosen.width.map(|width| (width, &chosen.width_source)))
    else {
        notes.push(
            "its width was not measured and how it shrinks crosswise is unknown: the width was left as it is"
                .to_owned(),
        );
        return Ok(before);
    };
    let full = width.0.washed_from(before.full)?;
    let selvedges = full.less(width.0.washed_from(before.usable())?);
    let text = full.show_width(context.units());
    notes.push(format!(
        "its width was not measured: {text} was computed ({})",
        width.1
    ));
    Ok(Rectangle { full, selvedges })
}
