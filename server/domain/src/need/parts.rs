//! Parts of a need: their area, and the length that rows of like parts take at a width.

use super::{cloth::WidthLength, part::Part};
use crate::quantity::{Micrometres, QuantityError, Units, exact};

/// Parts that one need may have.
pub const MOST_PARTS: usize = 60;

/// Why a list of parts was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PartsError {
    /// No part, or more than anyone types.
    #[error("a need has 1 to {MOST_PARTS} parts, not {0}")]
    HowMany(usize),
    /// An own length that cannot hold the parts.
    #[error("{} at {} cannot hold the parts: {why}", .own.length.show_taken(Units::Metric), .width.show_width(Units::Metric))]
    OwnTooShort {
        /// The own length.
        own: WidthLength,
        /// The width that it is for.
        width: Micrometres,
        /// What it would take.
        why: String,
    },
    /// Two parts of one name.
    #[error("two parts are called {0}")]
    SameName(String),
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

/// Why parts do not lie on a cloth.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RowsError {
    /// A part is wider than the cloth.
    #[error("the part {name} is wider than the cloth")]
    TooWide {
        /// Which.
        name: String,
        /// What it takes of the width.
        across: Micrometres,
    },
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

/// Parts of one unit: of one garment, or of a batch whose parts are laid together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Parts {
    parts: Vec<Part>,
    garments: i64,
    own: Option<WidthLength>,
}

/// Rows of one part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LaidPart {
    /// Which.
    pub part: Part,
    /// How many of it lie there.
    pub count: i64,
    /// How many lie beside one another in a full row.
    pub per_row: i64,
    /// Rows, the last of which may not be full.
    pub rows: i64,
    /// Height of a row, along the warp.
    pub height: Micrometres,
}

/// Parts in rows at a usable width.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Laid {
    /// Part by part, in the order of the need.
    pub parts: Vec<LaidPart>,
    /// Washed length that counts: the own lay's, else that of all rows, which is enough, and more than a lay may need.
    pub length: Micrometres,
    /// Washed length of all rows.
    pub rows: Micrometres,
    /// The maker's own lay, where the cloth is wide enough for it.
    pub own: Option<WidthLength>,
    /// Width of the own lay, else that of the widest row.
    pub width: Micrometres,
    /// Usable width they were laid at.
    pub usable: Micrometres,
    /// Area ÷ usable width, rounded up: no lay is shorter.
    pub least: Micrometres,
    /// Area of all parts; square micrometres, exact.
    pub area_um2: i128,
}

impl Parts {
    /// Parts of one garment, laid for so many garments together.
    ///
    /// # Errors
    /// [`PartsError::HowMany`], [`PartsError::SameName`] (whatever the capitals); no garment at all is
    /// [`QuantityError::NotPositive`].
    pub fn new(parts: Vec<Part>, garments: i64) -> Result<Self, PartsError> {
        if parts.is_empty() || parts.len() > MOST_PARTS {
            return Err(PartsError::HowMany(parts.len()));
        }
        if garments < 1 {
            return Err(QuantityError::NotPositive {
                text: format!("{garments} garments"),
            }
            .into());
        }
        for (index, part) in parts.iter().enumerate() {
            let same = |other: &&Part| other.name().to_lowercase() == part.name().to_lowercase();
            if let Some(other) = parts.iter().take(index).find(same) {
                return Err(PartsError::SameName(other.name().to_owned()));
            }
        }
        Ok(Self {
            parts,
            garments,
            own: None,
        })
    }

    /// The same with a lay of the maker's own for one garment: it counts instead of the rows from its width on; where none is said, at
    /// any width at which the parts have room in it. The lays of a batch follow one another.
    ///
    /// # Errors
    /// [`PartsError::OwnTooShort`] where a part is wider than the lay, or the area of the parts is more than its; beyond the longest
    /// length.
    pub fn with_own(mut self, one: WidthLength) -> Result<Self, PartsError> {
        if let Some(width) = one.width {
            let alone = Self {
                garments: 1,
                ..self.clone()
            };
            let why = match alone.laid(width) {
                Ok(laid) if laid.least <= one.length => None,
                Ok(laid) => Some(format!(
                    "their area alone takes {}",
                    laid.least.show_taken(Units::Metric)
                )),
                Err(RowsError::Quantity(error)) => return Err(error.into()),
                Err(error) => Some(error.to_string()),
            };
            if let Some(why) = why {
                return Err(PartsError::OwnTooShort {
                    own: one,
                    width,
                    why,
                });
            }
        }
        self.own = Some(WidthLength {
            length: one.length.times(self.garments)?,
            ..one
        });
        Ok(self)
    }

    /// The maker's own lay of all of them.
    #[must_use]
    pub const fn own(&self) -> Option<WidthLength> {
        self.own
    }

    /// The parts in the order of the need.
    #[must_use]
    pub fn list(&self) -> &[Part] {
        &self.parts
    }

    /// How many garments' parts are laid together.
    #[must_use]
    pub const fn garments(&self) -> i64 {
        self.garments
    }

