//! Hand stitches along a line, by their geometry.

use super::{
    error::SeamError,
    ratio::{FINE, ThreadRatio, slant_up},
    seam::Measures,
};
use crate::quantity::Micrometres;

/// A stitch sewn by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandStitch {
    /// In and out in equal steps.
    Running,
    /// Closed back stitches.
    Back,
    /// Back stitches over half of each repeat.
    HalfBack,
    /// Over an edge: whipping, overcasting.
    Whip,
    /// A fold felled onto the ground below it.
    Fell,
    /// From fold to fold.
    Slip,
    /// Rows of pad stitches.
    Pad,
    /// A purled edge: buttonhole or blanket stitch.
    Buttonhole,
    /// Crossed from row to row: catch or herringbone stitch. By a sample only.
    Catch,
    /// Any other stitch by hand. By a sample only.
    Other,
}

impl HandStitch {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self::Running,
        Self::Back,
        Self::HalfBack,
        Self::Whip,
        Self::Fell,
        Self::Slip,
        Self::Pad,
        Self::Buttonhole,
        Self::Catch,
        Self::Other,
    ];

    /// As it is typed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Running => "running",
            Self::Back => "back",
            Self::HalfBack => "half-back",
            Self::Whip => "whip",
            Self::Fell => "fell",
            Self::Slip => "slip",
            Self::Pad => "pad",
            Self::Buttonhole => "blanket",
            Self::Catch => "catch",
            Self::Other => "by-hand",
        }
    }

    pub(super) fn named(word: &str) -> Option<Self> {
        Some(match word.strip_suffix("-stitch").unwrap_or(word) {
            "running" | "basting" | "tacking" => Self::Running,
            "back" | "backstitch" => Self::Back,
            "half-back" => Self::HalfBack,
            "whip" | "whipping" | "overcast" => Self::Whip,
            "fell" | "felling" => Self::Fell,
            "slip" | "slipstitch" => Self::Slip,
            "pad" => Self::Pad,
            "blanket" | "purl" => Self::Buttonhole,
            "catch" | "herringbone" => Self::Catch,
            "by-hand" => Self::Other,
            _ => return None,
        })
    }

    /// Its name for people.
    #[must_use]
    pub const fn describe(self) -> &'static str {
        match self {
            Self::Running => "running stitch by hand",
            Self::Back => "back stitch by hand",
            Self::HalfBack => "half back stitch by hand",
            Self::Whip => "whip or overcast stitch by hand",
            Self::Fell => "fell stitch by hand",
            Self::Slip => "slip stitch by hand",
            Self::Pad => "pad stitch by hand",
            Self::Buttonhole => "blanket or buttonhole stitch by hand",
            Self::Catch => "catch or herringbone stitch by hand",
            Self::Other => "stitch by hand",
        }
    }

    /// The formula for people; `p` is the step, `T` the thickness, `h` the bite. Nothing for a stitch that only a sample
    /// measures.
    #[must_use]
    pub const fn formula(self) -> &'static str {
        match self {
            Self::Running => "1 + T/p",
            Self::Back => "3 + 2·T/p",
            Self::HalfBack => "2 + 2·T/p",
            Self::Whip => "2·√(h² + (p/2)²)/p + 2·T/p",
            Self::Fell => "2·√(h² + (p/2)²)/p + T/p",
            Self::Slip => "1 + 2·h/p",
            Self::Pad => "(√(across² + p²) + h)/p",
            Self::Buttonhole => "(2·h + 2·T + p + knot)/p",
            Self::Catch | Self::Other => "",
        }
    }

    /// Thread in a metre of the line. Exact, but for roots, which round up to a millionth of a micrometre.
    ///
    /// Source: own geometry. A running stitch passes the cloth once with every step; a closed back stitch lies `p` on the
    /// face and `2p` underneath and passes the cloth twice; a half back stitch of the repeat `p` lies half a repeat on the
    /// face and one and a half underneath; a whip stitch slants over the bite on both sides of the edge and passes the
    /// thickness twice, through the cloth and over its edge; a fell stitch comes up through the fold and goes back into the
    /// ground beside it, so that it passes the fold once; a slip stitch dips `h` into each fold; a pad stitch slants across
    /// and comes back through a bite; a purled stitch goes down and up its bite, through the cloth and over its edge, along
    /// its step and round a knot. Where the edge of a purled stitch is thin its thickness may be left out and counts as 0.
    ///
    /// # Errors
    /// [`SeamError::Missing`] for a measure that the formula needs, [`SeamError::Unknown`] for a stitch without a formula,
    /// [`SeamError::Overflow`].
    pub fn ratio(self, measures: &Measures) -> Result<ThreadRatio, SeamError> {
        if matches!(self, Self::Catch | Self::Other) {
            return Err(SeamError::Unknown {
                stitch: self.describe().to_owned(),
                why: "no formula for it was found, only a sample can tell".to_owned(),
            });
        }
        let Measures {
            density,
            thickness,
            bite,
            across,
            knot,
            ..
        } = *measures;
        let p = density.ok_or_else(|| self.missing("step"))?.step_down();
        let of = |name, length: Option<Micrometres>| match length {
            Some(length) => Ok(i128::from(length.get())),
            None => Err(self.missing(name)),
        };
        let thick = || of("thickness", thickness);
        let depth = || of("bite", bite);
        let fine = |sum: Option<i128>| sum.and_then(|sum| sum.checked_mul(FINE));
        // In millionths of a micrometre over one step.
        let thread = match self {
            Self::Running => fine(p.checked_add(thick()?)),
            Self::Back => fine(
                thick()?
                    .checked_mul(2)
                    .and_then(|t| t.checked_add(p.checked_mul(3)?)),
            ),
            Self::HalfBack => fine(thick()?.checked_add(p).and_then(|sum| sum.checked_mul(2))),
            Self::Whip | Self::Fell => {
                let slant = depth()?.checked_mul(2).and_then(|twice| slant_up(twice, p));
                let passes = if self == Self::Whip { 2 } else { 1 };
                let through = fine(thick()?.checked_mul(passes));
                slant
                    .zip(through)
                    .and_then(|(slant, through)| slant.checked_add(through))
            }
            Self::Slip => fine(
                depth()?
                    .checked_mul(2)
                    .and_then(|twice| twice.checked_add(p)),
            ),
            Self::Pad => {
                let slant = slant_up(of("across", across)?, p);
                slant
                    .zip(fine(Some(depth()?)))
                    .and_then(|(slant, bite)| slant.checked_add(bite))
            }
            Self::Buttonhole => {
                let knot = of("knot", knot)?;
                let sides = depth()?
                    .checked_add(thin_or(thickness))
                    .and_then(|side| side.checked_mul(2));
                fine(sides.and_then(|sides| sides.checked_add(p)?.checked_add(knot)))
            }
            Self::Catch | Self::Other => None,
        };
        let ratio = thread.and_then(|thread| ThreadRatio::new(thread, p.checked_mul(FINE)?));
        ratio.ok_or(SeamError::Overflow)
    }

    /// True where a thickness that was left out counts as none.
    #[must_use]
    pub const fn may_be_thin(self) -> bool {
        matches!(self, Self::Buttonhole)
    }

    fn missing(self, measure: &'static str) -> SeamError {
        SeamError::Missing {
            stitch: self.describe(),
            measure,
            formula: self.formula(),
        }
    }
}

/// Thickness of an edge, 0 where none was given.
pub(super) fn thin_or(thickness: Option<Micrometres>) -> i128 {
    thickness.map_or(0, |thickness| i128::from(thickness.get()))
}
