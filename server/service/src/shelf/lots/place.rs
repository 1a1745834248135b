//! Where a piece lies.

use super::changed;
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::Traced,
    },
    promises::Settled,
    shelf::shelved::Shelved,
};
use ellwand_contract::lots::{PieceChanged, PlacePiece};
use ellwand_contract::text::{LINE, clean_text};
use ellwand_domain::setting::{BookingKind, Facet};
use ellwand_storage::Subject;

impl Perform for PlacePiece {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(desk, self.piece)?;
        let place = parse_place(&self.place)?;
        let day = desk.context.day(self.date)?;
        shelved.check_day(day)?;
        let before = shelved.stored.place.replace(place.clone());
        let trace = Traced::wrote(Facet::Place, shelved.stored.piece.id, &before)?;
        let booking = desk.next_booking()?;
        let last_on = shelved.stored.last_on;
        shelved.save(desk, last_on)?;
        let summary = format!(
            "Put {} {} in {place}.",
            shelved.code(),
            shelved.record.material.name
        );
        let mut entry = Entry::new(BookingKind::Placed, day, summary);
        entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
        entry.traces.push(trace);
        desk.book(booking, entry)?;
        changed(
            desk,
            booking,
            &shelved,
            Vec::new(),
            Settled::default(),
            Vec::new(),
        )
    }
}

/// A place with something in it.
pub(super) fn parse_place(place: &String) -> Done<String> {
    let place = clean_text("place", "place", LINE, Some(place))?;
    place.ok_or_else(|| {
        invalid(
            "place",
            "the place is empty; give a shelf, a box or a drawer",
        )
    })
}
