//! The customer's lines of a price: materials, labour, handling, and what discounts take off.

use super::{
    PriceBase, PriceRule, PricingError,
    check::{not_negative, overflow},
    markup::{discounted, price_by_markup},
};
use crate::{
    allocation::{round_to_total, round_with_rest},
    quantity::{Millionths, PARTS_PER_MILLION, PartsPerMillion, QuantityError, exact},
};
use serde::{Deserialize, Serialize};

/// A price as the customer reads it, before discounts: net, or with its tax where prices are shown with tax.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PriceParts {
    /// What is charged for the materials.
    pub materials: Millionths,
    /// All the rest of the goods.
    pub labour: Millionths,
    /// Packing and sending.
    pub handling: Millionths,
}

/// What a line of a price is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PriceLineOf {
    /// Materials.
    Materials,
    /// Labour.
    Labour,
    /// Packing and sending.
    Handling,
    /// What one of the discounts takes off.
    Discount(PartsPerMillion),
    /// What the total was rounded up by.
    Rounding,
}

/// A line of a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PriceLine {
    /// Group of the price.
    pub of: PriceLineOf,
    /// Position of its tax rate.
    pub rate: usize,
    /// Minor units; below zero for a discount.
    pub minor: i64,
}

impl PriceBase {
    /// The net price by a rule, in the groups that the customer sees.
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
    ) -> Result<PriceParts, PricingError> {
        let (cost, price) = (self.floor()?, self.price(rule)?);
        let given = matches!(rule, PriceRule::Fixed(_));
        let goods = if given {
            less_handling(price, handling)?
        } else {
            price
        };
        if goods.is_zero() && !given {
            return Err(PricingError::NothingPriced);
        }
        let materials = match on_materials {
            Some(markup) => price_by_markup(self.materials, markup)?.min(goods),
            None if cost.is_zero() => Millionths::ZERO,
            None => goods.share(self.materials.get(), cost.get())?,
        };
        Ok(PriceParts {
            materials,
            labour: goods.minus(materials)?,
            handling,
        })
    }

    /// The price by a rule with its tax, in the groups that the customer sees.
    ///
    /// - What is typed, a given price and the handling, holds its tax; what is made from costs gets it on top: part × (1 + rate).
    /// - A given price is shared by what its parts would be with their tax: so all of it is met, whatever its rates.
    /// - `rates`: of materials, labour and handling.
    /// - Rounding: to the nearest millionth.
    ///
    /// # Errors
    /// As [`Self::net_parts`].
    pub fn parts_with_tax(
        &self,
        rule: &PriceRule,
        on_materials: Option<PartsPerMillion>,
        handling: Millionths,
        rates: [PartsPerMillion; 3],
    ) -> Result<PriceParts, PricingError> {
        let [of_materials, of_labour, _] = rates;
        let PriceRule::Fixed(given) = *rule else {
            let net = self.net_parts(rule, on_materials, Millionths::ZERO)?;
            let materials = price_by_markup(net.materials, of_materials)?;
            return Ok(PriceParts {
                materials,
                labour: price_by_markup(net.labour, of_labour)?,
                handling,
            });
        };
        let goods = less_handling(not_negative("the price", given)?, handling)?;
        let rest = self.floor()?.minus(self.materials)?;
        let materials = match on_materials {
            Some(markup) => {
                let net = price_by_markup(self.materials, markup)?;
                price_by_markup(net, of_materials)?.min(goods)
            }
            None => {
                let weights = [
                    with_tax(self.materials, of_materials)?,
                    with_tax(rest, of_labour)?,
                ];
                share_of(goods, weights)?
            }
        };
        Ok(PriceParts {
            materials,
            labour: goods.minus(materials)?,
            handling,
        })
    }
}

fn less_handling(price: Millionths, handling: Millionths) -> Result<Millionths, PricingError> {
    if handling > price {
        return Err(PricingError::HandlingAbovePrice);
    }
    Ok(price.minus(handling)?)
}

/// `net × (1 + rate)` in millionths of a millionth; exact.
fn with_tax(net: Millionths, rate: PartsPerMillion) -> Result<i128, PricingError> {
    let whole = i128::from(PARTS_PER_MILLION.saturating_add(rate.get()));
    i128::from(net.get())
        .checked_mul(whole)
        .ok_or_else(overflow)
}

/// The first's share of an amount, to the nearest millionth; nothing where both weigh nothing.
fn share_of(amount: Millionths, [first, second]: [i128; 2]) -> Result<Millionths, PricingError> {
    let whole = first.checked_add(second).ok_or_else(overflow)?;
    if whole == 0 {
        return Ok(Millionths::ZERO);
    }
    let product = i128::from(amount.get())
        .checked_mul(first)
        .ok_or_else(overflow)?;
    Ok(Millionths::new(exact::narrow(exact::div_nearest(
        product, whole,
    ))?)?)
}

impl PriceParts {
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
    ) -> Result<Vec<PriceLine>, PricingError> {
        let parts = [self.materials, self.labour, self.handling];
        let minor = round_with_rest(&parts, 1, digits)?;
        let mut lines = Vec::new();
        let mut so_far = vec![0_i64; count];
        let names = [
            PriceLineOf::Materials,
            PriceLineOf::Labour,
            PriceLineOf::Handling,
        ];
        for ((of, rate), minor) in names.into_iter().zip(rates).zip(minor) {
            if let Some(sum) = so_far.get_mut(rate) {
                *sum = sum.saturating_add(minor);
            }
            if minor != 0 || of == PriceLineOf::Labour {
                lines.push(PriceLine { of, rate, minor });
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
            let of =
                PriceLineOf::Discount(discounts.last().copied().unwrap_or(PartsPerMillion::ZERO));
            for (rate, (before, now)) in so_far.iter().zip(&left).enumerate() {
                if now != before || count == 1 {
                    lines.push(PriceLine {
                        of,
                        rate,
                        minor: now.saturating_sub(*before),
                    });
                }
            }
            so_far = left;
        }
        Ok(lines)
    }
}
