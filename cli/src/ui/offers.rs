//! Options side by side on the screen, and what each detail adds.

use super::{Align, Shown, Table, Ui, left, paragraph, quotation::agreed_as, right, time};
use ellwand_contract::{
    Micro,
    options::OptionFigures,
    quotations::{CustomerSheet, InternalSheet, Quotation, QuotedStage},
};
use ellwand_domain::setting::PricesShown;

/// The sheets of the plan and its options by the names of their columns.
#[must_use]
pub fn columns(quotation: &Quotation) -> Vec<(&str, &CustomerSheet)> {
    let plan = quotation.plan_is.as_deref().unwrap_or_default();
    let options = quotation
        .options
        .iter()
        .map(|option| (option.name.as_str(), &option.sheet));
    std::iter::once((plan, &quotation.sheet))
        .chain(options)
        .collect()
}

/// Rows of texts and amounts, one amount for each column; a row stands where one of the columns has it.
#[must_use]
pub fn rows(
    columns: &[(&str, &CustomerSheet)],
    of: impl Fn(&CustomerSheet) -> Vec<(String, String)>,
) -> Vec<(String, Vec<String>)> {
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for (place, (_, sheet)) in columns.iter().enumerate() {
        let mut after = 0;
        for (text, amount) in of(sheet) {
            let free = |row: &(String, Vec<String>)| row.0 == text && row.1[place].is_empty();
            let at = rows.iter().position(free).unwrap_or_else(|| {
                let at = after.min(rows.len());
                rows.insert(at, (text.clone(), vec![String::new(); columns.len()]));
                at
            });
            rows[at].1[place] = amount;
            after = at.saturating_add(1);
        }
    }
    rows
}

/// Lines of a sheet.
#[must_use]
pub fn lines(sheet: &CustomerSheet) -> Vec<(String, String)> {
    sheet
        .lines
        .iter()
        .map(|line| (line.text.clone(), line.amount.clone()))
        .collect()
}

/// Tax of a sheet by rate.
#[must_use]
pub fn rates(sheet: &CustomerSheet) -> Vec<(String, String)> {
    sheet
        .rates
        .iter()
        .map(|rate| {
            (
                format!("{} {} %", rate.name, rate.percent),
                rate.tax.clone(),
            )
        })
        .collect()
}

/// All that is to be paid, in cash; none where cash has no steps of its own.
#[must_use]
pub fn cash(columns: &[(&str, &CustomerSheet)]) -> Option<Vec<String>> {
    let amounts = columns
        .iter()
        .map(|(_, sheet)| sheet.cash.as_ref().map(|cash| cash.gross.clone()));
    let amounts: Vec<Option<String>> = amounts.collect();
    amounts
        .iter()
        .any(Option::is_some)
        .then(|| amounts.into_iter().map(Option::unwrap_or_default).collect())
}

/// What is to be paid; nothing is before all of it is priced.
#[must_use]
pub fn to_be_paid(sheet: &CustomerSheet) -> String {
    if sheet.to_be_priced.is_empty() {
        sheet.gross.clone()
    } else {
        "not priced".to_owned()
    }
}

/// The stages, which all columns that are offers share; none where no column is one.
#[must_use]
pub fn all_stages<'s>(columns: &[(&str, &'s CustomerSheet)]) -> &'s [QuotedStage] {
    let of = columns.iter().map(|(_, sheet)| sheet.stages.as_slice());
    of.max_by_key(|stages| stages.len()).unwrap_or_default()
}

