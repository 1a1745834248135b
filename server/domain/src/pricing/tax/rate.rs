//! Tax rates by name.

use crate::{
    pricing::{PricingError, check::share_not_negative},
    quantity::{PARTS_PER_MILLION, PartsPerMillion, fraction::Fraction, parse::number},
};

/// A tax rate: an exact share of the net amount, under the name an invoice gives it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TaxRate {
    name: String,
    share: PartsPerMillion,
}

impl TaxRate {
    /// A rate of 0 is one, too: it is named where it applies.
    ///
    /// # Errors
    /// [`PricingError::UnnamedRate`], [`PricingError::Negative`].
    pub fn new(name: &str, share: PartsPerMillion) -> Result<Self, PricingError> {
        let name = name.trim().to_owned();
        if name.is_empty() {
            return Err(PricingError::UnnamedRate { share });
        }
        Ok(Self {
            name,
            share: share_not_negative("the tax rate", share)?,
        })
    }

    /// Reads `17.5%`; what is finer than a millionth is refused, not rounded.
    ///
    /// # Errors
    /// As [`Self::new`]; [`PricingError::RateTooFine`]; [`QuantityError`](crate::quantity::QuantityError) for what is no percentage.
    pub fn parse(name: &str, text: &str) -> Result<Self, PricingError> {
        let share: PartsPerMillion = text.parse()?;
        let typed = number::plain(text);
        let typed = number::take(typed.trim_start_matches(['+', '-']));
        let ppm = typed
            .ok()
            .and_then(|(number, _)| number.value.times(10_000, 1));
        if !ppm.is_some_and(Fraction::is_whole) {
            return Err(PricingError::RateTooFine {
                text: text.to_owned(),
            });
        }
        Self::new(name, share)
    }

    /// Name on invoices, such as VAT.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Tax as a share of the net amount.
    #[must_use]
    pub const fn share(&self) -> PartsPerMillion {
        self.share
    }

    /// Exact tax on top of a net amount: `net × t`.
    pub(super) fn on(&self, net: i64) -> Option<Fraction> {
        Fraction::new(i128::from(net), 1)?.times(self.share.get().into(), PARTS_PER_MILLION.into())
    }

    /// Exact tax inside a gross amount: `gross × t / (1 + t)`.
    pub(in crate::pricing) fn inside(&self, gross: i64) -> Option<Fraction> {
        let whole = PARTS_PER_MILLION.checked_add(self.share.get())?;
        Fraction::new(i128::from(gross), 1)?.times(self.share.get().into(), whole.into())
    }
}
