//! What a part of a garment, such as a detail, adds to its price.

use super::{PriceBase, PriceRule, PricingError, check::not_negative};
use crate::quantity::{Millionths, Minutes};

/// What a part adds: the price as it stands less the price without the part, by the same rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Added {
    /// What the part itself costs.
    pub cost: Millionths,
    /// What it adds to the net price; nothing to one that is given.
    pub net: Millionths,
    /// What an own hour earns with it; `None` without own hours.
    pub hour_with: Option<Millionths>,
    /// What an own hour would earn without it, at the price without it; `None` where no own hours would be left.
    pub hour_without: Option<Millionths>,
}

impl PriceBase {
    /// The base without a part of it.
    ///
    /// # Errors
    /// [`PricingError::Negative`] where the part is more than there is, overflow.
    pub fn without(&self, part: &Self) -> Result<Self, PricingError> {
        let less = |what, whole: Millionths, part| not_negative(what, whole.minus(part)?);
        let minutes = self.own_minutes.get().saturating_sub(part.own_minutes.get());
        Ok(Self {
            materials: less("what is left of the materials", self.materials, part.materials)?,
            paid_labour: less("what is left of the paid labour", self.paid_labour, part.paid_labour)?,
            overhead: less("what is left of the overhead", self.overhead, part.overhead)?,
            own_pay: less("what is left of the own pay", self.own_pay, part.own_pay)?,
            own_minutes: Minutes::new(minutes)?,
            losses: less("what is left of the losses", self.losses, part.losses)?,
        })
    }

    /// What a part of it adds to the net price by a rule.
    ///
    /// - Formula: price(all) − price(all but the part). Of a cost c that is c × (1 + m) by a markup m, c / (1 − g) by a
    ///   margin g, and nothing of a price that is given: there the hour earns less instead.
    /// - Rounding: each of the two prices once, to the nearest millionth.
    /// - Source: Centennial College Libraries, "Markup"; OpenStax, Contemporary Mathematics, 6.2.
    ///
    /// # Errors
    /// Those of [`Self::price`] and [`Self::without`].
    pub fn added(&self, part: &Self, rule: &PriceRule) -> Result<Added, PricingError> {
        let without = self.without(part)?;
        let (price, less) = (self.price(rule)?, without.price(rule)?);
        Ok(Added {
            cost: part.floor()?,
            net: price.minus(less)?,
            hour_with: self.hour_at(price)?,
            hour_without: without.hour_at(less)?,
        })
    }

    /// What an own hour earns at a net price, to the nearest millionth; `None` without own hours.
    ///
    /// # Errors
    /// Those of [`Self::earnings`], but for a lack of own hours.
    pub fn hour_at(&self, net_price: Millionths) -> Result<Option<Millionths>, PricingError> {
        match self.earnings(net_price) {
            Ok(earnings) => Ok(Some(earnings.per_hour()?)),
            Err(PricingError::NoOwnHours { .. }) => Ok(None),
            Err(error) => Err(error),
        }
    }
}
