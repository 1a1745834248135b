//! Wash tests, and pieces that were washed or steamed.

use crate::{
    context::{Context, Entry, counter},
    detail::Detail,
    failure::{Done, Failure, invalid, wrong_state},
    fit,
    lots::{
        self, changed,
        measure::{before, correct, used_up},
    },
    perform::Perform,
    promises::{self, Settled},
    shelved::{LotRecord, Shelved},
};
use ellwand_contract::{
    Problem, ProblemType, Typed,
    lots::{LotChanged, PieceChanged},
    wash::{FinishWash, SwatchInput, TestWash},
};
use ellwand_domain::{
    code::BookingCode,
    ledger::{Account, AccountKind, CutOrder, Movement, Quantity},
    quantity::{Micrometres, Millionths},
    setting::BookingKind,
    shrinkage::{Direction, Marks, Preparation, Ratio, ShrinkageError, WashTest},
};
use ellwand_storage::{Subject, Tx, WashTest as TestRow};

impl Perform for TestWash {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<LotChanged, Failure> {
        let record = LotRecord::load(tx, self.lot.get())?;
        if !record.kind().is_rectangle() {
            return Err(invalid(
                "lot",
                format!("{} is {}: only cloth and interlining are wash-tested", self.lot, record.kind()),
            ));
        }
        let day = context.day(self.date)?;
        if day < record.lot.received {
            let detail = format!("on {day} {} had not come in: it did on {}", self.lot, record.lot.received);
            return Err(Problem::new(ProblemType::InvalidDate, detail)
                .field("date")
                .hint("use a later day")
                .into());
        }
        let test = self.readings()?;
        let booking = context.next_booking(tx)?;
        let mut movements = Vec::new();
        let mut swatched = None;
        let mut notes = Vec::new();
        if let Some(swatch) = &self.swatch {
            let (shelved, kept) = cut_swatch(tx, context, booking, self, swatch, day, &mut movements)?;
            notes.push(format!(
                "the swatch took {} off {}, its value stays",
                swatch.length.value().show(context.units()),
                shelved.code()
            ));
            swatched = Some(kept);
        }
        let number = tx.wash_tests(record.lot.id)?.first().map_or(1, |last| last.number + 1);
        let row = TestRow {
            id: tx.next_numbers(counter::WASH_TEST, 1)?,
            lot_id: record.lot.id,
            number,
            booking_id: booking,
            on_date: day,
            test: serde_json::to_string(&test)
                .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?,
            note: self.note.clone(),
        };
        tx.insert_wash_test(&row)?;
        let settled =
            resettle_raw(tx, context, booking, &record, &format!("wash test {number} of {}", self.lot))?;
        let change = test
            .ratio(Direction::Lengthwise, u8::MAX)
            .map_or(String::new(), |(ratio, _)| format!(", {} lengthwise", ratio.change_text()));
        let summary = format!("Wash test {number} of {} {}{change}.", self.lot, record.material.name);
        let mut entry = Entry::new(BookingKind::Tested, day, summary);
        entry.subjects = vec![(Subject::Lot, record.lot.id)];
        entry.movements = movements;
        entry.detail = Detail::Tested { lot: record.lot.id, before: swatched };
        context.book(tx, booking, entry)?;
        Ok(LotChanged {
            booking: BookingCode::new(booking),
            lot: lots::show::view(tx, context, record.lot.id)?,
            changed: promises::views(tx, context, &settled.changed)?,
            broken: promises::views(tx, context, &settled.broken)?,
            notes,
        })
    }
}

trait Readings {
    fn readings(&self) -> Done<WashTest>;
}

