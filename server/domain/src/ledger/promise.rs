//! Promises on a piece: made, given back, and settled when the piece changes (rules 3 and 6).

use super::{
    LedgerError, Piece, Quantity, Stretch,
    layout::{divided, lay_out, lay_out_closely},
};
use chrono::NaiveDate;
use std::cmp::Ordering;

/// Who keeps their promise when not all fit: accepted quotations first, then the due date with none
/// last, then the day it was promised, then the reservation's number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rank {
    /// An accepted quotation stands behind it.
    pub accepted: bool,
    /// The garment's due day.
    pub due: Option<NaiveDate>,
    /// The day it was promised.
    pub promised: NaiveDate,
    /// The reservation's number.
    pub reservation: i64,
}

impl Ord for Rank {
    fn cmp(&self, other: &Self) -> Ordering {
        let due = |rank: &Self| rank.due.unwrap_or(NaiveDate::MAX);
        (!self.accepted, due(self), self.promised, self.reservation).cmp(&(
            !other.accepted,
            due(other),
            other.promised,
            other.reservation,
        ))
    }
}

impl PartialOrd for Rank {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// Separate lengths that a promise holds one behind the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Apart {
    /// How many.
    pub number: i64,
    /// What one of them takes.
    pub most: Quantity,
    /// What still serves one of them.
    pub least: Quantity,
}

/// A promise: one continuous length in one stretch, or lengths of which each may lie in another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hold {
    /// The reservation's number.
    pub reservation: i64,
    /// Which stretch, counted from the outer end.
    pub stretch: usize,
    /// Quantity that it holds.
    pub quantity: Quantity,
    /// How little still serves it: what lies above comes of rounding up to the cutting step, and gives way.
    pub least: Quantity,
    /// Its place in the order of rule 6.
    pub rank: Rank,
    /// The lengths that it may be divided into; `None`: it stays together.
    pub apart: Option<Apart>,
}

impl Hold {
    /// A promise that serves only whole.
    #[must_use]
    pub const fn whole(stretch: usize, quantity: Quantity, rank: Rank) -> Self {
        Self {
            reservation: rank.reservation,
            stretch,
            quantity,
            least: quantity,
            rank,
            apart: None,
        }
    }

    /// As many of its lengths, at their least, as `room` holds, and the others; nothing where none or all of them fit.
    pub(super) fn split_for(&self, room: i64) -> Option<(Self, Self)> {
        let apart = self.apart?;
        let number = room
            .checked_div(apart.least.get())?
            .min(apart.number.saturating_sub(1));
        let taken = Quantity::new(number.saturating_mul(apart.least.get())).ok()?;
        if number < 1 || taken >= self.least {
            return None;
        }
        let lengths = |number, least| Self {
            quantity: least,
            least,
            apart: Some(Apart { number, ..apart }),
            ..*self
        };
        let left = apart.number.saturating_sub(number);
        Some((
            lengths(number, taken),
            lengths(left, self.least.less(taken)),
        ))
    }

    /// What rounding adds to `part`, which is this promise or some of its lengths.
    pub(super) fn rounding_of(&self, part: &Self) -> Quantity {
        match (self.apart, part.apart) {
            (Some(all), Some(some)) if some.number < all.number => {
                let one = all.most.less(all.least).get();
                Quantity::new(one.saturating_mul(some.number)).unwrap_or_default()
            }
            _ => self.quantity.less(self.least),
        }
    }
}

impl Piece {
    /// Promises `quantity` in the stretch that it fits most closely, the outer one of equals.
    ///
    /// # Errors
    /// [`LedgerError::Zero`], [`LedgerError::ExceedsOnHand`], [`LedgerError::ExceedsAvailable`] or, when enough
    /// is free in all, [`LedgerError::CrossesFlaw`]; checked in this order.
    pub fn reserve(&mut self, quantity: Quantity, rank: Rank) -> Result<usize, LedgerError> {
        if quantity.is_zero() {
            return Err(LedgerError::Zero);
        }
        let stretch = self.room_for(quantity)?;
        self.holds.push(Hold::whole(stretch, quantity, rank));
        Ok(stretch)
    }

    /// Promises `most` where it fits, else `least`: rounding up to the cutting step refuses nothing that fits. Returns what
    /// is held.
    ///
    /// # Errors
    /// As [`Piece::reserve`] of `least`.
    pub fn reserve_between(
        &mut self,
        least: Quantity,
        most: Quantity,
        rank: Rank,
    ) -> Result<Hold, LedgerError> {
        let least = least.min(most);
        let quantity = if self.room_for(most).is_ok() {
            most
        } else {
            least
        };
        let stretch = self.reserve(quantity, rank)?;
        self.resize_hold_between(rank.reservation, least, quantity)?;
        Ok(Hold {
            least,
            ..Hold::whole(stretch, quantity, rank)
        })
    }

