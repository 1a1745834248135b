//! Exact fractions for the way from typed text to whole units.

/// Greatest common divisor; 0 only for two zeros.
pub(crate) fn gcd(mut a: u128, mut b: u128) -> u128 {
    while let Some(rest) = a.checked_rem(b) {
        a = b;
        b = rest;
    }
    a
}

/// A reduced fraction with a positive denominator. Every operation gives nothing when it leaves `i128`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Fraction {
    numerator: i128,
    denominator: i128,
}

impl Fraction {
    pub(crate) const ZERO: Self = Self {
        numerator: 0,
        denominator: 1,
    };

    pub(crate) fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator <= 0 {
            return None;
        }
        let divisor =
            i128::try_from(gcd(numerator.unsigned_abs(), denominator.unsigned_abs())).ok()?;
        Some(Self {
            numerator: numerator.checked_div(divisor)?,
            denominator: denominator.checked_div(divisor)?,
        })
    }

    pub(crate) fn plus(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Self::new(
            left.checked_add(right)?,
            self.denominator.checked_mul(other.denominator)?,
        )
    }

    pub(crate) fn times(self, numerator: i128, denominator: i128) -> Option<Self> {
        let other = Self::new(numerator, denominator)?;
        Self::new(
            self.numerator.checked_mul(other.numerator)?,
            self.denominator.checked_mul(other.denominator)?,
        )
    }

    pub(crate) const fn numerator(self) -> i128 {
        self.numerator
    }

    pub(crate) const fn denominator(self) -> i128 {
        self.denominator
    }

    /// `1 / self`, for positive fractions.
    pub(crate) fn inverse(self) -> Option<Self> {
        Self::new(self.denominator, self.numerator)
    }

    pub(crate) const fn is_whole(self) -> bool {
        self.denominator == 1
    }

    pub(crate) fn floor(self) -> Option<i64> {
        i64::try_from(self.numerator.checked_div_euclid(self.denominator)?).ok()
    }

    pub(crate) fn ceil(self) -> Option<i64> {
        let floor = self.numerator.checked_div_euclid(self.denominator)?;
        i64::try_from(if self.is_whole() {
            floor
        } else {
            floor.checked_add(1)?
        })
        .ok()
    }

    /// Halves away from zero.
    pub(crate) fn nearest(self) -> Option<i64> {
        let size = self.numerator.checked_abs()?;
        let (floor, rest) = (
            size.checked_div(self.denominator)?,
            size.checked_rem(self.denominator)?,
        );
        let up = rest >= self.denominator.checked_sub(rest)?;
        let rounded = if up { floor.checked_add(1)? } else { floor };
        i64::try_from(rounded.checked_mul(self.numerator.signum())?).ok()
    }
}
