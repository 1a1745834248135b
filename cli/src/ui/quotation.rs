//! A quotation on the screen: the customer's sheet, and what the workshop reads beside it.

use super::{
    Shown, Table, Ui, headed, left, offer, offers, paragraph, reservation, right, time::minutes,
};
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::quotations::{
    CustomerSheet, InternalSheet, Payment, Quotation, QuotedChange, QuotedStage, Supplement,
};
use ellwand_domain::setting::{PricesShown, QuotationState};

/// Shows a quotation that was just made, in a few lines; with `inside` all of it.
pub fn show_made(
    context: &mut Context<'_, '_>,
    quotation: &Quotation,
    inside: bool,
) -> Result<(), CommandError> {
    if inside {
        return show(context, quotation, true);
    }
    let shown = context.shown()?;
    offer::show(context.ui, shown, quotation);
    Ok(())
}

/// Shows a quotation; with `inside` also the workshop's sheet, where it is amounts.
pub fn show(
    context: &mut Context<'_, '_>,
    quotation: &Quotation,
    inside: bool,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    head(ui, quotation);
    match quotation.options.is_empty() {
        true => sheet(ui, &quotation.sheet),
        false => offers::sheets(ui, quotation),
    }
    if let Some(internal) = quotation.inside.as_ref().filter(|_| inside) {
        ui.blank();
        ui.heading(match &quotation.plan_is {
            None => "Inside".to_owned(),
            Some(plan) => format!("Inside: {plan}"),
        });
        internal_sheet(ui, shown, &quotation.sheet, internal);
        for option in &quotation.options {
            let Some(internal) = &option.inside else {
                continue;
            };
            ui.blank();
            ui.heading(format!("Inside: {}", option.name));
            ui.line(format!(
                "differs from the plan: {}",
                option.differs.join("; ")
            ));
            internal_sheet(ui, shown, &option.sheet, internal);
        }
        offers::compared(ui, shown, quotation);
    }
    supplements(ui, quotation);
    if inside && !quotation.reservations.is_empty() {
        ui.blank();
        ui.heading("Promised with it");
        ui.table(&reservation::table(shown, &quotation.reservations));
    }
    if !quotation.standing.payments.is_empty() || quotation.accepted.is_some() {
        ui.blank();
        payments(ui, quotation);
    }
    ui.notes(&quotation.notes);
    if let Some(inside) = quotation.inside.as_ref().filter(|_| inside) {
        too_low(ui, shown, inside);
    }
    Ok(())
}

/// Warns of a price below the floor, and of own hours that earn less than is wanted.
pub(super) fn too_low(ui: &mut Ui<'_>, shown: Shown, inside: &InternalSheet) {
    if let Some(missing) = inside.below_floor {
        let why = match inside.own_minutes {
            0 => "it does not cover its cost",
            _ => "your hours earn less than you want",
        };
        ui.warning(format!(
            "the price is {} below the floor: {why}",
            shown.money(missing)
        ));
        return;
    }
    if let (Some(earns), Some(wanted)) = (inside.hour_earns, inside.hour_wanted)
        && earns.0 < wanted.0
    {
        let (earns, wanted) = (shown.money(earns), shown.money(wanted));
        ui.warning(format!(
            "an own hour earns {earns}, but you want {wanted}: losses are not in the price"
        ));
    }
}

/// The customer's sheet of what was accepted: of the option, where there are any.
#[must_use]
pub fn agreed(quotation: &Quotation) -> &CustomerSheet {
    let accepted = quotation.accepted_option.as_ref();
    let option =
        accepted.and_then(|name| quotation.options.iter().find(|option| option.name == *name));
    option.map_or(&quotation.sheet, |option| &option.sheet)
}