    /// As [`Piece::reserve_between`]; where there is no room, promises of the same request (`own`) give way to it: they move, and give up
    /// what comes of rounding. Those of others stay as they are. Returns what is held.
    ///
    /// # Errors
    /// As [`Piece::reserve`] of `least`.
    pub fn reserve_beside(
        &mut self,
        least: Quantity,
        most: Quantity,
        rank: Rank,
        own: &[i64],
    ) -> Result<Hold, LedgerError> {
        let refused = match self.reserve_between(least, most, rank) {
            Ok(hold) => return Ok(hold),
            Err(error) => error,
        };
        let (mut movable, others): (Vec<Hold>, Vec<Hold>) = self
            .holds
            .iter()
            .partition(|hold| own.contains(&hold.reservation));
        let alone = Self {
            holds: others.clone(),
            ..self.clone()
        };
        let lengths: Vec<i64> = alone
            .stretches()?
            .iter()
            .map(|stretch| stretch.free().get())
            .collect();
        movable.push(Hold {
            least: least.min(most),
            ..Hold::whole(usize::MAX, most, rank)
        });
        let mut laid = lay_out(&lengths, movable.clone(), false);
        if !laid.broken.is_empty() {
            laid = lay_out_closely(&lengths, &movable, false);
        }
        let hold = laid
            .kept
            .iter()
            .find(|hold| hold.reservation == rank.reservation)
            .copied();
        match hold.filter(|_| laid.broken.is_empty() && !least.is_zero()) {
            None => Err(refused),
            Some(hold) => {
                self.holds = others.into_iter().chain(laid.kept).collect();
                Ok(hold)
            }
        }
    }

    /// As [`Piece::reserve_beside`] for separate lengths: where they do not fit one behind the other, in as few stretches as
    /// hold them all. Returns what is held in each.
    ///
    /// # Errors
    /// As [`Piece::reserve`] of all of them.
    pub fn reserve_apart(
        &mut self,
        apart: Apart,
        rank: Rank,
        own: &[i64],
    ) -> Result<Vec<Hold>, LedgerError> {
        let all = |one: Quantity| Quantity::new(one.get().saturating_mul(apart.number));
        let (least, most) = (all(apart.least)?, all(apart.most)?);
        let refused = match self.reserve_beside(least, most, rank, own) {
            Ok(hold) => return Ok(vec![hold]),
            Err(error) if apart.number < 2 || least.is_zero() => return Err(error),
            Err(error) => error,
        };
        let free: Vec<i64> = self
            .stretches()?
            .iter()
            .map(|stretch| stretch.free().get())
            .collect();
        let whole = Hold {
            apart: Some(apart),
            least,
            ..Hold::whole(usize::MAX, most, rank)
        };
        let close = Hold {
            quantity: least,
            ..whole
        };
        let (mut parts, lost) = divided(&free, close);
        if lost.is_some() {
            return Err(refused);
        }
        for part in &mut parts {
            let rounded = part.least.plus(whole.rounding_of(part))?;
            if free
                .get(part.stretch)
                .is_some_and(|free| *free >= rounded.get())
            {
                part.quantity = rounded;
            }
        }
        self.holds.extend(&parts);
        Ok(parts)
    }

    /// Does something to the piece while its promises hold the least that serves them, each where it lies; then each holds what it held
    /// before again, as far as there is room, in the order of rule 6.
    ///
    /// # Errors
    /// Those of the act, which leaves the piece as it is.
    pub fn without_rounding<T>(
        &mut self,
        act: impl FnOnce(&mut Self) -> Result<T, LedgerError>,
    ) -> Result<T, LedgerError> {
        let mut piece = self.clone();
        for hold in &mut piece.holds {
            hold.quantity = hold.least;
        }
        let done = act(&mut piece)?;
        let mut rounded = self.holds.clone();
        rounded.sort_by_key(|hold| hold.rank);
        for was in rounded {
            let Some(hold) = piece.hold(was.reservation).copied() else {
                continue;
            };
            let more = was.quantity.less(hold.quantity);
            let stretches = piece.stretches()?;
            let free = stretches
                .get(hold.stretch)
                .map_or(Quantity::ZERO, Stretch::free);
            if hold.quantity == was.least && more <= free {
                piece.resize_hold_between(was.reservation, was.least, was.quantity)?;
            }
        }
        *self = piece;
        Ok(done)
    }

