//! `ellwand person show`.

use super::{mark, table};
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::people::{GetPerson, Person};

impl Verb for GetPerson {
    fn show(&self, answer: Person, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.table(&table(std::slice::from_ref(&answer)));
        let day = answer.made_at.date_naive();
        context.ui.status(format!(
            "Hours of {} are {}; first named on {day} by {}.",
            answer.person,
            mark(answer.paid),
            answer.made_by
        ));
        Ok(())
    }
}
