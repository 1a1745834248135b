//! The first answer: one piece after the other, the large ones first, each as near to where the cloth begins as some random tries find.

use crate::{
    descent::{self, Step},
    drawn::Drawn,
    piece::{Pieces, Spot},
    table::Table,
};

/// Random places that are tried for each piece.
const TRIES: usize = 1000;
/// Of these, the ones that are moved on from, and how fine.
const DESCENTS: usize = 3;
const COARSE: Step = Step {
    first: 0.25,
    last: 0.02,
};
const FINE: Step = Step {
    first: 0.02,
    last: 0.000_5,
};
/// A place further along counts so much more than one further across.
const ALONG: f32 = 10.0;

/// Where each piece lies in a lay that is filled from the left and from the bottom.
///
/// - Method: left-bottom-fill by random places, in the order of hull area × diameter (arXiv:2509.13329, section 8).
pub(crate) fn fill(pieces: &Pieces) -> Option<Vec<Spot>> {
    let longest: f32 = (0..pieces.len()).map(|piece| reach(pieces, piece)).sum();
    let mut table = Table::new(pieces, longest)?;
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    let weight = |piece: &usize| pieces.kind(*piece).hull * pieces.kind(*piece).diameter;
    order.sort_by(|one, other| weight(other).total_cmp(&weight(one)));
    let mut drawn = Drawn::new(0x5eed_2026_1201);
    let mut end = 0.0_f32;
    for piece in order {
        let spot = lowest(&mut table, piece, end, &mut drawn);
        table.put(piece, spot);
        end = end.max(spot.along + pieces.stance(piece, spot).extent.0);
    }
    Some(table.spots)
}

/// The longest side of a piece in any stance, and room for a gap.
fn reach(pieces: &Pieces, piece: usize) -> f32 {
    let stances = pieces.kind(piece).stances.iter();
    let longest = stances.map(|stance| stance.extent.0).fold(0.0, f32::max);
    longest + pieces.cloth.spacing.get() as f32 / 1000.0 + 1.0
}

/// The lowest place of those tried; behind all others, where none is free.
fn lowest(table: &mut Table, piece: usize, end: f32, drawn: &mut Drawn) -> Spot {
    let stances = table.pieces.kind(piece).stances.len();
    let gap = table.pieces.cloth.spacing.get() as f32 / 1000.0 + 1.0;
    let behind = Spot {
        stance: 0,
        along: end + gap,
        across: 0.0,
    };
    let behind = if end == 0.0 {
        Spot {
            along: 0.0,
            ..behind
        }
    } else {
        behind
    };
    let mut best = vec![(value(table, piece, behind), behind)];
    for _ in 0..TRIES {
        let stance = drawn.below(stances);
        let Some((room, across)) = table.room(piece, stance) else {
            continue;
        };
        let spot = Spot {
            stance,
            along: drawn.between(0.0, (end + gap).min(room)),
            across: drawn.between(0.0, across),
        };
        keep_if_free(table, piece, spot, &mut best);
    }
    for spot in best.clone() {
        let found = descent::descend(spot, COARSE.of(table, piece), drawn, |spot, bound| {
            free_value(table, piece, spot, bound)
        });
        best.push(found.0);
    }
    best.sort_by(|one, other| one.0.total_cmp(&other.0));
    let start = best.first().copied().unwrap_or((0.0, behind));
    let fine = FINE.of(table, piece);
    descent::descend(start, fine, drawn, |spot, bound| {
        free_value(table, piece, spot, bound)
    })
    .0
    .1
}

fn keep_if_free(table: &mut Table, piece: usize, spot: Spot, best: &mut Vec<(f32, Spot)>) {
    let bound = match best.len() < DESCENTS {
        true => f32::MAX,
        false => best.last().map_or(f32::MAX, |worst| worst.0),
    };
    if let Some((value, spot)) = free_value(table, piece, spot, bound) {
        best.push((value, spot));
        best.sort_by(|one, other| one.0.total_cmp(&other.0));
        best.truncate(DESCENTS);
    }
}

/// The value of a spot on the cloth where it is below the bound and free.
fn free_value(table: &mut Table, piece: usize, spot: Spot, bound: f32) -> Option<(f32, Spot)> {
    let spot = table.clamped(piece, spot);
    let value = value(table, piece, spot);
    // The query comes last: it costs the most.
    let is_free = value < bound && table.collisions(piece, spot, 0.0, |_, _, _| 1.0) == 0.0;
    is_free.then_some((value, spot))
}

/// How far a piece reaches: along first, then across.
fn value(table: &Table, piece: usize, spot: Spot) -> f32 {
    let (along, across) = table.pieces.stance(piece, spot).extent;
    (spot.along + along) * ALONG + spot.across + across
}
