//! Rectangles on a strip of one width, packed short: a skyline, filled from its lowest gap.

use super::Point;

/// A rectangle to be packed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Item {
    pub(super) along: i64,
    pub(super) across: i64,
    /// What it stands for; its place is reported under this number.
    pub(super) number: usize,
}

/// How the next rectangle is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Choice {
    /// The first in order goes where it ends soonest.
    InOrder,
    /// The lowest gap takes what fits it best, of equals the first in order.
    BestFit,
}

/// A level stretch of the skyline.
#[derive(Debug, Clone, Copy)]
struct Level {
    from: i64,
    to: i64,
    height: i64,
}

/// Rectangles on a strip; reusable, so that a search allocates little.
struct Strip {
    usable: i64,
    levels: Vec<Level>,
    left: Vec<Item>,
    /// Where each number lies.
    places: Vec<Point>,
    /// Positions that were evaluated so far: the budget of a search is counted in these.
    positions: u64,
}

impl Strip {
    fn new(usable: i64, numbers: usize) -> Self {
        Self {
            usable,
            levels: Vec::new(),
            left: Vec::new(),
            places: vec![Point::default(); numbers],
            positions: 0,
        }
    }

    /// Packs rectangles that are no wider than the strip; returns the length, or nothing once it is no less than `limit`.
    fn pack(&mut self, order: &[Item], choice: Choice, limit: i64) -> Option<i64> {
        self.levels.clear();
        self.levels.push(Level {
            from: 0,
            to: self.usable,
            height: 0,
        });
        let mut length = 0;
        if choice == Choice::InOrder {
            for item in order {
                let end = self.drop_soonest(item)?;
                length = length.max(end);
                if length >= limit {
                    return None;
                }
            }
            return Some(length);
        }
        self.left.clear();
        self.left.extend_from_slice(order);
        while !self.left.is_empty() {
            length = length.max(self.fill_lowest()?);
            if length >= limit {
                return None;
            }
        }
        Some(length)
    }

    /// Puts a rectangle where its far end is nearest, of equals at the least width; returns where it ends.
    fn drop_soonest(&mut self, item: &Item) -> Option<i64> {
        let mut best: Option<(i64, usize)> = None;
        for (at, level) in self.levels.iter().enumerate() {
            self.positions += 1;
            let to = level.from + item.across;
            if to > self.usable {
                break;
            }
            let under = self.levels[at..].iter().take_while(|level| level.from < to);
            let base = under.map(|level| level.height).max().unwrap_or(0);
            if best.is_none_or(|(lowest, _)| base < lowest) {
                best = Some((base, at));
            }
        }
        let (base, at) = best?;
        let level = *self.levels.get(at)?;
        let (before, after) = self.walls(at);
        // What has room on one level lies beside the higher wall.
        let from = match level.from + item.across <= level.to && before < after {
            true => level.to - item.across,
            false => level.from,
        };
        self.put(item, from, base);
        Some(base + item.along)
    }

    /// Heights on both sides of a level; beyond the edges of the cloth nothing is higher.
    fn walls(&self, at: usize) -> (i64, i64) {
        let height = |at: Option<usize>| {
            let level = at.and_then(|at| self.levels.get(at));
            level.map_or(i64::MAX, |level| level.height)
        };
        (height(at.checked_sub(1)), height(at.checked_add(1)))
    }

    /// Fills the lowest gap with what fits it best, or levels it up to its lower wall; returns where what was put there ends.
    fn fill_lowest(&mut self) -> Option<i64> {
        let (at, gap) = self
            .levels
            .iter()
            .copied()
            .enumerate()
            .min_by_key(|(_, level)| level.height)?;
        let (before, after) = self.walls(at);
        let width = gap.to - gap.from;
        let mut best: Option<(u8, usize)> = None;
        for (index, item) in self.left.iter().enumerate() {
            self.positions += 1;
            if item.across > width {
                continue;
            }
            let top = gap.height + item.along;
            let flush = u8::from(top == before) + u8::from(top == after);
            let below = u8::from(top <= before.min(after));
            let score = match item.across == width {
                true => 3 + flush + below,
                false => flush,
            };
            if best.is_none_or(|(most, _)| score > most) {
                best = Some((score, index));
            }
        }
        let Some((_, index)) = best else {
            let up_to = before.min(after);
            self.levels.get_mut(at)?.height = up_to;
            self.merge();
            return Some(gap.height);
        };
        let item = self.left.remove(index);
        // Beside the higher wall the rest of the gap stays in one.
        let from = match before >= after {
            true => gap.from,
            false => gap.to - item.across,
        };
        self.put(&item, from, gap.height);
        Some(gap.height + item.along)
    }

