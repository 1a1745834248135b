//! `ellwand details`: what details took and were worth.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, paragraph, right, time::minutes},
};
use ellwand_contract::{
    details::{DetailWorth, Details, ListDetails},
    text::counted,
};

/// Show what details take across garments that were made, against what they were worth
///
/// The detail whose effort pays least comes first: by what a point of its rating costs. Time and money are for one garment:
/// the one in the middle, with the lowest and the highest; own mistakes and customers' changes are left out.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand details\n  ellwand details --detail 'hand-rolled hem'"
)]
pub struct Args {
    /// Only this one
    #[arg(long, value_name = "NAME")]
    detail: Option<String>,
    /// Look at so many garments, the newest [default: 200]
    #[arg(long, value_name = "N")]
    limit: Option<u32>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&ListDetails {
        detail: args.detail.clone(),
        limit: args.limit,
    })?;
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.details.is_empty() {
        empty(args, context);
        return Ok(());
    }
    show(context, &answer)
}

fn empty(args: &Args, context: &mut Context<'_, '_>) {
    match &args.detail {
        Some(name) => context
            .ui
            .status(format!("No garment that was made has a detail {name}.")),
        None => context
            .ui
            .status("No garment that was made has a detail yet."),
    }
    context.ui.hint(
        "name it in the plan: --operation 'name=hem,kind=hand,planned=2h,detail=hand-rolled hem'; finish the garment, \
         then rate it: ellwand garment rate G1 'hand-rolled hem' 4",
    );
}

fn show(context: &mut Context<'_, '_>, answer: &Details) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let told = answer.details.iter().any(|of| of.cost.is_some());
    let heads = [
        left("detail"),
        right("garments"),
        right("time for one"),
        right("from"),
        right("to"),
    ];
    let cost = [right(&answer.currency), right("from"), right("to")];
    let cost = cost.into_iter().filter(|_| told);
    let worth = [right("worth"), right("ratings")];
    let mut table = Table::new(heads.into_iter().chain(cost).chain(worth));
    for of in &answer.details {
        let time = of.minutes.map_or_else(Default::default, |of| {
            [of.median, of.low, of.high].map(minutes)
        });
        let cost = of.cost.map_or_else(Default::default, |of| {
            [of.median, of.low, of.high].map(|amount| shown.value(amount))
        });
        let cost = if of.unpriced_minutes > 0 {
            ["not priced", "", ""].map(str::to_owned)
        } else {
            cost
        };
        let worth = [of.rated.clone().unwrap_or_default(), of.ratings.to_string()];
        let own = [of.detail.clone(), of.garments.to_string()];
        let cost = cost.into_iter().filter(|_| told);
        table.row(own.into_iter().chain(time).chain(cost).chain(worth));
    }
    ui.table(&table);
    for of in answer.details.iter().filter(|of| of.unpriced_minutes > 0) {
        paragraph::show(ui, 0, &unpriced(of));
    }
    if answer.details.iter().all(|of| of.ratings == 0) {
        ui.hint("say what one was worth with: ellwand garment rate G1 'hand-rolled hem' 4");
    }
    if answer.more {
        let newest = counted(answer.garments, "garment");
        ui.hint(format!(
            "only the newest of them were looked at, {newest}; look at more with --limit"
        ));
    }
    Ok(())
}

fn unpriced(of: &DetailWorth) -> String {
    format!(
        "not priced: {} of {}, for want of a pay rate",
        minutes(of.unpriced_minutes),
        of.detail
    )
}
