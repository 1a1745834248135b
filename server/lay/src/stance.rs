//! The directions that each part may lie in, with its outline in each.

use crate::{LayFault, piece::UM_PER_MM, shape};
use ellwand_domain::{
    lay::{Bounds, LayCloth, LayError, LayPart, Point, Turn},
    quantity::Micrometres,
};
use jagua_rs::geometry::primitives::SPolygon;

/// A direction of a part.
#[derive(Debug)]
pub(crate) struct Stance {
    pub(crate) turn: Turn,
    pub(crate) flipped: bool,
    /// The box around it; micrometres.
    pub(crate) size: Point,
    /// The same in mm.
    pub(crate) extent: (f32, f32),
    /// Its outline, grown; the least corner of the box lies at the origin.
    pub(crate) shape: SPolygon,
}

/// A part.
#[derive(Debug)]
pub(crate) struct Kind {
    /// Directions in which it fits on the cloth, at least one.
    pub(crate) stances: Vec<Stance>,
    /// Area of its convex hull; mm².
    pub(crate) hull: f32,
    pub(crate) diameter: f32,
    /// Least side of its box; mm.
    pub(crate) least_side: f32,
}

impl Kind {
    /// A part on the cloth, its outline grown by `by` mm.
    ///
    /// # Errors
    /// [`LayFault::TooWide`], where it fits in no direction.
    pub(crate) fn new(part: &LayPart, cloth: &LayCloth, by: f64) -> Result<Self, LayFault> {
        let mut stances: Vec<Stance> = Vec::new();
        let mut narrowest = i64::MAX;
        let flips: &[bool] = if part.may_flip {
            &[false, true]
        } else {
            &[false]
        };
        let turns = cloth.ways.turns(part.grain).iter();
        for (turn, flipped) in turns.flat_map(|turn| flips.iter().map(move |flip| (*turn, *flip))) {
            let outline = part.outline.turned(turn, flipped).map_err(LayError::from)?;
            let size = size(outline.bounds());
            narrowest = narrowest.min(size.across);
            if size.across > cloth.usable.get() {
                continue;
            }
            let half = Turn::degrees(turn.get() + 180);
            let opposite = stances
                .iter()
                .find(|known| (known.turn, known.flipped) == (half, flipped))
                .map(|known| shape::half_turned(known.extent, &known.shape));
            if let Some(shape) = opposite.or_else(|| shape::grown(&outline, by)) {
                stances.push(Stance {
                    turn,
                    flipped,
                    size,
                    extent: (
                        size.along as f32 / UM_PER_MM,
                        size.across as f32 / UM_PER_MM,
                    ),
                    shape,
                });
            }
        }
        Self::of_stances(stances).ok_or_else(|| LayFault::TooWide {
            name: part.name.clone(),
            width: Micrometres::new(narrowest).unwrap_or(Micrometres::MAX),
            usable: cloth.usable,
        })
    }

    fn of_stances(stances: Vec<Stance>) -> Option<Self> {
        let first = stances.first()?;
        Some(Self {
            hull: first.shape.surrogate().convex_hull_area,
            diameter: first.shape.diameter(),
            least_side: first.extent.0.min(first.extent.1),
            stances,
        })
    }
}

/// The sides of a box.
pub(crate) const fn size(bounds: Bounds) -> Point {
    let Bounds { least, most } = bounds;
    Point::new(most.along - least.along, most.across - least.across)
}
