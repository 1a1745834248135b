//! `ellwand workshop` without a command.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, time::since},
    verb::Verb,
};
use ellwand_contract::workshop::{GetWorkshop, OverheadRate, Workshop};
use ellwand_domain::quantity::{Millionths, Minutes};

impl Verb for GetWorkshop {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(context, &answer);
        if answer.rates_shown && answer.pay_rates.is_empty() {
            context.ui.hint(
                "hours cost nothing yet; set a rate with: ellwand workshop pay-rate owner 24.00",
            );
        }
        Ok(())
    }
}

/// Settings and rates.
pub(super) fn show(context: &mut Context<'_, '_>, workshop: &Workshop) {
    let shown = Shown::new(
        context.typed_units().unwrap_or(workshop.units),
        &workshop.currency,
    );
    let fixed = if workshop.currency_fixed {
        " (fixed by what is booked)"
    } else {
        ""
    };
    let mut table = Table::headed("setting | value");
    if let Some(name) = &workshop.name {
        table.row(["name", name]);
    }
    if !workshop.address.is_empty() {
        table.row(["address", &workshop.address.join(", ")]);
    }
    table.row(["currency", &format!("{}{fixed}", workshop.currency)]);
    table.row(["time zone", &workshop.zone]);
    table.row(["units", workshop.units.word()]);
    table.row(["cutting step", &shown.width(workshop.cutting_step_m)]);
    table.row(["end allowance", &shown.width(workshop.end_allowance_m)]);
    let (length, width) = (
        shown.width(workshop.offcut_length_m),
        shown.width(workshop.offcut_width_m),
    );
    table.row(["offcuts kept from", &format!("{length} x {width}")]);
    table.row(["a kept side strip is worth", workshop.strip_value.word()]);
    table.row(["thread and trims valued by", workshop.pooled_method.word()]);
    table.row(["prices on quotations", workshop.prices_shown.word()]);
    table.row([
        "tax rounded",
        &format!("{}, per {}", workshop.tax_rounding, workshop.tax_place),
    ]);
    let step = workshop
        .cash_step
        .as_ref()
        .map(|step| format!("in steps of {step}"));
    table.row(["cash paid", step.as_deref().unwrap_or("to the minor unit")]);
    for rate in &workshop.tax_rates {
        table.row(["tax", &format!("{} {} %", rate.name, rate.percent)]);
    }
    for reclaim in &workshop.tax_reclaims {
        let effect = if reclaim.reclaimed {
            "reclaimed, no cost"
        } else {
            "a cost"
        };
        table.row([
            "tax on purchases",
            &format!("{effect}, from {} on", reclaim.from),
        ]);
    }
    if let Some(day) = workshop.closed_to {
        table.row(["books closed up to", &day.to_string()]);
    }
    context.ui.table(&table);
    let rates = rates(shown, workshop);
    if !rates.is_empty() {
        context.ui.blank();
        context.ui.table(&rates);
    }
}

fn rates(shown: Shown, workshop: &Workshop) -> Table {
    let mut rates = Table::headed("rate | >per hour | from |");
    for rate in &workshop.pay_rates {
        let paid = if rate.paid { "paid" } else { "" };
        let who = match rate.kind {
            Some(kind) => format!("{}, {kind} work", rate.person),
            None => rate.person.clone(),
        };
        rates.row([
            who,
            rate.per_hour.clone(),
            since(rate.from),
            paid.to_owned(),
        ]);
    }
    for rate in &workshop.overhead_rates {
        rates.row([
            "overhead".to_owned(),
            per_hour(rate),
            since(rate.from),
            ratio(shown, rate),
        ]);
    }
    rates
}

/// Per hour with four decimals, for people; the ratio itself is what counts.
fn per_hour(rate: &OverheadRate) -> String {
    let hour = rate
        .amount
        .0
        .share(60, rate.minutes)
        .unwrap_or(Millionths::ZERO);
    if rate.minutes == 60 {
        hour.decimal()
    } else {
        hour.rounded(4)
    }
}

fn ratio(shown: Shown, rate: &OverheadRate) -> String {
    match Minutes::new(rate.minutes) {
        Ok(minutes) if rate.minutes != 60 => format!("{} over {minutes}", shown.money(rate.amount)),
        _ => String::new(),
    }
}
