//! The workshop's figures beside the customer's.

use super::{
    bar,
    document::{Block, Cell, Document, Row, Table, left, right},
    offers,
    words::{clean, percent},
};
use crate::ui::time::minutes;
use ellwand_contract::{
    Micro,
    quotations::{InternalSheet, Quotation},
};
use ellwand_domain::{
    quantity::Currency,
    setting::{MaterialsAt, PriceFrom},
};

/// A caution for whoever prints these figures.
const CAUTION: &str =
    "Figures for planning. Tax, deposits and terms follow local law and an accountant's advice.";

/// Makes the customer's sheet the workshop's: what it earns and costs comes first, the customer's figures stay.
pub(super) fn add(document: &mut Document, quotation: &Quotation, sheet: &InternalSheet) {
    document.title.push_str(", internal sheet");
    document.marks.insert(
        0,
        "Internal sheet: for the workshop, not for the customer.".to_owned(),
    );
    document
        .facts
        .push(("Garment".to_owned(), quotation.garment.to_string()));
    if let Some(customer) = quotation.customer {
        document
            .facts
            .push(("Customer".to_owned(), customer.to_string()));
    }
    let currency = &quotation.sheet.currency;
    let mut blocks = Vec::new();
    if let Some(all) = quotation.comparison.as_ref().filter(|all| !all.is_empty()) {
        blocks.extend(offers::compared(all, currency));
    }
    blocks.extend(figures(sheet, quotation.plan_is.as_deref(), currency));
    for option in &quotation.options {
        let Some(own) = &option.inside else { continue };
        let mut of_option = figures(own, Some(&option.name), currency);
        of_option.insert(
            1,
            Block::text(format!("Against the plan: {}.", option.differs.join("; "))),
        );
        blocks.extend(of_option);
    }
    blocks.push(Block::heading("What the customer sees"));
    // Nobody signs the workshop's own sheet.
    document
        .blocks
        .retain(|block| !matches!(block, Block::Signed(_)));
    blocks.append(&mut document.blocks);
    let notes: Vec<_> = sheet.notes.iter().chain(&quotation.notes).collect();
    if !notes.is_empty() {
        blocks.extend([Block::heading("Notes"), Block::list(notes)]);
    }
    blocks.push(Block::text(CAUTION));
    document.blocks = blocks;
}

/// What a price earns and costs, of the plan or of an option.
fn figures(sheet: &InternalSheet, option: Option<&str>, currency: &str) -> Vec<Block> {
    let of = option.map(|name| format!("{name}: ")).unwrap_or_default();
    let result_of = if of.is_empty() { "Result" } else { "result" };
    let mut blocks = vec![
        Block::heading(format!("{of}{result_of} in {currency}")),
        result(sheet, currency),
    ];
    blocks.push(Block::text(pricing_basis(sheet)));
    blocks.extend([
        Block::heading(format!("Where the net price comes from, in {currency}")),
        { Block::Bars(bar::bars(&sheet.parts, sheet.net)) },
    ]);
    blocks.extend([Block::heading(format!("Costs in {currency}")), costs(sheet)]);
    blocks.extend(offers::details(&sheet.details, currency));
    if !sheet.not_priced.is_empty() {
        blocks.extend([Block::heading("Not priced"), Block::list(&sheet.not_priced)]);
        blocks.push(Block::text(
            "No figure of this sheet includes these; they are not taken as zero.",
        ));
    }
    blocks
}

/// The price beside the floor, what is left and what an hour earns.
fn result(sheet: &InternalSheet, currency: &str) -> Block {
    let digits = currency.parse::<Currency>().map_or(2, Currency::digits);
    let money = |value: Micro| Cell::new(value.0.rounded(digits));
    let row =
        |name: &str, note: &str, value: Cell| Row::Cells(vec![Cell::noted(name, note), value]);
    let floor = "replacement materials, paid labour, overhead, own hours at the pay wanted";
    let below = match sheet.below_floor {
        Some(below) => Row::Total(vec![
            Cell::new("The price is below the floor by"),
            money(below),
        ]),
        None => row("The price is not below the floor", "", Cell::new("")),
    };
    let shares = [
        (&sheet.markup_percent, "markup", "cost"),
        (&sheet.margin_percent, "margin", "price"),
    ];
    let shares = shares.into_iter().filter_map(|(share, name, of)| {
        share
            .as_deref()
            .map(|share| format!("{name} {} of the {of}", percent(share)))
    });
    let shares: Vec<_> = shares.collect();
    let own = format!("{} of own work", minutes(sheet.own_minutes));
    let hour = sheet
        .hour_earns
        .map_or_else(|| Cell::new("not known"), money);
    let profit = row(
        "Profit: the price less the cost",
        &shares.join(", "),
        money(sheet.profit),
    );
    let mut rows = vec![
        row("Net price", "", money(sheet.net)),
        row("Floor", floor, money(sheet.floor)),
        below,
        profit,
        row("An own hour earns", &own, hour),
    ];
    if let Some(batch) = &sheet.batch {
        let good = format!("of {} good, {} spoiled", batch.good, batch.spoiled);
        rows.push(row(
            "Cost of each",
            &good,
            Cell::new(&batch.cost_each_printed),
        ));
        rows.push(row(
            "Net price of each",
            &good,
            Cell::new(&batch.net_each_printed),
        ));
        if !batch.loss.0.is_zero() {
            rows.push(row(
                "Loss on spoiled ones",
                "not in the price",
                Cell::new(&batch.loss_printed),
            ));
        }
    }
    Block::Table(Table {
        columns: vec![left("Figure"), right("Amount")],
        rows,
    })
}

/// How the price was made, and on what.
fn pricing_basis(sheet: &InternalSheet) -> String {
    let from = match sheet.from {
        PriceFrom::Plan => "Costs are from the plan",
        PriceFrom::Actual => "Costs are the actual cost",
    };
    let at = match sheet.materials_at {
        MaterialsAt::Cost => "materials at what their own lot cost",
        MaterialsAt::Replacement => "materials at what it costs to replace them",
    };
    format!(
        "How the price was made: {}. {from}, {at}.",
        clean(&sheet.rule).trim_end_matches('.')
    )
}

/// The costs under the names of their groups.
fn costs(sheet: &InternalSheet) -> Block {
    let mut rows = Vec::new();
    let mut above = None;
    for cost in &sheet.costs {
        if above != Some(cost.group) {
            rows.push(Row::Group(clean(&cost.group.to_string())));
            above = Some(cost.group);
        }
        let [quantity, range] =
            [&cost.quantity, &cost.range].map(|text| text.as_deref().unwrap_or_default());
        let name = Cell::noted(&cost.name, &cost.detail);
        let words = [quantity, range, cost.certainty.as_str(), &cost.printed].map(Cell::new);
        rows.push(Row::Cells([name].into_iter().chain(words).collect()));
    }
    let columns = vec![
        left("What"),
        right("Quantity"),
        right("Time range"),
        left("Certainty"),
        right("Cost"),
    ];
    Block::Table(Table { columns, rows })
}