fn head(ui: &mut Ui<'_>, quotation: &Quotation) {
    let sheet = &quotation.sheet;
    if let Some(sender) = &sheet.sender {
        for line in sender.name.iter().chain(&sender.address) {
            ui.line(line);
        }
        ui.blank();
    }
    let whose = quotation
        .customer_name
        .as_ref()
        .map(|name| format!(" for {name}"))
        .unwrap_or_default();
    let (code, version, state) = (quotation.quotation, quotation.version, quotation.state);
    let option = quotation
        .accepted_option
        .as_ref()
        .map(|option| format!(": {option}"))
        .unwrap_or_default();
    ui.heading(match quotation.is_trial {
        true => format!("Trial{whose}, nothing is booked"),
        false => format!("{code}, version {version}{whose}, {state}{option}"),
    });
    let delivery = sheet.delivery;
    let delivery = delivery.map_or_else(String::new, |day| format!(", delivery {day}"));
    ui.line(format!(
        "{} ({}), of {}, valid until {}{delivery}",
        sheet.title, quotation.garment, sheet.date, sheet.valid_until
    ));
    if let Some(text) = &sheet.description {
        paragraph::show(ui, 0, text);
    }
    for (name, sheet) in offers::columns(quotation) {
        let parts = sheet.made_of.iter().map(|part| {
            let material = part.material.as_deref().unwrap_or("not chosen yet");
            format!("{} {material}", part.role)
        });
        let parts: Vec<String> = parts.collect();
        if !parts.is_empty() {
            let of = match quotation.options.is_empty() {
                true => "made of".to_owned(),
                false => format!("{name} is made of"),
            };
            paragraph::show(ui, 0, &format!("{of}: {}", parts.join(", ")));
        }
    }
    ui.blank();
}

/// What prices later changes of it, and what all come to.
fn supplements(ui: &mut Ui<'_>, quotation: &Quotation) {
    if quotation.supplements.is_empty() {
        return;
    }
    ui.blank();
    let currency = &quotation.sheet.currency;
    let columns = [
        left("supplement"),
        right("version"),
        left("date"),
        left("state"),
        right(currency),
    ];
    let mut table = Table::new(columns);
    for head in &quotation.supplements {
        table.row([
            head.quotation.to_string(),
            head.version.to_string(),
            head.date.to_string(),
            head.state.to_string(),
            head.gross.clone(),
        ]);
    }
    ui.table(&table);
    if let Some(all) = &quotation.together {
        let totals = format!(
            "agreed {} in all, paid {}, left {} {currency}",
            all.agreed, all.paid, all.left
        );
        paragraph::show(ui, 0, &totals);
    }
}

fn sheet(ui: &mut Ui<'_>, sheet: &CustomerSheet) {
    let amounts = match sheet.shown {
        PricesShown::WithoutTax => format!("{} without tax", sheet.currency),
        PricesShown::WithTax => format!("{} with tax", sheet.currency),
    };
    let mut table = Table::new([left("line"), left("tax"), right(&amounts)]);
    for line in &sheet.lines {
        table.row([
            line.text.clone(),
            line.rate.clone().unwrap_or_default(),
            line.amount.clone(),
        ]);
    }
    table.rule();
    table.row(["without tax", "", &sheet.net]);
    for rate in &sheet.rates {
        table.row([
            &format!("{} {} % of {}", rate.name, rate.percent, rate.net),
            "",
            &rate.tax,
        ]);
    }
    table.row([
        if sheet.to_be_priced.is_empty() {
            "to be paid"
        } else {
            "priced so far"
        },
        "",
        &sheet.gross,
    ]);
    if let Some(cash) = &sheet.cash {
        table.row([
            &format!("in cash, in steps of {}", cash.step),
            "",
            &cash.gross,
        ]);
    }
    ui.table(&table);
    if let Some(supplement) = &sheet.supplement {
        let Supplement {
            to,
            agreed,
            together,
        } = supplement;
        ui.blank();
        ui.line(format!(
            "supplement to {to}: agreed so far {agreed}, with this {together} {}",
            sheet.currency
        ));
    }
    no_offer(ui, sheet);
    if !sheet.stages.is_empty() {
        ui.blank();
        stages(ui, sheet);
    }
    if let Some(terms) = &sheet.terms {
        ui.blank();
        paragraph::show(ui, 0, terms);
    }
}

/// Says what has still to be priced before anything is to be paid.
pub(super) fn no_offer(ui: &mut Ui<'_>, sheet: &CustomerSheet) {
    if !sheet.to_be_priced.is_empty() {
        ui.blank();
        let missing = sheet.to_be_priced.join(", ");
        paragraph::show(
            ui,
            0,
            &format!("not an offer yet, nothing is due; not priced: {missing}"),
        );
    }
}

