//! Moves pieces apart that overlap, until none does, on cloth of a fixed length.

use crate::{drawn::Drawn, loss, meter::Meter, moves, piece::Spot, table::Table};

/// Weights of pairs grow by these factors, the worst pair's by the larger, and decay by the last.
const GROWTH: (f32, f32) = (1.2, 2.0);
const DECAY: f32 = 0.95;
/// A loss below this share of the least so far is worth another go.
const MUCH: f32 = 0.98;

/// How long it is tried: rounds without a better loss, and goes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Patience {
    pub(crate) rounds: usize,
    pub(crate) goes: usize,
}

/// Pieces on a table, some over others, with the losses and weights of all pairs.
pub(crate) struct Overlaps<'a> {
    pub(crate) table: Table<'a>,
    losses: Vec<f32>,
    weights: Vec<f32>,
}

impl<'a> Overlaps<'a> {
    pub(crate) fn new(table: Table<'a>) -> Self {
        let pairs = table.pieces.len() * table.pieces.len();
        Self {
            table,
            losses: vec![0.0; pairs],
            weights: vec![1.0; pairs],
        }
    }

    /// Lays all pieces anew on cloth of a length; whatever would reach beyond is moved back.
    pub(crate) fn lay(&mut self, spots: &[Spot], length: f32) {
        self.table.length = length;
        for (piece, spot) in spots.iter().enumerate() {
            let spot = self.table.clamped(piece, *spot);
            if self.table.spots[piece] != spot {
                self.table.take(piece);
                self.table.put(piece, spot);
            }
        }
        for piece in 0..spots.len() {
            self.table.take(piece);
            self.measure(piece);
            let spot = self.table.spots[piece];
            self.table.put(piece, spot);
        }
    }

    /// The weighed loss of a piece that was taken up, at a spot.
    pub(crate) fn weighed(&mut self, piece: usize, spot: Spot, bound: f32) -> f32 {
        let count = self.table.pieces.len();
        let weights = &self.weights[piece * count..][..count];
        let weighed =
            |other: usize, one: &_, beside: &_| weights[other] * loss::of_pair(one, beside);
        self.table.collisions(piece, spot, bound, weighed)
    }

    /// Writes down the losses of a piece that was taken up, where it lay.
    fn measure(&mut self, piece: usize) {
        let count = self.table.pieces.len();
        for other in 0..count {
            self.losses[piece * count + other] = 0.0;
            self.losses[other * count + piece] = 0.0;
        }
        let (losses, spot) = (&mut self.losses, self.table.spots[piece]);
        self.table
            .collisions(piece, spot, f32::MAX, |other, one, beside| {
                let loss = loss::of_pair(one, beside);
                losses[piece * count + other] = loss;
                losses[other * count + piece] = loss;
                loss
            });
    }

    /// The sum over all pairs.
    fn total(&self) -> f32 {
        self.losses.iter().sum::<f32>() / 2.0
    }

    fn overlaps(&self, piece: usize) -> bool {
        let count = self.table.pieces.len();
        self.losses[piece * count..][..count]
            .iter()
            .any(|loss| *loss > 0.0)
    }

    /// Gives every piece that lies over another a better place, in random order; false when the budget is used up.
    fn round(&mut self, drawn: &mut Drawn, meter: &Meter) -> bool {
        let mut order: Vec<usize> = (0..self.table.pieces.len()).collect();
        order.retain(|piece| self.overlaps(*piece));
        drawn.shuffle(&mut order);
        for piece in order {
            if !self.overlaps(piece) {
                continue;
            }
            if meter.is_over(self.table.positions) {
                return false;
            }
            self.table.take(piece);
            let (_, spot) = moves::better(self, piece, drawn);
            self.table.spots[piece] = spot;
            self.measure(piece);
            self.table.put(piece, spot);
        }
        true
    }

    /// Pairs that overlap weigh more from round to round, so that what stays stuck gets in the way of everything else.
    fn weigh(&mut self) {
        let most = self.losses.iter().copied().fold(0.0, f32::max);
        for (weight, loss) in self.weights.iter_mut().zip(&self.losses) {
            *weight = match *loss > 0.0 {
                true => *weight * (GROWTH.0 + (GROWTH.1 - GROWTH.0) * loss / most),
                false => (*weight * DECAY).max(1.0),
            };
        }
    }

    /// Moves pieces until none overlaps. On failure those with the least loss are left on the table; returns that loss, 0 on success.
    ///
    /// - Method: guided local search (arXiv:2509.13329, algorithms 8 and 9).
    pub(crate) fn separate(&mut self, patience: Patience, drawn: &mut Drawn, meter: &Meter) -> f32 {
        self.weights.fill(1.0);
        let mut least = (self.total(), self.table.spots.clone());
        let mut failed = 0;
        while failed < patience.goes && least.0 > 0.0 {
            let before = least.0;
            let mut idle = 0;
            while idle < patience.rounds {
                if !self.round(drawn, meter) {
                    return least.0;
                }
                let total = self.total();
                idle = if total < least.0 * MUCH { 0 } else { idle + 1 };
                if total < least.0 {
                    least = (total, self.table.spots.clone());
                }
                if total == 0.0 {
                    return 0.0;
                }
                self.weigh();
            }
            failed = if least.0 < before * MUCH {
                0
            } else {
                failed + 1
            };
            let length = self.table.length;
            self.lay(&least.1, length);
        }
        least.0
    }
}
