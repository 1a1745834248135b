//! One part of a need, by the measures of its shell part.

use crate::{
    quantity::{Micrometres, QuantityError, Units, exact},
    setting::{Grain, Measured, PartCut},
};
use serde::{Deserialize, Serialize};

/// The measures of a shell part that a part is cut by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShellMeasures {
    /// Along the part's long side, as its need means it.
    pub length: Micrometres,
    /// Across it.
    pub width: Micrometres,
    /// Whether both hold the seam allowance.
    pub measured: Measured,
    /// Seam allowance on each side; `None`: not said.
    pub allowance: Option<Micrometres>,
}

/// Why a part was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PartError {
    /// It is cut by an allowance that nobody said.
    #[error("the part {name} is to be cut {}; the width of the allowance is missing", cut_text(*.cut))]
    AllowanceUnknown {
        /// Which part.
        name: String,
        /// How it was to be cut.
        cut: PartCut,
    },
    /// The allowance takes all of it.
    #[error(
        "the part {name}: {} less 2 × {} of seam allowance leaves nothing",
        .measure.show_width(Units::Metric), .allowance.show_width(Units::Metric)
    )]
    NothingLeft {
        /// Which part.
        name: String,
        /// The measure that is too short.
        measure: Micrometres,
        /// Seam allowance on each side.
        allowance: Micrometres,
    },
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

const fn cut_text(cut: PartCut) -> &'static str {
    match cut {
        PartCut::Inside => "inside the seams",
        PartCut::With => "with its seam allowance",
    }
}

/// One part as it is cut: a rectangle with a grain along its length.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Part {
    name: String,
    count: i64,
    shell: ShellMeasures,
    cut: PartCut,
    length: Micrometres,
    width: Micrometres,
    grain: Grain,
}

/// What a part takes of the cloth's length and width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extent {
    /// Along the warp.
    pub along: Micrometres,
    /// Along the weft.
    pub across: Micrometres,
}

