//! `ellwand workshop` without a command.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, time::since},
    verb::Verb,
};
use ellwand_contract::{
    quotations::Sender,
    workshop::{GetWorkshop, HousePriceRule, OverheadRate, Workshop},
};
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

/// A setting: the fields of the request that change it, its name and its value.
struct Setting(&'static [&'static str], &'static str, String);

/// All settings and rates.
fn show(context: &mut Context<'_, '_>, workshop: &Workshop) {
    let shown = how(context, workshop);
    let mut table = Table::headed("setting | value");
    for Setting(_, name, value) in settings(shown, workshop) {
        table.row([name, &value]);
    }
    for [name, value] in taxes(workshop) {
        table.row([name, value]);
    }
    if let Some(day) = workshop.closed_to {
        table.row(["books closed up to", &day.to_string()]);
    }
    context.ui.table(&table);
    let rates = rates(shown, workshop, |_| true);
    if !rates.is_empty() {
        context.ui.blank();
        context.ui.table(&rates);
    }
}

/// The settings that a request with these fields has changed.
pub(super) fn show_changed(
    context: &mut Context<'_, '_>,
    workshop: &Workshop,
    fields: &serde_json::Value,
) {
    let shown = how(context, workshop);
    let mut table = Table::headed("setting | value");
    for Setting(names, name, value) in settings(shown, workshop) {
        if names.iter().any(|field| !fields[*field].is_null()) {
            table.row([name, &value]);
        }
    }
    context.ui.table(&table);
}

/// Rates of a person, or of the overhead, where there are several.
pub(super) fn show_rates(context: &mut Context<'_, '_>, workshop: &Workshop, of: RateOf<'_>) {
    let table = rates(how(context, workshop), workshop, |other| other == of);
    if table.len() > 1 {
        context.ui.table(&table);
    }
}

/// Tax rates, and what counts for the tax on purchases, where there are several.
pub(super) fn show_taxes(context: &mut Context<'_, '_>, workshop: &Workshop) {
    let mut table = Table::headed("setting | value");
    for [name, value] in taxes(workshop) {
        table.row([name, value]);
    }
    if table.len() > 1 {
        context.ui.table(&table);
    }
}

fn how(context: &Context<'_, '_>, workshop: &Workshop) -> Shown {
    let units = context.typed_units().unwrap_or(workshop.units);
    Shown::new(units, &workshop.currency)
}

fn settings(shown: Shown, workshop: &Workshop) -> Vec<Setting> {
    let fixed = if workshop.currency_fixed {
        " (fixed by what is booked)"
    } else {
        ""
    };
    let mut settings = Vec::new();
    let Sender {
        name,
        address,
        telephone,
        tax_number,
        account,
        logo,
    } = &workshop.sender;
    let logo = logo.map(|logo| format!("picture {logo}"));
    let address = (!address.is_empty()).then(|| address.join(", "));
    let head: [(&[&str], &str, Option<&String>); 6] = [
        (&["name"], "name", name.as_ref()),
        (&["address"], "address", address.as_ref()),
        (&["telephone"], "telephone", telephone.as_ref()),
        (&["tax_number"], "tax number", tax_number.as_ref()),
        (&["account"], "account", account.as_ref()),
        (&["logo"], "logo", logo.as_ref()),
    ];
    settings.extend(
        head.into_iter()
            .filter_map(|(fields, name, value)| Some(Setting(fields, name, value?.clone()))),
    );
    let (length, width) = (
        shown.width(workshop.offcut_length_m),
        shown.width(workshop.offcut_width_m),
    );
    let step = workshop.cash_step.as_ref();
    let cash = step.map(|step| format!("in steps of {step}"));
    let rows: [(&[&str], &str, String); 10] = [
        (
            &["currency"],
            "currency",
            format!("{}{fixed}", workshop.currency),
        ),
        (&["zone"], "time zone", workshop.zone.clone()),
        (&["units"], "units", workshop.units.to_string()),
        (
            &["cutting_step"],
            "cutting step",
            shown.width(workshop.cutting_step_m),
        ),
        (
            &["end_allowance"],
            "end allowance",
            shown.width(workshop.end_allowance_m),
        ),
        (
            &["offcut_length", "offcut_width"],
            "offcuts kept from",
            format!("{length} x {width}"),
        ),
        (
            &["strip_value"],
            "a kept side strip is worth",
            workshop.strip_value.to_string(),
        ),
        (
            &["pooled_method"],
            "thread and trims valued by",
            workshop.pooled_method.to_string(),
        ),
        (
            &["prices_shown"],
            "prices on quotations",
            workshop.prices_shown.to_string(),
        ),
        (
            &["tax_rounding", "tax_place"],
            "tax rounded",
            format!("{}, per {}", workshop.tax_rounding, workshop.tax_place),
        ),
    ];
    settings.extend(
        rows.into_iter()
            .map(|(fields, name, value)| Setting(fields, name, value)),
    );
    if let Some(order) = workshop.date_order {
        settings.push(Setting(
            &["date_order"],
            "dates with slashes",
            order.to_string(),
        ));
    }
    let cash = cash.unwrap_or_else(|| "to the minor unit".to_owned());
    settings.push(Setting(&["cash_step"], "cash paid", cash));
    if let Some(rule) = &workshop.price_rule {
        settings.push(Setting(&[], "prices made by", rule_words(rule)));
    }
    settings
}

/// `a margin of 35 %, rounded up to 5; paid in stages: deposit = 40% of gross, balance`.
pub(super) fn rule_words(rule: &HousePriceRule) -> String {
    let stages = rule.stage.iter().map(|stage| match &stage.amount {
        Some(amount) => format!("{} = {amount}", stage.name),
        None => stage.name.clone(),
    });
    let stages = stages.collect::<Vec<_>>().join(", ");
    match stages.as_str() {
        "" => rule.words.clone(),
        stages => format!("{}; paid in stages: {stages}", rule.words),
    }
}

fn taxes(workshop: &Workshop) -> Vec<[String; 2]> {
    let rates = workshop.tax_rates.iter().map(|rate| {
        [
            "tax".to_owned(),
            format!("{} {} %", rate.name, rate.percent),
        ]
    });
    let reclaims = workshop.tax_reclaims.iter().map(|reclaim| {
        let effect = if reclaim.reclaimed {
            "reclaimed, no cost"
        } else {
            "a cost"
        };
        let value = format!("{effect}, from {} on", reclaim.from);
        ["tax on purchases".to_owned(), value]
    });
    rates.chain(reclaims).collect()
}

/// Whose rate it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RateOf<'a> {
    /// An hour of a person.
    Person(&'a str),
    /// The overhead on a billable hour.
    Overhead,
}

fn rates(shown: Shown, workshop: &Workshop, wanted: impl Fn(RateOf<'_>) -> bool) -> Table {
    let mut rates = Table::headed("rate | >per hour | from |");
    let people = workshop.pay_rates.iter();
    for rate in people.filter(|rate| wanted(RateOf::Person(&rate.person))) {
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
    let overhead = workshop.overhead_rates.iter();
    for rate in overhead.filter(|_| wanted(RateOf::Overhead)) {
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