    /// Stretch that `quantity` fits most closely.
    ///
    /// # Errors
    /// As [`Piece::reserve`].
    pub fn room_for(&self, quantity: Quantity) -> Result<usize, LedgerError> {
        if quantity > self.quantity {
            return Err(LedgerError::ExceedsOnHand {
                wanted: quantity,
                on_hand: self.quantity,
            });
        }
        let stretches = self.stretches()?;
        let fitting = stretches
            .iter()
            .enumerate()
            .filter(|(_, stretch)| stretch.free() >= quantity);
        if let Some((index, _)) = fitting.min_by_key(|(index, stretch)| (stretch.free(), *index)) {
            return Ok(index);
        }
        let (free, longest_free) = (self.free()?, self.longest_free()?);
        if free >= quantity {
            return Err(LedgerError::CrossesFlaw {
                wanted: quantity,
                longest_free,
            });
        }
        let held_by = self.holds.iter().map(|hold| hold.reservation).collect();
        Err(LedgerError::ExceedsAvailable {
            wanted: quantity,
            free,
            longest_free,
            held_by,
        })
    }

    /// Releases a promise and returns how much it held.
    ///
    /// # Errors
    /// [`LedgerError::NoSuchPromise`].
    pub fn release(&mut self, reservation: i64) -> Result<Quantity, LedgerError> {
        let index = self.hold_index(reservation)?;
        Ok(self.holds.remove(index).quantity)
    }

    /// Changes how much a promise holds, without looking whether it fits: settle afterwards.
    ///
    /// # Errors
    /// [`LedgerError::NoSuchPromise`].
    pub fn resize_hold(&mut self, reservation: i64, quantity: Quantity) -> Result<(), LedgerError> {
        self.resize_hold_between(reservation, quantity, quantity)
    }

    /// Changes how much a promise holds, and how little of that still serves it: settle afterwards.
    ///
    /// # Errors
    /// [`LedgerError::NoSuchPromise`].
    pub fn resize_hold_between(
        &mut self,
        reservation: i64,
        least: Quantity,
        most: Quantity,
    ) -> Result<(), LedgerError> {
        self.resize_hold_apart(reservation, least, most, None)
    }

    /// The same, and the lengths that it may be divided into by [`Piece::settle_apart`].
    ///
    /// # Errors
    /// [`LedgerError::NoSuchPromise`].
    pub fn resize_hold_apart(
        &mut self,
        reservation: i64,
        least: Quantity,
        most: Quantity,
        apart: Option<Apart>,
    ) -> Result<(), LedgerError> {
        let index = self.hold_index(reservation)?;
        if let Some(hold) = self.holds.get_mut(index) {
            (hold.least, hold.quantity, hold.apart) = (least.min(most), most, apart);
        }
        Ok(())
    }

    /// The promise of a reservation.
    #[must_use]
    pub fn hold(&self, reservation: i64) -> Option<&Hold> {
        self.holds
            .iter()
            .find(|hold| hold.reservation == reservation)
    }

    fn hold_index(&self, reservation: i64) -> Result<usize, LedgerError> {
        self.holds
            .iter()
            .position(|hold| hold.reservation == reservation)
            .ok_or(LedgerError::NoSuchPromise)
    }

    /// Puts the promises into the stretches as they are now, in the order of rule 6: each stays where it
    /// was if it fits, else moves to the stretch it fits most closely, else all are arranged again if that makes
    /// room, else it is broken. Where not all fit as they were rounded up, each keeps the least that serves it, and the
    /// rounding again as far as there is room, in the same order.
    ///
    /// Returns the broken reservations, in the order of rule 6.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn settle(&mut self) -> Result<Vec<i64>, LedgerError> {
        let broken = self.lay(false, &[])?;
        Ok(broken.into_iter().map(|hold| hold.reservation).collect())
    }

    /// As [`Piece::settle`]; a promise of separate lengths that has no room in one stretch is divided over several, a hold
    /// each, and loses only the lengths that fit nowhere. Those named `last` come after all others.
    ///
    /// Returns what is broken, promises or lengths of them, in the order of rule 6.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn settle_apart(&mut self, last: &[i64]) -> Result<Vec<Hold>, LedgerError> {
        self.lay(true, last)
    }

    fn lay(&mut self, divide: bool, last: &[i64]) -> Result<Vec<Hold>, LedgerError> {
        let mut waiting = std::mem::take(&mut self.holds);
        waiting.sort_by_key(|hold| (last.contains(&hold.reservation), hold.rank));
        let lengths = self.span_lengths();
        let mut laid = lay_out(&lengths, waiting.clone(), false);
        if !laid.broken.is_empty() && waiting.iter().any(|hold| hold.least < hold.quantity) {
            laid = lay_out_closely(&lengths, &waiting, false);
        }
        if divide && laid.broken.iter().any(|hold| hold.apart.is_some()) {
            laid = lay_out_closely(&lengths, &waiting, true);
        }
        self.holds = laid.kept;
        Ok(laid.broken)
    }
}
