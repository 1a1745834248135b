//! `ellwand garment list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right},
};
use ellwand_contract::garments::ListGarments;
use ellwand_domain::setting::GarmentState;

/// List garments, newest first
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment list\n  ellwand garment list --state cut-into"
)]
pub struct Args {
    /// Only in this state: planned, cut-into, finished, delivered, cancelled
    #[arg(long)]
    state: Option<GarmentState>,
    /// Go on after this cursor of the page before
    #[arg(long, value_name = "CURSOR")]
    after: Option<String>,
    /// Rows a page, at most 200
    #[arg(long, value_name = "N")]
    limit: Option<u32>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = ListGarments {
        state: args.state,
        after: args.after.clone(),
        limit: args.limit,
    };
    let page = context.call(&act)?;
    if context.json(&page)? {
        return Ok(());
    }
    if page.garments.is_empty() {
        context.ui.status("No garments here yet.");
        context.ui.hint("plan one with ellwand garment plan");
        return Ok(());
    }
    let columns = [
        left("garment"),
        left("name"),
        right("count"),
        left("for"),
        left("due"),
        left("state"),
    ];
    let mut table = Table::new(columns);
    for garment in &page.garments {
        table.row([
            garment.garment.to_string(),
            garment.name.clone(),
            garment.count.to_string(),
            garment.customer.clone().unwrap_or_default(),
            garment.due.map_or_else(String::new, |due| due.to_string()),
            garment.state.to_string(),
        ]);
    }
    context.ui.table(&table);
    if let Some(next) = &page.meta.next {
        context.ui.hint(format!(
            "there are more: ellwand garment list --after {next}"
        ));
    }
    Ok(())
}
