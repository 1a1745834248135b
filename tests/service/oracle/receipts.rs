//! What is bought, and what is charged on it later.

use super::acts::{Act, ActId, Key, LotId, Method, PieceId, Place, Refusal};
use super::fraction::whole;
use super::plan::Pin;
use super::stock::{Piece, Stock};
use super::{charges, purchase, taking};

/// Millionths in a minor unit of a currency with two digits.
pub const MINOR: i128 = 10_000;

/// A purchase: each line is a lot of one piece at its landed cost.
pub fn buy(stock: &mut Stock, method: Method, id: ActId, act: &Act) -> Result<Pin, Refusal> {
    let Act::Buy { lines, charge } = act else {
        return Err(Refusal::Unknown);
    };
    let landed = purchase::landed(lines, *charge);
    for (number, (line, cost)) in lines.iter().zip(&landed).enumerate() {
        if line.quantity <= 0 || line.price < 0 {
            return Err(Refusal::Nothing);
        }
        if *cost < 0 {
            return Err(Refusal::Negative);
        }
        let (lot, piece) = (LotId(id, number), PieceId(id, number));
        let place = taking::home(method, line.kind, piece, lot, line.material);
        let balance = stock.places.entry(place).or_default();
        balance.quantity += line.quantity;
        balance.value += cost * MINOR;
        balance.shares.insert(lot, whole(1));
        let (kind, material, quantity) = (line.kind, line.material, line.quantity);
        stock.pieces.insert(
            piece,
            Piece {
                lot,
                kind,
                material,
                quantity,
                promised: Default::default(),
            },
        );
        let effect = stock.effects.entry(id).or_default();
        effect.brought.push(place);
        effect.pieces.push(piece);
        effect.lots.push(lot);
    }
    stock.landed.insert(id, landed.iter().sum::<i128>() * MINOR);
    Ok(Pin::default())
}

/// A late charge or credit, shared by its key over the lines.
pub fn charge(
    stock: &mut Stock,
    earlier: &[Act],
    id: ActId,
    purchase: ActId,
    key: Key,
    amount: i128,
) -> Result<Pin, Refusal> {
    let (Some(Act::Buy { lines, .. }), true) =
        (earlier.get(purchase), stock.landed.contains_key(&purchase))
    else {
        return Err(Refusal::Unknown);
    };
    if amount == 0 {
        return Err(Refusal::Nothing);
    }
    for (number, part) in purchase::share(lines, key, amount).into_iter().enumerate() {
        let lot = LotId(purchase, number);
        let places = charges::put(stock, lot, part * MINOR)?;
        let effect = stock.effects.entry(id).or_default();
        effect.lots.push(lot);
        for place in places {
            match place {
                Place::Garment(garment) => effect.garments.push(garment),
                place => effect.brought.push(place),
            }
        }
    }
    *stock.landed.entry(purchase).or_default() += amount * MINOR;
    Ok(Pin::default())
}
