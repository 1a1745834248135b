//! From costs to the customer's lines, their tax and stages.

pub(in crate::money::quotations) mod ask;
pub(in crate::money::quotations) mod base;
mod batch;
mod details;
pub(in crate::money::quotations) mod house;
pub(in crate::money::quotations) mod made;
mod material;
pub(in crate::money::quotations) mod part_rates;
pub(in crate::money::quotations) mod quoted;
mod unpriced;

use super::{
    ask::Asked,
    base::Base,
    freeze::{Basis, Rules, Sold, rate_of, taxed},
    refused, supplement,
};
use crate::{
    desk::{
        context::Context,
        failure::{Done, Failure, invalid},
    },
    money::tax::UNTAXED,
};
use ellwand_contract::quotations::{PriceInput, QuotedLine, StageInput};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    pricing::{
        Charmed, PriceLine, PriceLineOf, PriceRule, PricesShown, PricingError, TaxRate, Taxed,
        price_by_markup,
    },
};

/// A price with its lines and tax.
pub(in crate::money::quotations) struct Priced {
    pub(in crate::money::quotations) lines: Vec<QuotedLine>,
    pub(in crate::money::quotations) taxed: Taxed,
    pub(in crate::money::quotations) basis: Basis,
}

/// Largest net price: tax and sums of several quotations stay within what the book holds.
const LARGEST: i64 = 100_000_000_000_000;

/// Lines before they are taxed, as they are shown, and the rates that they are at.
#[derive(Clone)]
pub(in crate::money::quotations) struct Lines {
    /// Each name once.
    pub(in crate::money::quotations) rates: Vec<TaxRate>,
    pub(in crate::money::quotations) all: Vec<(String, PriceLine)>,
}

/// What a change of an agreed plan is sold for.
pub(in crate::money::quotations) struct Change {
    pub(in crate::money::quotations) lines: Lines,
    pub(in crate::money::quotations) of: GarmentCode,
    pub(in crate::money::quotations) to: QuotationCode,
}

/// What a line of a price is called; a discount with its rate where there are several.
pub(in crate::money::quotations) fn text(line: &PriceLine, rates: &[TaxRate]) -> Done<String> {
    let rate = rate_of(rates, line)?;
    Ok(match line.of {
        PriceLineOf::Materials => "Materials".to_owned(),
        PriceLineOf::Labour => "Labour".to_owned(),
        PriceLineOf::Handling => "Handling".to_owned(),
        PriceLineOf::Rounding => "Rounding".to_owned(),
        PriceLineOf::Discount(share) if rates.len() == 1 => format!("Discount {share}"),
        PriceLineOf::Discount(share) => format!("Discount {share}, {}", rate.name()),
    })
}

/// A refusal of a price at the field that it is about.
pub(in crate::money::quotations) fn refused_price(
    rule: &PriceRule,
) -> impl Fn(PricingError) -> Failure {
    let field = match rule {
        PriceRule::Markup { .. } => "markup",
        PriceRule::Margin(_) => "margin",
        PriceRule::HourlyTarget { .. } => "hourly",
        PriceRule::Fixed(_) => "price",
    };
    move |error| match error {
        PricingError::HandlingAbovePrice => refused("handling")(error),
        error => refused(field)(error),
    }
}

/// Materials, labour and handling, then each discount at each rate that it takes from.
fn lines(context: &Context<'_>, base: &Base, asked: &Asked) -> Done<Lines> {
    if let Some(change) = &base.change {
        return Ok(change.lines.clone());
    }
    let terms = &asked.terms;
    if let Some(markup) = terms.on_materials {
        price_by_markup(base.price.materials, markup).map_err(refused("material_markup"))?;
    }
    let parts = terms
        .parts(&base.price)
        .map_err(refused_price(&terms.rule))?;
    if parts.total()?.get() > LARGEST {
        return Err(invalid(
            "price",
            "the price comes to more than 100 000 000, the most that a quotation holds",
        )
        .with("wanted_millionths", parts.total()?.get())
        .with("most_millionths", LARGEST));
    }
    let (rates, digits) = (terms.rates.clone(), context.currency.digits());
    let lines = parts
        .lines(terms.of, rates.len(), &terms.discounts, digits)
        .map_err(refused("discount"))?;
    let all = lines
        .into_iter()
        .map(|line| Ok((text(&line, &rates)?, line)))
        .collect::<Done<_>>()?;
    Ok(Lines { rates, all })
}

