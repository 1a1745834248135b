//! The search: shorter and shorter cloth, on which the pieces are moved apart.

use crate::{
    drawn::Drawn,
    exact,
    meter::Meter,
    piece::{Pieces, Spot, UM_PER_MM},
    separate::{Overlaps, Patience},
    swap,
    table::Table,
};
use ellwand_domain::lay::Lay;

/// Positions of the first cycle of exploring and compressing, and how much longer each next one is. Cycles do not hang on the budget, so
/// that a larger one never finds less.
const FIRST_CYCLE: u64 = 50_000;
const LONGER: (u64, u64) = (7, 5);
/// Share of a cycle that explores.
const EXPLORES: (u64, u64) = (4, 5);
/// A length that makes no difference; micrometres.
const UNSEEN: i64 = 10;
/// The cloth is shortened by these shares: while exploring; at the begin and the end of compressing.
const EXPLORE: f32 = 0.001;
const COMPRESS: (f32, f32) = (0.000_5, 0.000_01);
const EXPLORING: Patience = Patience {
    rounds: 200,
    goes: 3,
};
const COMPRESSING: Patience = Patience {
    rounds: 100,
    goes: 5,
};

/// A search under way.
pub(crate) struct Search<'a, 'b> {
    pieces: &'a Pieces,
    overlaps: Overlaps<'a>,
    drawn: Drawn,
    meter: Meter<'b>,
    /// The shortest lay so far, and where its pieces lie.
    best: (Lay, Vec<Spot>),
    /// Lays in which something still overlaps, at the length that is tried, by their loss.
    pool: Vec<(f32, Vec<Spot>)>,
    progress: &'b mut dyn FnMut(&Lay),
}

impl<'a, 'b> Search<'a, 'b> {
    /// A search from a lay of the pieces on.
    pub(crate) fn new(
        pieces: &'a Pieces,
        lay: Lay,
        seed: u64,
        meter: Meter<'b>,
        progress: &'b mut dyn FnMut(&Lay),
    ) -> Option<Self> {
        let spots = exact::spots(pieces, &lay)?;
        let mut table = Table::new(pieces, length(&lay))?;
        table.fill(&spots);
        Some(Self {
            pieces,
            overlaps: Overlaps::new(table),
            drawn: Drawn::new(seed),
            meter,
            best: (lay, spots),
            pool: Vec::new(),
            progress,
        })
    }

    /// Searches until the budget is used up or no shorter lay is possible; returns the lay and the positions.
    ///
    /// - Method: explore and compress (arXiv:2509.13329, algorithms 12 and 13), in turns.
    pub(crate) fn run(mut self) -> (Lay, u64) {
        let least = self.pieces.least_length();
        let (mut begin, mut cycle) = (0, FIRST_CYCLE);
        while !self.is_finished(least) {
            self.meter.phase = begin + cycle * EXPLORES.0 / EXPLORES.1;
            self.explore(least);
            let explored = self.meter.phase;
            self.meter.phase = begin + cycle;
            self.compress(explored, least);
            begin += cycle;
            cycle = cycle * LONGER.0 / LONGER.1;
        }
        (
            self.best.0,
            self.overlaps.table.positions.min(self.meter.positions),
        )
    }

    /// True where nothing is shorter that could be seen.
    fn is_shortest(&self, least: i64) -> bool {
        self.best.0.length().get() <= least + UNSEEN
    }

    fn is_finished(&self, least: i64) -> bool {
        self.is_shortest(least) || self.meter.is_finished(self.overlaps.table.positions)
    }

    fn is_phase_over(&self, least: i64) -> bool {
        self.is_shortest(least) || self.meter.is_over(self.overlaps.table.positions)
    }

    /// Tries shorter cloth; where pieces cannot be moved apart, goes on from a lay of little loss with two large pieces exchanged.
    fn explore(&mut self, least: i64) {
        if self.pool.is_empty() {
            self.shorten(EXPLORE, 0.5);
        } else {
            self.disrupt();
        }
        while !self.is_phase_over(least) {
            let loss = self
                .overlaps
                .separate(EXPLORING, &mut self.drawn, &self.meter);
            if loss == 0.0 && self.accept() {
                self.pool.clear();
                self.shorten(EXPLORE, 0.5);
            } else {
                let spots = self.overlaps.table.spots.clone();
                let at = self.pool.partition_point(|known| known.0 < loss);
                self.pool.insert(at, (loss, spots));
                self.disrupt();
            }
        }
    }

    /// Squeezes the best lay, from larger shares to smaller ones as the phase goes by.
    fn compress(&mut self, begin: u64, least: i64) {
        let tried = self.overlaps.table.length;
        while !self.is_phase_over(least) {
            let done = self.overlaps.table.positions.saturating_sub(begin);
            let share = done as f32 / (self.meter.phase - begin) as f32;
            let middle = self.drawn.share();
            self.shorten(COMPRESS.0 + (COMPRESS.1 - COMPRESS.0) * share, middle);
            let loss = self
                .overlaps
                .separate(COMPRESSING, &mut self.drawn, &self.meter);
            if loss == 0.0 && self.accept() {
                self.pool.clear();
            }
        }
        // What is in the pool was laid on cloth of this length.
        self.overlaps.table.length = tried;
    }

    /// Lays the best lay on cloth that is shorter by a share; all beyond a middle moves up by it.
    fn shorten(&mut self, share: f32, middle: f32) {
        let long = length(&self.best.0);
        let short = long * (1.0 - share);
        let moved = self.best.1.iter().enumerate().map(|(piece, spot)| {
            let half = self.pieces.stance(piece, *spot).extent.0 / 2.0;
            let is_beyond = spot.along + half > long * middle;
            let along = if is_beyond {
                spot.along - (long - short)
            } else {
                spot.along
            };
            Spot { along, ..*spot }
        });
        let moved: Vec<Spot> = moved.collect();
        self.overlaps.lay(&moved, short);
    }

    /// Goes on from a lay of the pool, rather one of little loss, with two large pieces of different kinds exchanged.
    fn disrupt(&mut self) {
        let count = self.pool.len();
        let at = self.drawn.below(count).min(self.drawn.below(count));
        if let Some((_, spots)) = self.pool.get(at) {
            let spots = swap::swapped(self.pieces, spots.clone(), &mut self.drawn);
            let length = self.overlaps.table.length;
            self.overlaps.lay(&spots, length);
        }
    }

    /// Keeps what lies on the table, if the check lets it pass and it is shorter.
    fn accept(&mut self) -> bool {
        let spots = &self.overlaps.table.spots;
        match exact::lay(self.pieces, spots) {
            Ok(lay) if lay.length() < self.best.0.length() => {
                (self.progress)(&lay);
                self.best = (lay, spots.clone());
                true
            }
            _ => false,
        }
    }
}

/// Length of a lay in mm.
pub(crate) fn length(lay: &Lay) -> f32 {
    lay.length().get() as f32 / UM_PER_MM
}
