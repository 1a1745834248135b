//! Readings of a swatch that was washed or steamed.

use super::resettle_raw;
use crate::{
    context::{Context, Entry, counter},
    detail::{Detail, PieceBefore},
    doubts,
    failure::{Done, Failure, invalid},
    lots::{self, measure::before},
    perform::Perform,
    promises,
    shelved::{LotRecord, Shelved},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType, Typed,
    lots::LotChanged,
    wash::{SwatchInput, TestWash},
};
use ellwand_domain::{
    cloth::ClothFinding,
    code::BookingCode,
    ledger::{Account, AccountKind, CutOrder, LedgerError, Movement, Quantity},
    quantity::{Micrometres, Millionths},
    setting::{BookingKind, End},
    shrinkage::{Direction, Marks, WashTest},
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
        let day = record.tested_on(context, self.date)?;
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
        let washes = usize::from(self.preparation.cycles());
        if washes > cycles && washes.checked_rem(cycles).is_some_and(|rest| rest != 0) {
            let detail =
                format!("{} with {cycles} readings: which washes were they read after?", self.preparation);
            return Err(Problem::from(invalid("length_after", detail))
                .hint("give one reading after each wash, or one after the last")
                .into());
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
        let reach = u8::try_from(test.reach()).unwrap_or(u8::MAX);
        for washes in 1..=reach {
            let along = |direction| test.ratio(direction, washes).map(|(ratio, _)| ratio);
            let found = ClothFinding {
                lengthwise: along(Direction::Lengthwise),
                crosswise: along(Direction::Crosswise),
                ..ClothFinding::default()
            };
            let doubts = found.doubts_of_marks();
            doubts::ask("the swatch shows", ["length_after", "width_after"], &doubts, self.really)?;
        }
        Ok(test)
    }
}

/// Takes a swatch's length off its piece; the value stays, what lies beside it is waste.
fn cut_swatch(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    request: &TestWash,
    swatch: &SwatchInput,
    day: NaiveDate,
    movements: &mut Vec<Movement>,
) -> Done<(Shelved, PieceBefore)> {
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
    take_off_an_end(tx, context, &mut shelved, length)?;
    shelved.stored.piece.value = value;
    let from = Account::piece(shelved.stored.piece.id);
    movements.push(Movement::new(from, Account::new(AccountKind::NormalLoss, 0), length, Millionths::ZERO));
    promises::write_holds(tx, &shelved)?;
    shelved.save(tx, day)?;
    Ok((shelved, kept))
}

/// Cuts a swatch off the outer end, or off the inner one where promises or a flaw are in the way.
fn take_off_an_end(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &mut Shelved,
    length: Quantity,
) -> Done<()> {
    let mut refused = None;
    for end in [End::Outer, End::Inner] {
        let mut piece = shelved.stored.piece.clone();
        match piece.cut(&CutOrder { end, ..CutOrder::free(length) }) {
            Ok(effect) if effect.outer.is_none() => {
                shelved.stored.piece = piece;
                return Ok(());
            }
            Ok(_) => {}
            Err(error) => refused = Some(error),
        }
    }
    let error = match refused {
        Some(error) => error,
        None => LedgerError::CrossesFlaw {
            wanted: length,
            longest_free: shelved.stored.piece.longest_free().unwrap_or_default(),
        },
    };
    Err(promises::refusal(tx, context, shelved, "the swatch", &error)?.into())
}