impl Lines {
    /// Rounds the total up, where that is asked for. What it is rounded up by is the work's, or else goes with the first line.
    fn round_up(&mut self, taxed: Taxed, asked: &Asked) -> Done<Taxed> {
        let Some(charm) = asked.charm else {
            return Ok(taxed);
        };
        let is_at = |at: &usize| self.all.iter().any(|(_, line)| line.rate == *at);
        let of_work = asked.terms.of.get(1).copied().filter(is_at);
        let first = self.all.first().map_or(0, |(_, line)| line.rate);
        let mut line = PriceLine {
            of: PriceLineOf::Rounding,
            rate: of_work.unwrap_or(first),
            minor: 0,
        };
        let rate = rate_of(&self.rates, &line)?;
        let charmed = charm.apply(&taxed, asked.terms.shown, rate.name());
        let Charmed {
            taxed: anew,
            rounding,
        } = charmed.map_err(refused("round_up"))?;
        if rounding.minor > 0 {
            line.minor = rounding.minor;
            self.all.push((text(&line, &self.rates)?, line));
        }
        Ok(anew)
    }
}

impl Priced {
    pub(in crate::money::quotations) fn work_out(
        context: &Context<'_>,
        base: &Base,
        asked: &Asked,
        (price, stages): (&PriceInput, &[StageInput]),
    ) -> Done<Self> {
        let mut lines = lines(context, base, asked)?;
        let nothing = |gross| {
            let refuse = |change: &Change| {
                supplement::nothing_to_pay(change.of, change.to, context.currency, gross)
            };
            base.change.as_ref().map(refuse)
        };
        if lines.all.is_empty()
            && let Some(refusal) = nothing(0)
        {
            return Err(refusal);
        }
        let (currency, rules) = (context.currency, rules(context, asked));
        let shown = lines.all.iter().map(|(_, line)| line);
        let taxed = taxed(rules, currency, &lines.rates, shown)?;
        if taxed.total.gross <= 0
            && let Some(refusal) = nothing(taxed.total.gross)
        {
            return Err(refusal);
        }
        let taxed = lines.round_up(taxed, asked)?;
        for ((_, line), taxed) in lines.all.iter_mut().zip(&taxed.lines) {
            line.minor = match asked.terms.shown {
                PricesShown::WithTax => taxed.amounts.gross,
                PricesShown::WithoutTax => taxed.amounts.net,
            };
        }
        ask::stages(currency, stages)?;
        let shown = lines.all.iter().map(|(text, line)| {
            let rate = rate_of(&lines.rates, line)?.name();
            let minor = line.minor;
            Ok(QuotedLine {
                text: text.clone(),
                amount: currency.money(minor).decimal(),
                rate: (rate != UNTAXED).then(|| rate.to_owned()),
            })
        });
        Ok(Self {
            lines: shown.collect::<Done<_>>()?,
            basis: basis(context, asked, &lines, (price, stages)),
            taxed,
        })
    }
}

fn rules(context: &Context<'_>, asked: &Asked) -> Rules {
    let workshop = &context.workshop;
    let (rounding, place) = (workshop.tax_rounding, workshop.tax_place);
    (asked.terms.shown, rounding, place)
}

/// What the schedule of payments and a later change rest on: the lines as they are shown, with their rates.
fn basis(
    context: &Context<'_>,
    asked: &Asked,
    lines: &Lines,
    (price, stages): (&PriceInput, &[StageInput]),
) -> Basis {
    let (workshop, of) = (&context.workshop, asked.terms.of);
    let rates = lines.rates.iter();
    Basis {
        rules: rules(context, asked),
        rates: rates
            .map(|rate| (rate.name().to_owned(), rate.share().get()))
            .collect(),
        lines: lines.all.iter().map(|(_, line)| *line).collect(),
        sold: Sold {
            price: price.clone(),
            of,
        },
        currency: context.currency,
        stages: stages.to_vec(),
        cash_step: workshop.cash_step_minor,
    }
}
