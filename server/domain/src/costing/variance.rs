//! How far fact is from plan, and why. Positive is unfavourable.

use super::{CostError, HourlyCost};
use crate::quantity::{Millionths, Minutes, QuantityError};

const LIMIT: &str = "9 223 372 036 854 775 807 of the smallest unit";

/// A standard price as the ratio of a lot's value to its quantity, so that nothing is rounded early.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StandardPrice {
    value: Millionths,
    quantity: i64,
}

impl StandardPrice {
    /// `value` for `quantity` of the material's smallest unit.
    ///
    /// # Errors
    /// [`CostError::ZeroQuantity`] for a quantity of zero or less.
    pub fn new(value: Millionths, quantity: i64) -> Result<Self, CostError> {
        if quantity <= 0 {
            return Err(CostError::ZeroQuantity { quantity });
        }
        Ok(Self { value, quantity })
    }

    /// Value of a signed quantity at this price, to the nearest millionth.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn of(&self, quantity: i64) -> Result<Millionths, QuantityError> {
        self.value.share(quantity, self.quantity)
    }
}

/// Material variance; `price + quantity = total` exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MaterialVariance {
    /// `AQ × AP − AQ × SP`: it cost another price.
    pub price: Millionths,
    /// `(AQ − SQ) × SP`: another quantity was used.
    pub quantity: Millionths,
    /// `AQ × AP − SQ × SP`.
    pub total: Millionths,
}

/// Labour variance; `rate + time = total` exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LabourVariance {
    /// `(AR − SR) × AH`: the hours cost another rate.
    pub rate: Millionths,
    /// `(AH − SH) × SR`: it took another time.
    pub time: Millionths,
    /// `AH × AR − SH × SR`.
    pub total: Millionths,
}

/// Material variance from the standard price, the standard quantity for what was made, and the actual value and quantity.
///
/// - Formula: price = actual value − SP × AQ, quantity = (AQ − SQ) × SP, total = actual value − SP × SQ.
/// - Rounding: total and quantity once each to the nearest millionth; price by subtraction.
/// - Source: OpenStax Principles of Accounting vol. 2, 8.2.
///
/// # Errors
/// Overflow beyond [`Millionths::MAX`].
pub fn material_variance(
    standard_price: &StandardPrice,
    standard_quantity: i64,
    actual_value: Millionths,
    actual_quantity: i64,
) -> Result<MaterialVariance, CostError> {
    let more = difference(actual_quantity, standard_quantity)?;
    let total = actual_value.minus(standard_price.of(standard_quantity)?)?;
    let quantity = standard_price.of(more)?;
    Ok(MaterialVariance {
        price: total.minus(quantity)?,
        quantity,
        total,
    })
}

/// Labour variance from standard and actual minutes and rates (ten-thousandths of the currency per hour).
///
/// - Formula: time = (AH − SH) × SR, total = AH × AR − SH × SR, rate by subtraction.
/// - Rounding: each product once to the nearest millionth.
/// - Source: OpenStax Principles of Accounting vol. 2, 8.3.
///
/// # Errors
/// [`CostError::NegativeRate`], overflow.
pub fn labour_variance(
    standard_minutes: Minutes,
    standard_rate: i64,
    actual_minutes: Minutes,
    actual_rate: i64,
) -> Result<LabourVariance, CostError> {
    let actual = super::labour_cost(actual_minutes, actual_rate)?;
    let standard_rate = HourlyCost::per_hour(standard_rate)?;
    labour_variance_of_cost(
        standard_minutes,
        &standard_rate,
        actual_minutes.get(),
        actual,
    )
}

/// [`labour_variance`] where the actual cost is a sum over several rates.
pub(super) fn labour_variance_of_cost(
    standard_minutes: Minutes,
    standard_rate: &HourlyCost,
    actual_minutes: i64,
    actual_cost: Millionths,
) -> Result<LabourVariance, CostError> {
    let total = actual_cost.minus(standard_rate.of(standard_minutes.get())?)?;
    let time = standard_rate.of(difference(actual_minutes, standard_minutes.get())?)?;
    Ok(LabourVariance {
        rate: total.minus(time)?,
        time,
        total,
    })
}

/// Overhead on the hours above (or, negative, below) the plan: `(AH − SH) × overhead rate`, to the nearest millionth.
///
/// # Errors
/// Overflow beyond [`Millionths::MAX`].
pub fn overhead_on_extra_hours(
    standard_minutes: Minutes,
    actual_minutes: Minutes,
    rate: &HourlyCost,
) -> Result<Millionths, CostError> {
    Ok(rate.of(difference(actual_minutes.get(), standard_minutes.get())?)?)
}

fn difference(a: i64, b: i64) -> Result<i64, QuantityError> {
    a.checked_sub(b)
        .ok_or(QuantityError::Overflow { limit: LIMIT })
}
