//! Parts of a need: their area, and the length that they take at a width, laid closely or in rows of like parts.

use super::{
    cloth::WidthLength,
    part::{Extent, Part},
};
use crate::{
    code::LayCode,
    lay::{Ladder, MOST_PACKED, Rectangles, Used},
    quantity::{Micrometres, QuantityError, Units, exact},
    setting::LengthBy,
};
use std::{collections::BTreeSet, sync::Arc};

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
    /// Ways of laying all garments as blocks, one behind the other.
    ways: Vec<Vec<Block>>,
    kept: Vec<KeptRung>,
    uses: Uses,
}

/// The length that a kept lay of the parts takes from a width on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeptRung {
    /// Which lay.
    pub lay: LayCode,
    /// Least usable width.
    pub width: Micrometres,
    /// Length.
    pub length: Micrometres,
}

/// Which lays of the parts count.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Uses {
    /// All that are known: where nothing is promised yet.
    #[default]
    All,
    /// Kept ones, and nothing is packed: what was promised rests on one.
    Kept,
    /// None that is kept: what was promised does not rest on one.
    NotKept,
}

/// Some garments' parts laid together, so often one behind the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) garments: i64,
    pub(super) times: i64,
    pub(super) ladder: Arc<Ladder>,
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
    /// Washed length that counts: a kept lay's, else the own lay's, else the shorter of the lay's and of all rows.
    pub length: Micrometres,
    /// Whose length counts.
    pub by: LengthBy,
    /// Washed length of all rows.
    pub rows: Micrometres,
    /// A kept lay, where the cloth is wide enough for one.
    pub kept: Option<KeptRung>,
    /// A lay that is shorter than the rows: how long, and the width that it takes. Not looked for beside a kept one.
    pub lay: Option<WidthLength>,
    /// The maker's own lay, where the cloth is wide enough for it.
    pub own: Option<WidthLength>,
    /// Width of the kept or own lay, else that of what counts: the lay or the widest row.
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
            ways: ways(&parts, garments)?,
            parts,
            garments,
            own: None,
            kept: Vec::new(),
            uses: Uses::All,
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
            let why = match alone.rows(width, 1).and_then(|_| Ok(alone.least(width)?)) {
                Ok(least) if least <= one.length => None,
                Ok(least) => Some(format!(
                    "their area alone takes {}",
                    least.show_taken(Units::Metric)
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

    /// The same with the rungs of lays of them that are kept.
    #[must_use]
    pub fn with_kept(self, kept: Vec<KeptRung>) -> Self {
        Self { kept, ..self }
    }

    /// What counts for a promise or a cut that names this lay, or none: it keeps to what it was made by.
    #[must_use]
    pub fn uses_of(&self, lay: Option<LayCode>) -> Uses {
        match lay.is_some_and(|lay| self.kept.iter().any(|rung| rung.lay == lay)) {
            true => Uses::Kept,
            false => Uses::NotKept,
        }
    }

    /// Lets only that count from now on.
    pub fn rest_on(&mut self, lay: Option<LayCode>) {
        self.uses = self.uses_of(lay);
    }

    /// Rungs of the kept lays that count.
    #[must_use]
    pub fn kept(&self) -> &[KeptRung] {
        match self.uses {
            Uses::All | Uses::Kept => &self.kept,
            Uses::NotKept => &[],
        }
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

    /// Lays parts across a usable width.
    ///
    /// - What counts: the shortest kept lay that the width is enough for; else an own lay; else a lay of the parts as rectangles ([`Ladder::at`]), where it is
    ///   shorter than rows; else rows of like parts beside one another. Several garments are laid together, or as blocks one behind the
    ///   other, where that is shorter.
    /// - Formula of rows: per row `usable ÷ across`, rounded down; rows `count ÷ per row`, rounded up; the length is the sum of the
    ///   rows' heights. Nothing is ever shorter than [`Laid::least`].
    /// - Wider cloth never needs more of what is known in the same way, and the same parts at the same width always need the same.
    /// - Source: derived.
    ///
    /// # Errors
    /// [`RowsError::TooWide`] for the first part that does not lie on it, [`RowsError::Quantity`].
    pub fn laid(&self, usable: Micrometres) -> Result<Laid, RowsError> {
        self.laid_by(usable, self.uses)
    }

    /// The same by other lays than those that count.
    pub(super) fn laid_by(&self, usable: Micrometres, uses: Uses) -> Result<Laid, RowsError> {
        let rows = self.rows(usable, self.garments)?;
        let parts: Result<Vec<LaidPart>, RowsError> = self
            .parts
            .iter()
            .map(|part| {
                let row = Row::across(part, usable, self.garments)?;
                Ok(LaidPart {
                    part: part.clone(),
                    count: row.count,
                    per_row: row.per_row,
                    rows: row.rows,
                    height: row.extent.along,
                })
            })
            .collect();
        let least = self.least(usable)?;
        let own = self
            .own
            .filter(|own| own.width.is_none_or(|width| width <= usable) && least <= own.length);
        let kept = self.kept_at(usable).filter(|_| uses != Uses::NotKept);
        let lay = match kept.is_some() || uses == Uses::Kept {
            true => None,
            false => self.packed(usable, rows)?,
        };
        let (by, counts) = match (kept, own, lay) {
            (Some(kept), _, _) => (LengthBy::Kept, kept.into()),
            (None, Some(own), _) => (LengthBy::OwnLay, own),
            (None, None, Some(lay)) => (LengthBy::Lay, lay),
            (None, None, None) => (LengthBy::Rows, rows),
        };
        Ok(Laid {
            length: counts.length,
            by,
            width: counts.width.unwrap_or(usable),
            rows: rows.length,
            parts: parts?,
            kept,
            lay,
            own,
            usable,
            least,
            area_um2: self.area_um2(),
        })
    }

    /// The shortest kept lay that a width is enough for, the first of several.
    fn kept_at(&self, usable: Micrometres) -> Option<KeptRung> {
        let serving = self.kept.iter().filter(|rung| rung.width <= usable);
        serving.min_by_key(|rung| (rung.length, rung.lay)).copied()
    }

    /// A lay that is shorter than the rows.
    fn packed(
        &self,
        usable: Micrometres,
        rows: WidthLength,
    ) -> Result<Option<WidthLength>, RowsError> {
        let lay = self.shortest(usable)?.map(|(lay, _)| lay);
        Ok(lay.filter(|lay| lay.length < rows.length))
    }

    /// The length that rows of so many garments' parts take, and the width of the widest.
    pub(super) fn rows(
        &self,
        usable: Micrometres,
        garments: i64,
    ) -> Result<WidthLength, RowsError> {
        let (mut length, mut width) = (Micrometres::ZERO, Micrometres::ZERO);
        for part in &self.parts {
            let row = Row::across(part, usable, garments)?;
            length = length.plus(row.extent.along.times(row.rows)?)?;
            width = width.max(row.extent.across.times(row.per_row)?);
        }
        let width = Some(width);
        Ok(WidthLength { width, length })
    }

    /// The shortest of the ways to lay all garments' parts, which may be rows in each block.
    pub(super) fn shortest(
        &self,
        usable: Micrometres,
    ) -> Result<Option<(WidthLength, &[Block])>, RowsError> {
        let mut shortest: Option<(WidthLength, &[Block])> = None;
        for way in &self.ways {
            let (mut length, mut width) = (Micrometres::ZERO, Micrometres::ZERO);
            for block in way {
                let rows = self.rows(usable, block.garments)?;
                let rung = block.ladder.at(usable).map(|rung| WidthLength {
                    width: Some(rung.width),
                    length: rung.length,
                });
                let one = rung
                    .filter(|rung| rung.length < rows.length)
                    .unwrap_or(rows);
                length = length.plus(one.length.times(block.times)?)?;
                width = width.max(one.width.unwrap_or(usable));
            }
            if shortest.is_none_or(|(shortest, _)| length < shortest.length) {
                let width = Some(width);
                shortest = Some((WidthLength { width, length }, way));
            }
        }
        Ok(shortest)
    }

    /// Area ÷ usable width, rounded up.
    fn least(&self, usable: Micrometres) -> Result<Micrometres, QuantityError> {
        let least = exact::div_ceil(self.area_um2(), i128::from(usable.get()));
        Micrometres::new(exact::narrow(least)?)
    }

    /// What is missing of so many `units` at a width once lengths of cloth are there. Either their rows go whole into one of them,
    /// the tallest first, each into the shortest that holds it; or whole units are laid in them first, and the rows of the others go
    /// into what is left. Nothing: all have found a place.
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
        let laid = self.laid_by(width, Uses::Kept)?;
        let mut rows = laid.parts;
        rows.sort_by_key(|laid| std::cmp::Reverse(laid.height));
        let by_rows = missing_rows(&rows, units, lengths.to_vec())?;
        let known = laid.kept.map_or(laid.rows, |kept| kept.length);
        let missing = by_rows.min(missing_beside(&rows, (units, known), lengths)?);
        if missing.is_zero() {
            return Ok(missing);
        }
        // A promise that was made before a lay was kept may have been packed shorter.
        match self.laid_by(width, Uses::NotKept)?.lay {
            Some(lay) => Ok(missing.min(missing_beside(&rows, (units, lay.length), lengths)?)),
            None => Ok(missing),
        }
    }
}

/// Rows of one part.
pub(super) struct Row {
    pub(super) extent: Extent,
    pub(super) count: i64,
    pub(super) per_row: i64,
    pub(super) rows: i64,
}

impl Row {
    /// So many garments' pieces of a part, beside one another across a usable width.
    pub(super) fn across(
        part: &Part,
        usable: Micrometres,
        garments: i64,
    ) -> Result<Self, RowsError> {
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
        let count = exact::mul_div_floor(part.count(), garments, 1)?;
        Ok(Self {
            extent,
            count,
            per_row: fit.min(count),
            rows: exact::mul_div_ceil(count, 1, fit)?,
        })
    }
}

/// What is missing of so many units once as many whole ones of a length as the lengths hold are laid in them; the rows of the others
/// go into what is left.
fn missing_beside(
    rows: &[LaidPart],
    (units, one): (i64, Micrometres),
    lengths: &[Micrometres],
) -> Result<Micrometres, QuantityError> {
    let (mut open, mut left) = (units, lengths.to_vec());
    left.sort_unstable();
    for length in &mut left {
        let whole = length.get().checked_div(one.get()).unwrap_or(0).min(open);
        *length = length.less(one.times(whole)?);
        open = open.saturating_sub(whole);
    }
    Ok(missing_rows(rows, open, left)?.min(one.times(open)?))
}

/// What is missing of the rows of so many units, the tallest of which come first.
fn missing_rows(
    rows: &[LaidPart],
    units: i64,
    mut left: Vec<Micrometres>,
) -> Result<Micrometres, QuantityError> {
    let mut missing = Micrometres::ZERO;
    for laid in rows {
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

/// All garments together, and as blocks: of as many as are packed together, and of one each.
fn ways(parts: &[Part], garments: i64) -> Result<Vec<Vec<Block>>, QuantityError> {
    let of_one = parts.iter().map(Part::count).fold(0, i64::saturating_add);
    let together = MOST_PACKED.checked_div(of_one).unwrap_or(0).min(garments);
    let mut ways = Vec::new();
    // More parts of one garment than are packed together lie in rows.
    let sizes = BTreeSet::from([together, together.min(1)]);
    for size in sizes.into_iter().rev().filter(|size| *size > 0) {
        let times = garments.checked_div(size).unwrap_or(0);
        let rest = garments.checked_rem(size).unwrap_or(0);
        let blocks = [(size, times), (rest, 1)].into_iter();
        let blocks = blocks.filter(|(size, times)| *size > 0 && *times > 0);
        let way: Result<Vec<Block>, QuantityError> = blocks
            .map(|(garments, times)| {
                Ok(Block {
                    garments,
                    times,
                    ladder: Ladder::remembered(rectangles(parts, garments)?),
                })
            })
            .collect();
        ways.push(way?);
    }
    Ok(ways)
}

fn rectangles(parts: &[Part], garments: i64) -> Result<Vec<Rectangles>, QuantityError> {
    let some = parts.iter().map(|part| {
        let extent = part.extent()?;
        Ok(Rectangles {
            length: part.length(),
            width: part.width(),
            grain: part.grain(),
            extent: (extent.along, extent.across),
            count: exact::mul_div_floor(part.count(), garments, 1)?,
        })
    });
    some.collect()
}

impl From<KeptRung> for WidthLength {
    fn from(rung: KeptRung) -> Self {
        Self {
            width: Some(rung.width),
            length: rung.length,
        }
    }
}

impl Laid {
    /// How much of the cloth of a length the parts use.
    #[must_use]
    pub fn used(&self, length: Micrometres) -> Used {
        Used::of(self.area_um2, length, self.usable)
    }
}
