//! Where a cut lies in its piece.

use super::{CutOrder, LedgerError, Piece, Quantity, Stretch};
use crate::setting::End;

/// Where a cut lies.
pub(super) struct Place {
    pub(super) start: Quantity,
    pub(super) end: End,
}

impl Piece {
    /// Finds the place of the cut: the requested one, else in its promise's stretch, else in the first stretch
    /// from the requested end that has enough free. With leave to break promises and nowhere enough free: in the
    /// same order where the promises that must be kept leave enough, else where there is enough at all.
    pub(super) fn place_of(
        &self,
        order: &CutOrder,
        own: Option<usize>,
        before: &Self,
    ) -> Result<Place, LedgerError> {
        let stretches = self.stretches()?;
        let wanted = order.quantity;
        let crosses = || LedgerError::CrossesFlaw {
            wanted,
            longest_free: self.longest_free().unwrap_or_default(),
        };
        let index = if let Some(at) = order.at {
            let end = at.plus(wanted)?;
            if end > self.quantity {
                return Err(LedgerError::BeyondEnd {
                    at: end,
                    on_hand: self.quantity,
                });
            }
            let inside =
                |s: &Stretch| s.start <= at && s.start.plus(s.length).is_ok_and(|e| end <= e);
            stretches.iter().position(inside).ok_or_else(crosses)?
        } else {
            let mut kept = self.clone();
            kept.holds
                .retain(|hold| !order.may_break.contains(&hold.reservation));
            let ways = match order.may_break.is_empty() {
                true => vec![stretches.clone()],
                false => {
                    let bare = Self {
                        holds: Vec::new(),
                        ..kept.clone()
                    };
                    vec![stretches.clone(), kept.stretches()?, bare.stretches()?]
                }
            };
            let inner = order.end == End::Inner;
            match ways
                .iter()
                .find_map(|stretches| first_with(stretches, wanted, own, inner))
            {
                Some(index) => index,
                None if self.free()? >= wanted => return Err(crosses()),
                None => return Err(before.exceeds(order, Vec::new())?),
            }
        };
        let stretch = stretches.get(index).ok_or_else(crosses)?;
        let stretch_end = stretch.start.plus(stretch.length)?;
        let inner = order.end == End::Inner && order.at.is_none();
        let start = match order.at {
            Some(at) => at,
            None if inner => stretch_end.minus(wanted)?,
            None => stretch.start,
        };
        let reaches_inner_end = start.plus(wanted)? == self.quantity;
        let end = if reaches_inner_end && !start.is_zero() {
            End::Inner
        } else {
            End::Outer
        };
        Ok(Place { start, end })
    }

    /// The refusal, seen from the piece as it was: what goes beyond the own promise, and who holds the rest.
    pub(super) fn exceeds(
        &self,
        order: &CutOrder,
        held_by: Vec<i64>,
    ) -> Result<LedgerError, LedgerError> {
        let own = order
            .reservation
            .and_then(|own| self.hold(own))
            .map(|hold| hold.quantity);
        let others = self.holds.iter().map(|hold| hold.reservation);
        let others = others.filter(|hold| Some(*hold) != order.reservation);
        Ok(LedgerError::ExceedsAvailable {
            wanted: order.quantity.less(own.unwrap_or_default()),
            free: self.free()?,
            longest_free: self.longest_free()?,
            held_by: if held_by.is_empty() {
                others.collect()
            } else {
                held_by
            },
        })
    }
}

/// First stretch with `wanted` free: the own one, else from the requested end.
fn first_with(
    stretches: &[Stretch],
    wanted: Quantity,
    own: Option<usize>,
    inner: bool,
) -> Option<usize> {
    let enough = |index: &usize| {
        stretches
            .get(*index)
            .is_some_and(|stretch| stretch.free() >= wanted)
    };
    let mut indices = 0..stretches.len();
    own.filter(enough).or_else(|| {
        if inner {
            indices.rfind(enough)
        } else {
            indices.find(enough)
        }
    })
}
