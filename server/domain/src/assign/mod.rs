//! Which pieces serve several needs at once, decided for all of them together.
//!
//! Each need alone would take the piece that suits it best, and so may take the only one that serves another. [`assign`]
//! looks for a choice that serves every need; where there is none it serves as many as it can. Of choices that serve the same
//! needs it takes the best by [`Score`]: the least waste. The search is exact and deterministic until its budget is spent.

mod offers;
mod score;
mod search;

pub use score::Score;

use search::Search;

/// Offers that are looked at before a search gives up; far more than a garment's needs on an ordinary shelf ask for.
pub const BUDGET: usize = 200_000;

/// A piece with what is free of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The lot's number.
    pub lot: i64,
    /// The piece's number in its lot.
    pub number: i64,
    /// Its full width; zero where it has none, as thread and trims.
    pub width: i64,
    /// What is free in each stretch, from the outer end.
    pub free: Vec<i64>,
}

/// What one unit of a need takes of a piece that serves it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offer {
    /// The piece, as an index.
    pub source: usize,
    /// What serves.
    pub least: i64,
    /// The same rounded up to the cutting step, which it takes where there is room.
    pub rounded: i64,
    /// How far its size is from the one wanted.
    pub off: i64,
    /// True when what it takes depends on an estimate.
    pub estimated: bool,
}

/// How the units of a need come off pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    /// Those of a piece lie together in one stretch.
    Lengths,
    /// Each comes from another piece, as of reels that run at once.
    Apart,
    /// Each is a set that may be joined from several pieces of a lot.
    Joined,
}

/// The open units of a need.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claim {
    /// How many.
    pub units: i64,
    /// True when lots may not be mixed.
    pub one_lot: bool,
    /// How they come off pieces.
    pub split: Split,
    /// Pieces that serve, the best for this need alone first.
    pub offers: Vec<Offer>,
}

/// What a need takes of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Take {
    /// The need, as an index.
    pub claim: usize,
    /// The piece, as an index.
    pub source: usize,
    /// Which stretch, counted from the outer end.
    pub stretch: usize,
    /// Whole units; 0 for a part of a joined set.
    pub units: i64,
    /// All that they take, rounded up where there is room.
    pub quantity: i64,
    /// All that they take at the least.
    pub(crate) least: i64,
    /// All that they would take if each were rounded up.
    pub(crate) rounded: i64,
}

/// A choice of pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// What each need takes, in the order of the needs.
    pub takes: Vec<Take>,
    /// Needs that are left without, as indices; empty when all are served.
    pub unserved: Vec<usize>,
    /// How good it is, for the needs that the shelf can serve at all.
    pub score: Score,
    /// Rests too short to keep: the piece as an index, and the length.
    pub short: Vec<(usize, i64)>,
    /// True when the budget ended the search, so that there may be a better choice.
    pub stopped: bool,
}

/// Chooses pieces for all needs together. `keep`: the shortest rest of cloth that is kept. `None` when `budget` was spent before any
/// choice was found.
#[must_use]
pub fn assign(
    sources: &[Source],
    claims: &[Claim],
    keep: i64,
    budget: usize,
) -> Option<Assignment> {
    let mut search = Search::new(sources, claims, keep, budget);
    let servable = search.servable();
    // Nobody goes without as long as that is possible, then one, then two.
    for without in 0..=servable.len() {
        search.run(&servable, without);
        if search.is_stopped() || search.has_found() {
            break;
        }
    }
    let mut found = search.into_assignment()?;
    found
        .unserved
        .extend((0..claims.len()).filter(|claim| !servable.contains(claim)));
    found.unserved.sort_unstable();
    Some(found)
}
