//! Prices rounded up to a round figure.

use super::{
    PricesShown, PricingError, TaxLine, TaxRate, TaxRules, Taxed,
    check::{overflow, positive_in},
    tax,
};
use crate::quantity::Money;

/// Figures a price may end in: the next 5.00 is a step of 5.00 ending in 0.00, the next x.95 a step of 1.00 ending in 0.95.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Charm {
    step: Money,
    ending: i64,
}

/// An invoice whose total was rounded up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Charmed {
    /// The invoice, taxed again.
    pub taxed: Taxed,
    /// What was added to the total that is shown, zero or more; where more than zero, it is the last line.
    pub rounding: Money,
}

impl Charm {
    /// Takes a step and what is left over whole steps.
    ///
    /// # Errors
    /// [`PricingError::MixedCurrencies`], [`PricingError::Step`] unless `0 ≤ ending < step`.
    pub fn new(step: Money, ending: Money) -> Result<Self, PricingError> {
        if ending.currency != step.currency {
            return Err(PricingError::MixedCurrencies {
                wanted: step.currency,
                given: ending,
            });
        }
        if !(0..step.minor).contains(&ending.minor) {
            return Err(PricingError::Step { step, ending });
        }
        Ok(Self {
            step,
            ending: ending.minor,
        })
    }

    /// The least such figure that is not below `price`; never lower.
    ///
    /// # Errors
    /// [`PricingError::MixedCurrencies`], [`PricingError::Negative`], overflow.
    pub fn round_up(&self, price: Money) -> Result<Money, PricingError> {
        let minor = positive_in(self.step.currency, "the price", price)?;
        let behind = self
            .ending
            .checked_sub(minor)
            .and_then(|gap| gap.checked_rem_euclid(self.step.minor));
        let minor = behind
            .and_then(|gap| minor.checked_add(gap))
            .ok_or_else(overflow)?;
        Ok(Money { minor, ..price })
    }

    /// Rounds up the total of an invoice as it is shown to the customer: with tax after tax, or net before it.
    ///
    /// The difference becomes a line of its own at the rate named, and everything is taxed again from the amounts shown:
    /// inclusive where tax is shown in the price, so that the total stays the figure it was rounded to.
    ///
    /// # Errors
    /// Those of [`Self::round_up`] and of [`tax`]; [`PricingError::UnknownRate`] when no line has the rate named.
    pub fn apply(
        &self,
        taxed: &Taxed,
        shown: PricesShown,
        rate: &str,
    ) -> Result<Charmed, PricingError> {
        let currency = taxed.currency;
        let amount = |amounts: &super::Amounts| match shown {
            PricesShown::WithTax => amounts.gross,
            PricesShown::WithoutTax => amounts.net,
        };
        let total = currency.money(amount(&taxed.total));
        let rounding = self
            .round_up(total)?
            .minor
            .checked_sub(total.minor)
            .ok_or_else(overflow)?;
        let rounding = currency.money(rounding);
        let line = |minor, rate: &str| TaxLine {
            amount: currency.money(minor),
            rate: rate.to_owned(),
        };
        let mut lines: Vec<TaxLine> = taxed
            .lines
            .iter()
            .map(|taxed| line(amount(&taxed.amounts), &taxed.rate))
            .collect();
        if rounding.minor > 0 {
            lines.push(line(rounding.minor, rate));
        }
        let rates: Vec<TaxRate> = taxed.rates.iter().map(|total| total.rate.clone()).collect();
        Ok(Charmed {
            taxed: tax(
                TaxRules {
                    shown,
                    ..taxed.rules
                },
                &rates,
                &lines,
            )?,
            rounding,
        })
    }
}
