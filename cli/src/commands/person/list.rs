//! `ellwand person list`.

use super::table;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::people::ListPeople;

pub(super) fn run(context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&ListPeople {})?;
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.people.is_empty() {
        context
            .ui
            .status("Nobody yet: whoever books first is the first one.");
        context
            .ui
            .hint("name someone with: ellwand person set anna --paid");
        return Ok(());
    }
    context.ui.table(&table(&answer.people));
    Ok(())
}
