//! Options side by side on a sheet, and what each detail adds.

use super::{
    document::{Block, Cell, Column, Row, Table, left, right},
    words::Wording,
};
use crate::ui::{
    offers::{all_stages, cash, columns, figures, rows},
    time::minutes,
};
use ellwand_contract::{
    Micro,
    options::{AddedByDetail, OptionFigures},
    quotations::{CustomerSheet, Quotation},
    words::Label,
};
use ellwand_domain::quantity::Currency;

/// Amounts as they are printed in a currency.
pub(super) fn money(currency: &str) -> impl Fn(Micro) -> String {
    let digits = currency.parse::<Currency>().map_or(2, Currency::digits);
    move |amount| amount.0.rounded(digits)
}

fn heads(first: &[Label], quotation: &Quotation) -> Vec<Column> {
    let words = Wording::of_sheet(&quotation.sheet);
    let first = first.iter().map(|label| left(words.word(*label)));
    let columns = columns(quotation).into_iter();
    first
        .chain(columns.map(|(name, _)| right(words.name(name))))
        .collect()
}

/// A row of a text and an amount for each column.
fn cells(text: String, amounts: impl IntoIterator<Item = String>) -> Vec<Cell> {
    let amounts = amounts.into_iter();
    std::iter::once(text)
        .chain(amounts)
        .map(Cell::new)
        .collect()
}

/// What each part is made of, a column for each option; none where nothing is to be said of it.
pub(super) fn made_of(quotation: &Quotation) -> Option<Block> {
    let (columns, words) = (columns(quotation), Wording::of_sheet(&quotation.sheet));
    let parts = |sheet: &CustomerSheet| -> Vec<(String, String)> {
        let parts = sheet.made_of.iter();
        let named = parts.map(|part| (part.role.clone(), words.material(part).to_owned()));
        named.collect()
    };
    let rows: Vec<Row> = rows(&columns, parts)
        .into_iter()
        .map(|(role, materials)| Row::Cells(cells(role, materials)))
        .collect();
    let names = columns.iter().map(|(name, _)| left(words.name(name)));
    let first = std::iter::once(left(words.word(Label::Part)));
    let columns = first.chain(names).collect();
    (!rows.is_empty()).then_some(Block::Table(Table { columns, rows }))
}

/// A column for each option: lines, net, tax, gross.
pub(super) fn prices(quotation: &Quotation) -> Block {
    let (columns, words) = (columns(quotation), Wording::of_sheet(&quotation.sheet));
    let lines = |sheet: &CustomerSheet| -> Vec<(String, String)> {
        let lines = sheet.lines.iter();
        lines
            .map(|line| (words.line(&line.text), words.money(&line.amount)))
            .collect()
    };
    let rates = |sheet: &CustomerSheet| -> Vec<(String, String)> {
        let rates = sheet.rates.iter();
        let text = |name: &str, share: &str| {
            let tax = words.word(Label::Tax);
            format!("{tax}, {name} {}", words.percent(share))
        };
        rates
            .map(|rate| (text(&rate.name, &rate.percent), words.money(&rate.tax)))
            .collect()
    };
    let of = |amount: fn(&CustomerSheet) -> &String| {
        let amounts = columns.iter().map(|(_, sheet)| words.money(amount(sheet)));
        amounts.collect::<Vec<_>>()
    };
    let lines = rows(&columns, lines).into_iter();
    let mut table = Table {
        columns: heads(&[Label::Line], quotation),
        rows: lines
            .map(|(text, amounts)| Row::Cells(cells(text, amounts)))
            .collect(),
    };
    let mut total = |text: String, amounts: Vec<String>| {
        table.rows.push(Row::Total(cells(text, amounts)));
    };
    let word = |label| words.word(label).to_owned();
    total(word(Label::Net), of(|sheet| &sheet.net));
    let taxes = rows(&columns, rates);
    if taxes.is_empty() {
        total(word(Label::Tax), of(|sheet| &sheet.tax));
    }
    for (text, amounts) in taxes {
        total(text, amounts);
    }
    let gross = columns
        .iter()
        .map(|(_, sheet)| match sheet.to_be_priced.is_empty() {
            true => words.money(&sheet.gross),
            false => word(Label::NotPriced),
        });
    total(word(Label::ToBePaid), gross.collect());
    if let Some(amounts) = cash(&columns) {
        let amounts = amounts.iter().map(|amount| words.money(amount));
        total(word(Label::InCash), amounts.collect());
    }
    Block::Table(table)
}

