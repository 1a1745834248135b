//! What is due, paid and left; what is kept on cancelling.

use super::{Schedule, Term, half_up, up};
use crate::{
    pricing::{
        PricingError,
        check::{minor_in, overflow, positive_in},
    },
    quantity::Money,
};

/// One stage against the payments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StageStanding {
    /// What it is called.
    pub name: String,
    /// What is to be paid at it.
    pub amount: Money,
    /// How much of it is paid; payments fill the stages in order.
    pub paid: Money,
}

/// A schedule against the payments.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// One per stage, in order.
    pub stages: Vec<StageStanding>,
    /// Sum of the stages that are reached.
    pub due: Money,
    /// All payments less refunds.
    pub paid: Money,
    /// Due, but not paid; zero or more.
    pub open: Money,
    /// Still to be paid of the whole, due or not; zero or more.
    pub left: Money,
    /// Paid beyond the whole; zero or more.
    pub over: Money,
}

/// What becomes of payments when an order is cancelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cancelled {
    /// What the terms keep, as far as it was paid.
    pub kept: Money,
    /// What goes back to the customer.
    pub returned: Money,
    /// What the terms would keep beyond what was paid.
    pub uncovered: Money,
}

impl Schedule {
    /// What is due, paid and left once `reached` stages have been reached.
    ///
    /// - `payments`: what was received; a refund is negative.
    ///
    /// # Errors
    /// [`PricingError::UnknownStage`] beyond the last, [`PricingError::MixedCurrencies`], [`PricingError::Negative`] where
    /// more was paid back than was paid.
    pub fn standing(&self, reached: usize, payments: &[Money]) -> Result<Standing, PricingError> {
        if reached > self.stages.len() {
            return Err(PricingError::UnknownStage {
                reached,
                stages: self.stages.len(),
            });
        }
        let money = |minor| self.bases.money(minor);
        let paid = self.paid(payments)?;
        let (mut due, mut unspent) = (0_i64, paid);
        let mut stages = Vec::with_capacity(self.stages.len());
        for (position, stage) in self.stages.iter().enumerate() {
            let amount = stage.amounts.gross;
            if position < reached {
                due = due.checked_add(amount).ok_or_else(overflow)?;
            }
            let filled = unspent.min(amount);
            unspent = unspent.saturating_sub(filled);
            stages.push(StageStanding {
                name: stage.name.clone(),
                amount: money(amount),
                paid: money(filled),
            });
        }
        // `unspent` is what no stage took.
        let above_zero = |amount: i64| money(amount.saturating_sub(paid).max(0));
        Ok(Standing {
            stages,
            due: money(due),
            paid: money(paid),
            open: above_zero(due),
            left: above_zero(self.bases.gross),
            over: money(unspent),
        })
    }

    /// The sum of payments, in minor units.
    fn paid(&self, payments: &[Money]) -> Result<i64, PricingError> {
        let add = |sum: i64, payment: &Money| {
            sum.checked_add(minor_in(self.currency(), *payment)?)
                .ok_or_else(overflow)
        };
        let paid = payments.iter().try_fold(0_i64, add)?;
        positive_in(self.currency(), "what was paid", self.bases.money(paid))
    }

    /// What of the payments is kept on cancelling, by terms such as "all materials and half the labour".
    ///
    /// - Labour and materials: as they are paid for, after discounts and with tax, whatever the quotation shows.
    /// - Rounding: the sum of the terms half up, once.
    /// - How it is taxed differs by country; here it is only an amount.
    ///
    /// # Errors
    /// [`PricingError::MixedCurrencies`], [`PricingError::Negative`], [`PricingError::AboveWhole`];
    /// [`PricingError::KeepsMore`] where the terms keep more than the whole price.
    pub fn cancelled(&self, payments: &[Money], keep: &[Term]) -> Result<Cancelled, PricingError> {
        let paid = self.paid(payments)?;
        let exact = self.bases.paid().exact(keep)?;
        if exact > self.bases.total() {
            return Err(PricingError::KeepsMore {
                kept: self.bases.money(up(exact)?),
                total: self.total(),
            });
        }
        let claim = half_up(exact)?;
        let kept = claim.min(paid);
        let money = |minor| self.bases.money(minor);
        Ok(Cancelled {
            kept: money(kept),
            returned: money(paid.saturating_sub(kept)),
            uncovered: money(claim.saturating_sub(kept)),
        })
    }
}
