//! A garment without a part of it, such as a detail.
//!
//! What a part adds to a price is the price as it stands less the price without it, by the same rule: of a cost c that is
//! c × (1 + m) by a markup m, c / (1 − g) by a margin g, and nothing of a price that is given, where the hour earns less
//! instead (Centennial College Libraries, "Markup"; OpenStax, Contemporary Mathematics, 6.2).

use super::{PriceBase, PricingError, check::not_negative};
use crate::quantity::{Millionths, Minutes};

impl PriceBase {
    /// The base without a part of it.
    ///
    /// # Errors
    /// [`PricingError::Negative`] where the part is more than there is, overflow.
    pub fn without(&self, part: &Self) -> Result<Self, PricingError> {
        let less = |what, whole: Millionths, part| not_negative(what, whole.minus(part)?);
        let minutes = self
            .own_minutes
            .get()
            .saturating_sub(part.own_minutes.get());
        Ok(Self {
            materials: less(
                "what is left of the materials",
                self.materials,
                part.materials,
            )?,
            paid_labour: less(
                "what is left of the paid labour",
                self.paid_labour,
                part.paid_labour,
            )?,
            overhead: less("what is left of the overhead", self.overhead, part.overhead)?,
            own_pay: less("what is left of the own pay", self.own_pay, part.own_pay)?,
            own_minutes: Minutes::new(minutes)?,
            losses: less("what is left of the losses", self.losses, part.losses)?,
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
