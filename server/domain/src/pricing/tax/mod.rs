//! Tax on lines: exclusive or inclusive, rounded by mode and place, adding up to the minor unit everywhere.

mod amounts;
mod rate;
mod spread;

pub use amounts::{Amounts, RateTotal, TaxedLine};
pub use rate::TaxRate;

use super::{
    PricesShown, PricingError, Rounding, TaxPlace,
    check::{minor_in, overflow},
};
use crate::quantity::{Currency, Money, exact, fraction::Fraction};
use spread::{spread, sum};

/// How tax is worked out; it differs by country and is the workshop's to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaxRules {
    /// Whether the lines are net or hold their tax.
    pub shown: PricesShown,
    /// How tax is rounded to the minor unit.
    pub rounding: Rounding,
    /// Where it is.
    pub place: TaxPlace,
}

/// A line to tax.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TaxLine {
    /// Net or gross, as the rules say; below zero for a credit.
    pub amount: Money,
    /// Name of its tax rate.
    pub rate: String,
}

/// Lines with their tax; lines and rates both add up to the total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taxed {
    /// The rules it was taxed by.
    pub rules: TaxRules,
    /// Currency of all amounts.
    pub currency: Currency,
    /// As given, in order.
    pub lines: Vec<TaxedLine>,
    /// Those that lines name, in the order they were given.
    pub rates: Vec<RateTotal>,
    /// All of it.
    pub total: Amounts,
}

/// Taxes lines.
///
/// - Formula: exclusive: tax = net × t, gross = net + tax. Inclusive: tax = gross × t / (1 + t), net = gross − tax.
/// - Rounding: by `rules`, of the exact tax of each line, of all lines at a rate, or of the whole invoice. What is rounded
///   above the lines is shared among rates and then lines by largest remainder, ties to the first, so that each stays within
///   a minor unit of its exact tax. An invoice below zero mirrors the one above.
/// - Source: VAT fractions as in accountingservicesforbusiness.co.uk, "VAT rates and fractions"; the modes and places are
///   those of Australia (GST Act 1999 s 9-90), New Zealand (GST Act 1985 s 19O), the UK (HMRC VATREC12010) and Japan
///   (National Tax Agency, invoice system Q46).
///
/// # Errors
/// In this order: [`PricingError::NoLines`], [`PricingError::RateTwice`], then line by line
/// [`PricingError::MixedCurrencies`] and [`PricingError::UnknownRate`]; overflow, also where more than a few odd rates meet
/// on an inclusive invoice that is rounded as a whole.
pub fn tax(rules: TaxRules, rates: &[TaxRate], lines: &[TaxLine]) -> Result<Taxed, PricingError> {
    let currency = lines.first().ok_or(PricingError::NoLines)?.amount.currency;
    for (position, rate) in rates.iter().enumerate() {
        if rates
            .iter()
            .take(position)
            .any(|earlier| earlier.name() == rate.name())
        {
            return Err(PricingError::RateTwice {
                name: rate.name().to_owned(),
            });
        }
    }
    let mut amounts = Vec::with_capacity(lines.len());
    let mut of_rate = Vec::with_capacity(lines.len());
    let mut exact = Vec::with_capacity(lines.len());
    for line in lines {
        let minor = minor_in(currency, line.amount)?;
        let (position, rate) = find(rates, &line.rate)?;
        let tax = match rules.shown {
            PricesShown::WithoutTax => rate.on(minor),
            PricesShown::WithTax => rate.inside(minor),
        };
        amounts.push(minor);
        of_rate.push(position);
        exact.push(tax.ok_or_else(overflow)?);
    }
    let taxes = rounded(rules, rates.len(), &of_rate, &exact)?;
    let mut taxed = Taxed {
        rules,
        currency,
        lines: vec![],
        rates: vec![],
        total: Amounts::default(),
    };
    for ((line, amount), tax) in lines.iter().zip(amounts).zip(taxes) {
        let amounts = Amounts::of(rules.shown, amount, exact::narrow(tax)?)?;
        taxed.lines.push(TaxedLine {
            rate: line.rate.clone(),
            amounts,
        });
    }
    for rate in rates {
        let mut of_rate = taxed
            .lines
            .iter()
            .filter(|line| line.rate == rate.name())
            .peekable();
        if of_rate.peek().is_some() {
            let amounts = Amounts::sum(of_rate.map(|line| &line.amounts))?;
            taxed.rates.push(RateTotal {
                rate: rate.clone(),
                amounts,
            });
        }
    }
    taxed.total = Amounts::sum(taxed.lines.iter().map(|line| &line.amounts))?;
    Ok(taxed)
}

/// The rate of a name, and its position.
fn find<'a>(rates: &'a [TaxRate], name: &str) -> Result<(usize, &'a TaxRate), PricingError> {
    let found = rates
        .iter()
        .enumerate()
        .find(|(_, rate)| rate.name() == name);
    found.ok_or_else(|| {
        let known: Vec<&str> = rates.iter().map(TaxRate::name).collect();
        let known = if known.is_empty() {
            "none".to_owned()
        } else {
            known.join(", ")
        };
        PricingError::UnknownRate {
            name: name.to_owned(),
            known,
        }
    })
}

/// Tax of each line in whole minor units.
fn rounded(
    rules: TaxRules,
    rates: usize,
    of_rate: &[usize],
    exact: &[Fraction],
) -> Result<Vec<i128>, PricingError> {
    let whole = |tax: Fraction| rules.rounding.divide(tax.numerator(), tax.denominator());
    if rules.place == TaxPlace::Line {
        return exact.iter().map(|tax| whole(*tax)).collect();
    }
    let at = |rate: usize| {
        of_rate
            .iter()
            .zip(exact)
            .filter(move |(of, _)| **of == rate)
            .map(|(_, tax)| tax)
    };
    let sums = (0..rates)
        .map(|rate| sum(at(rate)))
        .collect::<Result<Vec<_>, _>>()?;
    let totals = if rules.place == TaxPlace::Rate {
        sums.into_iter().map(whole).collect::<Result<Vec<_>, _>>()?
    } else {
        spread(whole(sum(&sums)?)?, &sums)?
    };
    let mut taxes = vec![0; exact.len()];
    for (rate, total) in totals.into_iter().enumerate() {
        let parts = spread(total, &at(rate).copied().collect::<Vec<_>>())?;
        let places = taxes.iter_mut().zip(of_rate).filter(|(_, of)| **of == rate);
        for ((tax, _), part) in places.zip(parts) {
            *tax = part;
        }
    }
    Ok(taxes)
}
