//! How much of a lot that cost nothing lies where: what its later price or charge is shared by.
//!
//! Of cloth it is the area as it lay raw: length times full width, times how much denser the piece had become, all at the time of
//! the act. What a wash or a measurement took off weighs nothing, as it takes no value. Of thread and trims it is the quantity.

use super::went::moved_on;
use crate::desk::{failure::Done, trace};
use ellwand_domain::{
    cloth::NO_HEAVIER,
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::exact::{mul_div_floor, narrow},
    setting::Facet,
};
use ellwand_storage::{StoredPiece, Trace, Tx};
use std::collections::{BTreeMap, BTreeSet};

/// Square micrometres in a square millimetre.
const SQUARE: i128 = 1_000_000;

/// What of a lot lies on its own places, and what went elsewhere and did not come back, each with its weight.
pub(crate) struct Weights {
    pub(crate) own: Vec<(Account, i64)>,
    pub(crate) went: BTreeMap<Account, i64>,
}

impl Weights {
    /// Of the pieces, or the layer, of a lot.
    pub(crate) fn read(tx: &mut Tx<'_>, own: &[(Account, i64)]) -> Done<Self> {
        let places: BTreeSet<Account> = own.iter().map(|(place, _)| *place).collect();
        let mut weights = Self {
            own: Vec::with_capacity(own.len()),
            went: BTreeMap::new(),
        };
        let mut bookings: BTreeSet<i64> = BTreeSet::new();
        for (place, quantity) in own {
            let weight = Shape::of(tx, *place, None)?.weight(*quantity)?;
            weights.own.push((*place, weight));
            let movements = tx.movements_at(*place)?;
            bookings.extend(movements.iter().map(|(stored, _)| stored.booking));
        }
        for booking in bookings {
            if stands(tx, booking)? {
                weights.add(tx, booking, &places)?;
            }
        }
        Ok(weights)
    }

    fn add(&mut self, tx: &mut Tx<'_>, booking: i64, own: &BTreeSet<Account>) -> Done<()> {
        for line in tx.movements_of(&[booking])? {
            let Movement {
                from,
                to,
                quantity_in,
                ..
            } = line.movement;
            let (place, weight) = match (own.contains(&from), own.contains(&to)) {
                (true, false) => (to, taken(tx, booking, &line.movement)?),
                (false, true) => {
                    let shape = Shape::of(tx, to, Some(booking))?;
                    (from, shape.weight(quantity_in.get())?.saturating_neg())
                }
                _ => continue,
            };
            if !place.kind.is_source() && place.kind != AccountKind::NormalLoss {
                let sum = self.went.entry(moved_on(tx, place)?).or_default();
                *sum = sum.saturating_add(weight);
            }
        }
        Ok(())
    }

    /// All of it.
    pub(crate) fn whole(&self) -> i128 {
        let own = self.own.iter().map(|(_, weight)| *weight);
        own.chain(self.went.values().copied())
            .fold(0, |sum, weight| sum + i128::from(weight.max(0)))
    }
}

/// The weight of what a booking took off a piece or a layer; the strip that stayed beside a panel is not in it.
pub(crate) fn taken(tx: &mut Tx<'_>, booking: i64, line: &Movement) -> Done<i64> {
    let all = Shape::of(tx, line.from, Some(booking))?.weight(line.quantity_out.get())?;
    let mut strips = 0_i64;
    for other in tx.movements_of(&[booking])? {
        let other = other.movement;
        let beside = other.from == line.from
            && other.to.kind == AccountKind::Piece
            && other.quantity_out == Quantity::ZERO;
        if beside {
            let strip = Shape::of(tx, other.to, Some(booking))?;
            strips = strips.saturating_add(strip.weight(other.quantity_in.get())?);
        }
    }
    Ok(all.saturating_sub(strips).max(0))
}

/// True for what was booked and not taken back.
fn stands(tx: &mut Tx<'_>, booking: i64) -> Done<bool> {
    let undoes = tx.booking(booking)?.is_some_and(|row| row.undoes.is_some());
    Ok(!undoes && tx.undone_by(booking)?.is_none())
}

/// How wide a piece is, and how much denser than its lot; none of thread and trims.
struct Shape(Option<(i64, i64)>);

impl Shape {
    /// Now, or right after a booking.
    fn of(tx: &mut Tx<'_>, place: Account, after: Option<i64>) -> Done<Self> {
        if place.kind != AccountKind::Piece {
            return Ok(Self(None));
        }
        let Some(mut stored) = tx.piece(place.id)? else {
            return Ok(Self(None));
        };
        if let Some(after) = after {
            for facet in [Facet::Length, Facet::Widths] {
                if let Some(trace) = written_since(tx, facet, place.id, after)? {
                    trace::put_back(&mut stored, &trace)?;
                }
            }
        }
        let StoredPiece {
            piece,
            mass_factor_ppm,
            ..
        } = stored;
        let full = piece.rectangle.map(|rectangle| rectangle.full.get());
        Ok(Self(full.map(|full| (full, mass_factor_ppm))))
    }

    fn weight(&self, quantity: i64) -> Done<i64> {
        let Some((full, factor)) = self.0 else {
            return Ok(quantity);
        };
        let area = i128::from(quantity).saturating_mul(i128::from(full)) / SQUARE;
        Ok(mul_div_floor(narrow(area)?, factor, NO_HEAVIER)?)
    }
}

/// The first standing trace after a booking that wrote over a facet of a piece.
fn written_since(tx: &mut Tx<'_>, facet: Facet, piece: i64, after: i64) -> Done<Option<Trace>> {
    for booking in tx.traced_since(facet, piece, "", after)? {
        let mut traces = tx.traces_of(booking)?.into_iter();
        let own = traces
            .find(|trace| (trace.facet, trace.subject_id) == (facet, piece) && trace.was.is_some());
        if own.is_some() {
            return Ok(own);
        }
    }
    Ok(None)
}
