//! The first answer: one piece after the other, the large ones first, each as near to where the cloth begins as some random tries find.

use crate::{
    descent::{self, Step},
    drawn::Drawn,
    piece::{Pieces, Spot},
    table::Table,
};

/// Lays that are filled, until so many positions were evaluated.
const MOST_FILLS: u64 = 8;
const ENOUGH: u64 = 10_000;
/// Random places that are tried for each piece.
const TRIES: usize = 700;
/// Of these, the ones that are moved on from, and how fine.
const DESCENTS: usize = 12;
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

/// The shortest of some lays that are filled from the left and from the bottom, none longer than `longest` mm: more of them where there
/// are few pieces, so that the first answer comes at once and yet does not hang on luck.
pub(crate) fn shortest(pieces: &Pieces, longest: f32) -> Option<Vec<Spot>> {
    let mut best: Option<(f32, Vec<Spot>)> = None;
    let mut positions = 0;
    for seed in 0..MOST_FILLS {
        if positions >= ENOUGH {
            break;
        }
        let mut table = Table::new(pieces, longest)?;
        let end = fill(&mut table, &mut Drawn::new(seed));
        positions += table.positions;
        if let Some(end) = end.filter(|end| best.as_ref().is_none_or(|(least, _)| end < least)) {
            best = Some((end, table.spots));
        }
    }
    best.map(|(_, spots)| spots)
}

/// Fills a table; returns how far it reaches, or nothing where it is not long enough.
///
/// - Method: left-bottom-fill by random places, in the order of hull area × diameter (arXiv:2509.13329, section 8).
fn fill(table: &mut Table, drawn: &mut Drawn) -> Option<f32> {
    let pieces = table.pieces;
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    let weight = |piece: &usize| pieces.kind(*piece).hull * pieces.kind(*piece).diameter;
    order.sort_by(|one, other| weight(other).total_cmp(&weight(one)));
    let mut end = 0.0_f32;
    for piece in order {
        let spot = lowest(table, piece, end, drawn)?;
        table.put(piece, spot);
        end = end.max(spot.along + pieces.stance(piece, spot).extent.0);
    }
    Some(end)
}

/// The lowest place of those tried, at the latest behind all others.
fn lowest(table: &mut Table, piece: usize, end: f32, drawn: &mut Drawn) -> Option<Spot> {
    let gap = table.pieces.cloth.spacing.get() as f32 / 1000.0 + 1.0;
    let behind = Spot {
        along: if end == 0.0 { 0.0 } else { end + gap },
        ..Spot::default()
    };
    let mut best = Vec::with_capacity(DESCENTS + 1);
    keep_if_free(table, piece, behind, &mut best);
    for _ in 0..TRIES {
        let stance = drawn.below(table.pieces.kind(piece).stances.len());
        if let Some((room, across)) = table.room(piece, stance) {
            let spot = Spot {
                stance,
                along: drawn.between(0.0, (end + gap).min(room)),
                across: drawn.between(0.0, across),
            };
            keep_if_free(table, piece, spot, &mut best);
        }
    }
    let mut descend = |start, step: Step| {
        let step = step.of(table, piece);
        descent::descend(start, step, drawn, |spot, bound| {
            free_value(table, piece, spot, bound)
        })
    };
    let coarse = best.into_iter().map(|start| descend(start, COARSE));
    let coarse = coarse.min_by(|one, other| one.0.total_cmp(&other.0))?;
    Some(descend(coarse, FINE).1)
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
