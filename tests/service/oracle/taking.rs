//! Taking from a piece or from the layers of its material.

use super::acts::{ActId, Kind, LotId, Method, PieceId, Place, Refusal};
use super::fraction::{Fraction, nearest, ratio, whole};
use super::stock::{Balance, Piece, Shares, Stock, Take};

/// Where the value of pooled stock that came with `lot` is kept.
pub fn home(method: Method, kind: Kind, piece: PieceId, lot: LotId, material: usize) -> Place {
    match (kind, method) {
        (Kind::Cloth, _) => Place::Piece(piece),
        (Kind::Pooled, Method::Fifo) => Place::Layer(lot),
        (Kind::Pooled, Method::Average) => Place::Pool(material),
    }
}

/// Takes `quantity` of a piece: value by quantity, rounded once; what empties a place takes its rest.
pub fn take(
    stock: &mut Stock,
    method: Method,
    act: ActId,
    piece: PieceId,
    quantity: i128,
) -> Result<Vec<Take>, Refusal> {
    if quantity <= 0 {
        return Err(Refusal::Nothing);
    }
    let found = stock.pieces.get(&piece).ok_or(Refusal::Unknown)?.clone();
    if stock.free(piece) < quantity {
        return Err(Refusal::TooMuch);
    }
    let order = order(stock, method, piece, &found);
    let mut open = quantity;
    let mut takes = Vec::new();
    for from in order {
        let here = stock.places[&from].quantity.min(open);
        if here > 0 {
            let content = portion(&stock.places[&from], here);
            takes.push(Take {
                act,
                piece,
                from,
                content,
                mistake: false,
            });
            open -= here;
        }
    }
    if open > 0 {
        return Err(Refusal::TooMuch);
    }
    repeat(stock, &takes)?;
    Ok(takes)
}

/// Books takings that were worked out before.
pub fn repeat(stock: &mut Stock, takes: &[Take]) -> Result<(), Refusal> {
    for take in takes {
        let piece = stock.pieces.get_mut(&take.piece).ok_or(Refusal::Unknown)?;
        piece.quantity -= take.content.quantity;
        let place = stock.places.get_mut(&take.from).ok_or(Refusal::Unknown)?;
        place.quantity -= take.content.quantity;
        place.value -= take.content.value;
        add(&mut place.shares, &take.content.shares, &whole(-1));
        if piece.quantity < 0 || place.quantity < 0 || place.value < 0 {
            return Err(Refusal::Negative);
        }
    }
    Ok(())
}

/// Adds `factor` times `more` to `shares`.
pub fn add(shares: &mut Shares, more: &Shares, factor: &Fraction) {
    for (lot, share) in more {
        *shares.entry(*lot).or_insert_with(|| whole(0)) += share * factor;
    }
}

fn order(stock: &Stock, method: Method, piece: PieceId, found: &Piece) -> Vec<Place> {
    match (found.kind, method) {
        (Kind::Cloth, _) => vec![Place::Piece(piece)],
        (Kind::Pooled, Method::Average) => vec![Place::Pool(found.material)],
        (Kind::Pooled, Method::Fifo) => {
            let mut lots: Vec<LotId> = stock
                .pieces
                .values()
                .filter(|other| other.material == found.material)
                .map(|other| other.lot)
                .collect();
            lots.sort();
            lots.dedup();
            lots.into_iter()
                .map(Place::Layer)
                .filter(|place| stock.places.contains_key(place))
                .collect()
        }
    }
}

fn portion(balance: &Balance, quantity: i128) -> Balance {
    let part = ratio(quantity, balance.quantity);
    let value = if quantity == balance.quantity {
        balance.value
    } else {
        nearest(&(whole(balance.value) * &part))
    };
    let mut shares = Shares::new();
    add(&mut shares, &balance.shares, &part);
    Balance {
        quantity,
        value,
        shares,
    }
}
