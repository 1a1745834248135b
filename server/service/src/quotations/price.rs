//! From costs to the customer's lines, their tax and stages.

use super::{
    ask::{self, Asked},
    costs::Base,
    freeze::Basis,
    internal, refused,
};
use crate::{
    context::Context,
    failure::{Done, invalid},
};
use ellwand_contract::quotations::{QuotedLine, StageInput};
use ellwand_domain::{
    allocation::{round_alone, round_to_total},
    pricing::{
        Amounts, Charmed, PriceRule, PricesShown, TaxLine, TaxRate, TaxRules, Taxed, discounted,
        price_by_markup, tax,
    },
    quantity::{Millionths, Money, PartsPerMillion},
};
use ellwand_storage::Tx;

/// A price with its lines and tax.
pub(super) struct Priced {
    pub(super) lines: Vec<QuotedLine>,
    pub(super) taxed: Taxed,
    pub(super) basis: Basis,
}

/// Rate that stands where the workshop has none; it is never shown.
pub(super) const UNTAXED: &str = "without tax";

/// An amount to the nearest minor unit, as it is printed.
pub(super) fn whole_minor(context: &Context<'_>, amount: Millionths) -> Done<Millionths> {
    let minor = round_alone(amount, context.currency.digits()).map_err(internal)?;
    Ok(Money { minor, currency: context.currency }.to_millionths()?)
}

/// The tax rate that counts: the one that is named, else the workshop's first.
fn rate(tx: &mut Tx<'_>, name: Option<&str>) -> Done<TaxRate> {
    let rates = tx.tax_rates()?;
    let row =
        match name {
            None => rates.into_iter().next(),
            Some(name) => {
                let known: Vec<String> = rates.iter().map(|rate| rate.name.clone()).collect();
                let named = rates.into_iter().find(|rate| rate.name.eq_ignore_ascii_case(name.trim()));
                let known = if known.is_empty() { "none yet".to_owned() } else { known.join(", ") };
                Some(named.ok_or_else(|| {
                    invalid("tax", format!("there is no tax rate {name}; there is {known}"))
                })?)
            }
        };
    let (name, ppm) = row.map_or_else(|| (UNTAXED.to_owned(), 0), |row| (row.name, row.ppm));
    TaxRate::new(&name, PartsPerMillion::new(ppm)?).map_err(internal)
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

impl Priced {
    pub(super) fn work_out(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        base: &Base,
        asked: &Asked,
        tax_name: Option<&str>,
        stages: &[StageInput],
    ) -> Done<Self> {
        let (currency, digits) = (context.currency, context.currency.digits());
        let rate = rate(tx, tax_name)?;
        let parts = parts(base, asked)?;
        let whole = Millionths::sum(parts)?;
        let (minor, mut so_far) = round_to_total(&parts, digits).map_err(internal)?;
        let named = ["Materials", "Labour", "Handling"].map(str::to_owned);
        let mut lines: Vec<(String, i64)> = named.into_iter().zip(minor).collect();
        // Labour stands even where it is nothing, so that there is a line.
        lines.retain(|(name, minor)| *minor != 0 || name == "Labour");
        for count in 1..=asked.discounts.len() {
            let discounts = asked.discounts.get(..count).unwrap_or_default();
            let left = discounted(whole, discounts).map_err(refused("discount"))?;
            let left = round_alone(left, digits).map_err(internal)?;
            let share = discounts.last().map(ToString::to_string).unwrap_or_default();
            lines.push((format!("Discount {share}"), left.saturating_sub(so_far)));
            so_far = left;
        }
        let workshop = &context.workshop;
        let shown = workshop.prices_shown.0;
        let rules = TaxRules {
            shown: PricesShown::WithoutTax,
            rounding: workshop.tax_rounding.0,
            place: workshop.tax_place.0,
        };
        let line = |minor| TaxLine { amount: Money { minor, currency }, rate: rate.name().to_owned() };
        let rates = std::slice::from_ref(&rate);
        let net: Vec<TaxLine> = lines.iter().map(|(_, minor)| line(*minor)).collect();
        let mut taxed = tax(rules, rates, &net).map_err(internal)?;
        if shown == PricesShown::WithTax {
            let gross: Vec<TaxLine> = taxed.lines.iter().map(|taxed| line(taxed.amounts.gross)).collect();
            taxed = tax(TaxRules { shown, ..rules }, rates, &gross).map_err(internal)?;
        }
        if let Some(charm) = asked.charm {
            let Charmed { taxed: anew, rounding } =
                charm.apply(&taxed, shown, rate.name()).map_err(refused("round_up"))?;
            if rounding.minor > 0 {
                lines.push(("Rounding".to_owned(), 0));
            }
            taxed = anew;
        }
        let amount = |amounts: &Amounts| match shown {
            PricesShown::WithTax => amounts.gross,
            PricesShown::WithoutTax => amounts.net,
        };
        let amounts: Vec<i64> = taxed.lines.iter().map(|line| amount(&line.amounts)).collect();
        let of = |name: &str| {
            let mut named = lines.iter().zip(&amounts).filter(|((line, _), _)| line == name);
            named.next().map_or(0, |(_, minor)| *minor)
        };
        let basis = Basis {
            rules: (shown, rules.rounding, rules.place),
            rate: (rate.name().to_owned(), rate.share().get()),
            currency,
            lines: amounts.clone(),
            materials: of("Materials"),
            labour: of("Labour"),
            stages: stages.to_vec(),
        };
        ask::stages(currency, stages)?;
        let lines = lines.iter().zip(&amounts).map(|((text, _), minor)| QuotedLine {
            text: text.clone(),
            amount: Money { minor: *minor, currency }.decimal(),
            rate: (rate.name() != UNTAXED).then(|| rate.name().to_owned()),
        });
        Ok(Self { lines: lines.collect(), taxed, basis })
    }
}
