//! Balances: what lies where, what it is worth, and which receipts it stems from.

use std::collections::BTreeMap;

use super::acts::{ActId, Garment, Gone, Kind, LotId, PieceId, Place};
use super::fraction::Fraction;

/// Which part of each lot, as it was received, is here.
pub type Shares = BTreeMap<LotId, Fraction>;

/// A quantity and its value in millionths.
#[derive(Clone, Debug, Default)]
pub struct Balance {
    /// Micrometres or a count.
    pub quantity: i128,
    /// Millionths of the major unit.
    pub value: i128,
    /// The part of each lot that this is.
    pub shares: Shares,
}

/// What a cut took from one place.
#[derive(Clone, Debug)]
pub struct Take {
    /// The act that took it.
    pub act: ActId,
    /// The piece it was cut from.
    pub piece: PieceId,
    /// Where its value lay.
    pub from: Place,
    /// What was taken, with late charges that followed it.
    pub content: Balance,
    /// It was an own mistake: a loss, not the garment's.
    pub mistake: bool,
}

/// A piece as it lies.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The lot it is of.
    pub lot: LotId,
    /// How its value is kept.
    pub kind: Kind,
    /// The material.
    pub material: usize,
    /// Micrometres or a count.
    pub quantity: i128,
    /// What is promised of it, to which garment.
    pub promised: BTreeMap<ActId, (Garment, i128)>,
}

impl Piece {
    /// The sum of its promises.
    pub fn promised(&self) -> i128 {
        self.promised.values().map(|(_, length)| length).sum()
    }
}

/// How far a garment has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Planned or cut into.
    Open,
    /// Finished.
    Finished,
    /// Handed over.
    Delivered,
    /// Given up.
    Cancelled,
}

/// A garment's material and state.
#[derive(Clone, Debug)]
pub struct Made {
    /// How many were started.
    pub count: i128,
    /// How far it has come.
    pub stage: Stage,
    /// What was taken for it.
    pub takes: Vec<Take>,
    /// What a spoiled share took from it as a loss.
    pub spoiled: i128,
}

impl Made {
    /// The material's value.
    pub fn material(&self) -> i128 {
        self.takes
            .iter()
            .map(|take| take.content.value)
            .sum::<i128>()
            - self.spoiled
    }

    /// The part of a lot that is in the garment.
    pub fn share_of(&self, lot: LotId) -> Fraction {
        self.takes
            .iter()
            .filter_map(|take| take.content.shares.get(&lot))
            .sum()
    }
}

/// What an act did, for the question whether it can be undone.
#[derive(Clone, Debug, Default)]
pub struct Effect {
    /// Pieces and layers that got goods, or whose quantity or value changed other than by a taking.
    pub brought: Vec<Place>,
    /// Pieces of pooled stock that it brought or changed (their quantity; the layer has the value).
    pub pieces: Vec<PieceId>,
    /// Layers or pieces that it took from.
    pub taken: Vec<Place>,
    /// Pieces that it took from.
    pub taken_pieces: Vec<PieceId>,
    /// Garments whose value it changed.
    pub garments: Vec<Garment>,
    /// Lots that it brought, took from or charged.
    pub lots: Vec<LotId>,
}

/// All balances after a history.
#[derive(Clone, Debug, Default)]
pub struct Stock {
    /// Pieces with their quantity.
    pub pieces: BTreeMap<PieceId, Piece>,
    /// Value by place.
    pub places: BTreeMap<Place, Balance>,
    /// Garments.
    pub garments: BTreeMap<Garment, Made>,
    /// Own mistakes: cut wrongly or spoiled.
    pub mistakes: i128,
    /// Material of cancelled garments that nobody kept.
    pub cancelled: i128,
    /// What goods cost that left the shelf for no garment.
    pub gone: BTreeMap<Gone, i128>,
    /// What late charges could not put on anything that is still here.
    pub adjustments: i128,
    /// Landed cost of each purchase, in millionths.
    pub landed: BTreeMap<ActId, i128>,
    /// What each act did.
    pub effects: BTreeMap<ActId, Effect>,
}

impl Stock {
    /// What of a piece is not promised.
    pub fn free(&self, piece: PieceId) -> i128 {
        self.pieces
            .get(&piece)
            .map_or(0, |piece| piece.quantity - piece.promised())
    }

    /// A garment that is finished or given up needs no promise any more.
    pub fn release_all(&mut self, of: Garment) {
        for piece in self.pieces.values_mut() {
            piece.promised.retain(|_, (garment, _)| *garment != of);
        }
    }

    /// The value of everything on the shelf.
    pub fn shelf(&self) -> i128 {
        self.places.values().map(|balance| balance.value).sum()
    }
}
