//! Late charges and credits follow what they were paid for.

use super::acts::{LotId, Place, Refusal};
use super::fraction::{Fraction, split, whole};
use super::stock::{Stage, Stock};

/// Puts `amount` millionths on a lot: what is on the shelf and in unfinished garments carries its share, the
/// rest is an adjustment. Returns the places that were reached.
pub fn put(stock: &mut Stock, lot: LotId, amount: i128) -> Result<Vec<Place>, Refusal> {
    let here = whereabouts(stock, lot);
    let mut weights: Vec<Fraction> = here.iter().map(|(_, share)| share.clone()).collect();
    weights.push(whole(1) - weights.iter().sum::<Fraction>());
    let parts = split(amount, &weights);
    for ((place, _), part) in here.iter().zip(&parts) {
        match place {
            Place::Garment(garment) => into_garment(stock, *garment, lot, *part)?,
            place => {
                let balance = stock.places.get_mut(place).ok_or(Refusal::Unknown)?;
                balance.value += part;
                if balance.value < 0 {
                    return Err(Refusal::Negative);
                }
            }
        }
    }
    stock.adjustments += parts.last().copied().unwrap_or_default();
    Ok(here.into_iter().map(|(place, _)| place).collect())
}

/// Where a lot is: each place that still counts, with its part of what was received.
fn whereabouts(stock: &Stock, lot: LotId) -> Vec<(Place, Fraction)> {
    let shelf = stock
        .places
        .iter()
        .filter_map(|(place, balance)| Some((*place, balance.shares.get(&lot)?.clone())));
    let garments = stock
        .garments
        .iter()
        .filter(|(_, made)| made.stage == Stage::Open)
        .map(|(garment, made)| (Place::Garment(*garment), made.share_of(lot)));
    shelf
        .chain(garments)
        .filter(|(_, share)| *share > whole(0))
        .collect()
}

/// Within a garment a charge lies on the takings that stem from the lot.
fn into_garment(
    stock: &mut Stock,
    garment: usize,
    lot: LotId,
    amount: i128,
) -> Result<(), Refusal> {
    let made = stock.garments.get_mut(&garment).ok_or(Refusal::Unknown)?;
    let zero = whole(0);
    let weights: Vec<Fraction> = made
        .takes
        .iter()
        .map(|take| take.content.shares.get(&lot).unwrap_or(&zero).clone())
        .collect();
    for (take, part) in made.takes.iter_mut().zip(split(amount, &weights)) {
        take.content.value += part;
        if take.content.value < 0 {
            return Err(Refusal::Negative);
        }
    }
    Ok(())
}
