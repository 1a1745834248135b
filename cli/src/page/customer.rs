//! The customer's sheet.

use super::{
    document::{Block, Cell, Document, Row, Table, left, right},
    offers,
    words::{Wording, clean},
};
use crate::ui::offers::columns;
use ellwand_contract::{
    quotations::{CustomerSheet, Quotation, QuotedRate, QuotedStage, Sender, Supplement},
    words::Label,
};
use ellwand_domain::setting::{PricesShown, QuotationState};

/// The customer's sheet.
pub(super) fn document(quotation: &Quotation) -> Document {
    let (sheet, words) = (&quotation.sheet, Wording::of_sheet(&quotation.sheet));
    let state = state(quotation);
    let mut blocks: Vec<Block> = sheet.description.iter().map(Block::text).collect();
    blocks.extend(prices(quotation));
    if let Some(cash) = &sheet.cash {
        let step = format!("{} {}", words.money(&cash.step), sheet.currency);
        blocks.push(Block::text(
            words.fill(Label::CashRounding, &[("{step}", &step)]),
        ));
    }
    let account = sheet
        .sender
        .as_ref()
        .and_then(|sender| sender.account.as_ref());
    if let Some(account) = account.filter(|_| sheet.to_be_priced.is_empty()) {
        blocks.push(Block::text(format!(
            "{}: {account}",
            words.word(Label::Account)
        )));
    }
    if let Some(terms) = &sheet.terms {
        blocks.extend([Block::heading(words.word(Label::Terms)), Block::text(terms)]);
    }
    if state.is_none() {
        let chosen = (!quotation.options.is_empty()).then_some(Label::ChosenOption);
        let lines = chosen
            .into_iter()
            .chain([Label::PlaceAndDate, Label::Signature]);
        blocks.push(Block::Signed(
            lines.map(|label| clean(words.word(label))).collect(),
        ));
    }
    let (title, version) = (words.word(Label::Quotation), words.word(Label::Version));
    Document {
        title: format!(
            "{title} {}, {version} {}",
            quotation.quotation, quotation.version
        ),
        marks: state.into_iter().collect(),
        facts: facts(quotation),
        blocks,
        ..Document::headed_as(sheet)
    }
}

/// What is to be paid and when, of the plan or of each option.
fn prices(quotation: &Quotation) -> Vec<Block> {
    let (sheet, words) = (&quotation.sheet, Wording::of_sheet(&quotation.sheet));
    let heading = |label| Block::heading(words.before(label, &sheet.currency));
    let mut blocks = Vec::new();
    if quotation.options.is_empty() {
        blocks.extend([heading(Label::PriceIn), lines(sheet), held(sheet)]);
        if !sheet.rates.is_empty() {
            blocks.extend([heading(Label::TaxIn), rates(sheet)]);
        }
        if !sheet.stages.is_empty() {
            blocks.extend([heading(Label::PaymentIn), stages(sheet)]);
        }
    } else {
        if let Some(parts) = offers::made_of(quotation) {
            blocks.extend([Block::heading(words.word(Label::MadeOf)), parts]);
        }
        let prices = offers::prices(quotation);
        blocks.extend([heading(Label::OptionsIn), prices, held(sheet)]);
        if let Some(stages) = offers::stages(quotation) {
            blocks.extend([heading(Label::PaymentIn), stages]);
        }
    }
    blocks
}

/// The lines at the head of a sheet.
pub(super) fn sender(sender: &Sender, words: Wording<'_>) -> Vec<String> {
    let named = |label, text: &Option<String>| {
        let text = text.as_ref();
        text.map(|text| clean(&words.before(label, text)))
    };
    let lines = sender.name.iter().chain(&sender.address);
    lines
        .map(|line| clean(line))
        .chain(named(Label::Telephone, &sender.telephone))
        .chain(named(Label::TaxNumber, &sender.tax_number))
        .collect()
}

/// The customer, the garment and how long the offer is valid.
fn facts(quotation: &Quotation) -> Vec<(String, String)> {
    let (sheet, words) = (&quotation.sheet, Wording::of_sheet(&quotation.sheet));
    let mut facts = Vec::new();
    let mut fact = |label, text: String| facts.push((clean(words.word(label)), clean(&text)));
    if let Some(name) = &quotation.customer_name {
        fact(Label::For, name.clone());
    }
    fact(Label::What, sheet.title.clone());
    fact(Label::HowMany, sheet.count.to_string());
    let parts = sheet.made_of.iter();
    let parts = parts.map(|part| format!("{} {}", part.role, words.material(part)));
    let parts: Vec<String> = parts.collect();
    if !parts.is_empty() && quotation.options.is_empty() {
        fact(Label::MadeOf, parts.join(", "));
    }
    if let Some(Supplement {
        to,
        agreed,
        together,
    }) = &sheet.supplement
    {
        let money = |amount: &str| format!("{} {}", words.money(amount), sheet.currency);
        let so_far = words.word(Label::AgreedSoFar);
        fact(
            Label::SupplementTo,
            format!("{to}, {} {so_far}", money(agreed)),
        );
        fact(Label::TotalWithThis, money(together));
    }
    fact(Label::Day, words.date(sheet.date));
    fact(Label::ValidUntil, words.date(sheet.valid_until));
    if let Some(day) = sheet.delivery {
        fact(Label::Delivery, words.date(day));
    }
    facts
}

