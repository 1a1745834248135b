//! Opening books again that were closed.

use super::{Case, Effect, cannot};
use crate::failure::Done;
use chrono::NaiveDate;
use ellwand_domain::setting::Grant;
use ellwand_storage::Tx;

impl Case<'_, '_> {
    /// The books are closed up to the day before again; whoever may close them may open them.
    pub(super) fn closed(&self, tx: &mut Tx<'_>, before: Option<NaiveDate>, to: NaiveDate) -> Done<Effect> {
        self.context.caller.needs(Grant::Books)?;
        let mut workshop = self.context.workshop.clone();
        if workshop.closed_to != Some(to) {
            let now = workshop
                .closed_to
                .map_or_else(|| "not closed".to_owned(), |day| format!("closed up to {day}"));
            return Err(cannot(format!("the books are {now} by a later closing"), "take that back first"));
        }
        workshop.closed_to = before;
        workshop.version += 1;
        workshop.changed_by = Some(self.context.caller.name.clone());
        workshop.changed_at = Some(self.context.now.naive_utc());
        workshop.changed_what = Some("closing of the books".to_owned());
        tx.save_workshop(&workshop)?;
        Ok(Effect::default())
    }
}
