//! `ellwand audit`: proves the book from its ledger.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right},
};
use ellwand_contract::audit::RunAudit;

/// Prove the book's rules from the ledger alone
///
/// Balances, values, purchases and promises are computed anew from the movements and compared with what the book says.
/// Exit code 1 when something is off.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand audit")]
pub struct Args {}

/// Runs it.
///
/// # Errors
/// [`CommandError::Findings`] when something is off; else as the call.
pub fn run(_args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&RunAudit {})?;
    let findings = answer.findings.len();
    if context.json(&answer)? {
        return if findings == 0 {
            Ok(())
        } else {
            Err(CommandError::Findings(findings))
        };
    }
    let mut counts = Table::new([left("proved"), right("number")]);
    let rows = [
        ("bookings", answer.bookings),
        ("movements", answer.movements),
        ("pieces", answer.pieces),
        ("cost layers", answer.layers),
        ("purchases", answer.purchases),
        ("stretches", answer.stretches),
    ];
    for (name, number) in rows {
        counts.row([name.to_owned(), number.to_string()]);
    }
    context.ui.table(&counts);
    if findings == 0 {
        context.ui.status("The book is in order.");
        return Ok(());
    }
    let mut table = Table::new([right("rule"), left("record"), left("what is off")]);
    for finding in &answer.findings {
        table.row([
            finding.rule.to_string(),
            finding.record.clone(),
            finding.detail.clone(),
        ]);
    }
    context.ui.blank();
    context.ui.table(&table);
    Err(CommandError::Findings(findings))
}
