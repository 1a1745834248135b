//! The customer's sheet.

use super::{
    document::{Block, Cell, Document, Row, Table, left, right},
    offers,
    words::{clean, date, percent},
};
use crate::ui::{offers::columns, quotation::agreed_as};
use ellwand_contract::quotations::{
    CustomerSheet, Quotation, QuotedRate, QuotedStage, Sender, Supplement,
};
use ellwand_domain::setting::{PricesShown, QuotationState};

/// The customer's sheet.
pub(super) fn document(quotation: &Quotation) -> Document {
    let sheet = &quotation.sheet;
    let payment = Block::heading(format!("Payment in {}", sheet.currency));
    let mut blocks: Vec<Block> = sheet.description.iter().map(Block::text).collect();
    blocks.extend(
        offers::made_of(quotation)
            .map(|parts| [Block::heading("Made of"), parts])
            .into_iter()
            .flatten(),
    );
    if quotation.options.is_empty() {
        blocks.extend([
            Block::heading(format!("Price in {}", sheet.currency)),
            lines(sheet),
        ]);
        blocks.push(Block::text(held(sheet)));
        if !sheet.rates.is_empty() {
            blocks.extend([
                Block::heading(format!("Tax by rate in {}", sheet.currency)),
                rates(sheet),
            ]);
        }
        if !sheet.stages.is_empty() {
            blocks.extend([payment, stages(sheet)]);
        }
    } else {
        let heading = Block::heading(format!("Price of each option in {}", sheet.currency));
        blocks.extend([heading, offers::prices(quotation), Block::text(held(sheet))]);
        blocks.extend(
            offers::stages(quotation)
                .map(|stages| [payment, stages])
                .into_iter()
                .flatten(),
        );
    }
    if let Some(cash) = &sheet.cash {
        let step = format!("{} {}", cash.step, sheet.currency);
        blocks.push(Block::text(format!(
            "Cash is rounded to the nearest {step}, half a step up. The price itself does not change."
        )));
    }
    let account = sheet
        .sender
        .as_ref()
        .and_then(|sender| sender.account.as_ref());
    if let Some(account) = account.filter(|_| sheet.to_be_priced.is_empty()) {
        blocks.push(Block::text(format!("Account: {account}")));
    }
    if let Some(terms) = &sheet.terms {
        blocks.extend([Block::heading("Terms"), Block::text(terms)]);
    }
    let state = state(quotation);
    if state.is_none() {
        let chosen = (!quotation.options.is_empty()).then_some("Chosen option");
        let lines = chosen.into_iter().chain(["Place and date", "Signature"]);
        blocks.push(Block::Signed(lines.map(str::to_owned).collect()));
    }
    Document {
        sender: sheet.sender.as_ref().map(sender).unwrap_or_default(),
        title: format!(
            "Quotation {}, version {}",
            quotation.quotation, quotation.version
        ),
        marks: state.into_iter().collect(),
        facts: facts(quotation),
        blocks,
    }
}

/// The lines at the head of a sheet.
pub(super) fn sender(sender: &Sender) -> Vec<String> {
    let named = |name: &str, text: &Option<String>| {
        text.as_ref().map(|text| format!("{name} {}", clean(text)))
    };
    let lines = sender.name.iter().chain(&sender.address);
    let lines = lines.map(|line| clean(line));
    lines
        .chain(named("Telephone", &sender.telephone))
        .chain(named("Tax number", &sender.tax_number))
        .collect()
}

/// The customer, the garment and how long the offer is valid.
fn facts(quotation: &Quotation) -> Vec<(&'static str, String)> {
    let sheet = &quotation.sheet;
    let mut facts = Vec::new();
    if let Some(name) = &quotation.customer_name {
        facts.push(("For", clean(name)));
    }
    facts.push(("What", clean(&sheet.title)));
    facts.push(("How many", sheet.count.to_string()));
    if let Some(Supplement {
        to,
        agreed,
        together,
    }) = &sheet.supplement
    {
        let currency = &sheet.currency;
        facts.push((
            "Supplement to",
            format!("{to}, {agreed} {currency} agreed so far"),
        ));
        facts.push(("Total with this", format!("{together} {currency}")));
    }
    facts.push(("Date", date(sheet.date)));
    facts.push(("Valid until", date(sheet.valid_until)));
    if let Some(day) = sheet.delivery {
        facts.push(("Delivery", date(day)));
    }
    facts
}