impl Part {
    /// A part by its shell part: its measures less, as they are, or plus the seam allowance on both sides.
    ///
    /// - Formula: measured with the allowance and cut inside the seams, each measure less 2 × allowance; measured
    ///   without and cut with it, plus 2 × allowance; else as measured.
    /// - Source: canvas is cut without allowance, so that it lies inside the seams (common practice).
    ///
    /// ```
    /// use ellwand_domain::{need::{Part, ShellMeasures}, quantity::Micrometres, setting::{Grain, Measured, PartCut}};
    /// let mm = Micrometres::from_mm;
    /// let shell = ShellMeasures { length: mm(460), width: mm(120), measured: Measured::With, allowance: Some(mm(10)) };
    /// let collar = Part::new("collar", 2, shell, PartCut::Inside, Grain::Lengthwise).unwrap();
    /// assert_eq!((collar.length(), collar.width()), (mm(440), mm(100)));
    /// ```
    ///
    /// # Errors
    /// See [`PartError`]; a count below one or a measure of nothing is [`QuantityError::NotPositive`].
    pub fn new(
        name: &str,
        count: i64,
        shell: ShellMeasures,
        cut: PartCut,
        grain: Grain,
    ) -> Result<Self, PartError> {
        if count < 1 {
            return Err(QuantityError::NotPositive {
                text: format!("{count} × {name}"),
            }
            .into());
        }
        let (length, width) = (
            cut_measure(name, shell.length, shell, cut)?,
            cut_measure(name, shell.width, shell, cut)?,
        );
        Ok(Self {
            name: name.to_owned(),
            count,
            shell,
            cut,
            length,
            width,
            grain,
        })
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How many of it one garment has.
    #[must_use]
    pub const fn count(&self) -> i64 {
        self.count
    }

    /// The measures that it is cut by.
    #[must_use]
    pub const fn shell(&self) -> ShellMeasures {
        self.shell
    }

    /// Along its length, as it is cut.
    #[must_use]
    pub const fn length(&self) -> Micrometres {
        self.length
    }

    /// Across it, as it is cut.
    #[must_use]
    pub const fn width(&self) -> Micrometres {
        self.width
    }

    /// How it is cut beside its seams.
    #[must_use]
    pub const fn cut(&self) -> PartCut {
        self.cut
    }

    /// Grain along its length.
    #[must_use]
    pub const fn grain(&self) -> Grain {
        self.grain
    }

    /// Its area as it is cut; square micrometres, exact.
    #[must_use]
    pub fn area_um2(&self) -> i128 {
        i128::from(self.length.get()).saturating_mul(i128::from(self.width.get()))
    }

    /// What it takes of the cloth: as it is, turned by 90°, or on the bias the square around it.
    ///
    /// - Formula: at 45° a rectangle l × w stands in a square of (l + w)/√2; rounded up to a micrometre by the
    ///   whole root.
    /// - Source: geometry.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`] beyond the longest length.
    pub fn extent(&self) -> Result<Extent, QuantityError> {
        Ok(match self.grain {
            Grain::Lengthwise => Extent {
                along: self.length,
                across: self.width,
            },
            Grain::Crosswise => Extent {
                along: self.width,
                across: self.length,
            },
            Grain::Bias => {
                let side = bias_side(self.length, self.width)?;
                Extent {
                    along: side,
                    across: side,
                }
            }
        })
    }

    /// `46 × 12 cm less 1 cm all round = 44 × 10 cm`, or the measures alone where nothing was done to them.
    #[must_use]
    pub fn measures_text(&self, units: Units) -> String {
        let is = by(self.length, self.width, units);
        let allowance = self.shell.allowance.unwrap_or_default().show_width(units);
        let was = by(self.shell.length, self.shell.width, units);
        match (self.shell.measured, self.cut) {
            _ if (self.shell.length, self.shell.width) == (self.length, self.width) => is,
            (Measured::With, _) => format!("{was} less {allowance} all round = {is}"),
            (Measured::Without, _) => format!("{was} and {allowance} all round = {is}"),
        }
    }

    /// `44 × 10 cm lengthwise, inside the seams`: how it is cut, for people.
    #[must_use]
    pub fn text(&self, units: Units) -> String {
        let grain = match self.grain {
            Grain::Bias => "on the bias",
            grain => grain.word(),
        };
        let is = by(self.length, self.width, units);
        format!(
            "{} × {} {is} {grain}, {}",
            self.count,
            self.name,
            cut_text(self.cut)
        )
    }
}

/// `44 × 10 cm`.
fn by(length: Micrometres, width: Micrometres, units: Units) -> String {
    let (length, width) = (length.show_width(units), width.show_width(units));
    match (length.rsplit_once(' '), width.rsplit_once(' ')) {
        (Some((number, unit)), Some((_, other))) if unit == other => format!("{number} × {width}"),
        _ => format!("{length} × {width}"),
    }
}

fn cut_measure(
    name: &str,
    measure: Micrometres,
    shell: ShellMeasures,
    cut: PartCut,
) -> Result<Micrometres, PartError> {
    if measure.is_zero() {
        return Err(QuantityError::NotPositive {
            text: format!("a side of {name}"),
        }
        .into());
    }
    let more = match (shell.measured, cut) {
        (Measured::With, PartCut::With) | (Measured::Without, PartCut::Inside) => {
            return Ok(measure);
        }
        (Measured::With, PartCut::Inside) => false,
        (Measured::Without, PartCut::With) => true,
    };
    let allowance = shell.allowance.ok_or_else(|| PartError::AllowanceUnknown {
        name: name.to_owned(),
        cut,
    })?;
    let both = allowance.times(2)?;
    if more {
        return Ok(measure.plus(both)?);
    }
    let left = measure.less(both);
    if left.is_zero() {
        return Err(PartError::NothingLeft {
            name: name.to_owned(),
            measure,
            allowance,
        });
    }
    Ok(left)
}

/// Side of the square around a rectangle at 45°: the least s with 2·s² ≥ (l + w)².
fn bias_side(length: Micrometres, width: Micrometres) -> Result<Micrometres, QuantityError> {
    let sum = i128::from(length.get()).saturating_add(i128::from(width.get()));
    let square = sum.saturating_mul(sum);
    let twice = |side: i128| side.saturating_mul(side).saturating_mul(2);
    let floor = square.div_euclid(2).checked_isqrt().unwrap_or(0);
    let side = if twice(floor) < square {
        floor.saturating_add(1)
    } else {
        floor
    };
    Micrometres::new(exact::narrow(side)?)
}
