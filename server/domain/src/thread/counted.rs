//! Counted items: buttonholes, bar tacks, buttons sewn on.

use super::{
    density::Density,
    error::SeamError,
    hand::thin_or,
    ratio::{FINE, slant_up, up},
    seam::Measures,
};
use crate::quantity::Micrometres;

/// Something that is sewn a number of times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    /// A buttonhole by machine.
    Buttonhole,
    /// A buttonhole worked by hand with a purled edge.
    HandButtonhole,
    /// A bar tack by machine.
    BarTack,
    /// A button sewn on by hand.
    Button,
}

/// Thread in one item, rounded up to a whole micrometre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counted {
    /// Needle thread.
    pub needle: Micrometres,
    /// Bobbin thread.
    pub under: Micrometres,
}

impl Item {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self::Buttonhole,
        Self::HandButtonhole,
        Self::BarTack,
        Self::Button,
    ];

    /// As it is typed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Buttonhole => "buttonhole",
            Self::HandButtonhole => "hand-buttonhole",
            Self::BarTack => "bar-tack",
            Self::Button => "button",
        }
    }

    pub(super) fn named(word: &str) -> Option<Self> {
        Some(match word {
            "buttonhole" | "machine-buttonhole" => Self::Buttonhole,
            "hand-buttonhole" | "worked-buttonhole" => Self::HandButtonhole,
            "bar-tack" | "bartack" => Self::BarTack,
            "button" => Self::Button,
            _ => return None,
        })
    }

    /// Its name for people.
    #[must_use]
    pub const fn describe(self) -> &'static str {
        match self {
            Self::Buttonhole => "buttonhole by machine",
            Self::HandButtonhole => "buttonhole by hand",
            Self::BarTack => "bar tack by machine",
            Self::Button => "button sewn on by hand",
        }
    }

    pub(super) const fn threads(self) -> (i64, i64) {
        match self {
            Self::Buttonhole | Self::BarTack => (1, 1),
            Self::HandButtonhole | Self::Button => (1, 0),
        }
    }

    /// The formula for people; `l` is the length, `w` the width over all, `p` the step, `T` the thickness, `n` the stitches.
    #[must_use]
    pub const fn formula(self) -> &'static str {
        match self {
            Self::Buttonhole => {
                "each thread: ⌈2·l/p⌉ stitches of √((w/2)² + p²) + T and 2·⌈w/(2·p)⌉ in the bars of √(w² + p²) + T"
            }
            Self::HandButtonhole => "⌈(2·l + 4·bite)/p⌉ stitches of 2·bite + 2·T + p + knot",
            Self::BarTack => "each thread: n stitches of √(w² + (l/n)²) + T",
            Self::Button => "n passes of 2·(T + shank) + 2·w",
        }
    }

    /// Thread in one item by its own geometry, rounded up.
    ///
    /// Own geometry, no source:
    /// - A machine buttonhole of the slit `l` and the width `w` over both rows is a zigzag lockstitch: two rows whose stitches
    ///   cross `w/2` and go on by `p`, and a bar at each end, half the width long, whose stitches cross `w`. Each of the two
    ///   threads runs as far as the zigzag and half of the two ways through the cloth, `T`, with every stitch.
    /// - A hand buttonhole is a purled edge down both sides and round both ends, `2·l + 4·bite`, with the thread of a blanket
    ///   stitch; a thickness that was left out counts as 0.
    /// - A bar tack of `n` stitches crosses `w` with each and goes on by `l/n`, the threads as in a machine buttonhole.
    /// - A button is `n` passes up and down through cloth and shank, `w` apart above and below. Winding the shank is not in it.
    ///
    /// # Errors
    /// [`SeamError::Missing`], [`SeamError::Overflow`].
    pub fn thread(self, measures: &Measures) -> Result<Counted, SeamError> {
        let of = |measure: &'static str, length: Option<Micrometres>| match length {
            Some(length) => Ok(i128::from(length.get())),
            None => Err(self.missing(measure)),
        };
        let length = || of("length", measures.length);
        let width = || of("width", measures.width);
        let thickness = || of("thickness", measures.thickness);
        let step = || {
            measures
                .density
                .map(Density::step_down)
                .ok_or_else(|| self.missing("step"))
        };
        let stitches = || {
            measures
                .stitches
                .map(i128::from)
                .ok_or_else(|| self.missing("stitches"))
        };
        let two = |each: Option<i128>| {
            let each = micrometres(each)?;
            Ok(Counted {
                needle: each,
                under: each,
            })
        };
        let one = |all: Option<i128>| {
            Ok(Counted {
                needle: micrometres(all)?,
                under: Micrometres::ZERO,
            })
        };
        match self {
            Self::Buttonhole => {
                let (l, w, p, t) = (length()?, width()?, step()?, thickness()?);
                two(machine_buttonhole(l, w, p, t))
            }
            Self::HandButtonhole => {
                let (l, p) = (length()?, step()?);
                let (bite, knot) = (of("bite", measures.bite)?, of("knot", measures.knot)?);
                let edge = l
                    .checked_mul(2)
                    .zip(bite.checked_mul(4))
                    .and_then(|(l, b)| l.checked_add(b));
                let side = bite.checked_add(thin_or(measures.thickness));
                let each =
                    side.and_then(|side| side.checked_mul(2)?.checked_add(p)?.checked_add(knot));
                let all = edge
                    .zip(each)
                    .and_then(|(edge, each)| up(edge, p).checked_mul(each));
                one(all.and_then(|all| all.checked_mul(FINE)))
            }
            Self::BarTack => {
                let (l, w, t, n) = (length()?, width()?, thickness()?, stitches()?);
                // n·√(w² + (l/n)²) = √((n·w)² + l²), so that nothing is rounded before the root.
                let across = n.checked_mul(w).and_then(|across| slant_up(across, l));
                let through = n
                    .checked_mul(t)
                    .and_then(|through| through.checked_mul(FINE));
                two(across
                    .zip(through)
                    .and_then(|(across, through)| across.checked_add(through)))
            }
            Self::Button => {
                let (w, t, n) = (width()?, thickness()?, stitches()?);
                let shank = measures.shank.map_or(0, |shank| i128::from(shank.get()));
                let pass = t
                    .checked_add(shank)
                    .and_then(|up| up.checked_add(w)?.checked_mul(2));
                one(pass.and_then(|pass| pass.checked_mul(n)?.checked_mul(FINE)))
            }
        }
    }
}

impl Item {
    fn missing(self, measure: &'static str) -> SeamError {
        SeamError::Missing {
            stitch: self.describe(),
            measure,
            formula: self.formula(),
        }
    }
}

/// Of one of its two threads, in millionths of a micrometre.
fn machine_buttonhole(l: i128, w: i128, p: i128, t: i128) -> Option<i128> {
    let through = t.checked_mul(FINE)?;
    let rows = up(l.checked_mul(2)?, p);
    // √((w/2)² + p²) = √(w² + (2p)²) / 2.
    let row = up(slant_up(w, p.checked_mul(2)?)?, 2).checked_add(through)?;
    let bars = up(w, p.checked_mul(2)?).checked_mul(2)?;
    let bar = slant_up(w, p)?.checked_add(through)?;
    rows.checked_mul(row)?.checked_add(bars.checked_mul(bar)?)
}

/// Millionths of a micrometre, rounded up to a whole micrometre.
fn micrometres(fine: Option<i128>) -> Result<Micrometres, SeamError> {
    let whole = fine
        .map(|fine| up(fine, FINE))
        .and_then(|whole| i64::try_from(whole).ok());
    whole
        .and_then(|whole| Micrometres::new(whole).ok())
        .ok_or(SeamError::Overflow)
}
