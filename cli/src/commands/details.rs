//! `ellwand details`: what details took and were worth.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, headed, paragraph, right, time::minutes},
    verb::Verb,
};
use ellwand_contract::{
    details::{DetailWorth, Details, ListDetails},
    text::counted,
};

impl Verb for ListDetails {
    fn show(&self, answer: Details, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.details.is_empty() {
            empty(self, context);
            return Ok(());
        }
        show(context, &answer)
    }
}

fn empty(args: &ListDetails, context: &mut Context<'_, '_>) {
    match &args.detail {
        Some(name) => context
            .ui
            .status(format!("No finished garment has a detail {name}.")),
        None => context.ui.status("No finished garment has a detail yet."),
    }
    context.ui.hint(
        "name it in the plan: --operation 'name=hem,kind=hand,planned=2h,detail=hand-rolled hem'; finish the garment, \
         then rate it: ellwand garment rate G1 'hand-rolled hem' 4",
    );
}

fn show(context: &mut Context<'_, '_>, answer: &Details) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let priced = answer.details.iter().any(|of| of.cost.is_some());
    let heads = headed("detail | >garments | >time for one | >from | >to");
    let cost = [right(&answer.currency), right("from"), right("to")];
    let cost = cost.into_iter().filter(|_| priced);
    let worth = headed(">worth | >ratings");
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
        let cost = cost.into_iter().filter(|_| priced);
        table.row(own.into_iter().chain(time).chain(cost).chain(worth));
    }
    ui.table(&table);
    for of in answer.details.iter().filter(|of| of.unpriced_minutes > 0) {
        paragraph::show(ui, 0, &unpriced(of));
    }
    if answer.details.iter().all(|of| of.ratings == 0) {
        ui.hint("rate one with: ellwand garment rate G1 'hand-rolled hem' 4");
    }
    if answer.more {
        let newest = counted(answer.garments, "garment");
        ui.hint(format!(
            "only the newest {newest} were looked at; add --limit for more"
        ));
    }
    Ok(())
}

fn unpriced(of: &DetailWorth) -> String {
    format!(
        "not priced: {} of {}, without a pay rate",
        minutes(of.unpriced_minutes),
        of.detail
    )
}
