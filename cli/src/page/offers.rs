//! Options side by side on a sheet, and what each detail adds.

use super::{
    document::{Block, Cell, Column, Row, Table, left, right},
    words::date,
};
use crate::ui::{
    offers::{all_stages, cash, columns, figures, lines, rates, rows, to_be_paid},
    quotation::agreed_as,
    time::minutes,
};
use ellwand_contract::{
    Micro,
    options::{AddedByDetail, OptionFigures},
    quotations::{CustomerSheet, Quotation},
};
use ellwand_domain::quantity::Currency;

/// Amounts as they are printed in a currency.
pub(super) fn money(currency: &str) -> impl Fn(Micro) -> String {
    let digits = currency.parse::<Currency>().map_or(2, Currency::digits);
    move |amount| amount.0.rounded(digits)
}

fn heads(first: &[&str], quotation: &Quotation) -> Vec<Column> {
    let first = first.iter().map(|name| left(*name));
    first
        .chain(columns(quotation).into_iter().map(|(name, _)| right(name)))
        .collect()
}

/// What each part is made of, a column for each option; none where nothing is to be said of it.
pub(super) fn made_of(quotation: &Quotation) -> Option<Block> {
    let columns = columns(quotation);
    let parts = |sheet: &CustomerSheet| -> Vec<(String, String)> {
        let parts = sheet.made_of.iter();
        let named = parts.map(|part| {
            let material = part.material.as_deref().unwrap_or("to be chosen");
            (part.role.clone(), material.to_owned())
        });
        named.collect()
    };
    let parts = rows(&columns, parts).into_iter();
    let rows: Vec<Row> = parts
        .map(|(role, materials)| {
            let cells = std::iter::once(role).chain(materials);
            Row::Cells(cells.map(Cell::new).collect())
        })
        .collect();
    let names = columns.iter().map(|(name, _)| match columns.len() {
        1 => left("Material"),
        _ => left(*name),
    });
    let columns = std::iter::once(left("Part")).chain(names).collect();
    (!rows.is_empty()).then_some(Block::Table(Table { columns, rows }))
}

/// A column for each option: lines, net, tax, gross.
pub(super) fn prices(quotation: &Quotation) -> Block {
    let columns = columns(quotation);
    let cells = |text: &str, amounts: Vec<String>| {
        std::iter::once(text.to_owned())
            .chain(amounts)
            .map(Cell::new)
            .collect::<Vec<_>>()
    };
    let of = |amount: fn(&CustomerSheet) -> &String| {
        columns
            .iter()
            .map(|(_, sheet)| amount(sheet).clone())
            .collect::<Vec<_>>()
    };
    let mut table = Table {
        columns: heads(&["Line"], quotation),
        rows: Vec::new(),
    };
    for (text, amounts) in rows(&columns, lines) {
        table.rows.push(Row::Cells(cells(&text, amounts)));
    }
    table
        .rows
        .push(Row::Total(cells("Net", of(|sheet| &sheet.net))));
    let taxes = rows(&columns, rates);
    match taxes.is_empty() {
        true => table
            .rows
            .push(Row::Total(cells("Tax", of(|sheet| &sheet.tax)))),
        false => {
            for (text, amounts) in taxes {
                table
                    .rows
                    .push(Row::Total(cells(&format!("Tax, {text}"), amounts)));
            }
        }
    }
    let gross = columns.iter().map(|(_, sheet)| to_be_paid(sheet)).collect();
    table
        .rows
        .push(Row::Total(cells("Gross, to be paid", gross)));
    if let Some(amounts) = cash(&columns) {
        table.rows.push(Row::Total(cells("In cash", amounts)));
    }
    Block::Table(table)
}

/// A column for each option: what is to be paid when, with the tax in it; none where none of them is an offer.
pub(super) fn stages(quotation: &Quotation) -> Option<Block> {
    let columns = columns(quotation);
    let all = all_stages(&columns);
    let stages = all.iter().enumerate().map(|(place, stage)| {
        let due = stage.due.map_or_else(|| "when reached".to_owned(), date);
        let agreed = if stage.terms == stage.amount {
            String::new()
        } else {
            agreed_as(stage)
        };
        let amounts = columns
            .iter()
            .map(|(_, sheet)| match sheet.stages.get(place) {
                Some(own) => {
                    let tax = (!sheet.rates.is_empty()).then(|| format!("tax {}", own.tax));
                    let cash = own.cash.as_ref().map(|cash| format!("in cash {cash}"));
                    Cell::noted(
                        &own.amount,
                        tax.into_iter().chain(cash).collect::<Vec<_>>().join(", "),
                    )
                }
                None => Cell::new(""),
            });
        Row::Cells(
            [Cell::noted(&stage.name, agreed), Cell::new(due)]
                .into_iter()
                .chain(amounts)
                .collect(),
        )
    });
    let rows: Vec<Row> = stages.collect();
    (!rows.is_empty()).then(|| {
        Block::Table(Table {
            rows,
            columns: heads(&["Stage", "Due"], quotation),
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
