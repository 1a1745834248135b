//! Rounding to a step, in the direction its name says.

use super::{PricingError, check::overflow};
use crate::{
    quantity::{Currency, Millionths, Money, exact},
    setting::Rounding,
};

impl Rounding {
    /// `above / below` as a whole number; `below` must be more than zero.
    pub(super) fn divide(self, above: i128, below: i128) -> Result<i128, PricingError> {
        let parts = || {
            let size = above.checked_abs()?;
            Some((size.checked_div(below)?, size.checked_rem(below)?))
        };
        let (whole, rest) = parts().ok_or_else(overflow)?;
        // The rest against what is missing to the next whole.
        let half = rest.cmp(&below.saturating_sub(rest));
        let away = match self {
            Self::HalfUp => half.is_ge(),
            Self::HalfDown => half.is_gt(),
            Self::HalfEven => half.is_gt() || (half.is_eq() && whole.rem_euclid(2) == 1),
            Self::Down => false,
        };
        Ok(whole
            .saturating_add(i128::from(away))
            .saturating_mul(above.signum()))
    }

    /// A value in whole minor units of a currency.
    ///
    /// # Errors
    /// Overflow beyond the book.
    pub fn to_minor(self, value: Millionths, currency: Currency) -> Result<Money, PricingError> {
        self.to_step(value, currency.money(1))
    }

    /// A value in whole steps, as cash is paid where the smallest coin is more than the minor unit (CHF 0.05).
    ///
    /// # Errors
    /// [`PricingError::Step`] for a step of zero or less, overflow.
    pub fn to_step(self, value: Millionths, step: Money) -> Result<Money, PricingError> {
        if step.minor <= 0 {
            return Err(PricingError::Step {
                step,
                ending: Money { minor: 0, ..step },
            });
        }
        let size = i128::from(step.to_millionths()?.get());
        let steps = self.divide(i128::from(value.get()), size)?;
        let minor = steps
            .checked_mul(i128::from(step.minor))
            .ok_or_else(overflow)?;
        Ok(step.currency.money(exact::narrow(minor)?))
    }
}
