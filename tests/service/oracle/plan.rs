//! What each act does to the balances.

use super::acts::{Act, ActId, Garment, LotId, Method, PieceId, Refusal};
use super::fraction::{nearest, ratio, whole};
use super::stock::{Made, Stage, Stock, Take};
use super::{leftover, receipts, taking};

/// What an act once did and does again in every replay, since a booking never changes.
#[derive(Clone, Debug, Default)]
pub struct Pin {
    /// What it took.
    pub takes: Vec<Take>,
    /// What it added to a piece's quantity.
    pub delta: i128,
}

/// Applies an act. `pin` is what it did when it was booked; without one it is worked out.
pub fn apply(
    stock: &mut Stock,
    method: Method,
    earlier: &[Act],
    id: ActId,
    act: &Act,
    pin: Option<&Pin>,
) -> Result<Pin, Refusal> {
    stock.effects.entry(id).or_default();
    match act {
        Act::Buy { .. } => receipts::buy(stock, method, id, act),
        Act::Charge {
            purchase,
            key,
            amount,
        } => receipts::charge(stock, earlier, id, *purchase, *key, *amount),
        Act::Plan { count } => {
            let made = Made {
                count: *count,
                stage: Stage::Open,
                takes: Vec::new(),
                spoiled: 0,
            };
            stock.garments.insert(id, made);
            Ok(Pin::default())
        }
        Act::Cut {
            garment,
            piece,
            quantity,
            mistake,
        } => cut(
            stock,
            method,
            id,
            (*garment, *piece, *quantity, *mistake),
            pin,
        ),
        Act::Leave {
            piece,
            quantity,
            to,
        } => {
            let takes = take(stock, method, id, (*piece, *quantity), pin)?;
            let cost: i128 = takes.iter().map(|take| take.content.value).sum();
            *stock.gone.entry(*to).or_default() += cost;
            Ok(Pin { takes, delta: 0 })
        }
        Act::Reserve {
            garment,
            piece,
            length,
        } => {
            open(stock, *garment)?;
            if *length <= 0 || stock.free(*piece) < *length {
                return Err(Refusal::TooMuch);
            }
            let found = stock.pieces.get_mut(piece).ok_or(Refusal::Unknown)?;
            found.promised.insert(id, (*garment, *length));
            Ok(Pin::default())
        }
        Act::Release { reservation } => {
            let mut pieces = stock.pieces.values_mut();
            pieces
                .find_map(|piece| piece.promised.remove(reservation))
                .ok_or(Refusal::Unknown)?;
            Ok(Pin::default())
        }
        Act::Wash { piece, length } => resize(stock, method, id, *piece, *length, pin),
        Act::Measure { piece, quantity } => resize(stock, method, id, *piece, *quantity, pin),
        Act::Finish {
            garment,
            good,
            spoiled,
        } => {
            let made = open(stock, *garment)?;
            if *good < 0 || *spoiled < 0 || good + spoiled != made.count {
                return Err(Refusal::Nothing);
            }
            let lost = nearest(&(whole(made.material()) * ratio(*spoiled, made.count)));
            made.spoiled = lost;
            made.stage = Stage::Finished;
            stock.mistakes += lost;
            stock.release_all(*garment);
            touch(stock, id, *garment);
            Ok(Pin::default())
        }
        Act::Deliver { garment } => {
            let made = stock.garments.get_mut(garment).ok_or(Refusal::Unknown)?;
            if made.stage != Stage::Finished {
                return Err(Refusal::Settled);
            }
            made.stage = Stage::Delivered;
            touch(stock, id, *garment);
            Ok(Pin::default())
        }
        Act::Cancel { garment, leftover } => leftover::cancel(stock, id, *garment, *leftover),
        Act::Work {
            garment, minutes, ..
        } => {
            open(stock, *garment)?;
            stock.effects.entry(id).or_default().garments.push(*garment);
            if *minutes > 0 {
                Ok(Pin::default())
            } else {
                Err(Refusal::Nothing)
            }
        }
        Act::Person { .. } | Act::Pay { .. } | Act::Overhead { .. } => Ok(Pin::default()),
    }
}

/// Notes that an act reached a garment and every lot in it.
pub fn touch(stock: &mut Stock, id: ActId, garment: Garment) {
    let lots = stock
        .garments
        .get(&garment)
        .into_iter()
        .flat_map(|made| &made.takes);
    let lots: Vec<LotId> = lots
        .flat_map(|take| take.content.shares.keys().copied())
        .collect();
    let effect = stock.effects.entry(id).or_default();
    effect.garments.push(garment);
    effect.lots.extend(lots);
}

/// The garment, while it is neither finished nor given up.
pub fn open(stock: &mut Stock, garment: Garment) -> Result<&mut Made, Refusal> {
    let made = stock.garments.get_mut(&garment).ok_or(Refusal::Unknown)?;
    if made.stage == Stage::Open {
        Ok(made)
    } else {
        Err(Refusal::Settled)
    }
}

fn cut(
    stock: &mut Stock,
    method: Method,
    id: ActId,
    (garment, piece, quantity, mistake): (Garment, PieceId, i128, bool),
    pin: Option<&Pin>,
) -> Result<Pin, Refusal> {
    open(stock, garment)?;
    let mut takes = take(stock, method, id, (piece, quantity), pin)?;
    for take in &mut takes {
        take.mistake = mistake;
    }
    stock.effects.entry(id).or_default().garments.push(garment);
    if mistake {
        stock.mistakes += takes.iter().map(|take| take.content.value).sum::<i128>();
    } else {
        open(stock, garment)?.takes.extend(takes.clone());
    }
    Ok(Pin { takes, delta: 0 })
}

/// Takes material for good: what was taken once stays as it was.
fn take(
    stock: &mut Stock,
    method: Method,
    id: ActId,
    (piece, quantity): (PieceId, i128),
    pin: Option<&Pin>,
) -> Result<Vec<Take>, Refusal> {
    let takes = match pin {
        Some(pin) => {
            taking::repeat(stock, &pin.takes)?;
            pin.takes.clone()
        }
        None => taking::take(stock, method, id, piece, quantity)?,
    };
    let effect = stock.effects.entry(id).or_default();
    effect.taken_pieces.push(piece);
    for take in &takes {
        effect.taken.push(take.from);
        effect.lots.extend(take.content.shares.keys());
    }
    Ok(takes)
}

/// Washing and measuring change a quantity; the value stays.
fn resize(
    stock: &mut Stock,
    method: Method,
    id: ActId,
    piece: PieceId,
    quantity: i128,
    pin: Option<&Pin>,
) -> Result<Pin, Refusal> {
    let found = stock.pieces.get_mut(&piece).ok_or(Refusal::Unknown)?;
    if quantity <= 0 {
        return Err(Refusal::Nothing);
    }
    let delta = pin.map_or(quantity - found.quantity, |pin| pin.delta);
    found.quantity += delta;
    let promised = found.promised();
    let place = taking::home(method, found.kind, piece, found.lot, found.material);
    if found.quantity < promised {
        return Err(Refusal::TooMuch);
    }
    let balance = stock.places.get_mut(&place).ok_or(Refusal::Unknown)?;
    balance.quantity += delta;
    if balance.quantity < 0 {
        return Err(Refusal::Negative);
    }
    let effect = stock.effects.entry(id).or_default();
    effect.brought.push(place);
    effect.pieces.push(piece);
    Ok(Pin {
        takes: Vec::new(),
        delta,
    })
}
