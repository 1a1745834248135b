//! From costs to the customer's lines, their tax and stages.

use super::{
    ask::{self, Asked},
    costs::Base,
    freeze::{Basis, Sold},
    internal,
    part_rates::UNTAXED,
    refused, supplement,
};
use crate::{
    context::Context,
    failure::{Done, invalid},
};
use ellwand_contract::quotations::{PriceInput, QuotedLine, StageInput};
use ellwand_domain::{
    allocation::round_alone,
    code::{GarmentCode, QuotationCode},
    pricing::{
        Amounts, Charmed, PriceLine, PriceLineOf, PriceRule, PricesShown, PricingError, TaxLine,
        TaxRate, TaxRules, Taxed, price_by_markup, tax,
    },
    quantity::{Millionths, Money},
};

/// A price with its lines and tax.
pub(super) struct Priced {
    pub(super) lines: Vec<QuotedLine>,
    pub(super) taxed: Taxed,
    pub(super) basis: Basis,
}

/// An amount to the nearest minor unit, as it is printed.
pub(super) fn whole_minor(context: &Context<'_>, amount: Millionths) -> Done<Millionths> {
    let minor = round_alone(amount, context.currency.digits()).map_err(internal)?;
    Ok(Money {
        minor,
        currency: context.currency,
    }
    .to_millionths()?)
}

/// Largest net price: tax and sums of several quotations stay within what the book holds.
const LARGEST: i64 = 100_000_000_000_000;

/// Lines before they are taxed, as they are shown, and the rates that they are at.
#[derive(Clone)]
pub(super) struct Lines {
    /// Each name once.
    pub(super) rates: Vec<TaxRate>,
    pub(super) all: Vec<(String, PriceLine)>,
}

/// What a change of an agreed plan is sold for.
pub(super) struct Change {
    pub(super) lines: Lines,
    pub(super) of: GarmentCode,
    pub(super) to: QuotationCode,
}

/// What a line of a price is called; a discount with its rate where there are several.
pub(super) fn text(line: &PriceLine, rates: &[TaxRate]) -> Done<String> {
    let rate = rates
        .get(line.rate)
        .ok_or_else(|| internal("a line of a price has no tax rate"))?;
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
pub(super) fn refused_price(rule: &PriceRule) -> impl Fn(PricingError) -> crate::failure::Failure {
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
            "it comes to more than 100 000 000, which no quotation can hold with its tax",
        ));
    }
    let (rates, digits) = (&terms.rates, context.currency.digits());
    let lines = parts
        .lines(terms.of, rates.len(), &terms.discounts, digits)
        .map_err(refused("discount"))?;
    let all = lines
        .into_iter()
        .map(|line| Ok((text(&line, rates)?, line)))
        .collect::<Done<_>>()?;
    Ok(Lines {
        rates: rates.clone(),
        all,
    })
}

