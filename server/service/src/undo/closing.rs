//! Opening books again that were closed.

use super::{Case, Effect, cannot};
use crate::{failure::Done, workshop};
use chrono::NaiveDate;
use ellwand_domain::setting::Grant;
use ellwand_storage::Tx;

impl Case<'_, '_> {
    /// The books are closed up to the day before again; whoever may close them may open them.
    pub(super) fn closed(
        &self,
        tx: &mut Tx<'_>,
        before: Option<NaiveDate>,
        to: NaiveDate,
    ) -> Done<Effect> {
        self.context.caller.needs(Grant::Books)?;
        let mut settings = self.context.workshop.clone();
        if settings.closed_to != Some(to) {
            let now = settings.closed_to.map_or_else(
                || "not closed".to_owned(),
                |day| format!("closed up to {day}"),
            );
            return Err(cannot(
                format!("the books are {now} by a later closing"),
                "take that back first",
            ));
        }
        settings.closed_to = before;
        workshop::save(tx, self.context, settings, workshop::CLOSING)?;
        Ok(Effect::default())
    }
}
