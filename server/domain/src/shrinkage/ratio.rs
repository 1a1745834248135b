//! Exact ratio of a length before to the same length after.

use super::ShrinkageError;
use crate::quantity::{
    Micrometres, PARTS_PER_MILLION, PartsPerMillion, QuantityError, exact,
    fraction::{Fraction, gcd},
    print,
};
use serde::{Deserialize, Serialize};

/// What a length becomes: `after / before`, exact, both above zero. Below 1 it shrinks, above 1 it grows.
///
/// Kept reduced, so that equal ratios are equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "Sides", into = "Sides")]
pub struct Ratio {
    before: i64,
    after: i64,
}

/// The two numbers on the wire and in the book.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sides {
    before: i64,
    after: i64,
}

impl Ratio {
    /// No change.
    pub const UNCHANGED: Self = Self {
        before: 1,
        after: 1,
    };

    /// Takes a length before and the same length after, in any one unit.
    ///
    /// # Errors
    /// [`ShrinkageError::ZeroReading`] unless both are above zero.
    pub fn new(before: i64, after: i64) -> Result<Self, ShrinkageError> {
        if before <= 0 || after <= 0 {
            return Err(ShrinkageError::ZeroReading);
        }
        let divisor = i64::try_from(gcd(
            u128::from(before.unsigned_abs()),
            u128::from(after.unsigned_abs()),
        ));
        let divisor = divisor.map_err(|_| ShrinkageError::ZeroReading)?;
        Ok(Self {
            before: before.div_euclid(divisor),
            after: after.div_euclid(divisor),
        })
    }

    /// Takes a shrinkage; negative grows.
    ///
    /// # Errors
    /// [`ShrinkageError::NothingLeft`] at 100 % or more.
    pub fn from_ppm(shrinkage: PartsPerMillion) -> Result<Self, ShrinkageError> {
        let after = PARTS_PER_MILLION.saturating_sub(shrinkage.get());
        if after <= 0 {
            return Err(ShrinkageError::NothingLeft { shrinkage });
        }
        Self::new(PARTS_PER_MILLION, after)
    }

    /// The side before, reduced.
    #[must_use]
    pub const fn before(self) -> i64 {
        self.before
    }

    /// The side after, reduced.
    #[must_use]
    pub const fn after(self) -> i64 {
        self.after
    }

    /// ISO 5077's change, (after − before) / before, in tenths of a percent, to the nearest: −4.57 % gives −46.
    #[must_use]
    pub fn change_permille(self) -> i64 {
        let difference = self.after.saturating_sub(self.before);
        exact::mul_div_nearest(difference, 1_000, self.before).unwrap_or(i64::MAX)
    }

    /// ISO 5077's change with its sign: `-4.6 %`, `+1.2 %`, `0.0 %`.
    #[must_use]
    pub fn change_text(self) -> String {
        let change = self.change_permille();
        format!(
            "{}{} %",
            if change > 0 { "+" } else { "" },
            print::decimal(change, 1, 1)
        )
    }

    /// Shrinkage as a share of the length before, rounded up, towards more cloth; negative when it grows.
    #[must_use]
    pub fn shrinkage_ppm(self) -> PartsPerMillion {
        let difference = self.before.saturating_sub(self.after);
        let ppm = exact::mul_div_ceil(difference, PARTS_PER_MILLION, self.before);
        ppm.and_then(PartsPerMillion::new)
            .unwrap_or(PartsPerMillion::MAX.negated())
    }

    /// Growth as a share of the length before, rounded down; nothing when it shrinks or stays.
    #[must_use]
    pub fn growth(self) -> Option<PartsPerMillion> {
        (self.after > self.before).then(|| self.shrinkage_ppm().negated())
    }

