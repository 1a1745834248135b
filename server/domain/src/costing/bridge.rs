//! The way from planned to actual cost.

use crate::quantity::{Millionths, QuantityError};
use serde::{Deserialize, Serialize};

/// A step of the bridge.
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

/// Planned → actual, losses and customer's changes included; positive costs more.
///
/// The steps explain the difference and add nothing to it: their sum is exactly all-in minus planned.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Bridge {
    /// [`BridgeItem::Quantity`]
    pub quantity: Millionths,
    /// [`BridgeItem::Price`]
    pub price: Millionths,
    /// [`BridgeItem::Time`]
    pub time: Millionths,
    /// [`BridgeItem::Rate`]
    pub rate: Millionths,
    /// [`BridgeItem::OverheadOnExtraHours`]
    pub overhead_on_extra_hours: Millionths,
    /// [`BridgeItem::Unplanned`]
    pub unplanned: Millionths,
}

impl Bridge {
    /// The steps in printing order.
    #[must_use]
    pub const fn items(&self) -> [(BridgeItem, Millionths); 6] {
        let Self {
            quantity,
            price,
            time,
            rate,
            overhead_on_extra_hours,
            unplanned,
        } = *self;
        [
            (BridgeItem::Quantity, quantity),
            (BridgeItem::Price, price),
            (BridgeItem::Time, time),
            (BridgeItem::Rate, rate),
            (BridgeItem::OverheadOnExtraHours, overhead_on_extra_hours),
            (BridgeItem::Unplanned, unplanned),
        ]
    }

    /// Sum of the steps.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn total(&self) -> Result<Millionths, QuantityError> {
        Millionths::sum(self.items().map(|(_, value)| value))
    }
}
