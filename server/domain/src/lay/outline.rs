//! The outline of a part.

use super::{
    Bounds, FORMAT, OutlineError, Placement, Point, Turn,
    meet::{Edge, edges_meet},
    point::{cross, dot, near_pairs},
};
use crate::quantity::Micrometres;
use serde::{Deserialize, Serialize};

/// Most corners of an outline.
pub(super) const MOST_CORNERS: usize = 10_000;
/// Farthest that a corner lies from the origin, each way.
pub(super) const MOST_REACH: Micrometres = Micrometres::from_mm(100_000);

/// A simple polygon, its grain along the warp; its corners run against the clock.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Kept", into = "Kept")]
pub struct Outline {
    corners: Vec<Point>,
    bounds: Bounds,
}

/// An outline as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    format: u32,
    corners: Vec<Point>,
}

impl Outline {
    /// An outline by its corners, in either sense. It has at least three, no two in one place, some area, and never crosses or
    /// touches itself; corners on a straight edge may stand.
    ///
    /// # Errors
    /// [`OutlineError`], the first in the order of its variants.
    pub fn new(corners: Vec<Point>) -> Result<Self, OutlineError> {
        Self::within(corners, MOST_REACH.get())
    }

    /// The rectangle from the origin; a side of nothing has no area.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn rectangle(along: Micrometres, across: Micrometres) -> Result<Self, OutlineError> {
        let (along, across) = (along.get(), across.get());
        if along == 0 || across == 0 {
            return Err(OutlineError::NoArea);
        }
        Self::new(vec![
            Point::new(0, 0),
            Point::new(along, 0),
            Point::new(along, across),
            Point::new(0, across),
        ])
    }

    fn within(mut corners: Vec<Point>, reach: i64) -> Result<Self, OutlineError> {
        let count = corners.len();
        if count < 3 {
            return Err(OutlineError::TooFew(count));
        }
        if count > MOST_CORNERS {
            return Err(OutlineError::TooMany(count));
        }
        let reach = reach.unsigned_abs();
        let is_far = |point: &Point| {
            point.along.unsigned_abs() > reach || point.across.unsigned_abs() > reach
        };
        if let Some(far) = corners.iter().position(is_far) {
            return Err(OutlineError::TooFar(far + 1));
        }
        if let Some((one, other)) = doubled(&corners) {
            return Err(OutlineError::Doubled(one + 1, other + 1));
        }
        if let [first, second, rest @ ..] = corners.as_slice()
            && rest
                .iter()
                .all(|corner| cross(*first, *second, *corner) == 0)
        {
            return Err(OutlineError::NoArea);
        }
        if let Some((one, other)) = crossing(&corners) {
            return Err(OutlineError::Crosses(one + 1, other + 1));
        }
        if twice_area(&corners) < 0 {
            corners.reverse();
        }
        Ok(Self::around(corners))
    }

    fn around(corners: Vec<Point>) -> Self {
        let bounds = Bounds::around(corners.iter().copied());
        Self { corners, bounds }
    }

    /// Its corners, against the clock.
    #[must_use]
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The box around it.
    #[must_use]
    pub const fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Twice its area in square micrometres, exact.
    #[must_use]
    pub fn twice_area_um2(&self) -> i128 {
        twice_area(&self.corners)
    }

    /// The same turned over about its grain, then turned.
    ///
    /// - Rounding: as [`Turn::turned`].
    ///
    /// # Errors
    /// [`OutlineError`] where what is a few micrometres wide closes by rounding; never for quarter turns.
    pub fn turned(&self, turn: Turn, flipped: bool) -> Result<Self, OutlineError> {
        let over = |corner: &Point| match flipped {
            true => Point::new(corner.along, -corner.across),
            false => *corner,
        };
        let mut corners: Vec<Point> = self.corners.iter().map(|c| turn.turned(over(c))).collect();
        if flipped {
            corners.reverse();
        }
        if turn.is_exact() {
            return Ok(Self::around(corners));
        }
        Self::within(corners, MOST_REACH.get() * 2)
    }

    /// The same as it lies on the cloth.
    ///
    /// # Errors
    /// As [`Self::turned`].
    pub fn placed(&self, placement: &Placement) -> Result<Self, OutlineError> {
        let turned = self.turned(placement.turn, placement.flipped)?;
        let by = placement.at.minus(turned.bounds.least);
        Ok(Self::around(
            turned
                .corners
                .iter()
                .map(|corner| corner.plus(by))
                .collect(),
        ))
    }

    /// The line along the middle of the box around it, with its grain, as it lies on the cloth: from its begin to its end.
    ///
    /// - Rounding: the middle down to a micrometre; then as [`Turn::turned`].
    ///
    /// # Errors
    /// As [`Self::turned`].
    pub fn grain_line(&self, placement: &Placement) -> Result<[Point; 2], OutlineError> {
        let Bounds { least, most } = self.bounds;
        let middle = (least.across + most.across).div_euclid(2);
        let over = if placement.flipped { -middle } else { middle };
        let turned = self.turned(placement.turn, placement.flipped)?;
        let by = placement.at.minus(turned.bounds.least);
        let ends = [least.along, most.along].map(|along| Point::new(along, over));
        Ok(ends.map(|end| placement.turn.turned(end).plus(by)))
    }

    /// Its edges, each from a corner to the next.
    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> {
        edges(&self.corners)
    }
}

fn edges(corners: &[Point]) -> impl Iterator<Item = Edge> {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(from, to)| Edge {
        from: *from,
        to: *to,
    })
}

fn twice_area(corners: &[Point]) -> i128 {
    edges(corners)
        .map(|Edge { from, to }| cross(Point::default(), from, to))
        .sum()
}

/// The first two corners in one place.
fn doubled(corners: &[Point]) -> Option<(usize, usize)> {
    let mut sorted: Vec<(Point, usize)> = corners.iter().copied().zip(0..).collect();
    sorted.sort_unstable();
    let pairs = sorted.windows(2).filter_map(|pair| match pair {
        [(one, first), (other, second)] if one == other => Some((*first, *second)),
        _ => None,
    });
    pairs.min()
}

/// The first two edges that meet elsewhere than at the corner between them, or run back over one another.
fn crossing(corners: &[Point]) -> Option<(usize, usize)> {
    let edges: Vec<Edge> = edges(corners).collect();
    let boxes: Vec<Bounds> = edges.iter().map(Edge::bounds).collect();
    let is_wrong = |(one, other): &(usize, usize)| {
        let (Some(first), Some(second)) = (edges.get(*one), edges.get(*other)) else {
            return false;
        };
        let runs_back =
            |at, before, after| cross(at, before, after) == 0 && dot(at, before, after) > 0;
        if other - one == 1 {
            runs_back(first.to, first.from, second.to)
        } else if *one == 0 && other + 1 == edges.len() {
            runs_back(first.from, second.from, first.to)
        } else {
            edges_meet(first, second)
        }
    };
    near_pairs(&boxes, 0).into_iter().find(is_wrong)
}

impl TryFrom<Kept> for Outline {
    type Error = OutlineError;
    fn try_from(kept: Kept) -> Result<Self, OutlineError> {
        if kept.format != FORMAT {
            return Err(OutlineError::Format(kept.format));
        }
        Self::new(kept.corners)
    }
}

impl From<Outline> for Kept {
    fn from(outline: Outline) -> Self {
        Self {
            format: FORMAT,
            corners: outline.corners,
        }
    }
}
