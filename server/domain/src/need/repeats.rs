//! Lengths of cloth whose pattern must match: whole repeats.

use super::ClothFit;
use crate::{
    quantity::{Micrometres, QuantityError, Units, exact},
    shrinkage::Ratio,
};

/// The whole repeats of one length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Repeats {
    /// How many.
    pub count: i64,
    /// One of them on the cloth as it lies there.
    pub repeat: Micrometres,
    /// The length that was rounded up to them.
    pub of: Micrometres,
    /// What they measure.
    pub length: Micrometres,
}

impl Repeats {
    /// A length of cloth in whole repeats; `repeat` on the raw cloth, which `changed` since.
    ///
    /// - Formula: `⌈raw length ÷ repeat⌉` repeats, counted on the raw cloth, so that a wash changes none of them.
    /// - Rounding: the count up; on prepared cloth their length down to a micrometre, as a wash leaves it.
    /// - Source: common practice (rule 1 of the repeat rules); one more for where the roll was cut (rule 3) goes once off a
    ///   piece, not with each length, and is no part of this.
    ///
    /// ```
    /// use ellwand_domain::{need::Repeats, quantity::Micrometres, shrinkage::Ratio};
    /// // 96 in at a repeat of 27 in: 4 repeats, 108 in (common practice).
    /// let inches = |n| Micrometres::INCH.times(n).unwrap();
    /// let whole = Repeats::over(inches(96), inches(27), Ratio::UNCHANGED).unwrap();
    /// assert_eq!((whole.count, whole.length), (4, inches(108)));
    /// ```
    ///
    /// # Errors
    /// [`QuantityError`] beyond the limits of a length, or for no repeat.
    pub fn over(
        of: Micrometres,
        repeat: Micrometres,
        changed: Ratio,
    ) -> Result<Self, QuantityError> {
        if repeat.is_zero() {
            return Err(QuantityError::NotPositive {
                text: "repeat 0".to_owned(),
            });
        }
        let count = exact::mul_div_ceil(changed.raw_for(of)?.get(), 1, repeat.get())?;
        let length = changed.washed_from(repeat.times(count)?)?;
        Ok(Self {
            count,
            repeat: changed.washed_from(repeat)?,
            of,
            length,
        })
    }

    /// `2.479 m rounded up to 4 whole repeats of 68.58 cm = 2.744 m`.
    pub(super) fn step(&self, units: Units) -> String {
        let repeats = if self.count == 1 {
            "1 whole repeat"
        } else {
            &format!("{} whole repeats", self.count)
        };
        format!(
            "{} rounded up to {repeats} of {} = {}",
            self.of.show_taken(units),
            self.repeat.show_width(units),
            self.length.show_taken(units)
        )
    }
}

impl ClothFit {
    /// The same in whole repeats, to which no cutting step is added.
    ///
    /// # Errors
    /// As [`Repeats::over`].
    pub fn in_repeats(
        mut self,
        repeat: Micrometres,
        changed: Ratio,
    ) -> Result<Self, QuantityError> {
        let repeats = Repeats::over(self.least, repeat, changed)?;
        (self.least, self.takes) = (repeats.length, repeats.length);
        self.repeats = Some(repeats);
        Ok(self)
    }
}