/// Why this is not an offer that may be accepted; none when it is one.
fn state(quotation: &Quotation) -> Option<String> {
    let words = Wording::of_sheet(&quotation.sheet);
    let standing = quotation
        .versions
        .iter()
        .filter(|head| !head.taken_back)
        .map(|head| head.version);
    let newest = standing.max().unwrap_or(quotation.version);
    let by_version =
        |label, version: i64| words.fill(label, &[("{version}", &version.to_string())]);
    let accepted = match quotation.accepted {
        Some(version) if version != quotation.version => {
            by_version(Label::VersionAccepted, version)
        }
        _ => match &quotation.accepted_option {
            Some(option) => {
                let option = clean(&words.name(option));
                words.fill(Label::OptionAccepted, &[("{option}", &option)])
            }
            None => words.word(Label::ThisAccepted).to_owned(),
        },
    };
    let what = |label| words.fill(label, &[("{what}", &accepted)]);
    match quotation.state {
        QuotationState::Open if newest > quotation.version => {
            Some(by_version(Label::Replaced, newest))
        }
        QuotationState::Open if newest < quotation.version => {
            Some(by_version(Label::Withdrawn, newest))
        }
        QuotationState::Open => no_offer(quotation),
        QuotationState::Accepted => Some(what(Label::Accepted)),
        QuotationState::Closed => Some(words.word(Label::Closed).to_owned()),
        QuotationState::Cancelled => Some(what(Label::Cancelled)),
    }
}

/// That nothing is to be paid yet, where something has still to be priced.
fn no_offer(quotation: &Quotation) -> Option<String> {
    let words = Wording::of_sheet(&quotation.sheet);
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
                format!("{}: ", clean(&words.name(name)))
            };
            format!("{of}{}", clean(&sheet.to_be_priced.join(", ")))
        })
        .collect();
    let what = missing.join("; ");
    (!missing.is_empty()).then(|| words.fill(Label::NoOffer, &[("{what}", &what)]))
}

/// Whether the amounts of the lines hold tax.
fn held(sheet: &CustomerSheet) -> Block {
    Block::text(Wording::of_sheet(sheet).word(match sheet.shown {
        _ if sheet.rates.is_empty() => Label::NoTax,
        PricesShown::WithoutTax => Label::WithoutTax,
        PricesShown::WithTax => Label::WithTax,
    }))
}

/// The lines and what they come to. Each names its rate where there is more than one.
fn lines(sheet: &CustomerSheet) -> Block {
    let words = Wording::of_sheet(sheet);
    let has_rates = sheet.rates.len() > 1;
    let cells = |text: &str, rate: Option<&str>, amount: &str| {
        let rate = has_rates.then(|| Cell::new(rate.unwrap_or_default()));
        [
            Some(Cell::new(text)),
            rate,
            Some(Cell::new(words.money(amount))),
        ]
        .into_iter()
        .flatten()
        .collect()
    };
    let mut columns = vec![
        left(words.word(Label::Line)),
        right(words.word(Label::Amount)),
    ];
    if has_rates {
        columns.insert(1, left(words.word(Label::TaxRate)));
    }
    let rows = sheet.lines.iter().map(|line| {
        let text = words.line(&line.text);
        Row::Cells(cells(&text, line.rate.as_deref(), &line.amount))
    });
    let gross = match sheet.to_be_priced.is_empty() {
        true => Label::ToBePaid,
        false => Label::PricedSoFar,
    };
    let cash = sheet
        .cash
        .iter()
        .map(|cash| (Label::InCashAtOnce, &cash.gross));
    let totals = [
        (Label::Net, &sheet.net),
        (Label::Tax, &sheet.tax),
        (gross, &sheet.gross),
    ];
    let totals = totals.into_iter().chain(cash);
    let totals = totals.map(|(label, amount)| Row::Total(cells(words.word(label), None, amount)));
    Block::Table(Table {
        columns,
        rows: rows.chain(totals).collect(),
    })
}

fn rates(sheet: &CustomerSheet) -> Block {
    let words = Wording::of_sheet(sheet);
    let row = |rate: &QuotedRate| {
        let amounts = [&rate.net, &rate.tax, &rate.gross].map(|amount| words.money(amount));
        let texts = [rate.name.clone(), words.percent(&rate.percent)];
        Row::Cells(texts.into_iter().chain(amounts).map(Cell::new).collect())
    };
    let columns = [Label::Percent, Label::Net, Label::Tax, Label::Gross];
    let columns = columns.map(|label| right(words.word(label)));
    let first = std::iter::once(left(words.word(Label::Rate)));
    Block::Table(Table {
        columns: first.chain(columns).collect(),
        rows: sheet.rates.iter().map(row).collect(),
    })
}

fn stages(sheet: &CustomerSheet) -> Block {
    let words = Wording::of_sheet(sheet);
    let row = |stage: &QuotedStage| {
        let due = match stage.due {
            Some(day) => words.date(day),
            None => words.word(Label::WhenReached).to_owned(),
        };
        let name = Cell::noted(words.name(&stage.name), words.terms(stage));
        let mut cells = vec![
            name,
            Cell::new(due),
            Cell::new(words.money(&stage.amount)),
            Cell::new(words.money(&stage.tax)),
        ];
        cells.extend(
            sheet
                .cash
                .as_ref()
                .map(|_| Cell::new(words.money(stage.cash.as_deref().unwrap_or_default()))),
        );
        Row::Cells(cells)
    };
    let mut columns = vec![
        left(words.word(Label::Stage)),
        left(words.word(Label::Due)),
        right(words.word(Label::Amount)),
        right(words.word(Label::TaxInIt)),
    ];
    let cash = sheet.cash.as_ref();
    columns.extend(cash.map(|_| right(words.word(Label::InCash))));
    Block::Table(Table {
        columns,
        rows: sheet.stages.iter().map(row).collect(),
    })
}