/// Why this is not an offer that may be accepted; none when it is one.
fn state(quotation: &Quotation) -> Option<String> {
    let standing = quotation
        .versions
        .iter()
        .filter(|head| !head.taken_back)
        .map(|head| head.version);
    let newest = standing.max().unwrap_or(quotation.version);
    let accepted = match quotation.accepted {
        Some(version) if version != quotation.version => format!("version {version} was accepted"),
        _ => match &quotation.accepted_option {
            Some(option) => format!("{} of this version was accepted", clean(option)),
            None => "this version was accepted".to_owned(),
        },
    };
    match quotation.state {
        QuotationState::Open if newest > quotation.version => {
            Some(format!("Replaced by version {newest}."))
        }
        QuotationState::Open if newest < quotation.version => {
            Some(format!("Withdrawn: version {newest} applies."))
        }
        QuotationState::Open => no_offer(quotation),
        QuotationState::Accepted => Some(format!("Accepted: {accepted}.")),
        QuotationState::Closed => Some("Closed: this offer is no longer valid.".to_owned()),
        QuotationState::Cancelled => Some(format!(
            "Cancelled: {accepted}, and the order was then cancelled."
        )),
    }
}

/// That nothing is to be paid yet, where something has still to be priced.
fn no_offer(quotation: &Quotation) -> Option<String> {
    let columns = if quotation.options.is_empty() {
        vec![("", &quotation.sheet)]
    } else {
        columns(quotation)
    };
    let missing: Vec<String> = columns
        .into_iter()
        .filter(|(_, sheet)| !sheet.to_be_priced.is_empty())
        .map(|(name, sheet)| {
            let of = if name.is_empty() {
                String::new()
            } else {
                format!("{}: ", clean(name))
            };
            format!("{of}{}", clean(&sheet.to_be_priced.join(", ")))
        })
        .collect();
    (!missing.is_empty()).then(|| format!("Not an offer yet; not priced: {}.", missing.join("; ")))
}

/// Whether the amounts of the lines hold tax.
fn held(sheet: &CustomerSheet) -> &'static str {
    match sheet.shown {
        _ if sheet.rates.is_empty() => "No tax is charged on these amounts.",
        PricesShown::WithoutTax => "Line amounts are without tax, which is added below.",
        PricesShown::WithTax => "Line amounts include tax.",
    }
}

/// The lines and what they come to. Each names its rate where there is more than one.
fn lines(sheet: &CustomerSheet) -> Block {
    let has_rates = sheet.rates.len() > 1;
    let cells = |text: &str, rate: Option<&str>, amount: &str| {
        let rate = has_rates.then(|| Cell::new(rate.unwrap_or_default()));
        [Some(Cell::new(text)), rate, Some(Cell::new(amount))]
            .into_iter()
            .flatten()
            .collect()
    };
    let mut columns = vec![left("Line"), right("Amount")];
    if has_rates {
        columns.insert(1, left("Tax rate"));
    }
    let rows = sheet
        .lines
        .iter()
        .map(|line| Row::Cells(cells(&line.text, line.rate.as_deref(), &line.amount)));
    let gross = if sheet.to_be_priced.is_empty() {
        "Gross, to be paid"
    } else {
        "Gross, priced so far"
    };
    let totals = [
        ("Net", &sheet.net),
        ("Tax", &sheet.tax),
        (gross, &sheet.gross),
    ];
    let totals = totals.map(|(name, amount)| Row::Total(cells(name, None, amount)));
    let cash = sheet
        .cash
        .iter()
        .map(|cash| Row::Total(cells("In cash, paid at once", None, &cash.gross)));
    Block::Table(Table {
        columns,
        rows: rows.chain(totals).chain(cash).collect(),
    })
}

fn rates(sheet: &CustomerSheet) -> Block {
    let row = |rate: &QuotedRate| {
        let percent = percent(&rate.percent);
        Row::Cells(
            [&rate.name, &percent, &rate.net, &rate.tax, &rate.gross]
                .map(Cell::new)
                .into(),
        )
    };
    let columns = vec![
        left("Rate"),
        right("Percent"),
        right("Net"),
        right("Tax"),
        right("Gross"),
    ];
    Block::Table(Table {
        columns,
        rows: sheet.rates.iter().map(row).collect(),
    })
}

fn stages(sheet: &CustomerSheet) -> Block {
    let row = |stage: &QuotedStage| {
        // A fixed sum is its own terms.
        let agreed = if stage.terms == stage.amount {
            String::new()
        } else {
            agreed_as(stage)
        };
        let due = stage.due.map_or_else(|| "when reached".to_owned(), date);
        let name = Cell::noted(&stage.name, agreed);
        let mut cells = vec![
            name,
            Cell::new(due),
            Cell::new(&stage.amount),
            Cell::new(&stage.tax),
        ];
        cells.extend(
            sheet
                .cash
                .as_ref()
                .map(|_| Cell::new(stage.cash.as_deref().unwrap_or_default())),
        );
        Row::Cells(cells)
    };
    let mut columns = vec![
        left("Stage"),
        left("Due"),
        right("Amount"),
        right("Tax in it"),
    ];
    columns.extend(sheet.cash.as_ref().map(|_| right("In cash")));
    Block::Table(Table {
        columns,
        rows: sheet.stages.iter().map(row).collect(),
    })
}
