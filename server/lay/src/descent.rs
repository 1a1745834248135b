//! From a place to a better one nearby, in steps that get shorter.

use crate::{drawn::Drawn, piece::Spot, table::Table};

/// First and last step, as shares of the least side of a piece.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    pub(crate) first: f32,
    pub(crate) last: f32,
}

impl Step {
    /// In mm for a piece.
    pub(crate) fn of(self, table: &Table, piece: usize) -> Self {
        let side = table.pieces.kind(piece).least_side;
        Self {
            first: self.first * side,
            last: self.last * side,
        }
    }
}

/// Directions that are tried: along, across and both diagonals.
const AXES: [(f32, f32); 4] = [
    (1.0, 0.0),
    (0.0, 1.0),
    (0.707_106_77, 0.707_106_77),
    (0.707_106_77, -0.707_106_77),
];
const LONGER: f32 = 1.1;
const SHORTER: f32 = 0.5;

/// Moves to and fro along a random axis and keeps what `evaluate` finds better than the best so far; stops at a loss of 0.
///
/// - Method: coordinate descent with steps that adapt (arXiv:2509.13329, algorithm 7); the diagonals and factors are ours.
pub(crate) fn descend(
    start: (f32, Spot),
    step: Step,
    drawn: &mut Drawn,
    mut evaluate: impl FnMut(Spot, f32) -> Option<(f32, Spot)>,
) -> (f32, Spot) {
    let mut best = start;
    let mut reach = (step.first, step.first);
    while reach.0.max(reach.1) >= step.last && best.0 > 0.0 {
        let (along, across) = AXES[drawn.below(AXES.len())];
        let is_better = [1.0, -1.0].into_iter().any(|way| {
            let spot = Spot {
                stance: best.1.stance,
                along: best.1.along + way * along * reach.0,
                across: best.1.across + way * across * reach.1,
            };
            let found = evaluate(spot, best.0).filter(|found| found.0 < best.0);
            best = found.unwrap_or(best);
            found.is_some()
        });
        let factor = if is_better { LONGER } else { SHORTER };
        let root = if is_better { LONGER } else { 0.707_106_77 };
        match (along == 0.0, across == 0.0) {
            (false, true) => reach.0 *= factor,
            (true, _) => reach.1 *= factor,
            _ => reach = (reach.0 * root, reach.1 * root),
        }
    }
    best
}
