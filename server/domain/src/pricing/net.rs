//! The customer's lines of a net price: materials, labour, handling, and what discounts take off.

use super::{
    PriceBase, PriceRule, PricingError,
    markup::{discounted, price_by_markup},
};
use crate::{
    allocation::{round_to_total, round_with_rest},
    quantity::{Millionths, PartsPerMillion, QuantityError},
};

/// A net price as the customer reads it, before discounts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NetParts {
    /// What is said to be for the materials.
    pub materials: Millionths,
    /// All the rest of the goods.
    pub labour: Millionths,
    /// Packing and sending.
    pub handling: Millionths,
}

/// What a line of a net price is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NetLineOf {
    /// Materials.
    Materials,
    /// Labour.
    Labour,
    /// Packing and sending.
    Handling,
    /// What one of the discounts takes off.
    Discount(PartsPerMillion),
}

/// A line of a net price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NetLine {
    /// What it is.
    pub of: NetLineOf,
    /// Position of its tax rate.
    pub rate: usize,
    /// Minor units; below zero for a discount.
    pub minor: i64,
}

impl PriceBase {
    /// The net price by a rule, told apart as the customer reads it.
    ///
    /// - Materials: at `on_materials` on their cost, at most the goods' price; without one, their share of the floor.
    /// - A price that is given holds the handling; to any other it is added.
    /// - Rounding: to the nearest millionth.
    ///
    /// # Errors
    /// Those of [`Self::price`]; [`PricingError::HandlingAbovePrice`]; [`PricingError::NothingPriced`] where a rule takes a share
    /// of nothing.
    pub fn net_parts(
        &self,
        rule: &PriceRule,
        on_materials: Option<PartsPerMillion>,
        handling: Millionths,
    ) -> Result<NetParts, PricingError> {
        let (cost, price) = (self.floor()?, self.price(rule)?);
        let given = matches!(rule, PriceRule::Fixed(_));
        let goods = match given {
            true if handling > price => return Err(PricingError::HandlingAbovePrice),
            true => price.minus(handling)?,
            false => price,
        };
        if goods.is_zero() && !given {
            return Err(PricingError::NothingPriced);
        }
        let materials = match on_materials {
            Some(markup) => price_by_markup(self.materials, markup)?.min(goods),
            None if cost.is_zero() => Millionths::ZERO,
            None => goods.share(self.materials.get(), cost.get())?,
        };
        Ok(NetParts { materials, labour: goods.minus(materials)?, handling })
    }
}

impl NetParts {
    /// All of it.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`].
    pub fn total(&self) -> Result<Millionths, QuantityError> {
        Millionths::sum([self.materials, self.labour, self.handling])
    }

    /// Lines in minor units: the parts, then each discount at each rate that it takes from.
    ///
    /// - `rates`: the tax rates of materials, labour and handling, as positions below `count`.
    /// - Rounding: materials and handling alone to the nearest, so that they read alike wherever the work alone differs, and
    ///   labour takes the rest; what is left after each discount by largest remainder over the rates.
    /// - Lines of nothing are left out, but for labour, and for a discount where there is one rate.
    ///
    /// # Errors
    /// Those of [`discounted`], [`PricingError::Allocation`].
    pub fn lines(
        &self,
        rates: [usize; 3],
        count: usize,
        discounts: &[PartsPerMillion],
        digits: u32,
    ) -> Result<Vec<NetLine>, PricingError> {
        let parts = [self.materials, self.labour, self.handling];
        let minor = round_with_rest(&parts, 1, digits)?;
        let mut lines = Vec::new();
        let mut so_far = vec![0_i64; count];
        let names = [NetLineOf::Materials, NetLineOf::Labour, NetLineOf::Handling];
        for ((of, rate), minor) in names.into_iter().zip(rates).zip(minor) {
            if let Some(sum) = so_far.get_mut(rate) {
                *sum = sum.saturating_add(minor);
            }
            if minor != 0 || of == NetLineOf::Labour {
                lines.push(NetLine { of, rate, minor });
            }
        }
        for taken in 1..=discounts.len() {
            let discounts = discounts.get(..taken).unwrap_or_default();
            let mut left = vec![Millionths::ZERO; count];
            for (amount, rate) in parts.into_iter().zip(rates) {
                let amount = discounted(amount, discounts)?;
                if let Some(sum) = left.get_mut(rate) {
                    *sum = sum.plus(amount)?;
                }
            }
            let (left, _) = round_to_total(&left, digits)?;
            let of = NetLineOf::Discount(discounts.last().copied().unwrap_or(PartsPerMillion::ZERO));
            for (rate, (before, now)) in so_far.iter().zip(&left).enumerate() {
                if now != before || count == 1 {
                    lines.push(NetLine { of, rate, minor: now.saturating_sub(*before) });
                }
            }
            so_far = left;
        }
        Ok(lines)
    }
}
