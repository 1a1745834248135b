//! How long rectangles lie at any width: rungs from narrow to wide, worked out once for the rectangles, so that the answer at a width
//! hangs on nothing else, and wider cloth never needs more.

use super::{Lay, LayCloth, LayPart, Outline, Placement, Ways, blocks, strip::shortest_at};
use crate::{
    quantity::{Micrometres, exact::div_ceil},
    setting::Grain,
};
use std::{
    collections::HashMap,
    sync::{Arc, LazyLock, Mutex, OnceLock, PoisonError},
};

/// Most rectangles that are packed together.
pub const MOST_PACKED: i64 = 64;
/// Widths are packed at once up to each of these, as soon as one of them is asked for.
const REACHES: [i64; 3] = [800_000, 1_600_000, 3_200_000];
/// Needs whose rungs are remembered in the process.
const MOST_REMEMBERED: usize = 512;

/// A rectangle as often as it is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rectangles {
    /// Along its grain.
    pub length: Micrometres,
    /// Across it.
    pub width: Micrometres,
    /// Its grain on the cloth.
    pub grain: Grain,
    /// What it takes along the warp and the weft.
    pub extent: (Micrometres, Micrometres),
    /// How often.
    pub count: i64,
}

/// A lay from its width on, until the next rung.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rung {
    /// Least usable width.
    pub width: Micrometres,
    /// Length.
    pub length: Micrometres,
    /// How each rectangle lies; parts are numbered in the order of the rectangles.
    pub lay: Lay,
}

/// The rungs of some rectangles.
#[derive(Debug)]
pub struct Ladder {
    rectangles: Vec<Rectangles>,
    reaches: [OnceLock<Vec<Rung>>; REACHES.len()],
}

type Memo = Mutex<HashMap<Vec<Rectangles>, Arc<Ladder>>>;

impl Ladder {
    /// The ladder of some rectangles; empty for more of them than are packed together.
    #[must_use]
    pub fn new(rectangles: Vec<Rectangles>) -> Self {
        Self {
            rectangles,
            reaches: Default::default(),
        }
    }

    /// The same, remembered in the process by the measures, so that it is climbed once.
    #[must_use]
    pub fn remembered(rectangles: Vec<Rectangles>) -> Arc<Self> {
        static MEMO: LazyLock<Memo> = LazyLock::new(Memo::default);
        let mut memo = MEMO.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(ladder) = memo.get(&rectangles) {
            return Arc::clone(ladder);
        }
        if memo.len() >= MOST_REMEMBERED {
            memo.clear();
        }
        let ladder = Arc::new(Self::new(rectangles.clone()));
        memo.insert(rectangles, Arc::clone(&ladder));
        ladder
    }

    /// The shortest lay that is known at a usable width; none where rows were never beaten.
    ///
    /// - Formula: of all rungs that are no wider, the shortest. Rungs are packed at widths that are sums of the rectangles' own, of those
    ///   within 5 mm the largest (within more, where there are many rectangles), up to 3.2 m; each was checked ([`Lay::new`]).
    /// - Wider cloth never needs more. The same rectangles at the same width always get the same lay, whatever was asked before: orders,
    ///   exchanges and their number are fixed.
    /// - Source: best-fit and bottom-left packing with exchanges of pairs are common practice for strips.
    #[must_use]
    pub fn at(&self, usable: Micrometres) -> Option<&Rung> {
        let narrower = REACHES.iter().filter(|end| **end < usable.get()).count();
        let rungs = (0..=narrower).flat_map(|reach| self.reach(reach));
        rungs
            .filter(|rung| rung.width <= usable)
            .min_by_key(|rung| (rung.length, rung.width))
    }

    /// Rungs of one reach; none beyond the last.
    fn reach(&self, reach: usize) -> &[Rung] {
        let (Some(rungs), Some(end)) = (self.reaches.get(reach), REACHES.get(reach)) else {
            return &[];
        };
        rungs.get_or_init(|| {
            let before = reach.checked_sub(1).and_then(|before| REACHES.get(before));
            let narrower = (0..reach).flat_map(|reach| self.reach(reach));
            let shortest = narrower.map(|rung| rung.length.get()).min();
            self.climb(before.map_or(0, |end| end + 1), *end, shortest)
        })
    }

    /// Packs at each width from `begin` to `end`; what is no shorter than on narrower cloth, or than rows, is left out.
    fn climb(&self, begin: i64, end: i64, shortest: Option<i64>) -> Vec<Rung> {
        let counts = self.rectangles.iter().map(|some| some.count);
        let count = counts.fold(0, i64::saturating_add);
        if !(2..=MOST_PACKED).contains(&count) {
            return Vec::new();
        }
        let mut best = shortest.unwrap_or(i64::MAX);
        let mut rungs: Vec<Rung> = Vec::new();
        let groupings = blocks::groupings(&self.rectangles);
        for usable in blocks::widths(&groupings, begin, end) {
            let Some((least, rows)) = self.bounds(usable) else {
                continue;
            };
            for blocks in &groupings {
                let limit = best.min(rows);
                if limit <= least || blocks.widest() > usable {
                    continue;
                }
                let found = shortest_at(&blocks.items, usable, (least, limit));
                let checked = found.and_then(|(length, places)| {
                    let width = blocks.width(&places).max(begin);
                    self.checked(width, length, blocks.placements(&places))
                });
                if let Some(rung) = checked {
                    best = rung.length.get();
                    rungs.push(rung);
                }
            }
        }
        rungs
    }

    /// Least length at a width (area, tallest, all that cannot lie beside one another), and that of rows of like rectangles; nothing where
    /// one is wider.
    fn bounds(&self, usable: i64) -> Option<(i64, i64)> {
        let (mut area, mut least, mut alone, mut rows) = (0_i128, 0, 0, 0);
        for some in &self.rectangles {
            let (along, across) = (some.extent.0.get(), some.extent.1.get());
            let per_row = usable.checked_div(across).filter(|fit| *fit > 0)?;
            rows += along * ((some.count + per_row - 1) / per_row);
            let each = i128::from(some.length.get()) * i128::from(some.width.get());
            area += each * i128::from(some.count);
            least = along.max(least);
            if some.grain != Grain::Bias && across * 2 > usable {
                alone += along * some.count;
            }
        }
        let by_area = i64::try_from(div_ceil(area, i128::from(usable))).ok()?;
        Some((by_area.max(least).max(alone), rows))
    }

    /// What was packed at a width as a lay, where it passes the check.
    fn checked(&self, width: i64, length: i64, placements: Vec<Placement>) -> Option<Rung> {
        let (width, length) = (
            Micrometres::new(width).ok()?,
            Micrometres::new(length).ok()?,
        );
        let cloth = LayCloth {
            usable: width,
            length: Some(length),
            spacing: Micrometres::ZERO,
            ways: Ways::One,
        };
        let lay = Lay::new(cloth, self.parts()?, placements).ok()?;
        Some(Rung { width, length, lay })
    }

    fn parts(&self) -> Option<Vec<LayPart>> {
        let part = |(number, some): (usize, &Rectangles)| {
            Some(LayPart {
                name: (number + 1).to_string(),
                outline: Outline::rectangle(some.length, some.width).ok()?,
                count: some.count,
                grain: some.grain,
                may_flip: false,
            })
        };
        self.rectangles.iter().enumerate().map(part).collect()
    }
}

impl PartialEq for Ladder {
    fn eq(&self, other: &Self) -> bool {
        self.rectangles == other.rectangles
    }
}

impl Eq for Ladder {}
