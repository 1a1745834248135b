//! `ellwand value`: what was on the shelf and in garments at the end of a day, by kind.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table},
    verb::Run,
};
use chrono::NaiveDate;
use ellwand_contract::{
    month::{GetMonth, Month},
    typed,
};

/// Show what the shelf and the garments in work were worth at the end of a day
///
/// By kind, with charges and less credits, as the closing of `ellwand month` has it; what customers own counts nowhere. `ellwand
/// shelf --on` has the same by piece.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand value --on 2026-10-31")]
pub struct Args {
    /// The day
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    on: NaiveDate,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let answer = context.call(&GetMonth {
            from: Some(self.on),
            to: Some(self.on),
            ..GetMonth::default()
        })?;
        if context.json(&answer)? {
            return Ok(());
        }
        let shown = context.shown()?;
        let day = self.on;
        let currency = &answer.currency;
        context
            .ui
            .heading(format!("At the end of {day}, in {currency}"));
        context.ui.table(&table(shown, &answer));
        context.ui.notes(&answer.notes);
        Ok(())
    }
}

fn table(shown: Shown, answer: &Month) -> Table {
    let mut table = Table::headed("kind | >on hand | >value");
    for goods in &answer.goods {
        let (on_hand, value) = (shown.net(goods.at_end.amount), goods.at_end.value);
        if !on_hand.is_empty() || value.is_some_and(|value| value.get() != 0) {
            table.row([goods.kind.to_string(), on_hand, shown.optional_value(value)]);
        }
    }
    if let (Some(shelf), Some(garments)) = (answer.shelf_value, answer.in_garments) {
        table.rule();
        table.row(["on the shelf", "", &shown.value(shelf)]);
        table.row(["in garments not delivered", "", &shown.value(garments)]);
    }
    table
}
