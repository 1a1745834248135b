//! The tax inside a stage.

use super::Stage;
use crate::{
    allocation::largest_remainder,
    pricing::{Amounts, PricingError, RateTotal, TaxRules, Taxed, check::overflow},
    quantity::{Money, exact},
};

/// What no stage has taken yet, by rate.
pub(super) struct Left {
    rules: TaxRules,
    rates: Vec<RateTotal>,
}

impl Left {
    pub(super) fn of(taxed: &Taxed) -> Result<Self, PricingError> {
        for total in &taxed.rates {
            let Amounts { net, tax, gross } = total.amounts;
            if net < 0 || tax < 0 {
                let given = Money { minor: gross, currency: taxed.currency }.to_string();
                return Err(PricingError::Negative { what: "the total at a tax rate", given });
            }
        }
        Ok(Self { rules: taxed.rules, rates: taxed.rates.clone() })
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
        // Of nothing there is nothing to share.
        let shares = if gross == 0 { vec![0; weights.len()] } else { largest_remainder(gross, &weights)? };
        let mut rates = Vec::with_capacity(shares.len());
        for (left, gross) in self.rates.iter_mut().zip(shares) {
            let exact = left.rate.inside(gross).ok_or_else(overflow)?;
            let tax = self.rules.rounding.divide(exact.numerator(), exact.denominator())?;
            // What stays must hold its own tax, 0 ≤ tax left ≤ gross left; so taking all of it takes all tax.
            let Amounts { net: net_left, tax: tax_left, gross: gross_left } = left.amounts;
            let least = gross.saturating_sub(net_left).max(0);
            let tax = exact::narrow(tax)?.max(least).min(tax_left);
            let net = gross.checked_sub(tax).ok_or_else(overflow)?;
            left.amounts = Amounts {
                net: net_left.saturating_sub(net),
                tax: tax_left.saturating_sub(tax),
                gross: gross_left.saturating_sub(gross),
            };
            rates.push(RateTotal { rate: left.rate.clone(), amounts: Amounts { net, tax, gross } });
        }
        let amounts = Amounts::sum(rates.iter().map(|total| &total.amounts))?;
        Ok(Stage { name: name.to_owned(), amounts, rates })
    }
}
