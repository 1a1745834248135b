//! A receipt for what was paid, with what is still owed.

use super::{
    document::{Block, Cell, Document, Row, Table, left, right},
    words::{Wording, clean},
};
use crate::ui::quotation::agreed;
use ellwand_contract::{
    quotations::{Payment, Quotation},
    words::Label,
};

/// The receipt for one of the payments of a quotation, in the words and under the head of the version that was accepted.
pub(super) fn document(quotation: &Quotation, payment: &Payment) -> Document {
    let sheet = agreed(quotation);
    let words = Wording::of_sheet(sheet);
    let is_back = payment.amount.starts_with('-');
    let amount = words.money(payment.amount.trim_start_matches('-'));
    let mut facts = Vec::new();
    let mut fact = |label, text: &str| facts.push((clean(words.word(label)), clean(text)));
    if let Some(name) = &quotation.customer_name {
        fact(Label::For, name);
    }
    fact(Label::What, &sheet.title);
    fact(Label::Quotation, &quotation.quotation.to_string());
    fact(Label::ReceivedOn, &words.date(payment.date));
    if payment.cash {
        fact(Label::How, words.word(Label::Cash));
    }
    if let Some(note) = &payment.note {
        fact(Label::Note, note);
    }
    let row = |label, amount: &str| vec![Cell::new(words.word(label)), Cell::new(amount)];
    let paid = match is_back {
        true => Label::PaidBack,
        false => Label::Received,
    };
    let mut rows = vec![
        Row::Cells(row(Label::Agreed, &words.money(&sheet.gross))),
        Row::Cells(row(Label::PaidSoFar, &words.money(&payment.paid))),
    ];
    if let Some(rounding) = &payment.rounding_so_far {
        rows.push(Row::Cells(row(Label::Rounding, &words.money(rounding))));
    }
    if let Some(left) = &payment.left {
        rows.push(Row::Cells(row(Label::StillToPay, &words.money(left))));
    }
    rows.insert(0, Row::Total(row(paid, &amount)));
    let signed = [Label::PlaceAndDate, Label::Signature];
    Document {
        title: format!("{} {}", words.word(Label::Receipt), payment.booking),
        facts,
        blocks: vec![
            Block::heading(words.before(Label::PaymentIn, &sheet.currency)),
            Block::Table(Table {
                columns: vec![left(""), right(words.word(Label::Amount))],
                rows,
            }),
            Block::Signed(signed.map(|label| clean(words.word(label))).into()),
        ],
        ..Document::headed_as(sheet)
    }
}
