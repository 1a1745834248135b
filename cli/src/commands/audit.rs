//! `ellwand audit`: proves the book from its ledger.

use crate::{command_error::CommandError, context::Context, ui::Table, verb::Run};
use ellwand_contract::audit::{Audit, RunAudit};

impl Run for RunAudit {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let audit = context.call(&self)?;
        if !context.json(&audit)? {
            show(&audit, context);
        }
        match audit.findings.len() {
            0 => Ok(()),
            findings => Err(CommandError::Findings(findings)),
        }
    }
}

fn show(answer: &Audit, context: &mut Context<'_, '_>) {
    let mut counts = Table::headed("proved | >number");
    let rows = [
        ("bookings", answer.bookings),
        ("movements", answer.movements),
        ("pieces", answer.pieces),
        ("costs of thread and trims", answer.layers),
        ("purchases", answer.purchases),
        ("stretches", answer.stretches),
    ];
    for (name, number) in rows {
        counts.row([name.to_owned(), number.to_string()]);
    }
    context.ui.table(&counts);
    if answer.findings.is_empty() {
        context.ui.status("The book is in order.");
        return;
    }
    let mut table = Table::headed(">rule | record | what is off");
    for finding in &answer.findings {
        table.row([
            finding.rule.to_string(),
            finding.record.clone(),
            finding.detail.clone(),
        ]);
    }
    context.ui.blank();
    context.ui.table(&table);
}