/// A column for each option: what is to be paid when, with the tax in it; none where none of them is an offer.
pub(super) fn stages(quotation: &Quotation) -> Option<Block> {
    let (columns, words) = (columns(quotation), Wording::of_sheet(&quotation.sheet));
    let all = all_stages(&columns);
    let stages = all.iter().enumerate().map(|(place, stage)| {
        let due = match stage.due {
            Some(day) => words.date(day),
            None => words.word(Label::WhenReached).to_owned(),
        };
        let amounts = columns
            .iter()
            .map(|(_, sheet)| match sheet.stages.get(place) {
                Some(own) => {
                    let of = |label, amount: &str| words.before(label, &words.money(amount));
                    let tax = (!sheet.rates.is_empty()).then(|| of(Label::Tax, &own.tax));
                    let cash = own.cash.as_ref().map(|cash| of(Label::InCash, cash));
                    let notes: Vec<String> = tax.into_iter().chain(cash).collect();
                    Cell::noted(words.money(&own.amount), notes.join(", "))
                }
                None => Cell::new(""),
            });
        let name = Cell::noted(words.name(&stage.name), words.terms(stage));
        Row::Cells([name, Cell::new(due)].into_iter().chain(amounts).collect())
    });
    let rows: Vec<Row> = stages.collect();
    (!rows.is_empty()).then(|| {
        Block::Table(Table {
            rows,
            columns: heads(&[Label::Stage, Label::Due], quotation),
        })
    })
}

/// `Cost` for `cost`.
fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

/// The figures of the options, each with what it has more than the first.
pub(super) fn compared(all: &[OptionFigures], currency: &str) -> Vec<Block> {
    let names = all.iter().map(|figures| right(figures.name.as_str()));
    let mut table = Table {
        columns: std::iter::once(left("Figure")).chain(names).collect(),
        rows: Vec::new(),
    };
    for (name, own, more) in figures(all, money(currency)) {
        let cells = own
            .iter()
            .zip(more)
            .map(|(own, more)| Cell::noted(own, more.unwrap_or_default()));
        table.rows.push(Row::Cells(
            std::iter::once(Cell::new(capital(name)))
                .chain(cells)
                .collect(),
        ));
    }
    let missing: Vec<String> = all
        .iter()
        .flat_map(|of| {
            of.not_priced
                .iter()
                .map(move |text| format!("{}, not priced: {text}", of.name))
        })
        .collect();
    let mut blocks = vec![
        Block::heading(format!("Options side by side in {currency}")),
        Block::Table(table),
        Block::text("Under each figure: the difference from the first."),
    ];
    if !missing.is_empty() {
        blocks.push(Block::list(&missing));
    }
    blocks
}

/// What each detail costs and adds to the price; nothing where there are no details.
pub(super) fn details(details: &[AddedByDetail], currency: &str) -> Vec<Block> {
    if details.is_empty() {
        return Vec::new();
    }
    let money = money(currency);
    let mut notes: Vec<String> =
        vec!["A detail adds the price less the price without it.".to_owned()];
    let mut rows = Vec::new();
    for of in details {
        let amounts =
            [of.materials, of.labour, of.overhead, of.cost].map(|amount| Cell::new(money(amount)));
        let adds = Cell::noted(money(of.net), format!("gross {}", money(of.gross)));
        let hour = of
            .hour_without
            .map_or_else(|| "not known".to_owned(), &money);
        let name = Cell::noted(&of.detail, minutes(of.minutes));
        let cells = amounts.into_iter().chain([adds, Cell::new(hour)]);
        rows.push(Row::Cells(std::iter::once(name).chain(cells).collect()));
        notes.extend(
            of.not_priced
                .iter()
                .map(|text| format!("{}, not priced: {text}", of.detail)),
        );
        notes.extend(of.note.clone().filter(|note| !notes.contains(note)));
    }
    let amounts = [
        "Materials",
        "Labour",
        "Overhead",
        "Cost",
        "Adds net",
        "Hour without it",
    ];
    let columns = std::iter::once(left("Detail"))
        .chain(amounts.map(right))
        .collect();
    vec![
        Block::heading(format!("What each detail adds, in {currency}")),
        Block::Table(Table { columns, rows }),
        Block::list(&notes),
    ]
}
