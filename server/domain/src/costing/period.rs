//! The overhead of a period: what the work carried against what was spent.

use super::{CostError, HourlyCost};
use crate::quantity::{Millionths, Minutes, QuantityError, ShownPercent, exact};
use serde::{Deserialize, Serialize};
use std::fmt;

/// How the overhead that the work carried stands to what was spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum Applied {
    /// More was spent than the work carried: garments cost more than their sheets say.
    Under,
    /// The work carried more than was spent.
    Over,
    /// To the millionth.
    Exactly,
}

impl fmt::Display for Applied {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Under => "under-applied",
            Self::Over => "over-applied",
            Self::Exactly => "exactly applied",
        })
    }
}

/// Overhead applied to the billable minutes of a period, and overhead spent in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PeriodOverhead {
    applied: Millionths,
    spent: Millionths,
    minutes: i64,
}

impl PeriodOverhead {
    /// Of billable minutes with the rate of their days, and of what was spent.
    ///
    /// - Shape: one entry a rate; its minutes together, so that each rate is rounded once.
    /// - Rounding: each product once to the nearest millionth; the rates stay ratios.
    /// - Source: OpenStax Principles of Accounting vol. 2, 4.4 (applied = rate × activity) and 4.6.
    ///
    /// ```
    /// use ellwand_domain::{costing::{Applied, HourlyCost, PeriodOverhead}, quantity::Millionths};
    /// // 4.00 an hour over 26 000 h is 104 000; 102 000 were spent.
    /// let rate = HourlyCost::over(Millionths::new(100_000_000_000)?, 25_000 * 60).unwrap();
    /// let spent = Millionths::new(102_000_000_000)?;
    /// let year = PeriodOverhead::of(spent, &[(rate, 26_000 * 60)]).unwrap();
    /// assert_eq!((year.standing(), year.difference()), (Applied::Over, Millionths::new(-2_000_000_000)));
    /// # Ok::<(), ellwand_domain::quantity::QuantityError>(())
    /// ```
    ///
    /// # Errors
    /// [`CostError::NegativeSpent`], overflow.
    pub fn of(spent: Millionths, worked: &[(HourlyCost, i64)]) -> Result<Self, CostError> {
        if spent.get() < 0 {
            return Err(CostError::NegativeSpent {
                given: spent.decimal(),
            });
        }
        let (mut applied, mut minutes) = (Millionths::ZERO, 0_i64);
        for (rate, worked) in worked {
            applied = applied.plus(rate.of(*worked)?)?;
            minutes = minutes.saturating_add(*worked);
        }
        Ok(Self {
            applied,
            spent,
            minutes,
        })
    }

    /// What the work carried.
    #[must_use]
    pub const fn applied(&self) -> Millionths {
        self.applied
    }

    /// Spent less applied; positive: under-applied.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn difference(&self) -> Result<Millionths, QuantityError> {
        self.spent.minus(self.applied)
    }

    /// Over or under.
    #[must_use]
    pub fn standing(&self) -> Applied {
        match self.spent.cmp(&self.applied) {
            std::cmp::Ordering::Greater => Applied::Under,
            std::cmp::Ordering::Less => Applied::Over,
            std::cmp::Ordering::Equal => Applied::Exactly,
        }
    }

    /// The rate that would have carried exactly what was spent.
    ///
    /// # Errors
    /// [`CostError::ZeroBase`] for a period without billable work: no rate is invented.
    pub fn rate_needed(&self) -> Result<HourlyCost, CostError> {
        HourlyCost::over(self.spent, self.minutes)
    }
}

/// Minutes of a year that fall on `days` of its `of_days`, to the nearest minute (common practice: every day alike).
///
/// # Errors
/// Overflow, or a year without days.
pub fn minutes_in_days(year: Minutes, days: i64, of_days: i64) -> Result<Minutes, QuantityError> {
    Minutes::new(exact::mul_div_nearest(year.get(), days, of_days)?)
}

/// Billable minutes as a share of the minutes worked; `None` where none were worked, or beyond what a share can say.
#[must_use]
pub fn billable_share(billable: i64, worked: Minutes) -> Option<ShownPercent> {
    ShownPercent::of(billable, worked.get())
}