/// The customer's sheet, one column for each option.
pub fn sheets(ui: &mut Ui<'_>, quotation: &Quotation) {
    let columns = columns(quotation);
    let sheet = &quotation.sheet;
    let line = match sheet.shown {
        PricesShown::WithoutTax => format!("{}, lines without tax", sheet.currency),
        PricesShown::WithTax => format!("{}, lines with tax", sheet.currency),
    };
    let mut table = Table::new(heads(&[&line], &columns));
    let add = |table: &mut Table, text: String, amounts: Vec<String>| {
        table.row(std::iter::once(text).chain(amounts));
    };
    for (text, amounts) in rows(&columns, lines) {
        add(&mut table, text, amounts);
    }
    table.rule();
    let of = |amount: fn(&CustomerSheet) -> &String| {
        columns
            .iter()
            .map(|(_, sheet)| amount(sheet).clone())
            .collect()
    };
    add(&mut table, "without tax".to_owned(), of(|sheet| &sheet.net));
    for (text, amounts) in rows(&columns, rates) {
        add(&mut table, text, amounts);
    }
    add(
        &mut table,
        "to be paid".to_owned(),
        columns.iter().map(|(_, sheet)| to_be_paid(sheet)).collect(),
    );
    if let Some(amounts) = cash(&columns) {
        add(&mut table, "in cash".to_owned(), amounts);
    }
    ui.table(&table);
    for (name, sheet) in columns
        .iter()
        .filter(|(_, sheet)| !sheet.to_be_priced.is_empty())
    {
        paragraph::show(
            ui,
            0,
            &format!(
                "{name} is not an offer yet; not priced: {}",
                sheet.to_be_priced.join(", ")
            ),
        );
    }
    ui.blank();
    ui.table(&stages(&columns));
    if let Some(terms) = &sheet.terms {
        ui.blank();
        paragraph::show(ui, 0, terms);
    }
}

/// First columns of words, then one of numbers for each sheet.
fn heads(first: &[&str], columns: &[(&str, &CustomerSheet)]) -> Vec<(String, Align)> {
    let first = first.iter().map(|text| left(text));
    first
        .chain(columns.iter().map(|(name, _)| right(name)))
        .collect()
}

/// When what is to be paid of each sheet.
fn stages(columns: &[(&str, &CustomerSheet)]) -> Table {
    let mut table = Table::new(heads(&["stage", "how much", "due"], columns));
    for (place, stage) in all_stages(columns).iter().enumerate() {
        let due = stage.due.map_or_else(String::new, |due| due.to_string());
        let amounts = columns.iter().map(|(_, sheet)| {
            sheet
                .stages
                .get(place)
                .map_or(String::new(), |stage| stage.amount.clone())
        });
        let cells = [stage.name.clone(), agreed_as(stage), due];
        table.row(cells.into_iter().chain(amounts));
        let own = columns
            .iter()
            .map(|(_, sheet)| sheet.stages.get(place)?.cash.clone());
        let own: Vec<Option<String>> = own.collect();
        if own.iter().any(Option::is_some) {
            let cells = ["", "in cash", ""].map(str::to_owned);
            table.row(
                cells
                    .into_iter()
                    .chain(own.into_iter().map(Option::unwrap_or_default)),
            );
        }
    }
    table
}

/// A difference with its sign: `+12.00`, `-3.50`, `0.00`.
#[must_use]
pub fn signed(amount: Micro, text: String) -> String {
    if amount.get() > 0 {
        format!("+{text}")
    } else {
        text
    }
}

/// A difference in time with its sign.
#[must_use]
pub fn signed_minutes(minutes: i64) -> String {
    match minutes {
        0 => "0 min".to_owned(),
        1.. => format!("+{}", time::minutes(minutes)),
        _ => format!("-{}", time::minutes(minutes.saturating_neg())),
    }
}

/// A row of the comparison: its name, what an option has, and what it has more than the first.
type Figure<'f> = (&'f str, Vec<String>, Vec<Option<String>>);

