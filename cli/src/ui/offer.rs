//! A quotation in a few lines, as it is said on the telephone: what each option is made of, and what it comes to.

use super::{Shown, Table, Ui, left, offers, quotation, reservation, right};
use ellwand_contract::quotations::{CustomerSheet, InternalSheet, Quotation};
use ellwand_domain::pricing::PriceGroup;

/// Shows what was made: a heading, a row for the plan and each option, what is promised with it, and what is to be said of it.
pub fn show(ui: &mut Ui<'_>, shown: Shown, quotation: &Quotation) {
    let sheet = &quotation.sheet;
    let whose = quotation.customer_name.as_ref();
    let whose = whose.map_or_else(String::new, |name| format!(" for {name}"));
    let what = match quotation.is_trial {
        true => "Trial".to_owned(),
        false => format!("{}, version {}", quotation.quotation, quotation.version),
    };
    ui.heading(format!(
        "{what}: {} ({}){whose}, valid until {}",
        sheet.title, quotation.garment, sheet.valid_until
    ));
    ui.table(&table(shown, quotation));
    if !quotation.reservations.is_empty() {
        ui.blank();
        ui.heading("Promised with it");
        ui.table(&reservation::table(shown, &quotation.reservations));
    }
    ui.notes(&quotation.notes);
    if let Some(inside) = &quotation.inside {
        quotation::too_low(ui, shown, inside);
    }
}

fn table(shown: Shown, quotation: &Quotation) -> Table {
    let plan = (&quotation.sheet, quotation.inside.as_ref());
    let options = quotation.options.iter();
    let insides = std::iter::once(plan).chain(options.map(|one| (&one.sheet, one.inside.as_ref())));
    let sheet = &quotation.sheet;
    let first = match sheet.stages.as_slice() {
        [first, _, ..] => first.name.as_str(),
        _ => "",
    };
    let amount = match sheet.rates.is_empty() {
        true => sheet.currency.clone(),
        false => format!("{} with tax", sheet.currency),
    };
    let mut table = Table::new([
        left("option"),
        left("made of"),
        right(&amount),
        right(first),
        right("margin"),
        right("own hour"),
    ]);
    let insides: Vec<_> = insides.collect();
    let materials = insides.iter().map(|(_, inside)| inside.map(materials));
    let made_of = differences(materials.map(Option::unwrap_or_default).collect());
    let columns = offers::columns(quotation).into_iter().zip(insides);
    for (((name, _), (sheet, inside)), made_of) in columns.zip(made_of) {
        table.row([
            name.to_owned(),
            made_of,
            amount_of(sheet),
            deposit(sheet),
            margin(inside),
            shown.optional_value(inside.and_then(|inside| inside.hour_earns)),
        ]);
    }
    table
}

/// What each option is made of: where all have something that others have not, that alone, so that a choice of cloths fits a
/// line each.
fn differences(mut options: Vec<Vec<String>>) -> Vec<String> {
    let own: Vec<Vec<String>> = options
        .iter()
        .map(|one| {
            let shared = |name: &&String| options.iter().all(|other| other.contains(name));
            one.iter().filter(|name| !shared(name)).cloned().collect()
        })
        .collect();
    if own.iter().all(|own| !own.is_empty()) {
        options = own;
    }
    options.iter().map(|names| names.join(", ")).collect()
}

/// Its materials, each once: `L1.1 grey wool`, `lining (estimated)`.
fn materials(inside: &InternalSheet) -> Vec<String> {
    let costs = inside.costs.iter();
    let mut materials: Vec<String> = Vec::new();
    for cost in costs.filter(|cost| cost.group == PriceGroup::Materials) {
        let name = match cost.lot {
            Some(_) => cost
                .detail
                .split(", ")
                .next()
                .unwrap_or_default()
                .to_owned(),
            None => format!("{} ({})", cost.name, cost.certainty),
        };
        if !materials.contains(&name) {
            materials.push(name);
        }
    }
    materials
}

/// What is to be paid; of what is priced so far, where something is not.
fn amount_of(sheet: &CustomerSheet) -> String {
    match sheet.to_be_priced.is_empty() {
        true => sheet.gross.clone(),
        false => format!("{} so far", sheet.gross),
    }
}

/// The first of several stages.
fn deposit(sheet: &CustomerSheet) -> String {
    match sheet.stages.as_slice() {
        [first, _, ..] => first.amount.clone(),
        _ => String::new(),
    }
}

fn margin(inside: Option<&InternalSheet>) -> String {
    let percent = inside.and_then(|inside| inside.margin_percent.as_ref());
    percent.map_or_else(String::new, |percent| format!("{percent} %"))
}
