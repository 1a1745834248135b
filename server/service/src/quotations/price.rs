//! From costs to the customer's lines, their tax and stages.

use super::{
    ask::{self, Asked},
    costs::Base,
    freeze::Basis,
    internal,
    part_rates::UNTAXED,
    refused,
};
use crate::{
    context::Context,
    failure::{Done, invalid},
};
use ellwand_contract::quotations::{QuotedLine, StageInput};
use ellwand_domain::{
    allocation::round_alone,
    pricing::{
        Amounts, Charmed, NetLine, NetLineOf, PriceRule, PricesShown, PricingError, TaxLine, TaxRules, Taxed,
        price_by_markup, tax,
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
    Ok(Money { minor, currency: context.currency }.to_millionths()?)
}

/// Largest net price: tax and sums of several quotations stay within what the book holds.
const LARGEST: i64 = 100_000_000_000_000;

/// A line before it is taxed: text, net amount in minor units, tax rate.
type Line = (String, i64, String);

/// Materials, labour and handling, then each discount at each rate that it takes from.
fn lines(context: &Context<'_>, base: &Base, asked: &Asked) -> Done<Vec<Line>> {
    let field = match asked.rule {
        PriceRule::Markup { .. } => "markup",
        PriceRule::Margin(_) => "margin",
        PriceRule::HourlyTarget { .. } => "hourly",
        PriceRule::Fixed(_) => "price",
    };
    if let Some(markup) = asked.on_materials {
        price_by_markup(base.price.materials, markup).map_err(refused("material_markup"))?;
    }
    let parts = base.price.net_parts(&asked.rule, asked.on_materials, asked.handling);
    let parts = parts.map_err(|error| match error {
        PricingError::HandlingAbovePrice => refused("handling")(error),
        error => refused(field)(error),
    })?;
    if parts.total()?.get() > LARGEST {
        return Err(invalid(
            "price",
            "it comes to more than 100 000 000, which no quotation can hold with its tax",
        ));
    }
    let rates = &asked.rates;
    let lines = parts.lines(rates.of, rates.all.len(), &asked.discounts, context.currency.digits());
    let told = |line: NetLine| {
        let rate = rates.all.get(line.rate).ok_or_else(|| internal("a line of a price has no tax rate"))?;
        let text = match line.of {
            NetLineOf::Materials => "Materials".to_owned(),
            NetLineOf::Labour => "Labour".to_owned(),
            NetLineOf::Handling => "Handling".to_owned(),
            NetLineOf::Discount(share) if rates.all.len() == 1 => format!("Discount {share}"),
            NetLineOf::Discount(share) => format!("Discount {share}, {}", rate.name()),
        };
        Ok((text, line.minor, rate.name().to_owned()))
    };
    lines.map_err(refused("discount"))?.into_iter().map(told).collect()
}

impl Priced {
    pub(super) fn work_out(
        context: &Context<'_>,
        base: &Base,
        asked: &Asked,
        stages: &[StageInput],
    ) -> Done<Self> {
        let (currency, workshop) = (context.currency, &context.workshop);
        let mut lines = lines(context, base, asked)?;
        let shown = workshop.prices_shown.0;
        let rules = TaxRules {
            shown: PricesShown::WithoutTax,
            rounding: workshop.tax_rounding.0,
            place: workshop.tax_place.0,
        };
        let line = |minor, rate: &str| TaxLine { amount: Money { minor, currency }, rate: rate.to_owned() };
        let rates = &asked.rates.all;
        let net: Vec<TaxLine> = lines.iter().map(|(_, minor, rate)| line(*minor, rate)).collect();
        let mut taxed = tax(rules, rates, &net).map_err(internal)?;
        if shown == PricesShown::WithTax {
            let gross: Vec<TaxLine> =
                taxed.lines.iter().map(|taxed| line(taxed.amounts.gross, &taxed.rate)).collect();
            taxed = tax(TaxRules { shown, ..rules }, rates, &gross).map_err(internal)?;
        }
        if let Some(charm) = asked.charm {
            // What is rounded up is the work's.
            let rate = asked.rates.at(1)?.name();
            let Charmed { taxed: anew, rounding } =
                charm.apply(&taxed, shown, rate).map_err(refused("round_up"))?;
            if rounding.minor > 0 {
                lines.push(("Rounding".to_owned(), 0, rate.to_owned()));
            }
            taxed = anew;
        }
        let amount = |amounts: &Amounts| match shown {
            PricesShown::WithTax => amounts.gross,
            PricesShown::WithoutTax => amounts.net,
        };
        let amounts: Vec<i64> = taxed.lines.iter().map(|line| amount(&line.amounts)).collect();
        let of = |name: &str| {
            let mut named = lines.iter().zip(&amounts).filter(|((line, ..), _)| line == name);
            named.next().map_or(0, |(_, minor)| *minor)
        };
        let place = |rate: &str| rates.iter().position(|at| at.name() == rate).unwrap_or_default();
        let of_work = asked.rates.at(1)?;
        let basis = Basis {
            rules: (shown, rules.rounding, rules.place),
            rate: (of_work.name().to_owned(), of_work.share().get()),
            rates: rates.iter().map(|rate| (rate.name().to_owned(), rate.share().get())).collect(),
            line_rates: lines.iter().map(|(.., rate)| place(rate)).collect(),
            currency,
            lines: amounts.clone(),
            materials: of("Materials"),
            labour: of("Labour"),
            stages: stages.to_vec(),
            cash_step: workshop.cash_step_minor,
        };
        ask::stages(currency, stages)?;
        let lines = lines.iter().zip(&amounts).map(|((text, _, rate), minor)| QuotedLine {
            text: text.clone(),
            amount: Money { minor: *minor, currency }.decimal(),
            rate: (rate != UNTAXED).then(|| rate.clone()),
        });
        Ok(Self { lines: lines.collect(), taxed, basis })
    }
}