/// The figures that are compared, each with the difference to the first option.
#[must_use]
pub fn figures<'f>(all: &[OptionFigures], money: impl Fn(Micro) -> String) -> Vec<Figure<'f>> {
    let none = || "none".to_owned();
    let own = |of: &dyn Fn(&OptionFigures) -> String| all.iter().map(of).collect::<Vec<_>>();
    let more = |of: &dyn Fn(&ellwand_contract::options::OptionDifference) -> Option<String>| {
        all.iter()
            .map(|figures| figures.more.as_ref().and_then(of))
            .collect::<Vec<_>>()
    };
    let by = |amount: Micro| Some(signed(amount, money(amount)));
    let percent = |share: &Option<String>| {
        share
            .as_ref()
            .map_or_else(none, |share| format!("{share} %"))
    };
    vec![
        ("cost", own(&|of| money(of.cost)), more(&|of| by(of.cost))),
        (
            "own hours",
            own(&|of| time::minutes(of.own_minutes)),
            more(&|of| Some(signed_minutes(of.own_minutes))),
        ),
        (
            "paid hours",
            own(&|of| time::minutes(of.paid_minutes)),
            more(&|of| Some(signed_minutes(of.paid_minutes))),
        ),
        (
            "net price",
            own(&|of| money(of.net)),
            more(&|of| by(of.net)),
        ),
        (
            "to be paid",
            own(&|of| money(of.gross)),
            more(&|of| by(of.gross)),
        ),
        (
            "profit",
            own(&|of| money(of.profit)),
            more(&|of| by(of.profit)),
        ),
        (
            "markup",
            own(&|of| percent(&of.markup_percent)),
            more(&|_| None),
        ),
        (
            "margin",
            own(&|of| percent(&of.margin_percent)),
            more(&|_| None),
        ),
        (
            "an own hour earns",
            own(&|of| of.hour_earns.map_or_else(none, &money)),
            more(&|of| of.hour_earns.and_then(by)),
        ),
    ]
}

/// The options side by side as the workshop reads them.
pub fn compared(ui: &mut Ui<'_>, shown: Shown, quotation: &Quotation) {
    let Some(all) = quotation.comparison.as_ref().filter(|all| !all.is_empty()) else {
        return;
    };
    ui.blank();
    ui.heading("Side by side, with the difference from the first");
    ui.blank();
    let names = all.iter().enumerate().flat_map(|(place, figures)| {
        [
            Some(right(&figures.name)),
            (place > 0).then(|| right("more")),
        ]
        .into_iter()
        .flatten()
    });
    let mut table = Table::new(std::iter::once(left(&quotation.sheet.currency)).chain(names));
    for (name, own, more) in figures(all, |amount| shown.value(amount)) {
        let cells = own
            .into_iter()
            .zip(more)
            .enumerate()
            .flat_map(|(place, (own, more))| {
                [Some(own), (place > 0).then(|| more.unwrap_or_default())]
                    .into_iter()
                    .flatten()
            });
        table.row(std::iter::once(name.to_owned()).chain(cells));
    }
    ui.table(&table);
    for figures in all {
        for missing in &figures.not_priced {
            paragraph::show(ui, 0, &format!("not priced in {}: {missing}", figures.name));
        }
    }
}

/// What each detail costs and adds to the price.
pub fn details(ui: &mut Ui<'_>, shown: Shown, sheet: &CustomerSheet, inside: &InternalSheet) {
    if inside.details.is_empty() {
        return;
    }
    let mut table = Table::headed(
        "detail | >time | >materials | >labour | >overhead | >cost | >adds net | >adds gross | \
         >hour without it",
    );
    let mut notes = Vec::new();
    for detail in &inside.details {
        table.row([
            detail.detail.clone(),
            time::minutes(detail.minutes),
            shown.value(detail.materials),
            shown.value(detail.labour),
            shown.value(detail.overhead),
            shown.value(detail.cost),
            shown.value(detail.net),
            shown.value(detail.gross),
            detail
                .hour_without
                .map_or_else(|| "none".to_owned(), |hour| shown.value(hour)),
        ]);
        for missing in &detail.not_priced {
            notes.push(format!("not priced of the {}: {missing}", detail.detail));
        }
        notes.extend(detail.note.clone().filter(|note| !notes.contains(note)));
    }
    ui.table(&table);
    for text in notes {
        paragraph::show(ui, 0, &text);
    }
    ui.line(format!(
        "what a detail adds: the price less the price without it, in {}",
        sheet.currency
    ));
    ui.blank();
}
