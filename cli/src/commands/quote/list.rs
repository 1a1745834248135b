//! `ellwand quote list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right},
};
use ellwand_contract::quotations::{ListQuotations, QuotationHead};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    setting::QuotationState,
};

/// List quotations, newest first
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand quote list\n  ellwand quote list --state open")]
pub struct Args {
    /// Only in this state: open, accepted, closed, cancelled
    #[arg(long)]
    state: Option<QuotationState>,
    /// Only for this garment
    #[arg(long)]
    garment: Option<GarmentCode>,
    /// Those before this one
    #[arg(long, value_name = "QUOTATION")]
    before: Option<QuotationCode>,
    /// Rows a page
    #[arg(long, value_name = "N")]
    limit: Option<u32>,
}

/// The garment, and what a supplement is to.
fn named(head: &QuotationHead) -> String {
    match head.supplement_to {
        Some(to) => format!("{}, supplement to {to}", head.name),
        None => head.name.clone(),
    }
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = ListQuotations {
        state: args.state,
        garment: args.garment,
        before: args.before,
        limit: args.limit,
    };
    let page = context.call(&act)?;
    if context.json(&page)? {
        return Ok(());
    }
    if page.quotations.is_empty() {
        context.ui.status("No quotations here yet.");
        context
            .ui
            .hint("make one with ellwand quote make GARMENT --margin 35%");
        return Ok(());
    }
    let columns = [
        left("quotation"),
        right("version"),
        left("garment"),
        left(""),
        left("date"),
    ];
    let mut table = Table::new(columns.into_iter().chain([
        left("valid until"),
        right("to pay"),
        left(""),
        left("state"),
    ]));
    for head in &page.quotations {
        table.row([
            head.quotation.to_string(),
            head.version.to_string(),
            head.garment.to_string(),
            named(head),
            head.date.to_string(),
            head.valid_until.to_string(),
            if head.is_offer {
                head.gross.clone()
            } else {
                "not priced".to_owned()
            },
            head.currency.clone(),
            head.state.to_string(),
        ]);
    }
    context.ui.table(&table);
    if let Some(last) = page.quotations.last().filter(|_| page.more) {
        context.ui.hint(format!(
            "there are more: ellwand quote list --before {}",
            last.quotation
        ));
    }
    Ok(())
}