impl Readings for TestWash {
    /// The readings as a test: every cycle has both directions, or one direction was not tested at all.
    fn readings(&self) -> Done<WashTest> {
        let marks = |typed: &[Typed<Micrometres>]| typed.iter().map(|mark| mark.value()).collect::<Vec<_>>();
        let cycles = self.length_after.len();
        if !self.width_before.is_empty() && self.width_after.len() != cycles {
            let detail =
                format!("{cycles} cycles were read lengthwise and {} crosswise", self.width_after.len());
            return Err(invalid("width_after", detail));
        }
        let before = Marks { lengthwise: marks(&self.length_before), crosswise: marks(&self.width_before) };
        let after = self
            .length_after
            .iter()
            .enumerate()
            .map(|(cycle, lengthwise)| Marks {
                lengthwise: marks(lengthwise),
                crosswise: self.width_after.get(cycle).map(|typed| marks(typed)).unwrap_or_default(),
            })
            .collect();
        let test = WashTest::new(self.preparation, before, after)
            .map_err(|error| invalid("length_after", error.to_string()))?;
        for direction in [Direction::Lengthwise, Direction::Crosswise] {
            if let Some((ratio, _)) = test.ratio(direction, u8::MAX) {
                check_plausible(ratio, self.really)?;
            }
        }
        Ok(test)
    }
}

/// Refuses growth beyond 20 % that was not confirmed.
pub(crate) fn check_plausible(ratio: Ratio, really: bool) -> Done<()> {
    ratio.check_plausible(really).map_err(|error| match error {
        ShrinkageError::Implausible { .. } => Problem::new(ProblemType::NeedsConfirmation, error.to_string())
            .hint("measure again; if it is so, say --really")
            .into(),
        other => invalid("length_after", other.to_string()),
    })
}

/// Takes a swatch's length off its piece; the value stays, what lies beside it is waste.
fn cut_swatch(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    request: &TestWash,
    swatch: &SwatchInput,
    day: chrono::NaiveDate,
    movements: &mut Vec<Movement>,
) -> Done<(Shelved, crate::detail::PieceBefore)> {
    let mut shelved = Shelved::load(tx, swatch.piece)?;
    if shelved.record.lot.id != request.lot.get() {
        return Err(invalid("swatch.piece", format!("{} is not a piece of {}", swatch.piece, request.lot)));
    }
    shelved.check_day(day)?;
    let usable = shelved.stored.piece.rectangle.map(|rectangle| rectangle.usable()).unwrap_or_default();
    if swatch.width.value() > usable {
        let detail = format!(
            "the swatch is {} wide, {} has {} usable",
            swatch.width.text(),
            swatch.piece,
            usable.show_width(context.units())
        );
        return Err(invalid("swatch.width", detail));
    }
    promises::end_overdue(tx, context, booking, &mut shelved)?;
    let kept = before(&mut shelved);
    let (length, value): (Quantity, Millionths) = (swatch.length.value().into(), shelved.stored.piece.value);
    if length >= shelved.stored.piece.quantity {
        let detail = format!("the swatch would be all of {}", swatch.piece);
        return Err(invalid("swatch.length", detail));
    }
    if let Err(error) = shelved.stored.piece.cut(&CutOrder::free(length)) {
        return Err(promises::refusal(tx, context, &shelved, "the swatch", &error)?.into());
    }
    shelved.stored.piece.value = value;
    let from = Account::piece(shelved.stored.piece.id);
    movements.push(Movement::new(from, Account::new(AccountKind::NormalLoss, 0), length, Millionths::ZERO));
    promises::write_holds(tx, &shelved)?;
    shelved.save(tx, day)?;
    Ok((shelved, kept))
}

/// Looks again at the promises on a lot's raw pieces, whose shrinkage is another now.
pub(crate) fn resettle_raw(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    record: &LotRecord,
    because: &str,
) -> Done<Settled> {
    let mut all = Settled::default();
    for stored in tx.pieces_of_lot(record.lot.id)? {
        if stored.preparation.is_some() || stored.piece.holds.is_empty() {
            continue;
        }
        let mut shelved = Shelved { stored, record: record.clone() };
        let settled = promises::resettle(tx, context, booking, &mut shelved, because)?;
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        all.changed.extend(settled.changed);
        all.broken.extend(settled.broken);
    }
    Ok(all)
}