/// What a stage was agreed as, and what the lines that it is a share of are before.
#[must_use]
pub fn agreed_as(stage: &QuotedStage) -> String {
    match &stage.counted {
        Some(counted) => format!("{}, {counted}", stage.terms),
        None => stage.terms.clone(),
    }
}

fn stages(ui: &mut Ui<'_>, sheet: &CustomerSheet) {
    let mut columns = headed("stage | how much | due | >amount | >tax inside");
    columns.extend(sheet.cash.as_ref().map(|_| right("in cash")));
    let mut table = Table::new(columns);
    for stage in &sheet.stages {
        let due = stage.due.map_or_else(String::new, |due| due.to_string());
        let mut row = vec![
            stage.name.clone(),
            agreed_as(stage),
            due,
            stage.amount.clone(),
            stage.tax.clone(),
        ];
        row.extend(
            sheet
                .cash
                .as_ref()
                .map(|_| stage.cash.clone().unwrap_or_default()),
        );
        table.row(row);
    }
    ui.table(&table);
}

fn internal_sheet(ui: &mut Ui<'_>, shown: Shown, sheet: &CustomerSheet, inside: &InternalSheet) {
    ui.blank();
    let mut table = Table::new(
        headed("cost |  | from | >quantity | range | known")
            .into_iter()
            .chain([right(&sheet.currency)]),
    );
    for cost in &inside.costs {
        table.row([
            cost.group.to_string(),
            cost.name.clone(),
            cost.detail.clone(),
            shown.quantity(cost.amount, cost.quantity.as_deref()),
            cost.range.clone().unwrap_or_default(),
            cost.certainty.to_string(),
            cost.printed.clone(),
        ]);
    }
    ui.table(&table);
    for missing in &inside.not_priced {
        paragraph::show(ui, 0, &format!("not priced: {missing}"));
    }
    ui.blank();
    let mut table = Table::new([left("where the price comes from"), right(&sheet.currency)]);
    for part in &inside.parts {
        table.row([part.name.clone(), part.printed.clone()]);
    }
    table.rule();
    table.row(["net price".to_owned(), shown.value(inside.net)]);
    ui.table(&table);
    ui.blank();
    offers::details(ui, shown, sheet, inside);
    let percent = |share: &Option<String>| {
        share
            .as_ref()
            .map_or("none".to_owned(), |share| format!("{share} %"))
    };
    ui.line(format!(
        "made by {}; floor {}",
        inside.rule,
        shown.money(inside.floor)
    ));
    ui.line(format!(
        "profit {}: markup {}, margin {}",
        shown.money(inside.profit),
        percent(&inside.markup_percent),
        percent(&inside.margin_percent)
    ));
    if let Some(batch) = &inside.batch {
        ui.line(format!(
            "each of {} good: cost {}, price {} {}; loss {}",
            batch.good,
            batch.cost_each_printed,
            batch.net_each_printed,
            sheet.currency,
            batch.loss_printed
        ));
    }
    if let Some(earns) = inside.hour_earns {
        ui.line(format!(
            "an own hour earns {} ({} of them)",
            shown.money(earns),
            minutes(inside.own_minutes)
        ));
    }
    ui.notes(&inside.notes);
}

