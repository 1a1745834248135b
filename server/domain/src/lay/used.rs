//! How much of the cloth of a lay its parts use.

use crate::quantity::Micrometres;
use std::fmt;

/// Share of cloth that parts use, in thousandths, rounded down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Used(i64);

impl Used {
    /// Of cloth of a length and a usable width; none of cloth without either.
    ///
    /// - Formula: area of the parts ÷ (usable width × length). Source: by definition (garmentprocess.com).
    ///
    /// ```
    /// use ellwand_domain::{lay::Used, quantity::Micrometres};
    /// // 1.45 m² on 1.25 m × 1.42 m: 81.69 %.
    /// let mm = Micrometres::from_mm;
    /// assert_eq!(Used::of(1_450_000_000_000, mm(1_250), mm(1_420)).to_string(), "81.6");
    /// ```
    #[must_use]
    pub fn of(area_um2: i128, length: Micrometres, usable: Micrometres) -> Self {
        let cloth = i128::from(length.get()).saturating_mul(i128::from(usable.get()));
        let share = area_um2.saturating_mul(1_000).checked_div(cloth);
        Self(share.map_or(0, |share| i64::try_from(share).unwrap_or(i64::MAX)))
    }

    /// In thousandths.
    #[must_use]
    pub const fn thousandths(self) -> i64 {
        self.0
    }
}

impl fmt::Display for Used {
    /// In percent to one decimal: `80.0`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.0.div_euclid(10), self.0.rem_euclid(10))
    }
}
