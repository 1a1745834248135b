//! The geometric formulas of machine stitches.

use super::{density::Density, ratio::ThreadRatio};
use crate::quantity::{Micrometres, fraction::Fraction};

/// `C = base + S·(thick·T + wide·W)`: thread in a length of seam, with `S` stitches in that length, `T` the thickness of
/// all layers and `W` the width of the seam or the gauge of the needles, all in one unit of length.
///
/// - Shape: `base` along the seam, `thick` times through the cloth and `wide` times across the seam with every stitch.
/// - Source: printed in several teaching pages (textilecalculations.com; textileblog.com) and credited to a booklet on
///   thread consumption of 1963, which was not seen; those with a width on one table of equations only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula {
    pub(super) base: i64,
    pub(super) thick: i64,
    pub(super) wide: i64,
}

impl Formula {
    /// True when the seam's width is in it.
    #[must_use]
    pub const fn needs_width(self) -> bool {
        self.wide != 0
    }

    /// Thread in a metre of seam, exact. Nothing when the numbers leave `i128`.
    ///
    /// ```
    /// use ellwand_domain::{quantity::Micrometres, thread::{Density, machine_stitches}};
    /// // 301, 4 stitches/cm through 0.4 mm: 2 + 2 × 0.04 × 4 = 2.32.
    /// let lockstitch = machine_stitches().iter().find(|stitch| stitch.class == 301).unwrap();
    /// let density = Density::parse_per_cm("4").unwrap();
    /// let ratio = lockstitch.formula.unwrap().ratio(density, "0.4mm".parse().unwrap(), Micrometres::ZERO);
    /// assert_eq!(ratio.unwrap().show(), "2.32");
    /// ```
    #[must_use]
    pub fn ratio(
        self,
        density: Density,
        thickness: Micrometres,
        width: Micrometres,
    ) -> Option<ThreadRatio> {
        let across = i128::from(self.thick)
            .checked_mul(thickness.get().into())?
            .checked_add(i128::from(self.wide).checked_mul(width.get().into())?)?;
        let sum: Fraction = density
            .fraction()
            .times(across, 1)?
            .plus(Fraction::new(self.base.into(), 1)?)?;
        ThreadRatio::new(sum.numerator(), sum.denominator())
    }

    /// As it is printed, for people: `2 + 2·S·T`, `5 + S·(4·T + 4·W)`.
    #[must_use]
    pub fn show(self) -> String {
        let times = |n: i64, what: &str| {
            if n == 1 {
                what.to_owned()
            } else {
                format!("{n}·{what}")
            }
        };
        if self.wide == 0 {
            return format!("{} + {}", self.base, times(self.thick, "S·T"));
        }
        format!(
            "{} + S·({} + {})",
            self.base,
            times(self.thick, "T"),
            times(self.wide, "W")
        )
    }
}
