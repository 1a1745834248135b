//! Net, tax and gross.

use super::TaxRate;
use crate::pricing::{PricesShown, PricingError, check::overflow};

/// Whole minor units of one currency; `net + tax = gross` always.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Amounts {
    /// Without tax.
    pub net: i64,
    /// The tax.
    pub tax: i64,
    /// With tax.
    pub gross: i64,
}

impl Amounts {
    pub(super) fn of(shown: PricesShown, amount: i64, tax: i64) -> Result<Self, PricingError> {
        let (net, gross) = match shown {
            PricesShown::WithoutTax => (amount, amount.checked_add(tax).ok_or_else(overflow)?),
            PricesShown::WithTax => (amount.checked_sub(tax).ok_or_else(overflow)?, amount),
        };
        Ok(Self { net, tax, gross })
    }

    /// Sum, part by part.
    ///
    /// # Errors
    /// Overflow beyond whole numbers.
    pub fn sum<'a>(amounts: impl IntoIterator<Item = &'a Self>) -> Result<Self, PricingError> {
        amounts
            .into_iter()
            .try_fold(Self::default(), |sum, next| sum.plus(next))
            .ok_or_else(overflow)
    }

    fn plus(self, other: &Self) -> Option<Self> {
        Some(Self {
            net: self.net.checked_add(other.net)?,
            tax: self.tax.checked_add(other.tax)?,
            gross: self.gross.checked_add(other.gross)?,
        })
    }
}

/// A taxed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TaxedLine {
    /// Name of its tax rate.
    pub rate: String,
    /// Its amounts.
    pub amounts: Amounts,
}

/// What an invoice holds at one tax rate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RateTotal {
    /// The rate.
    pub rate: TaxRate,
    /// Sum of its lines.
    pub amounts: Amounts,
}
