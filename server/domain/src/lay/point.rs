//! Places and boxes, in whole micrometres.

use serde::{Deserialize, Serialize};

/// A place on a part or on the cloth, in micrometres.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(from = "(i64, i64)", into = "(i64, i64)")]
pub struct Point {
    /// Along the warp; on a part along its grain.
    pub along: i64,
    /// Along the weft.
    pub across: i64,
}

impl Point {
    /// A place.
    #[must_use]
    pub const fn new(along: i64, across: i64) -> Self {
        Self { along, across }
    }

    pub(super) const fn plus(self, other: Self) -> Self {
        Self::new(self.along + other.along, self.across + other.across)
    }

    pub(super) const fn minus(self, other: Self) -> Self {
        Self::new(self.along - other.along, self.across - other.across)
    }
}

impl From<(i64, i64)> for Point {
    fn from((along, across): (i64, i64)) -> Self {
        Self { along, across }
    }
}

impl From<Point> for (i64, i64) {
    fn from(point: Point) -> Self {
        (point.along, point.across)
    }
}

/// Twice the area of a → b → c; positive where c lies to the left of a → b.
pub(super) fn cross(a: Point, b: Point, c: Point) -> i128 {
    let (b, c) = (b.minus(a), c.minus(a));
    i128::from(b.along) * i128::from(c.across) - i128::from(b.across) * i128::from(c.along)
}

/// Product of a → b and a → c along one another; positive where both lead the same way.
pub(super) fn dot(a: Point, b: Point, c: Point) -> i128 {
    let (b, c) = (b.minus(a), c.minus(a));
    i128::from(b.along) * i128::from(c.along) + i128::from(b.across) * i128::from(c.across)
}

/// The box around something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bounds {
    /// Its corner nearest to where lengths and widths begin.
    pub least: Point,
    /// The corner across from it.
    pub most: Point,
}

impl Bounds {
    /// Around points; none: an empty box at the beginning.
    pub(super) fn around(points: impl IntoIterator<Item = Point>) -> Self {
        let mut points = points.into_iter();
        let first = points.next().unwrap_or_default();
        let mut around = Self {
            least: first,
            most: first,
        };
        for point in points {
            around.least.along = around.least.along.min(point.along);
            around.least.across = around.least.across.min(point.across);
            around.most.along = around.most.along.max(point.along);
            around.most.across = around.most.across.max(point.across);
        }
        around
    }

    /// True where the gap between both is at most `reach`, each way: 0, where they touch; −1, only where they overlap.
    pub(super) const fn is_near(&self, other: &Self, reach: i64) -> bool {
        self.least.along <= other.most.along + reach
            && other.least.along <= self.most.along + reach
            && self.least.across <= other.most.across + reach
            && other.least.across <= self.most.across + reach
    }
}

/// Pairs of boxes that are [near](Bounds::is_near), by their numbers, the smaller one first. They are sorted along the warp first, so
/// that boxes that lie far apart are never compared.
pub(super) fn near_pairs(boxes: &[Bounds], reach: i64) -> Vec<(usize, usize)> {
    let mut sorted: Vec<(usize, &Bounds)> = boxes.iter().enumerate().collect();
    sorted.sort_by_key(|(_, bounds)| bounds.least.along);
    let mut pairs = Vec::new();
    for (at, (one, bounds)) in sorted.iter().enumerate() {
        let beyond = bounds.most.along + reach;
        let later = sorted.iter().skip(at + 1);
        for (other, near) in later.take_while(|(_, next)| next.least.along <= beyond) {
            if bounds.is_near(near, reach) {
                pairs.push((*one.min(other), *one.max(other)));
            }
        }
    }
    pairs.sort_unstable();
    pairs
}
