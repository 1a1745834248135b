//! Readings of a swatch that was washed or steamed.

use super::swatch;
use crate::{
    desk::{
        Desk, Entry, counter,
        detail::Detail,
        failure::{Done, Failure, invalid},
        perform::Perform,
    },
    promises,
    shelf::{doubts, lots, shelved::LotRecord},
};
use ellwand_contract::text::{NOTE, clean_text};
use ellwand_contract::{Problem, ProblemType, Typed, lots::LotChanged, wash::TestWash};
use ellwand_domain::{
    cloth::ClothFinding,
    code::BookingCode,
    quantity::Micrometres,
    setting::BookingKind,
    shrinkage::{Direction, Marks, WashTest},
};
use ellwand_storage::{Subject, WashTest as TestRow};

impl Perform for TestWash {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<LotChanged, Failure> {
        let record = LotRecord::load(desk, self.lot.get())?;
        if !record.kind().is_rectangle() {
            return Err(invalid(
                "lot",
                format!(
                    "{} is {}: only cloth and interlining are wash-tested",
                    self.lot,
                    record.kind()
                ),
            ));
        }
        let day = record.day(desk.context, self.date)?;
        let test = self.readings()?;
        let booking = desk.next_booking()?;
        let mut movements = Vec::new();
        let mut detail = Detail::None {};
        let mut notes = Vec::new();
        if let Some(swatch) = &self.swatch {
            let cut = swatch::cut(desk, booking, self.lot, swatch, day)?;
            notes.extend(cut.notes(desk.context, swatch));
            movements = cut.movements;
            detail = Detail::Parted { off: cut.off };
        }
        let number = desk
            .tx
            .wash_tests(record.lot.id)?
            .first()
            .map_or(1, |last| last.number + 1);
        let row = TestRow {
            id: desk.tx.next_numbers(counter::WASH_TEST, 1)?,
            lot_id: record.lot.id,
            number,
            booking_id: booking,
            on_date: day,
            test: serde_json::to_string(&test)
                .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?,
            note: clean_text("note", "note", NOTE, self.note.as_ref())?,
        };
        desk.tx.insert_wash_test(&row)?;
        let settled = promises::resettle_lot(
            desk,
            booking,
            &record,
            &format!("wash test {number} of {}", self.lot),
        )?;
        let change = test
            .ratio(Direction::Lengthwise, u8::MAX)
            .map_or(String::new(), |(ratio, _)| {
                format!(", {} lengthwise", ratio.change_text())
            });
        let summary = format!(
            "Wash test {number} of {} {}{change}.",
            self.lot, record.material.name
        );
        let mut entry = Entry::new(BookingKind::Tested, day, summary);
        entry.subjects = vec![(Subject::Lot, record.lot.id)];
        entry.movements = movements;
        entry.detail = detail;
        desk.book(booking, entry)?;
        Ok(LotChanged {
            booking: BookingCode::new(booking),
            lot: lots::show::view(desk, record.lot.id)?,
            changed: promises::views(desk, &settled.changed)?,
            broken: promises::views(desk, &settled.broken)?,
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
        let marks = |typed: &[Typed<Micrometres>]| {
            typed.iter().map(|mark| mark.value()).collect::<Vec<_>>()
        };
        let cycles = self.length_after.len();
        if !self.width_before.is_empty() && self.width_after.len() != cycles {
            let detail = format!(
                "{cycles} cycles were read lengthwise and {} crosswise",
                self.width_after.len()
            );
            return Err(invalid("width_after", detail)
                .with("lengthwise", cycles)
                .with("crosswise", self.width_after.len()));
        }
        let washes = usize::from(self.preparation.cycles());
        if washes > cycles && washes.checked_rem(cycles).is_some_and(|rest| rest != 0) {
            let detail = format!(
                "{} with {cycles} readings: which washes were they read after?",
                self.preparation
            );
            return Err(Problem::from(invalid("length_after", detail))
                .hint("give one reading after each wash, or one after the last, as in --length 35cm=33.4cm")
                .with("washes", washes)
                .with("readings", cycles)
                .into());
        }
        let before = Marks {
            lengthwise: marks(&self.length_before),
            crosswise: marks(&self.width_before),
        };
        let after = self
            .length_after
            .iter()
            .enumerate()
            .map(|(cycle, lengthwise)| Marks {
                lengthwise: marks(lengthwise),
                crosswise: self
                    .width_after
                    .get(cycle)
                    .map(|typed| marks(typed))
                    .unwrap_or_default(),
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
            doubts::ask(
                "the swatch shows",
                ["length_after", "width_after"],
                &doubts,
                self.really,
            )?;
        }
        Ok(test)
    }
}
