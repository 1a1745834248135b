//! Cash where the smallest coin is more than the minor unit.
//!
//! The price itself stays as it is: only what changes hands in cash is rounded, and what the rounding gives or takes is
//! settled with it.

use super::{
    PricingError, Rounding, Schedule,
    check::{minor_in, overflow},
};
use crate::quantity::{Currency, Money};

/// The step in which cash is paid: CHF 0.05, DKK 0.50 (CLDR).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CashStep(Money);

impl CashStep {
    /// Takes a step: more than the minor unit, and a part or a multiple of the major one, as coins are.
    ///
    /// # Errors
    /// [`PricingError::CashStep`].
    pub fn new(step: Money) -> Result<Self, PricingError> {
        let major = step.currency.minor_per_major();
        let even = |whole: i64, part: i64| whole.checked_rem(part) == Some(0);
        if step.minor < 2 || !(even(major, step.minor) || even(step.minor, major)) {
            return Err(PricingError::CashStep { step });
        }
        Ok(Self(step))
    }

    /// The step.
    #[must_use]
    pub const fn step(self) -> Money {
        self.0
    }

    fn currency(self) -> Currency {
        self.0.currency
    }

    /// What is paid in cash for an amount: the nearest whole steps, half a step away from zero.
    ///
    /// Source: Australia, GST Regulations 2019 s 168-5.11 (to the nearest 5 cents, 2.5 cents up).
    ///
    /// # Errors
    /// [`PricingError::MixedCurrencies`], overflow.
    pub fn of(self, exact: Money) -> Result<Money, PricingError> {
        minor_in(self.currency(), exact)?;
        Rounding::HalfUp.to_step(exact.to_millionths()?, self.0)
    }

    /// What a payment in cash settles: the first of the `open` amounts that is paid in cash by just that, else the payment
    /// itself. A payment back is negative, and so is what is open then.
    ///
    /// # Errors
    /// [`PricingError::NotInCash`] for a payment that is neither and not in whole steps; [`PricingError::MixedCurrencies`].
    pub fn settled(self, paid: Money, open: &[Money]) -> Result<Money, PricingError> {
        let minor = minor_in(self.currency(), paid)?;
        for amount in open {
            if self.of(*amount)? == paid {
                return Ok(*amount);
            }
        }
        if minor.checked_rem(self.0.minor) != Some(0) {
            return Err(PricingError::NotInCash {
                paid,
                step: self.0,
                cash: self.of(paid)?,
            });
        }
        Ok(paid)
    }
}

impl Schedule {
    /// What is still to be paid up to each stage that is not paid yet, once `settled` is paid; the nearest stage first.
    ///
    /// # Errors
    /// [`PricingError::MixedCurrencies`], overflow.
    pub fn open(&self, settled: &[Money]) -> Result<Vec<Money>, PricingError> {
        let currency = self.currency();
        let add = |sum: i64, minor: i64| sum.checked_add(minor).ok_or_else(overflow);
        let mut left = 0_i64;
        for payment in settled {
            left = add(left, minor_in(currency, *payment)?)?;
        }
        left = left.saturating_neg();
        let mut open = Vec::with_capacity(self.stages.len());
        for stage in &self.stages {
            left = add(left, stage.amounts.gross)?;
            if left > 0 && stage.amounts.gross != 0 {
                open.push(currency.money(left));
            }
        }
        Ok(open)
    }
}
