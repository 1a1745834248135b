//! What is packed as one: a rectangle by itself, or strips on the bias that lie within one another's squares.

use super::{
    Placement, Point, Rectangles, Turn,
    strip::{Item, positions_of},
};
use crate::setting::Grain;
use std::collections::BTreeSet;

/// Of the widths within so much of one another the largest alone is packed at.
const STEP: i64 = 5_000;
/// Positions that are evaluated in one reach of a ladder, about: a millisecond of processor time.
const MOST_POSITIONS: u64 = 200_000;
/// Sums of widths that are closer than this count as one.
const FINEST: i64 = 1_000;

/// How strips on the bias are put together.
#[derive(Debug, Clone, Copy)]
enum Nest {
    /// Each in a square of its own.
    Apart,
    /// So many groups, each of strips one behind the other along the warp.
    Behind(i64),
    /// So many groups, each of strips side by side as one wide strip.
    Beside(i64),
}

/// Rectangles to be packed, and what each of them stands for.
pub(super) struct Blocks {
    pub(super) items: Vec<Item>,
    /// By number of the item: which rectangles, and where the box around each lies in it.
    members: Vec<(usize, Turn, Vec<Point>)>,
}

/// Ways of packing some rectangles as blocks; one, where none is on the bias more than once.
pub(super) fn groupings(rectangles: &[Rectangles]) -> Vec<Blocks> {
    let mut nests = vec![Nest::Apart];
    let bias = rectangles.iter().filter(|some| some.grain == Grain::Bias);
    let most = bias.map(|some| some.count).max().unwrap_or(1);
    if most > 1 {
        nests.extend([Nest::Behind(1), Nest::Behind(2), Nest::Beside(1)]);
    }
    nests
        .into_iter()
        .map(|nest| Blocks::new(rectangles, nest))
        .collect()
}

impl Blocks {
    fn new(rectangles: &[Rectangles], nest: Nest) -> Self {
        let mut blocks = Self {
            items: Vec::new(),
            members: Vec::new(),
        };
        for (which, some) in rectangles.iter().enumerate() {
            let groups = match (some.grain, nest) {
                (Grain::Bias, Nest::Behind(groups) | Nest::Beside(groups)) => {
                    groups.min(some.count)
                }
                _ => some.count,
            };
            for group in 0..groups {
                // The first groups take one more where they do not come out even.
                let count = (some.count - group + groups - 1) / groups;
                blocks.push(which, some, nest, count);
            }
        }
        blocks
    }

    /// So many of one kind as one block.
    fn push(&mut self, which: usize, some: &Rectangles, nest: Nest, count: i64) {
        let (along, across) = (some.extent.0.get(), some.extent.1.get());
        let turn = match some.grain {
            Grain::Lengthwise => Turn::NONE,
            Grain::Crosswise => Turn::degrees(90),
            Grain::Bias => Turn::degrees(45),
        };
        let width = some.width.get();
        // Whole micrometres up, and two more for corners that are rounded.
        let step = match nest {
            Nest::Apart => Point::default(),
            Nest::Behind(_) => Point::new(whole_root(2 * square(width)) + 3, 0),
            Nest::Beside(_) => {
                let step = whole_root(square(width) / 2) + 3;
                Point::new(step, step)
            }
        };
        let last = count - 1;
        let place = |number: i64| match nest {
            // The strips side by side rise along the weft as they come back along the warp.
            Nest::Beside(_) => Point::new((last - number) * step.along, number * step.across),
            _ => Point::new(number * step.along, 0),
        };
        self.items.push(Item {
            along: along + last * step.along,
            across: across + last * step.across,
            number: self.members.len(),
        });
        self.members
            .push((which, turn, (0..count).map(place).collect()));
    }

    /// The widest of them.
    pub(super) fn widest(&self) -> i64 {
        self.items.iter().map(|item| item.across).max().unwrap_or(0)
    }

    /// The width that they take, once they have their places.
    pub(super) fn width(&self, places: &[Point]) -> i64 {
        let ends = self.items.iter().filter_map(|item| {
            let place = places.get(item.number)?;
            Some(place.across + item.across)
        });
        ends.max().unwrap_or(0)
    }

    /// Where each rectangle lies once the blocks have their places.
    pub(super) fn placements(&self, places: &[Point]) -> Vec<Placement> {
        let blocks = self.members.iter().zip(places);
        let placed = blocks.flat_map(|((part, turn, within), at)| {
            within.iter().map(|within| Placement {
                part: *part,
                turn: *turn,
                flipped: false,
                at: at.plus(*within),
            })
        });
        placed.collect()
    }

    /// Sums of widths of some of them up to `end`: of those within a millimetre of one another the largest.
    fn sums(&self, end: i64) -> impl Iterator<Item = i64> {
        let window = |sum: i64| usize::try_from(sum / FINEST).unwrap_or(usize::MAX);
        let mut largest = vec![None; window(end) + 1];
        largest[0] = Some(0);
        for item in &self.items {
            for at in (0..largest.len()).rev() {
                let more = largest[at].map(|sum: i64| sum + item.across);
                if let Some(more) = more.filter(|sum| *sum <= end) {
                    let known = &mut largest[window(more)];
                    *known = (*known).max(Some(more));
                }
            }
        }
        largest.into_iter().flatten()
    }
}

/// Widths from `begin` to `end` at which something fits that does not fit on narrower cloth; as many as there is a budget for.
pub(super) fn widths(groupings: &[Blocks], begin: i64, end: i64) -> BTreeSet<i64> {
    let widest = groupings.iter().map(Blocks::widest).min().unwrap_or(0);
    let sums = groupings.iter().flat_map(|blocks| blocks.sums(end));
    let sums: BTreeSet<i64> = sums.filter(|sum| *sum >= begin.max(widest)).collect();
    let each = groupings
        .iter()
        .map(|blocks| positions_of(blocks.items.len() as u64));
    let most = MOST_POSITIONS / each.sum::<u64>().max(1);
    let mut step = STEP;
    let mut widths = thinned(&sums, step);
    while widths.len() as u64 > most && step < end {
        step *= 2;
        widths = thinned(&sums, step);
    }
    widths
}

/// Of all within one step the largest.
fn thinned(sums: &BTreeSet<i64>, step: i64) -> BTreeSet<i64> {
    let mut kept: BTreeSet<i64> = BTreeSet::new();
    let mut last = None;
    for sum in sums {
        if last == Some(sum / step) {
            kept.pop_last();
        }
        last = Some(sum / step);
        kept.insert(*sum);
    }
    kept
}

fn square(side: i64) -> i128 {
    i128::from(side) * i128::from(side)
}

fn whole_root(square: i128) -> i64 {
    i64::try_from(square.isqrt()).unwrap_or(i64::MAX)
}
