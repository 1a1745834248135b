//! What becomes of a cancelled garment's material.

use super::acts::{ActId, Garment, Leftover, PieceId, Place, Refusal};
use super::fraction::whole;
use super::plan::{Pin, open, touch};
use super::stock::{Balance, Piece, Stage, Stock, Take};
use super::taking;

/// Gives a garment up.
pub fn cancel(
    stock: &mut Stock,
    id: ActId,
    garment: Garment,
    leftover: Leftover,
) -> Result<Pin, Refusal> {
    touch(stock, id, garment);
    let made = open(stock, garment)?;
    made.stage = Stage::Cancelled;
    let takes = std::mem::take(&mut made.takes);
    stock.release_all(garment);
    match leftover {
        Leftover::Loss => {
            stock.cancelled += takes.iter().map(|take| take.content.value).sum::<i128>()
        }
        Leftover::Into(other) => {
            open(stock, other)?.takes.extend(takes);
            stock.effects.entry(id).or_default().garments.push(other);
        }
        Leftover::Shelf => shelve(stock, id, &takes)?,
    }
    Ok(Pin::default())
}

/// Cloth comes back as a piece of its own for each cut; pooled stock goes back to where it was taken from.
fn shelve(stock: &mut Stock, id: ActId, takes: &[Take]) -> Result<(), Refusal> {
    let mut cuts: Vec<ActId> = takes.iter().map(|take| take.act).collect();
    cuts.dedup();
    for take in takes {
        let source = stock
            .pieces
            .get(&take.piece)
            .ok_or(Refusal::Unknown)?
            .clone();
        let number = cuts
            .iter()
            .position(|cut| *cut == take.act)
            .ok_or(Refusal::Unknown)?;
        let (place, piece) = match take.from {
            Place::Piece(_) => (Place::Piece(PieceId(id, number)), PieceId(id, number)),
            layer => (layer, take.piece),
        };
        let balance: &mut Balance = stock.places.entry(place).or_default();
        balance.quantity += take.content.quantity;
        balance.value += take.content.value;
        taking::add(&mut balance.shares, &take.content.shares, &whole(1));
        let new = Piece {
            quantity: 0,
            promised: Default::default(),
            ..source
        };
        stock.pieces.entry(piece).or_insert(new).quantity += take.content.quantity;
        let effect = stock.effects.entry(id).or_default();
        effect.brought.push(place);
        effect.pieces.push(piece);
    }
    Ok(())
}
