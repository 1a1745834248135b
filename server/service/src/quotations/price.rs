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
    allocation::{round_alone, round_to_total, round_with_rest},
    pricing::{
        Amounts, Charmed, PriceRule, PricesShown, TaxLine, TaxRules, Taxed, discounted, price_by_markup, tax,
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

/// The net price before discounts, as materials, labour and handling.
fn parts(base: &Base, asked: &Asked) -> Done<[Millionths; 3]> {
    let (cost, materials) = (base.price.floor().map_err(internal)?, base.price.materials);
    let price = base.price.price(&asked.rule);
    let field = match asked.rule {
        PriceRule::Markup { .. } => "markup",
        PriceRule::Margin(_) => "margin",
        PriceRule::HourlyTarget { .. } => "hourly",
        PriceRule::Fixed(_) => "price",
    };
    let price = price.map_err(refused(field))?;
    let goods = match asked.rule {
        PriceRule::Fixed(_) if asked.handling > price => {
            return Err(invalid("handling", "the handling alone is more than the price that is given"));
        }
        PriceRule::Fixed(_) => price.minus(asked.handling)?,
        _ => price,
    };
    if goods.is_zero() && !matches!(asked.rule, PriceRule::Fixed(_)) {
        let detail = "nothing of it is priced, so there is nothing to take a share of; give a price";
        return Err(invalid(field, detail));
    }
    let of_materials = match asked.on_materials {
        Some(markup) => price_by_markup(materials, markup).map_err(refused("material_markup"))?.min(goods),
        None if cost.is_zero() => Millionths::ZERO,
        None => goods.share(materials.get(), cost.get())?,
    };
    Ok([of_materials, goods.minus(of_materials)?, asked.handling])
}

/// Largest net price: tax and sums of several quotations stay within what the book holds.
const LARGEST: i64 = 100_000_000_000_000;

/// A line before it is taxed: text, net amount in minor units, tax rate.
type Line = (String, i64, String);

/// Materials, labour and handling, then each discount at each rate that it takes from.
fn lines(context: &Context<'_>, base: &Base, asked: &Asked) -> Done<Vec<Line>> {
    let digits = context.currency.digits();
    let parts = parts(base, asked)?;
    if Millionths::sum(parts)?.get() > LARGEST {
        return Err(invalid(
            "price",
            "it comes to more than 100 000 000, which no quotation can hold with its tax",
        ));
    }
    // Materials and handling read alike wherever the work alone differs.
    let minor = round_with_rest(&parts, 1, digits).map_err(internal)?;
    let mut lines = Vec::new();
    let mut so_far = vec![0_i64; asked.rates.all.len()];
    for (part, (text, minor)) in ["Materials", "Labour", "Handling"].into_iter().zip(minor).enumerate() {
        let rate = asked.rates.at(part)?.name();
        let places = asked.rates.all.iter().zip(&mut so_far);
        places.filter(|(at, _)| at.name() == rate).for_each(|(_, sum)| *sum = sum.saturating_add(minor));
        // Labour stands even where it is nothing, so that there is a line.
        if minor != 0 || text == "Labour" {
            lines.push((text.to_owned(), minor, rate.to_owned()));
        }
    }
    for count in 1..=asked.discounts.len() {
        let discounts = asked.discounts.get(..count).unwrap_or_default();
        let mut left = vec![Millionths::ZERO; so_far.len()];
        for (part, amount) in parts.into_iter().enumerate() {
            let amount = discounted(amount, discounts).map_err(refused("discount"))?;
            if let Some(sum) = asked.rates.of.get(part).and_then(|at| left.get_mut(*at)) {
                *sum = sum.plus(amount)?;
            }
        }
        let (left, _) = round_to_total(&left, digits).map_err(internal)?;
        let share = discounts.last().map(ToString::to_string).unwrap_or_default();
        for ((rate, before), now) in asked.rates.all.iter().zip(&so_far).zip(&left) {
            if now != before || left.len() == 1 {
                let of = if left.len() == 1 { String::new() } else { format!(", {}", rate.name()) };
                let text = format!("Discount {share}{of}");
                lines.push((text, now.saturating_sub(*before), rate.name().to_owned()));
            }
        }
        so_far = left;
    }
    Ok(lines)
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