    fn put(&mut self, item: &Item, from: i64, base: i64) {
        let to = from + item.across;
        if let Some(place) = self.places.get_mut(item.number) {
            *place = Point::new(base, from);
        }
        let mut levels = Vec::with_capacity(self.levels.len() + 2);
        for level in &self.levels {
            let (from, to) = (level.from.max(from), level.to.min(to));
            if from >= to {
                levels.push(*level);
                continue;
            }
            let parts = [
                (level.from, from, level.height),
                (from, to, base + item.along),
                (to, level.to, level.height),
            ];
            let some = parts.into_iter().filter(|(from, to, _)| from < to);
            levels.extend(some.map(|(from, to, height)| Level { from, to, height }));
        }
        self.levels = levels;
        self.merge();
    }

    fn merge(&mut self) {
        self.levels.dedup_by(|next, level| {
            let same = next.height == level.height;
            if same {
                level.to = next.to;
            }
            same
        });
    }
}

/// Numbers for a search, the same each time (xorshift).
struct Drawn(u64);

impl Drawn {
    /// A number below `limit`, which is not 0.
    const fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % limit
    }
}

/// Positions that are evaluated in exchanging rectangles, at each width and for each choice.
const POSITIONS: u64 = 1_000;

/// More rectangles are packed by best fit alone.
const FEW: usize = 24;

/// About how many positions packing so many rectangles at one width evaluates.
pub(super) const fn positions_of(items: u64) -> u64 {
    items * items.div_ceil(2) * 8 + POSITIONS * 2
}

/// What rectangles are put in order by.
type Key = fn(&Item) -> (i64, i64);

/// The shortest that some orders give at a width, shorter than `limit`, and where each number lies then. For each choice by length,
/// width, area and the longer side; then pairs of the best of these orders are exchanged until so many positions were evaluated or
/// nothing can be shorter than `least`.
pub(super) fn shortest_at(
    items: &[Item],
    usable: i64,
    (least, limit): (i64, i64),
) -> Option<(i64, Vec<Point>)> {
    let keys: [Key; 4] = [
        |item| (item.along, item.across),
        |item| (item.across, item.along),
        |item| (item.along.saturating_mul(item.across), item.along),
        |item| (item.along.max(item.across), item.along),
    ];
    let mut strip = Strip::new(usable, items.len());
    let mut best: (i64, Option<Vec<Point>>) = (limit, None);
    for choice in [Choice::BestFit, Choice::InOrder] {
        if choice == Choice::InOrder && items.len() > FEW {
            break;
        }
        let mut best_order: Option<Vec<Item>> = None;
        for key in keys {
            if best.0 <= least {
                break;
            }
            let mut order = items.to_vec();
            order.sort_by_key(|item| std::cmp::Reverse(key(item)));
            let packed = strip.pack(&order, choice, best.0);
            if let Some(length) = packed {
                best = (length, Some(strip.places.clone()));
            }
            if packed.is_some() || best_order.is_none() {
                best_order = Some(order);
            }
        }
        if let Some(order) = best_order {
            exchange(&mut strip, order, choice, least, &mut best);
        }
    }
    best.1.map(|places| (best.0, places))
}

/// Exchanges pairs of an order as long as that makes it no longer, and keeps what is the shortest of all.
fn exchange(
    strip: &mut Strip,
    mut order: Vec<Item>,
    choice: Choice,
    least: i64,
    best: &mut (i64, Option<Vec<Point>>),
) {
    let until = strip.positions + POSITIONS;
    let mut drawn = Drawn(0x5eed_2026_1130_0001);
    let mut current = i64::MAX;
    while best.0 > least && strip.positions < until && order.len() > 1 {
        let (one, other) = (drawn.below(order.len()), drawn.below(order.len()));
        let sides = |at: usize| order.get(at).map(|item| (item.along, item.across));
        if sides(one) == sides(other) {
            strip.positions += 1;
            continue;
        }
        order.swap(one, other);
        let Some(length) = strip.pack(&order, choice, current.saturating_add(1)) else {
            order.swap(one, other);
            continue;
        };
        current = length;
        if length < best.0 {
            *best = (length, Some(strip.places.clone()));
        }
    }
}
