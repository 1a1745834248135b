//! The workshop's own words of what customers read.

use super::{change, fault};
use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure, invalid},
    perform::Perform,
    trace::Traced,
};
use ellwand_contract::{
    Problem, json,
    words::{SetWords, Words, slips},
    workshop::Workshop,
};
use ellwand_domain::setting::{BookingKind, Facet};

/// What the words are called where a change of them is described.
pub(crate) const WORDS: &str = "words of sheets";

impl Perform for SetWords {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Workshop, Failure> {
        let found = slips(&self.words);
        if let Some((key, _)) = found.first() {
            let all: Vec<&str> = found.iter().map(|(_, slip)| slip.as_str()).collect();
            return Err(
                Problem::from(invalid(&format!("words.{key}"), all.join("; ")))
                    .hint("ellwand quote words prints all labels")
                    .into(),
            );
        }
        let before = desk.context.workshop.words.clone();
        let mut settings = desk.context.workshop.clone();
        settings.words = json::write(&self.words).map_err(fault)?;
        if settings.words == before {
            return super::view(desk, &settings);
        }
        let booking = desk.next_booking()?;
        let today = desk.context.today;
        let mut entry = Entry::new(BookingKind::Set, today, "Set the words of sheets.");
        entry
            .traces
            .push(Traced::wrote(Facet::Setting, 0, &before)?.part(WORDS));
        desk.book(booking, entry)?;
        change(desk, settings, WORDS)
    }
}

/// The words as they are kept.
pub(crate) fn words(workshop: &ellwand_storage::Workshop) -> Done<Words> {
    json::read(&workshop.words).map_err(fault)
}