impl Priced {
    pub(super) fn work_out(
        context: &Context<'_>,
        base: &Base,
        asked: &Asked,
        (price, stages): (&PriceInput, &[StageInput]),
    ) -> Done<Self> {
        let (currency, workshop) = (context.currency, &context.workshop);
        let Lines {
            rates,
            all: mut lines,
        } = lines(context, base, asked)?;
        let shown = asked.terms.shown;
        let rules = TaxRules {
            shown,
            rounding: workshop.tax_rounding.0,
            place: workshop.tax_place.0,
        };
        let name = |at: usize| {
            rates
                .get(at)
                .map(TaxRate::name)
                .ok_or_else(|| internal("a line of a price has no tax rate"))
        };
        let taxable = |(_, line): &(String, PriceLine)| {
            let amount = Money {
                minor: line.minor,
                currency,
            };
            Ok(TaxLine {
                amount,
                rate: name(line.rate)?.to_owned(),
            })
        };
        let amounts: Vec<TaxLine> = lines.iter().map(taxable).collect::<Done<_>>()?;
        if let Some(change) = base.change.as_ref().filter(|_| amounts.is_empty()) {
            return Err(supplement::nothing_to_pay(
                change.of, change.to, currency, 0,
            ));
        }
        let mut taxed = tax(rules, &rates, &amounts).map_err(internal)?;
        if let Some(change) = base.change.as_ref().filter(|_| taxed.total.gross <= 0) {
            return Err(supplement::nothing_to_pay(
                change.of,
                change.to,
                currency,
                taxed.total.gross,
            ));
        }
        let of_work = *asked.terms.of.get(1).unwrap_or(&0);
        if let Some(charm) = asked.charm {
            // What is rounded up is the work's, or else goes with the first line.
            let is_at = |at: usize| lines.iter().any(|(_, line)| line.rate == at);
            let at = if is_at(of_work) {
                of_work
            } else {
                lines.first().map_or(0, |(_, line)| line.rate)
            };
            let Charmed {
                taxed: anew,
                rounding,
            } = charm
                .apply(&taxed, shown, name(at)?)
                .map_err(refused("round_up"))?;
            if rounding.minor > 0 {
                let line = PriceLine {
                    of: PriceLineOf::Rounding,
                    rate: at,
                    minor: rounding.minor,
                };
                lines.push((text(&line, &rates)?, line));
            }
            taxed = anew;
        }
        let amount = |amounts: &Amounts| match shown {
            PricesShown::WithTax => amounts.gross,
            PricesShown::WithoutTax => amounts.net,
        };
        let amounts: Vec<i64> = taxed
            .lines
            .iter()
            .map(|line| amount(&line.amounts))
            .collect();
        let basis = basis(context, asked, (&rates, &lines, &amounts), (price, stages))?;
        ask::stages(currency, stages)?;
        let lines = lines.iter().zip(&amounts).map(|((text, line), minor)| {
            let rate = name(line.rate)?;
            Ok(QuotedLine {
                text: text.clone(),
                amount: Money {
                    minor: *minor,
                    currency,
                }
                .decimal(),
                rate: (rate != UNTAXED).then(|| rate.to_owned()),
            })
        });
        Ok(Self {
            lines: lines.collect::<Done<_>>()?,
            taxed,
            basis,
        })
    }
}

/// What the schedule of payments and a later change rest on: the lines as they are shown, with their rates.
fn basis(
    context: &Context<'_>,
    asked: &Asked,
    (rates, lines, amounts): (&[TaxRate], &[(String, PriceLine)], &[i64]),
    (price, stages): (&PriceInput, &[StageInput]),
) -> Done<Basis> {
    let workshop = &context.workshop;
    let of = |kind: PriceLineOf| {
        let own = lines
            .iter()
            .zip(amounts)
            .filter(|((_, line), _)| line.of == kind);
        own.fold(0_i64, |sum, (_, minor)| sum.saturating_add(*minor))
            .max(0)
    };
    let of_work = asked.terms.of.get(1).and_then(|at| rates.get(*at));
    let rate = of_work.ok_or_else(|| internal("the labour has no tax rate"))?;
    Ok(Basis {
        rules: (
            asked.terms.shown,
            workshop.tax_rounding.0,
            workshop.tax_place.0,
        ),
        rate: (rate.name().to_owned(), rate.share().get()),
        rates: rates
            .iter()
            .map(|rate| (rate.name().to_owned(), rate.share().get()))
            .collect(),
        line_rates: lines.iter().map(|(_, line)| line.rate).collect(),
        line_of: lines.iter().map(|(_, line)| line.of).collect(),
        sold: Some(Sold {
            price: price.clone(),
            of: asked.terms.of,
        }),
        currency: context.currency,
        lines: amounts.to_vec(),
        materials: of(PriceLineOf::Materials),
        labour: of(PriceLineOf::Labour),
        stages: stages.to_vec(),
        cash_step: workshop.cash_step_minor,
    })
}
