//! How close stitches follow one another.

use crate::quantity::{
    Micrometres, QuantityError, exact,
    fraction::Fraction,
    parse::{Reader, number},
    print,
};

const PER_CM: Reader = Reader {
    expected: "a number of stitches in a centimetre",
    example: "4",
    unit: "",
    limit: "1 000",
};

/// Stitches in a length of seam: an exact fraction above zero, at most 1 000 a centimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Density(Fraction);

impl Density {
    const MAX_PER_CM: i64 = 1_000;

    fn per_um(value: Option<Fraction>, text: &str) -> Result<Self, QuantityError> {
        let value = value.filter(|value| {
            value
                .times(10_000, 1)
                .and_then(Fraction::ceil)
                .is_some_and(|per_cm| per_cm <= Self::MAX_PER_CM)
        });
        let value = value.ok_or_else(|| PER_CM.too_large(text))?;
        if value.numerator() <= 0 {
            return Err(QuantityError::NotPositive {
                text: text.to_owned(),
            });
        }
        Ok(Self(value))
    }

    /// Reads stitches in a centimetre: `4`, `4.5`, `3 1/2`.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`], [`QuantityError::Negative`], [`QuantityError::Unreadable`],
    /// [`QuantityError::TooLarge`] above 1 000.
    pub fn parse_per_cm(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (number, rest) = number::take(&plain).map_err(|fault| PER_CM.fault(fault, text))?;
        if !matches!(rest.trim(), "" | "/cm") {
            return Err(PER_CM.unreadable(text));
        }
        Self::per_um(number.value.times(1, 10_000), text)
    }

    /// `stitches` in an inch, as formulas in inches have them.
    ///
    /// # Errors
    /// As [`Self::parse_per_cm`].
    pub fn per_inch(stitches: i64) -> Result<Self, QuantityError> {
        Self::per_um(
            Fraction::new(stitches.into(), Micrometres::INCH.get().into()),
            &stitches.to_string(),
        )
    }

    /// One stitch of this length after the other.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] for no length, [`QuantityError::TooLarge`] below 10 µm.
    pub fn of_step(step: Micrometres) -> Result<Self, QuantityError> {
        let text = format!("{} mm", print::decimal(step.get(), 3, 0));
        if step.is_zero() {
            return Err(QuantityError::NotPositive { text });
        }
        Self::per_um(Fraction::new(1, step.get().into()), &text)
    }

    /// Stitches over micrometres.
    pub(super) const fn fraction(self) -> Fraction {
        self.0
    }

    /// Length of one stitch, rounded down to a whole micrometre: shorter stitches take more thread.
    pub(super) fn step_down(self) -> i128 {
        let fraction = self.0;
        exact::div_floor(fraction.denominator(), fraction.numerator()).max(1)
    }

    /// Stitches in a centimetre for people, to the nearest of three decimals: `4`, `3.937`.
    #[must_use]
    pub fn show_per_cm(self) -> String {
        let thousandths = self
            .0
            .times(10_000_000, 1)
            .and_then(Fraction::nearest)
            .unwrap_or(i64::MAX);
        print::decimal(thousandths, 3, 0)
    }
}