    /// Raw length that still measures `washed` after the preparation.
    ///
    /// - Formula: `washed × before / after` = F / (1 − s); never F × (1 + s), which is always short.
    /// - Rounding: up to a whole micrometre, for short cloth cannot be mended.
    /// - Source: derived from the definition of the change in ISO 5077.
    ///
    /// ```
    /// use ellwand_domain::{quantity::Micrometres, shrinkage::Ratio};
    /// // 350 mm became 334 mm: 3.00 m after washing needs 3.1437 m before.
    /// let tested = Ratio::new(350, 334).unwrap();
    /// assert_eq!(tested.raw_for(Micrometres::from_mm(3_000)).unwrap().get(), 3_143_713);
    /// ```
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] or [`QuantityError::TooLarge`] above [`Micrometres::MAX`].
    pub fn raw_for(self, washed: Micrometres) -> Result<Micrometres, QuantityError> {
        washed.scale_up(self.before, self.after)
    }

    /// What `raw` measures after the preparation, rounded down to a whole micrometre.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] or [`QuantityError::TooLarge`] above [`Micrometres::MAX`].
    pub fn washed_from(self, raw: Micrometres) -> Result<Micrometres, QuantityError> {
        raw.scale_down(self.after, self.before)
    }

    /// This change and then another: the factors multiply, percentages never add.
    ///
    /// Exact while the reduced product fits `i64`, as any pair of tests does; beyond that it is kept to 18 digits,
    /// rounded towards more cloth.
    #[must_use]
    pub fn then(self, other: Self) -> Self {
        let before = i128::from(self.before).saturating_mul(i128::from(other.before));
        let after = i128::from(self.after).saturating_mul(i128::from(other.after));
        let divisor = i128::try_from(gcd(before.unsigned_abs(), after.unsigned_abs()))
            .unwrap_or(1)
            .max(1);
        let mut before = before.div_euclid(divisor);
        let mut after = after.div_euclid(divisor);
        while before > i128::from(i64::MAX) || after > i128::from(i64::MAX) {
            before = exact::div_ceil(before, 2);
            after = after.div_euclid(2).max(1);
        }
        let sides = i64::try_from(before).ok().zip(i64::try_from(after).ok());
        sides.map_or(self, |(before, after)| Self { before, after })
    }

    /// The ratio that turns this one back.
    #[must_use]
    pub const fn inverse(self) -> Self {
        Self {
            before: self.after,
            after: self.before,
        }
    }

    /// What is left, `after / before`, for people, to the nearest of four decimals: `0.9407`, `1.0286`. Sums use the ratio.
    #[must_use]
    pub fn factor_text(self) -> String {
        let factor = Fraction::new(i128::from(self.after), i128::from(self.before));
        let units = factor
            .and_then(|f| f.times(10_000, 1))
            .and_then(Fraction::nearest);
        print::decimal(units.unwrap_or(i64::MAX), 4, 4)
    }
}

impl TryFrom<Sides> for Ratio {
    type Error = ShrinkageError;
    fn try_from(sides: Sides) -> Result<Self, ShrinkageError> {
        Self::new(sides.before, sides.after)
    }
}

impl From<Ratio> for Sides {
    fn from(ratio: Ratio) -> Self {
        Self {
            before: ratio.before,
            after: ratio.after,
        }
    }
}

/// The most that a length may shrink and still leave what is needed, down to a tenth of a percent; nothing where it is too
/// short already.
///
/// - Formula: `1 − needed ÷ has`, from `left = raw × (1 − s)`.
/// - Rounding: down to 0.1 %.
///
/// ```
/// use ellwand_domain::{quantity::Micrometres, shrinkage::most_shrinkage};
/// // 1.40 m are needed of 1.50 m: 6.67 %.
/// let mm = Micrometres::from_mm;
/// assert_eq!(most_shrinkage(mm(1_500), mm(1_400)).unwrap().to_string(), "6.6 %");
/// assert_eq!(most_shrinkage(mm(1_400), mm(1_500)), None);
/// ```
#[must_use]
pub fn most_shrinkage(has: Micrometres, needed: Micrometres) -> Option<PartsPerMillion> {
    let spare = has
        .get()
        .checked_sub(needed.get())
        .filter(|spare| *spare >= 0)?;
    let tenths = i128::from(spare)
        .checked_mul(1_000)?
        .checked_div(i128::from(has.get()))?;
    PartsPerMillion::new(i64::try_from(tenths).ok()?.checked_mul(1_000)?).ok()
}
