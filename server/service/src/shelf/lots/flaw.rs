//! Flaws across the width.

use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::Traced,
    },
    promises,
    shelf::{lots::changed, shelved::Shelved},
};
use chrono::NaiveDate;
use ellwand_contract::lots::{MarkFlaw, PieceChanged, RemoveFlaw};
use ellwand_contract::text::{NOTE, clean_text, counted};
use ellwand_domain::{
    ledger::Flaw,
    quantity::Micrometres,
    setting::{BookingKind, Facet},
};
use ellwand_storage::Subject;

impl Perform for MarkFlaw {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(desk, self.piece)?;
        let length = self
            .length
            .as_ref()
            .map_or(Micrometres::ZERO, |length| length.value());
        let note = clean_text("note", "note", NOTE, Some(&self.note))?;
        let flaw = Flaw {
            at: self.at.value().get(),
            length: length.get(),
            note: note.clone().unwrap_or_default(),
        };
        let flaws = shelved.stored.piece.flaws.clone();
        let what_for = format!("the flaw at {}", self.at.text());
        if let Err(error) = shelved.stored.piece.mark_flaw(flaw) {
            return Err(promises::refusal(desk, &shelved, &what_for, &error)?.into());
        }
        let at = self.at.value().show(desk.context.units());
        let what = note.map_or_else(String::new, |note| format!(" ({note})"));
        let summary = format!("Marked a flaw in {} at {at}{what}.", shelved.code());
        flawed(desk, shelved, flaws, self.date, summary)
    }
}

impl Perform for RemoveFlaw {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(desk, self.piece)?;
        let flaws = shelved.stored.piece.flaws.clone();
        let Some(index) = self
            .flaw
            .checked_sub(1)
            .filter(|index| *index < flaws.len())
        else {
            let detail = format!(
                "{} has {}; there is no flaw {}",
                shelved.code(),
                counted(flaws.len(), "flaw"),
                self.flaw
            );
            return Err(invalid("flaw", detail)
                .with("wanted", self.flaw)
                .with("most", flaws.len()));
        };
        shelved.stored.piece.remove_flaw(index);
        let summary = format!("Removed flaw {} from {}.", self.flaw, shelved.code());
        flawed(desk, shelved, flaws, self.date, summary)
    }
}

fn flawed(
    desk: &mut Desk<'_>,
    mut shelved: Shelved,
    before: Vec<Flaw>,
    date: Option<NaiveDate>,
    summary: String,
) -> Done<PieceChanged> {
    let day = desk.context.day(date)?;
    shelved.check_day(day)?;
    let booking = desk.next_booking()?;
    let because = format!("a flaw divides {}", shelved.code());
    let settled = promises::resettle(desk, booking, &mut shelved, &because)?;
    let last_on = shelved.stored.last_on;
    shelved.save(desk, last_on)?;
    let mut entry = Entry::new(BookingKind::Flawed, day, summary);
    entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
    let piece = shelved.stored.piece.id;
    entry.traces = vec![Traced::wrote(Facet::Flaws, piece, &before)?];
    desk.book(booking, entry)?;
    changed(desk, booking, &shelved, Vec::new(), settled, Vec::new())
}
