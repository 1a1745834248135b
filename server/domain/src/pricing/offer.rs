//! Options of one garment side by side.

use super::{PriceBase, PricingError, Profit};
use crate::quantity::{Millionths, Minutes};

/// What is compared of an option.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfferFigures {
    /// Materials, labour and overhead.
    pub cost: Millionths,
    /// All own minutes.
    pub own_minutes: Minutes,
    /// Minutes of people who are paid.
    pub paid_minutes: Minutes,
    /// Net price.
    pub net: Millionths,
    /// With tax.
    pub gross: Millionths,
    /// Price less cost, and its shares of both.
    pub profit: Profit,
    /// What an own hour earns; `None` without own hours.
    pub hour: Option<Millionths>,
}

/// What an option has more than the first, below zero for less. Signed minutes, and amounts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfferDifference {
    /// Of the cost.
    pub cost: Millionths,
    /// Own minutes.
    pub own_minutes: i64,
    /// Paid minutes.
    pub paid_minutes: i64,
    /// Of the net price.
    pub net: Millionths,
    /// Of the price with tax.
    pub gross: Millionths,
    /// Of the profit.
    pub profit: Millionths,
    /// Of what an own hour earns; `None` where one of the two has no own hours.
    pub hour: Option<Millionths>,
}

impl OfferFigures {
    /// Figures of an option from its costs and its price.
    ///
    /// # Errors
    /// Those of [`PriceBase::floor`], [`Profit::of`] and [`PriceBase::hour_at`].
    pub fn of(
        base: &PriceBase,
        paid_minutes: Minutes,
        net: Millionths,
        gross: Millionths,
    ) -> Result<Self, PricingError> {
        let cost = base.floor()?;
        Ok(Self {
            cost,
            own_minutes: base.own_minutes,
            paid_minutes,
            net,
            gross,
            profit: Profit::of(cost, net)?,
            hour: base.hour_at(net)?,
        })
    }

    /// How much more than the first it is, figure by figure.
    ///
    /// # Errors
    /// Overflow.
    pub fn more_than(&self, first: &Self) -> Result<OfferDifference, PricingError> {
        let minutes = |own: Minutes, first: Minutes| own.get().saturating_sub(first.get());
        let hour = match (self.hour, first.hour) {
            (Some(own), Some(first)) => Some(own.minus(first)?),
            _ => None,
        };
        Ok(OfferDifference {
            cost: self.cost.minus(first.cost)?,
            own_minutes: minutes(self.own_minutes, first.own_minutes),
            paid_minutes: minutes(self.paid_minutes, first.paid_minutes),
            net: self.net.minus(first.net)?,
            gross: self.gross.minus(first.gross)?,
            profit: self.profit.amount.minus(first.profit.amount)?,
            hour,
        })
    }
}
