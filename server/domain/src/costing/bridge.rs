//! Steps from one total to another.

use crate::{
    allocation::{AllocationError, round_to_total},
    quantity::{Millionths, QuantityError},
};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A step of the way from planned to actual cost, losses and customer's changes included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum BridgeItem {
    /// More or less material than planned, at the planned price.
    Quantity,
    /// Material at another price than planned.
    Price,
    /// More or less time than planned, at the planned rate.
    Time,
    /// Time at another rate than planned, in pay or in overhead.
    Rate,
    /// Overhead on the hours above or below the plan, unplanned operations included.
    OverheadOnExtraHours,
    /// Materials and operations that had no plan.
    Unplanned,
}

impl BridgeItem {
    /// In printing order.
    pub const ALL: [Self; 6] = [
        Self::Quantity,
        Self::Price,
        Self::Time,
        Self::Rate,
        Self::OverheadOnExtraHours,
        Self::Unplanned,
    ];
}

impl fmt::Display for BridgeItem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Quantity => "quantity",
            Self::Price => "price",
            Self::Time => "time",
            Self::Rate => "rate",
            Self::OverheadOnExtraHours => "overhead on extra hours",
            Self::Unplanned => "not planned",
        })
    }
}

/// A step as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step<K> {
    /// What it comes from; `None` for what rounding the totals leaves.
    pub kind: Option<K>,
    /// Positive costs more.
    pub value: Millionths,
    /// Minor units.
    pub printed: i64,
}

/// A ten-thousandth of the currency.
const DUST: i64 = 100;

/// Steps as they are shown: they add up to the difference of the printed totals and, exactly, to that of the exact ones.
///
/// - Rounding: by largest remainder; what the roundings of the totals leave is a step of its own.
/// - What rounding alone left of a step, less than a ten-thousandth and printed as nothing, goes with the first that is shown.
///
/// # Errors
/// [`AllocationError`], overflow.
pub fn shown_steps<K>(
    steps: Vec<(K, Millionths)>,
    difference: i64,
    digits: u32,
) -> Result<Vec<Step<K>>, AllocationError> {
    let overflow = |_: QuantityError| AllocationError::Overflow;
    let exact: Vec<Millionths> = steps.iter().map(|(_, value)| *value).collect();
    let (minor, _) = round_to_total(&exact, digits)?;
    let (mut shown, mut dust, mut rounding) = (Vec::new(), Millionths::ZERO, difference);
    for ((kind, value), printed) in steps.into_iter().zip(minor) {
        if printed == 0 && value.get().abs() < DUST {
            dust = dust.plus(value).map_err(overflow)?;
            continue;
        }
        rounding = rounding.saturating_sub(printed);
        shown.push(Step {
            kind: Some(kind),
            value,
            printed,
        });
    }
    if let Some(first) = shown.first_mut() {
        first.value = first.value.plus(dust).map_err(overflow)?;
        dust = Millionths::ZERO;
    }
    if rounding != 0 || !dust.is_zero() {
        shown.push(Step {
            kind: None,
            value: dust,
            printed: rounding,
        });
    }
    Ok(shown)
}
