//! Where each part lies: what its length is counted by, as a lay that was checked.

use super::parts::{Block, Parts, Row, RowsError};
use crate::{
    lay::{Lay, LayCloth, LayError, LayPart, Outline, OutlineError, Placement, Point, Turn, Ways},
    quantity::{Micrometres, QuantityError},
    setting::Grain,
};

/// Most parts that are drawn on one lay.
pub const MOST_DRAWN: i64 = 500;

/// Why parts are not drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlacedError {
    /// More than anyone could read.
    #[error("{0} parts are too many for one picture, which holds {MOST_DRAWN}")]
    TooMany(i64),
    /// They do not lie on the cloth.
    #[error(transparent)]
    Rows(#[from] RowsError),
    /// The check refused where they lie: a fault of this program.
    #[error(transparent)]
    Lay(#[from] LayError),
}

impl From<QuantityError> for PlacedError {
    fn from(error: QuantityError) -> Self {
        RowsError::from(error).into()
    }
}

impl From<OutlineError> for PlacedError {
    fn from(error: OutlineError) -> Self {
        LayError::from(error).into()
    }
}

impl Parts {
    /// The lay behind [`Self::laid`]: what of it is the shorter, the blocks one behind the other or the rows; an own lay is a length
    /// alone, and is not known part by part.
    ///
    /// - Its parts are those of the need in their order, each for all garments together; its length is that which `laid` says of the
    ///   lay or the rows, on cloth all of whose parts lie one way.
    ///
    /// # Errors
    /// [`PlacedError::TooMany`], [`PlacedError::Rows`] as [`Self::laid`].
    pub fn placed(&self, usable: Micrometres) -> Result<Lay, PlacedError> {
        let pieces = self.pieces();
        if pieces > MOST_DRAWN {
            return Err(PlacedError::TooMany(pieces));
        }
        let rows = self.rows(usable, self.garments())?;
        let shortest = self.shortest(usable)?;
        let (length, placements) = match shortest.filter(|(lay, _)| lay.length < rows.length) {
            Some((lay, blocks)) => (lay.length, self.in_blocks(blocks, usable)?),
            None => (rows.length, self.in_rows(usable, self.garments(), 0)?),
        };
        let cloth = LayCloth {
            usable,
            length: Some(length),
            spacing: Micrometres::ZERO,
            ways: Ways::One,
        };
        Ok(Lay::new(cloth, self.lay_parts()?, placements)?)
    }

    /// The parts as they are laid: those of the need in their order, each for all garments together.
    ///
    /// # Errors
    /// [`OutlineError`] for a part beyond what is laid.
    pub fn lay_parts(&self) -> Result<Vec<LayPart>, OutlineError> {
        let parts = self.list().iter().map(|part| {
            Ok(LayPart {
                name: part.name().to_owned(),
                outline: Outline::rectangle(part.length(), part.width())?,
                count: part.count().saturating_mul(self.garments()),
                grain: part.grain(),
                may_flip: false,
            })
        });
        parts.collect()
    }

    /// Lays at a usable width and at somewhat less, the widest first, so that cloth that comes out narrower finds one: as [`Self::placed`]
    /// at −0, −1, −2 and −4 % (rounded down), but none where the one before takes no more than that width.
    ///
    /// # Errors
    /// As [`Self::placed`] at the usable width itself; narrower ones that do not hold the parts are left out.
    pub fn ladder(&self, usable: Micrometres) -> Result<Vec<Lay>, PlacedError> {
        let mut lays = vec![self.placed(usable)?];
        for hundredths in [99, 98, 96] {
            let narrower = usable.scale_down(hundredths, 100)?;
            if lays.last().is_some_and(|lay| lay.width() <= narrower) {
                continue;
            }
            match self.placed(narrower) {
                Ok(lay) => lays.push(lay),
                Err(PlacedError::Rows(RowsError::TooWide { .. })) => break,
                Err(error) => return Err(error),
            }
        }
        Ok(lays)
    }

    /// Blocks one behind the other, each as its ladder or its rows have it.
    fn in_blocks(
        &self,
        blocks: &[Block],
        usable: Micrometres,
    ) -> Result<Vec<Placement>, RowsError> {
        let (mut begin, mut placements) = (0_i64, Vec::new());
        for block in blocks {
            for _ in 0..block.times {
                let rows = self.rows(usable, block.garments)?;
                let rung = block.ladder.at(usable);
                let length = match rung.filter(|rung| rung.length < rows.length) {
                    Some(rung) => {
                        let own = rung.lay.placements().iter().map(|placement| Placement {
                            at: beyond(placement.at, begin),
                            ..*placement
                        });
                        placements.extend(own);
                        rung.length
                    }
                    None => {
                        placements.extend(self.in_rows(usable, block.garments, begin)?);
                        rows.length
                    }
                };
                begin = begin.saturating_add(length.get());
            }
        }
        Ok(placements)
    }

    /// Rows of like parts, from a place along the cloth on.
    fn in_rows(
        &self,
        usable: Micrometres,
        garments: i64,
        begin: i64,
    ) -> Result<Vec<Placement>, RowsError> {
        let (mut begin, mut placements) = (begin, Vec::new());
        for (number, part) in self.list().iter().enumerate() {
            let row = Row::across(part, usable, garments)?;
            let (along, across) = (row.extent.along.get(), row.extent.across.get());
            for one in 0..row.count {
                let (line, column) = (
                    one.checked_div(row.per_row).unwrap_or(0),
                    one.checked_rem(row.per_row).unwrap_or(0),
                );
                let at = Point::new(line.saturating_mul(along), column.saturating_mul(across));
                placements.push(Placement {
                    part: number,
                    turn: turn_of(part.grain()),
                    flipped: false,
                    at: beyond(at, begin),
                });
            }
            begin = begin.saturating_add(along.saturating_mul(row.rows));
        }
        Ok(placements)
    }
}

/// The way a grain lies where all parts lie one way.
const fn turn_of(grain: Grain) -> Turn {
    match grain {
        Grain::Lengthwise => Turn::NONE,
        Grain::Crosswise => Turn::degrees(90),
        Grain::Bias => Turn::degrees(45),
    }
}

const fn beyond(at: Point, begin: i64) -> Point {
    Point::new(at.along.saturating_add(begin), at.across)
}
