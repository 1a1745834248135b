//! The sheet that the customer reads.

use crate::money::quotations::{
    ask::{self, is_of_a_line},
    cash,
    freeze::Wish,
    price::Priced,
};
use crate::{
    desk::{context::Context, failure::Done},
    money::tax::UNTAXED,
    workshop,
};
use chrono::NaiveDate;
use ellwand_contract::quotations::{CustomerSheet, QuotedCash, QuotedRate, QuotedStage, Sender};
use ellwand_domain::pricing::{PriceLineOf, PricesShown};
use ellwand_storage::Garment;

/// The sheet of an offer.
pub(in crate::money::quotations) fn sheet(
    context: &Context<'_>,
    garment: &Garment,
    wish: &Wish,
    priced: &Priced,
    (date, valid_until): (NaiveDate, NaiveDate),
) -> Done<CustomerSheet> {
    let amount = |minor| context.currency.money(minor);
    let money = |minor| amount(minor).decimal();
    let step = cash::step(priced.basis.cash_step, context.currency)?;
    let rates = priced
        .taxed
        .rates
        .iter()
        .filter(|total| total.rate.name() != UNTAXED);
    let total = priced.taxed.total;
    let sender = workshop::sender(&context.workshop);
    Ok(CustomerSheet {
        sender: Some(sender).filter(|sender| *sender != Sender::default()),
        title: garment.name.clone(),
        count: garment.good.unwrap_or(garment.count),
        date,
        valid_until,
        currency: context.currency.code().to_owned(),
        shown: context.workshop.prices_shown,
        rates: rates
            .map(|total| QuotedRate {
                name: total.rate.name().to_owned(),
                percent: total.rate.share().decimal(),
                net: money(total.amounts.net),
                tax: money(total.amounts.tax),
                gross: money(total.amounts.gross),
            })
            .collect(),
        lines: priced.lines.clone(),
        net: money(total.net),
        tax: money(total.tax),
        gross: money(total.gross),
        cash: match cash::in_cash(step, amount(total.gross))? {
            Some(gross) => step.map(|step| QuotedCash {
                step: step.step().decimal(),
                gross,
            }),
            None => None,
        },
        stages: stages(context, wish, priced)?,
        to_be_priced: Vec::new(),
        terms: wish.terms.clone(),
        supplement: None,
    })
}

/// Makes it no offer: something has still to be priced, so that nothing is to be paid.
pub(in crate::money::quotations) fn no_offer(sheet: &mut CustomerSheet, to_be_priced: Vec<String>) {
    (sheet.cash, sheet.stages) = (None, Vec::new());
    sheet.to_be_priced = to_be_priced;
}

fn stages(context: &Context<'_>, wish: &Wish, priced: &Priced) -> Done<Vec<QuotedStage>> {
    let schedule = priced.basis.schedule()?;
    let plans = ask::stages(context.currency, &wish.stage)?;
    let before = before_what(priced);
    let step = cash::step(priced.basis.cash_step, context.currency)?;
    let amount = |minor| context.currency.money(minor);
    let quoted = schedule.stages.iter().enumerate().map(|(position, stage)| {
        let input = wish.stage.get(position);
        let terms = input
            .and_then(|input| input.amount.clone())
            .unwrap_or_else(|| "the rest".to_owned());
        let is_share = plans.get(position).is_some_and(is_of_a_line);
        Ok(QuotedStage {
            name: stage.name.clone(),
            terms,
            counted: before.clone().filter(|_| is_share),
            due: input.and_then(|input| input.due),
            amount: amount(stage.amounts.gross).decimal(),
            tax: amount(stage.amounts.tax).decimal(),
            cash: cash::in_cash(step, amount(stage.amounts.gross))?,
        })
    });
    quoted.collect()
}

/// What is not yet taken off or added to a line that a stage is a share of.
fn before_what(priced: &Priced) -> Option<String> {
    let is_discounted = priced
        .basis
        .lines
        .iter()
        .any(|line| matches!(line.of, PriceLineOf::Discount(_)));
    let is_taxed = priced.basis.rules.0 == PricesShown::WithoutTax && priced.taxed.total.tax != 0;
    let before = match (is_discounted, is_taxed) {
        (true, true) => "before discount and tax",
        (true, false) => "before discount",
        (false, true) => "before tax",
        (false, false) => return None,
    };
    Some(before.to_owned())
}