/// What came in and what is still to come.
pub fn payments(ui: &mut Ui<'_>, quotation: &Quotation) {
    let (standing, currency) = (&quotation.standing, &quotation.sheet.currency);
    let mut table = Table::new([
        right(""),
        left("paid on"),
        left("booking"),
        left("remark"),
        right(currency),
    ]);
    for (place, payment) in standing.payments.iter().enumerate() {
        let cash = payment.cash.then(|| match &payment.rounding {
            Some(rounding) => format!("in cash, {rounding} by rounding"),
            None => "in cash".to_owned(),
        });
        let remark: Vec<String> = cash.into_iter().chain(payment.note.clone()).collect();
        table.row([
            place.saturating_add(1).to_string(),
            payment.date.to_string(),
            payment.booking.to_string(),
            remark.join(", "),
            payment.amount.clone(),
        ]);
    }
    if !table.is_empty() {
        ui.table(&table);
    }
    let mut amounts = vec![format!("paid {}", standing.paid)];
    if let Some(rounding) = &standing.rounding {
        amounts.push(format!("rounding in cash {rounding}"));
    }
    if matches!(
        quotation.state,
        QuotationState::Open | QuotationState::Accepted
    ) {
        amounts.push(format!(
            "left {}{}",
            standing.left,
            in_cash(&standing.left, standing.left_cash.as_ref())
        ));
    }
    let due_now = format!(
        "{}{}",
        standing.due_now,
        in_cash(&standing.due_now, standing.due_now_cash.as_ref())
    );
    let zero = |text: &str| text.bytes().all(|byte| matches!(byte, b'0' | b'.'));
    for (what, amount) in [
        (
            "due now",
            Some(&due_now).filter(|_| !zero(&standing.due_now)),
        ),
        ("over", Some(&standing.over)),
        ("owed to the customer until delivery", Some(&standing.owed)),
        ("kept", standing.kept.as_ref()),
        ("still owed under its terms", standing.not_covered.as_ref()),
        ("to pay back", standing.returned.as_ref()),
    ] {
        if let Some(amount) = amount.filter(|amount| !zero(amount)) {
            amounts.push(format!("{what} {amount}"));
        }
    }
    paragraph::show(ui, 0, &format!("{} {currency}", amounts.join(", ")));
    if let [_, _, ..] = standing.stages.as_slice() {
        let stages = standing.stages.iter().map(|stage| match &stage.paid {
            paid if *paid == stage.amount => format!("{} is paid", stage.name),
            paid if zero(paid) => format!("{} {} is open", stage.name, stage.amount),
            paid => format!("{}: {paid} of {} is paid", stage.name, stage.amount),
        });
        paragraph::show(ui, 0, &stages.collect::<Vec<_>>().join(", "));
    }
}

/// A receipt for a payment, with what was still owed after it.
pub fn receipt(ui: &mut Ui<'_>, quotation: &Quotation, payment: &Payment) {
    let (sheet, code) = (agreed(quotation), quotation.quotation);
    let currency = &sheet.currency;
    let whose = quotation.customer_name.as_ref();
    let whose = whose.map_or_else(String::new, |name| format!(" for {name}"));
    ui.heading(format!(
        "Receipt {}{whose}: {} ({code})",
        payment.booking, sheet.title
    ));
    let (what, amount) = match payment.amount.strip_prefix('-') {
        Some(back) => ("paid back", back),
        None => ("received", payment.amount.as_str()),
    };
    let cash = if payment.cash { " in cash" } else { "" };
    ui.line(format!(
        "{what} {amount} {currency}{cash} on {}",
        payment.date
    ));
    let rounding = payment.rounding_so_far.as_ref();
    let rounding = rounding.map_or_else(String::new, |of| format!(", rounding in cash {of}"));
    let left = payment.left.as_ref();
    let left = left.map_or_else(String::new, |left| format!(", {left} still to be paid"));
    ui.line(format!(
        "paid {} of {} {currency} with it{rounding}{left}",
        payment.paid, sheet.gross
    ));
}

/// What an amount is in cash, where that is another.
fn in_cash(amount: &str, cash: Option<&String>) -> String {
    cash.filter(|cash| *cash != amount)
        .map_or_else(String::new, |cash| format!(" (in cash {cash})"))
}

/// What a version changed, line by line, option by option.
pub fn changes(ui: &mut Ui<'_>, quotation: &Quotation) {
    let options = quotation
        .options
        .iter()
        .map(|option| (Some(&option.name), &option.changes));
    let all = std::iter::once((quotation.plan_is.as_ref(), &quotation.changes)).chain(options);
    let all: Vec<_> = all.filter(|(_, changes)| !changes.is_empty()).collect();
    if all.is_empty() {
        return ui.status("Nothing changed.");
    }
    for (place, (name, changes)) in all.into_iter().enumerate() {
        if place > 0 {
            ui.blank();
        }
        changed(ui, name, changes);
    }
}

fn changed(ui: &mut Ui<'_>, name: Option<&String>, changes: &[QuotedChange]) {
    let of = name.map(|name| format!(": {name}")).unwrap_or_default();
    let mut table = Table::new([left(&format!("changed{of}")), right("before"), right("now")]);
    for change in changes {
        let value_or_none =
            |value: &Option<String>| value.clone().unwrap_or_else(|| "none".to_owned());
        table.row([
            change.text.clone(),
            value_or_none(&change.before),
            value_or_none(&change.now),
        ]);
    }
    ui.table(&table);
}
