//! The tax inside a stage.

use super::Stage;
use crate::{
    allocation::{hand_out, largest_remainder},
    pricing::{Amounts, PricingError, RateTotal, TaxRules, Taxed, check::overflow},
    quantity::exact,
};

/// What no stage has taken yet, by rate.
pub(super) struct Left {
    rules: TaxRules,
    rates: Vec<RateTotal>,
}

impl Left {
    pub(super) fn of(taxed: &Taxed) -> Result<Self, PricingError> {
        let negative = |what, minor| {
            let given = taxed.currency.money(minor).to_string();
            Err(PricingError::Negative { what, given })
        };
        if taxed.total.gross < 0 {
            return negative("the total", taxed.total.gross);
        }
        // Lines that are rounded alone may leave a net and a tax that do not go together.
        for Amounts { net, tax, gross } in taxed.rates.iter().map(|total| total.amounts) {
            if net.signum().saturating_mul(tax.signum()) < 0 {
                return negative("the total at a tax rate", gross);
            }
        }
        Ok(Self {
            rules: taxed.rules,
            rates: taxed.rates.clone(),
        })
    }

    /// Gross of all rates.
    pub(super) fn gross(&self) -> Result<i64, PricingError> {
        Ok(self.total()?.gross)
    }

    fn total(&self) -> Result<Amounts, PricingError> {
        Amounts::sum(self.rates.iter().map(|total| &total.amounts))
    }

    /// Takes `gross`, at most what is left.
    pub(super) fn take(&mut self, name: &str, gross: i64) -> Result<Stage, PricingError> {
        let weights: Vec<i64> = self.rates.iter().map(|total| total.amounts.gross).collect();
        let shares = shares(gross, &weights)?;
        let mut rates = Vec::with_capacity(shares.len());
        for (left, gross) in self.rates.iter_mut().zip(shares) {
            let exact = left.rate.inside(gross).ok_or_else(overflow)?;
            let tax = self
                .rules
                .rounding
                .divide(exact.numerator(), exact.denominator())?;
            // What stays must hold its own tax, 0 ≤ tax left ≤ gross left, or the same below zero; so taking all of it takes all
            // tax.
            let Amounts {
                net: net_left,
                tax: tax_left,
                gross: gross_left,
            } = left.amounts;
            let sign = if net_left < 0 || tax_left < 0 { -1 } else { 1 };
            let size = |amount: i64| amount.saturating_mul(sign);
            let least = size(gross).saturating_sub(size(net_left)).max(0);
            let tax = size(size(exact::narrow(tax)?).max(least).min(size(tax_left)));
            let net = gross.checked_sub(tax).ok_or_else(overflow)?;
            left.amounts = Amounts {
                net: net_left.saturating_sub(net),
                tax: tax_left.saturating_sub(tax),
                gross: gross_left.saturating_sub(gross),
            };
            rates.push(RateTotal {
                rate: left.rate.clone(),
                amounts: Amounts { net, tax, gross },
            });
        }
        let amounts = Amounts::sum(rates.iter().map(|total| &total.amounts))?;
        Ok(Stage {
            name: name.to_owned(),
            amounts,
            rates,
        })
    }
}

/// Shares of an amount by weights that may be below zero, where they are more than nothing together; the shares add up to it, and
/// all of the weights is shared as they are.
fn shares(amount: i64, weights: &[i64]) -> Result<Vec<i64>, PricingError> {
    let whole: i128 = weights.iter().copied().map(i128::from).sum();
    if i128::from(amount) == whole {
        return Ok(weights.to_vec());
    }
    if amount == 0 {
        return Ok(vec![0; weights.len()]);
    }
    if weights.iter().all(|weight| *weight >= 0) {
        return Ok(largest_remainder(amount, weights)?);
    }
    let mut parts = Vec::with_capacity(weights.len());
    let mut rests = Vec::with_capacity(weights.len());
    for weight in weights {
        let product = i128::from(amount)
            .checked_mul(i128::from(*weight))
            .ok_or_else(overflow)?;
        parts.push(product.checked_div_euclid(whole).ok_or_else(overflow)?);
        rests.push(product.checked_rem_euclid(whole).ok_or_else(overflow)?);
    }
    let given = parts
        .iter()
        .try_fold(0_i128, |sum, part| sum.checked_add(*part))
        .ok_or_else(overflow)?;
    hand_out(&mut parts, &rests, i128::from(amount).saturating_sub(given))?;
    parts
        .into_iter()
        .map(|part| Ok(exact::narrow(part)?))
        .collect()
}
