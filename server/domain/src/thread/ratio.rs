//! Thread in a length of seam, as an exact fraction.

use crate::quantity::{Micrometres, QuantityError, exact, fraction::Fraction, print};

/// Metres of thread in a metre of seam, exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ThreadRatio(Fraction);

impl ThreadRatio {
    /// `thread / seam`; nothing when the seam has no length or the thread is negative.
    #[must_use]
    pub fn new(thread: i128, seam: i128) -> Option<Self> {
        Fraction::new(thread, seam)
            .filter(|_| thread >= 0)
            .map(Self)
    }

    /// The share `part / whole` of it.
    pub(super) fn share(self, part: i64, whole: i64) -> Option<Self> {
        self.0.times(part.into(), whole.into()).map(Self)
    }

    /// Both together.
    pub(super) fn plus(self, other: Self) -> Option<Self> {
        self.0.plus(other.0).map(Self)
    }

    /// Thread in `length` of seam, rounded up to a whole micrometre.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`], [`QuantityError::TooLarge`] above 10 000 km.
    pub fn thread_up(self, length: Micrometres) -> Result<Micrometres, QuantityError> {
        let thread = self
            .0
            .times(length.get().into(), 1)
            .and_then(Fraction::ceil);
        Micrometres::new(thread.ok_or(QuantityError::Overflow { limit: "10 000 km" })?)
    }

    /// The exact numbers: thread over seam, without a common divisor.
    #[must_use]
    pub const fn parts(self) -> (i128, i128) {
        (self.0.numerator(), self.0.denominator())
    }

    /// For people, to the nearest of three decimals: `2.32`, `1.333`.
    #[must_use]
    pub fn show(self) -> String {
        let thousandths = self
            .0
            .times(1_000, 1)
            .and_then(Fraction::nearest)
            .unwrap_or(i64::MAX);
        print::decimal(thousandths, 3, 1)
    }

    /// For the wire, rounded up to the sixth decimal: `2.32`, `1.333334`.
    #[must_use]
    pub fn decimal_up(self) -> String {
        let millionths = self
            .0
            .times(1_000_000, 1)
            .and_then(Fraction::ceil)
            .unwrap_or(i64::MAX);
        print::decimal(millionths, 6, 0)
    }
}

/// The smallest whole number whose square is not below `square`; 0 for nothing below 1.
#[must_use]
pub(super) fn root_up(square: i128) -> i128 {
    let floor = square.max(0).unsigned_abs().isqrt();
    let floor = i128::try_from(floor).unwrap_or(i128::MAX);
    if floor.saturating_mul(floor) < square {
        floor.saturating_add(1)
    } else {
        floor
    }
}

/// Parts of a micrometre in which roots are worked out before they are rounded up.
pub(super) const FINE: i128 = 1_000_000;

/// `√(a² + b²)` of two lengths in millionths of a micrometre, rounded up to one of them.
pub(super) fn slant_up(a: i128, b: i128) -> Option<i128> {
    let fine = |side: i128| {
        side.checked_mul(FINE)
            .and_then(|side| side.checked_mul(side))
    };
    Some(root_up(fine(a)?.checked_add(fine(b)?)?))
}

/// `top / bottom` rounded up, both positive.
pub(super) fn up(top: i128, bottom: i128) -> i128 {
    exact::div_ceil(top, bottom.max(1))
}
