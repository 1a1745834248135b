//! A lay that got stuck, with two large pieces exchanged.

use crate::{
    drawn::Drawn,
    piece::{Pieces, Spot},
};

/// Of the pieces by their hulls, those that make up so much of all area are large.
const LARGE: f32 = 0.75;

/// Exchanges the middles of two large pieces of different kinds, where there are such.
pub(crate) fn swapped(pieces: &Pieces, mut spots: Vec<Spot>, drawn: &mut Drawn) -> Vec<Spot> {
    let large = large(pieces);
    let one = large[drawn.below(large.len())];
    let kind = |piece: &usize| pieces.pieces[*piece];
    let others = large
        .iter()
        .copied()
        .filter(|other| kind(other) != kind(&one));
    let others: Vec<usize> = others.collect();
    if let Some(other) = others.get(drawn.below(others.len())).copied() {
        let (here, there) = (middle(pieces, one, &spots), middle(pieces, other, &spots));
        spots[one] = around(pieces, one, spots[one], there);
        spots[other] = around(pieces, other, spots[other], here);
    }
    spots
}

fn middle(pieces: &Pieces, piece: usize, spots: &[Spot]) -> (f32, f32) {
    let spot = spots[piece];
    let (along, across) = pieces.stance(piece, spot).extent;
    (spot.along + along / 2.0, spot.across + across / 2.0)
}

fn around(pieces: &Pieces, piece: usize, spot: Spot, middle: (f32, f32)) -> Spot {
    let (along, across) = pieces.stance(piece, spot).extent;
    Spot {
        stance: spot.stance,
        along: middle.0 - along / 2.0,
        across: middle.1 - across / 2.0,
    }
}

/// The largest pieces, which make up most of the area.
fn large(pieces: &Pieces) -> Vec<usize> {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|one, other| pieces.kind(*other).hull.total_cmp(&pieces.kind(*one).hull));
    let all: f32 = order.iter().map(|piece| pieces.kind(*piece).hull).sum();
    let mut sum = 0.0;
    order.retain(|piece| {
        let before = sum;
        sum += pieces.kind(*piece).hull;
        before < all * LARGE
    });
    order
}