impl Perform for FinishWash {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(tx, self.piece)?;
        let Some(rectangle) = shelved.stored.piece.rectangle else {
            return Err(invalid(
                "piece",
                format!(
                    "{} is {}: only cloth and interlining are prepared",
                    self.piece,
                    shelved.record.kind()
                ),
            ));
        };
        if self.preparation == Preparation::None {
            return Err(invalid("preparation", "\"none\" is nothing to have done: say washed or steamed"));
        }
        let day = context.day(self.date)?;
        shelved.check_day(day)?;
        if shelved.stored.piece.quantity.is_zero() {
            return Err(used_up(&shelved));
        }
        if let Some(was) = shelved.stored.preparation.filter(|was| !was.same_kind(self.preparation)) {
            let detail = format!("{} was {was} already", self.piece);
            return Err(wrong_state(
                detail,
                "undo that first, or measure the piece with ellwand lot measure",
            ));
        }
        let mut notes = Vec::new();
        let width = match &self.width {
            Some(width) => Some(width.value()),
            None => Some(computed_width(tx, self, &shelved, rectangle.full, &mut notes)?),
        };
        let booking = context.next_booking(tx)?;
        let was = shelved.stored.piece.quantity;
        let kept = before(&mut shelved);
        let mut movements = Vec::new();
        correct(&mut shelved, self.length.value().into(), width, true, self.really, &mut movements)?;
        shelved.stored.preparation = Some(self.added_to(shelved.stored.preparation));
        shelved.stored.prepared = Some(day);
        let because = format!("{} was {}", self.piece, self.preparation);
        let settled = promises::resettle(tx, context, booking, &mut shelved, &because)?;
        shelved.save(tx, day)?;
        notes.push(self.expected(tx, &shelved, was, context)?);
        let now = shelved.show(context, shelved.stored.piece.quantity);
        let summary = format!(
            "{} {} was {}: {} → {now}.",
            self.piece,
            shelved.record.material.name,
            self.preparation,
            shelved.show(context, was)
        );
        let mut entry = Entry::new(BookingKind::Prepared, day, summary);
        entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
        entry.movements = movements;
        entry.detail = Detail::Remeasured { before: kept };
        context.book(tx, booking, entry)?;
        notes.retain(|note| !note.is_empty());
        changed(tx, context, booking, &shelved, Vec::new(), settled, notes)
    }
}

trait Prepared {
    fn added_to(&self, before: Option<Preparation>) -> Preparation;
    fn expected(
        &self,
        tx: &mut Tx<'_>,
        shelved: &Shelved,
        was: Quantity,
        context: &Context<'_>,
    ) -> Done<String>;
}

impl Prepared for FinishWash {
    /// Washes add up.
    fn added_to(&self, before: Option<Preparation>) -> Preparation {
        match (before, self.preparation) {
            (Some(Preparation::Washed { times }), Preparation::Washed { times: more }) => {
                Preparation::Washed { times: times.saturating_add(more) }
            }
            (_, preparation) => preparation,
        }
    }

    /// What the piece really did, beside what the book expected.
    fn expected(
        &self,
        tx: &mut Tx<'_>,
        shelved: &Shelved,
        was: Quantity,
        context: &Context<'_>,
    ) -> Done<String> {
        let Ok(real) = Ratio::new(was.get(), self.length.value().get()) else { return Ok(String::new()) };
        let told = format!("it changed by {} lengthwise", real.change_text());
        Ok(match fit::shrinkage_of(tx, &shelved.record, self.preparation)? {
            Ok(chosen) => {
                let raw = Micrometres::new(was.get())?;
                let expected = chosen.length.washed_from(raw)?.show(context.units());
                format!("{told}; {expected} was expected ({})", chosen.source)
            }
            Err(_) => told,
        })
    }
}

/// Full width after preparation by the shrinkage that is known crosswise; else as it was, and said.
fn computed_width(
    tx: &mut Tx<'_>,
    request: &FinishWash,
    shelved: &Shelved,
    full: Micrometres,
    notes: &mut Vec<String>,
) -> Done<Micrometres> {
    let chosen = fit::shrinkage_of(tx, &shelved.record, request.preparation)?;
    let Some(width) = chosen.ok().and_then(|chosen| chosen.width.map(|width| (width, chosen.width_source)))
    else {
        notes.push(
            "its width was not measured and how it shrinks crosswise is unknown: the width was left"
                .to_owned(),
        );
        return Ok(full);
    };
    let narrower = width.0.washed_from(full)?;
    let text = narrower.show_width(ellwand_domain::quantity::Units::Metric);
    notes.push(format!("its width was not measured: {text} was computed ({})", width.1));
    Ok(narrower)
}
