//! A better place for one piece of a lay in which pieces still overlap.

use crate::{
    descent::{self, Step},
    drawn::Drawn,
    piece::Spot,
    separate::Overlaps,
};

/// Random places anywhere on the cloth, and near where the piece lies.
const ANYWHERE: usize = 50;
const NEARBY: usize = 25;
/// How many of them are moved on from.
const KEPT: usize = 3;
const COARSE: Step = Step {
    first: 0.25,
    last: 0.02,
};
const FINE: Step = Step {
    first: 0.01,
    last: 0.001,
};
/// Two places that are nearer than this share of a piece's least side are one.
const ALIKE: f32 = 0.02;

/// The few best places so far.
struct Shortlist {
    best: Vec<(f32, Spot)>,
    alike: f32,
}

impl Shortlist {
    fn bound(&self) -> f32 {
        match self.best.get(KEPT - 1) {
            Some(worst) => worst.0,
            None => f32::MAX,
        }
    }

    fn add(&mut self, found: (f32, Spot)) {
        let is_alike = |(_, known): &(f32, Spot)| {
            known.stance == found.1.stance
                && (known.along - found.1.along).abs() < self.alike
                && (known.across - found.1.across).abs() < self.alike
        };
        match self.best.iter().position(is_alike) {
            Some(at) if self.best[at].0 <= found.0 => return,
            Some(at) => self.best[at] = found,
            None => self.best.push(found),
        }
        self.best.sort_by(|one, other| one.0.total_cmp(&other.0));
        self.best.truncate(KEPT);
    }

    fn is_free(&self) -> bool {
        self.best.first().is_some_and(|best| best.0 == 0.0)
    }
}

/// The best place that is found for a piece that was taken up, with its weighed loss; where it lay is among them.
///
/// - Method: samples anywhere and near, the best of them refined by descent (arXiv:2509.13329, algorithms 5 and 6).
pub(crate) fn better(overlaps: &mut Overlaps, piece: usize, drawn: &mut Drawn) -> (f32, Spot) {
    let here = overlaps.table.spots[piece];
    let side = overlaps.table.pieces.kind(piece).least_side;
    let mut list = Shortlist {
        best: Vec::with_capacity(KEPT + 1),
        alike: side * ALIKE,
    };
    let loss = overlaps.weighed(piece, here, f32::MAX);
    list.add((loss, here));
    for near in (0..ANYWHERE + NEARBY).map(|at| at >= ANYWHERE) {
        if list.is_free() {
            break;
        }
        if let Some(spot) = sample(overlaps, piece, here, near, drawn) {
            let bound = list.bound();
            let loss = overlaps.weighed(piece, spot, bound);
            if loss < bound {
                list.add((loss, spot));
            }
        }
    }
    let coarse = COARSE.of(&overlaps.table, piece);
    let mut best = (f32::MAX, here);
    for start in std::mem::take(&mut list.best) {
        let found = refine(overlaps, piece, start, coarse, drawn);
        if found.0 < best.0 {
            best = found;
        }
    }
    let fine = FINE.of(&overlaps.table, piece);
    refine(overlaps, piece, best, fine, drawn)
}

fn refine(
    overlaps: &mut Overlaps,
    piece: usize,
    start: (f32, Spot),
    step: Step,
    drawn: &mut Drawn,
) -> (f32, Spot) {
    let evaluate = |spot: Spot, bound: f32| {
        let spot = overlaps.table.clamped(piece, spot);
        let loss = overlaps.weighed(piece, spot, bound);
        (loss < bound).then_some((loss, spot))
    };
    descent::descend(start, step, drawn, evaluate)
}

/// A random spot on the cloth; near: within half of its box around where it lies.
fn sample(
    overlaps: &Overlaps,
    piece: usize,
    here: Spot,
    near: bool,
    drawn: &mut Drawn,
) -> Option<Spot> {
    let table = &overlaps.table;
    let stance = drawn.below(table.pieces.kind(piece).stances.len());
    let (along, across) = table.room(piece, stance)?;
    if !near {
        return Some(Spot {
            stance,
            along: drawn.between(0.0, along),
            across: drawn.between(0.0, across),
        });
    }
    // The middle stays where it is, however it is turned.
    let now = table.pieces.stance(piece, here).extent;
    let then = table.pieces.kind(piece).stances[stance].extent;
    let middle = (here.along + now.0 / 2.0, here.across + now.1 / 2.0);
    let spot = Spot {
        stance,
        along: middle.0 + then.0 * (drawn.share() - 1.0),
        across: middle.1 + then.1 * (drawn.share() - 1.0),
    };
    Some(table.clamped(piece, spot))
}
