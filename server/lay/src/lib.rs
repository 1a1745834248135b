//! Outlines packed on cloth: a first answer at once, and a search for a shorter one.
//!
//! - Floats are allowed here, as in the reader of pattern files, and only to propose: each answer is a [`Lay`], whose one constructor checks it exactly in
//!   whole micrometres. What the check refuses is never answered.
//! - Method: Gardeyn J., Vanden Berghe G., Wauters T., "An open-source heuristic to reboot 2D nesting research", arXiv:2509.13329 (2025):
//!   pieces may overlap on cloth that is too short, and are moved apart by a guided local search. Written from the paper's steps.
//! - Engine: `jagua-rs` answers what an outline would lie over; the search asks it for nothing else.
//! - A search is counted in positions that were evaluated. The same parts, cloth, seed and count give the same placements on one
//!   architecture, in any build: there is no clock, thread or hash order in it. More positions never give a longer lay.
//!
//! What may lie how is up to the domain: [`ellwand_domain::lay::Ways`] for the cloth, `may_flip` for a part.

mod bottom_left;
mod descent;
mod drawn;
mod exact;
mod explore;
mod fault;
mod loss;
mod meter;
mod moves;
mod piece;
mod rectangles;
mod separate;
mod shape;
mod stance;
mod swap;
mod table;
mod workers;

pub use fault::{LayFault, MOST_PARTS};
pub use workers::{Seeds, search_by};

use ellwand_domain::lay::{Lay, LayCloth, LayPart};
use explore::Search;
use meter::Meter;
use piece::Pieces;
use std::{
    sync::atomic::AtomicBool,
    time::{Duration, Instant},
};

/// How long a search goes on.
#[derive(Debug, Clone, Copy)]
pub struct Budget {
    /// Positions that are evaluated; about 300,000 take a second of a processor.
    pub positions: u64,
    /// An upper stop by the clock. [`Found::positions`] then says the count that repeats the lay.
    pub time: Option<Duration>,
    /// What random numbers begin with.
    pub seed: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self {
            positions: 1_000_000,
            time: None,
            seed: 1,
        }
    }
}

/// What a search found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The shortest lay.
    pub lay: Lay,
    /// Positions that were evaluated: a budget of so many, with the same seed, gives the same lay.
    pub positions: u64,
    /// The seed that found it.
    pub seed: u64,
}

/// A lay at once, in some milliseconds: always the same for the same parts and cloth.
///
/// The shortest of large parts first as near to the begin of the cloth as they go, rows, and for rectangles alone the domain's packing.
///
/// # Errors
/// [`LayFault`], where the parts cannot be laid on that cloth, or not within its length by this.
pub fn first(parts: &[LayPart], cloth: LayCloth) -> Result<Lay, LayFault> {
    let pieces = Pieces::new(parts, cloth)?;
    let lay = start(&pieces)?;
    on_cloth(&pieces, lay)
}

/// Searches for a shorter lay than [`first`]'s, and than `known`'s, and never answers a longer one. A lay that was made for narrower
/// cloth, more parts or fewer directions serves as `known`: then these never need more. `progress` is called with
/// each shorter lay, on cloth without an end.
///
/// # Errors
/// [`LayFault`], as [`first`], with all of the budget used up.
pub fn search(
    parts: &[LayPart],
    cloth: LayCloth,
    budget: Budget,
    known: Option<&Lay>,
    progress: &mut dyn FnMut(&Lay),
    cancel: &AtomicBool,
) -> Result<Found, LayFault> {
    let until = budget.time.map(|time| Instant::now() + time);
    let pieces = Pieces::new(parts, cloth)?;
    let mut lay = start(&pieces)?;
    if let Some(known) = known.and_then(|known| exact::taken_over(&pieces, known))
        && known.length() < lay.length()
    {
        lay = known;
    }
    let meter = Meter {
        positions: budget.positions,
        until,
        cancel,
        phase: 0,
    };
    let search = Search::new(&pieces, lay.clone(), budget.seed, meter, progress);
    let (lay, positions) = search.map_or((lay, 0), Search::run);
    Ok(Found {
        lay: on_cloth(&pieces, lay)?,
        positions,
        seed: budget.seed,
    })
}

/// The shortest of the answers that take no search, on cloth without an end.
fn start(pieces: &Pieces) -> Result<Lay, LayFault> {
    let mut shortest = exact::rows(pieces)?;
    let longest = explore::length(&shortest);
    let filled =
        bottom_left::shortest(pieces, longest).and_then(|spots| exact::lay(pieces, &spots).ok());
    for lay in [rectangles::packed(pieces), filled].into_iter().flatten() {
        if lay.length() < shortest.length() {
            shortest = lay;
        }
    }
    Ok(shortest)
}

/// The same lay on the cloth as it was given, which may end.
fn on_cloth(pieces: &Pieces, lay: Lay) -> Result<Lay, LayFault> {
    match pieces.cloth.length {
        Some(length) if length < lay.length() => Err(LayFault::TooShort {
            needed: lay.length(),
            length,
        }),
        _ => Ok(Lay::new(
            pieces.cloth,
            pieces.parts.clone(),
            lay.placements().to_vec(),
        )?),
    }
}
