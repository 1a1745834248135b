//! The workshop's own words of what customers read.

use super::{Sets, change, fault};
use crate::desk::{
    Desk,
    failure::{Done, invalid},
};
use ellwand_contract::{
    Problem, json,
    words::{SetWords, Words, slips},
    workshop::Workshop,
};

impl Sets for SetWords {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let found = slips(&self.words);
        if let Some((key, _)) = found.first() {
            let all: Vec<&str> = found.iter().map(|(_, slip)| slip.as_str()).collect();
            return Err(
                Problem::from(invalid(&format!("words.{key}"), all.join("; ")))
                    .hint("ellwand quote words prints all labels")
                    .into(),
            );
        }
        let mut settings = desk.context.workshop.clone();
        settings.words = json::write(&self.words).map_err(fault)?;
        if settings.words == desk.context.workshop.words {
            return super::view(desk, &settings);
        }
        change(desk, settings, "words of sheets")
    }
}

/// The words as they are kept.
pub(crate) fn words(workshop: &ellwand_storage::Workshop) -> Done<Words> {
    json::read(&workshop.words).map_err(fault)
}