    /// How many single parts lie there.
    #[must_use]
    pub fn pieces(&self) -> i64 {
        self.parts
            .iter()
            .map(|part| part.count().saturating_mul(self.garments))
            .fold(0, i64::saturating_add)
    }

    /// Area of all parts; square micrometres, exact.
    #[must_use]
    pub fn area_um2(&self) -> i128 {
        let one = self
            .parts
            .iter()
            .map(|part| part.area_um2().saturating_mul(i128::from(part.count())));
        one.fold(0, i128::saturating_add)
            .saturating_mul(i128::from(self.garments))
    }

    /// The tallest row: a need may be split over pieces that each hold it.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`].
    pub fn tallest(&self) -> Result<Micrometres, QuantityError> {
        let mut tallest = Micrometres::ZERO;
        for part in &self.parts {
            tallest = tallest.max(part.extent()?.along);
        }
        Ok(tallest)
    }

    /// The widest part: no narrower cloth serves.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`].
    pub fn widest(&self) -> Result<Micrometres, QuantityError> {
        let mut widest = Micrometres::ZERO;
        for part in &self.parts {
            widest = widest.max(part.extent()?.across);
        }
        Ok(widest)
    }

    /// Lays like parts beside one another in rows across a usable width.
    ///
    /// - Formula: per row `usable ÷ across`, rounded down; rows `count ÷ per row`, rounded up; the length is the
    ///   sum of the rows' heights. Always possible, so an upper bound: a lay may be shorter, where parts of several
    ///   kinds lie side by side, and never shorter than [`Laid::least`]. An own lay that the width is enough for counts instead.
    /// - Wider cloth never needs more, more parts never need less.
    /// - Source: derived.
    ///
    /// # Errors
    /// [`RowsError::TooWide`] for the first part that does not lie on it, [`RowsError::Quantity`].
    pub fn laid(&self, usable: Micrometres) -> Result<Laid, RowsError> {
        let mut parts = Vec::with_capacity(self.parts.len());
        let (mut length, mut width) = (Micrometres::ZERO, Micrometres::ZERO);
        for part in &self.parts {
            let extent = part.extent()?;
            let too_wide = || RowsError::TooWide {
                name: part.name().to_owned(),
                across: extent.across,
            };
            let fit = usable
                .get()
                .checked_div(extent.across.get())
                .filter(|fit| *fit > 0)
                .ok_or_else(too_wide)?;
            let count = exact::mul_div_floor(part.count(), self.garments, 1)?;
            let per_row = fit.min(count);
            let rows = exact::mul_div_ceil(count, 1, fit)?;
            length = length.plus(extent.along.times(rows)?)?;
            width = width.max(extent.across.times(per_row)?);
            parts.push(LaidPart {
                part: part.clone(),
                count,
                per_row,
                rows,
                height: extent.along,
            });
        }
        let area_um2 = self.area_um2();
        let least = Micrometres::new(exact::narrow(exact::div_ceil(
            area_um2,
            i128::from(usable.get()),
        ))?)?;
        let own = self
            .own
            .filter(|own| own.width.is_none_or(|width| width <= usable) && least <= own.length);
        let rows = length;
        if let Some(own) = own {
            length = own.length;
            width = own.width.unwrap_or(usable);
        }
        Ok(Laid {
            parts,
            length,
            rows,
            own,
            width,
            usable,
            least,
            area_um2,
        })
    }

    /// What is missing of the rows of so many `units` at a width once lengths of cloth are there: rows go whole into one of
    /// them, the tallest first, each into the shortest that holds it. Nothing: all rows have found a place.
    ///
    /// That a place was found proves that there is one; that none was found does not prove that there is none.
    ///
    /// # Errors
    /// As [`Self::laid`].
    pub fn missing(
        &self,
        units: i64,
        width: Micrometres,
        lengths: &[Micrometres],
    ) -> Result<Micrometres, RowsError> {
        let mut rows = self.laid(width)?.parts;
        rows.sort_by_key(|laid| std::cmp::Reverse(laid.height));
        let mut left = lengths.to_vec();
        let mut missing = Micrometres::ZERO;
        for laid in &rows {
            let mut open = laid.rows.saturating_mul(units);
            left.sort_unstable();
            for length in &mut left {
                let placed = length
                    .get()
                    .checked_div(laid.height.get())
                    .unwrap_or(0)
                    .min(open);
                *length = length.less(laid.height.times(placed)?);
                open = open.saturating_sub(placed);
            }
            missing = missing.plus(laid.height.times(open)?)?;
        }
        Ok(missing)
    }
}

impl Laid {
    /// Share of the rows' cloth that the parts use, in thousandths, rounded down.
    #[must_use]
    pub fn used_thousandths(&self) -> i64 {
        let cloth = i128::from(self.rows.get()).saturating_mul(i128::from(self.usable.get()));
        let share = self
            .area_um2
            .saturating_mul(1_000)
            .checked_div(cloth)
            .unwrap_or(0);
        i64::try_from(share).unwrap_or(i64::MAX)
    }
}
