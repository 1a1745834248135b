//! Taking a length off a piece for no garment: given away, sold, discarded, or split off.

use super::{CutEffect, CutOrder, Hold, LedgerError, Piece, Quantity};
use crate::{quantity::Millionths, setting::End};

impl Piece {
    /// Takes a length off one end across the full width (a panel leaves the strip beside it), whatever flaws lie in it. On an
    /// error nothing has changed.
    ///
    /// Of the order counts how much, from which end, which panel, and whose promises may give way: those named are left as they
    /// are, to be settled afterwards by [`Piece::settle_apart`].
    ///
    /// # Errors
    /// [`LedgerError::Zero`], [`LedgerError::ExceedsOnHand`], [`LedgerError::NotARectangle`] or [`LedgerError::TooWide`] for
    /// the panel, or [`LedgerError::ExceedsAvailable`] naming the promises that would break.
    pub fn dispose(&mut self, order: &CutOrder) -> Result<CutEffect, LedgerError> {
        if order.quantity.is_zero() {
            return Err(LedgerError::Zero);
        }
        let value = self.value_of(order.quantity)?;
        let strip = match order.panel {
            Some(panel) => self.strip(order.quantity, value, panel)?,
            None => None,
        };
        let mut rest = self.clone();
        let flaws = match order.end {
            _ if order.quantity == self.quantity => {
                rest.quantity = Quantity::ZERO;
                std::mem::take(&mut rest.flaws)
            }
            End::Outer => rest.drop_outer(order.quantity)?,
            End::Inner => rest.drop_inner(order.quantity)?,
        };
        rest.value = self.value.minus(value)?;
        let named = |hold: &Hold| order.may_break.contains(&hold.reservation);
        let (last, first): (Vec<Hold>, Vec<Hold>) = rest.holds.drain(..).partition(named);
        rest.holds = first;
        let held_by = rest.settle()?;
        if !held_by.is_empty() {
            return Err(LedgerError::ExceedsAvailable {
                wanted: order.quantity,
                free: self.free()?,
                longest_free: self.longest_free()?,
                held_by,
            });
        }
        rest.holds.extend(last);
        *self = rest;
        let beside = strip.as_ref().map_or(Millionths::ZERO, |strip| strip.value);
        Ok(CutEffect {
            value: value.minus(beside)?,
            drawn: Quantity::ZERO,
            still_held: Quantity::ZERO,
            strip,
            outer: None,
            wasted: Quantity::ZERO,
            broken: Vec::new(),
            came_off: order.end,
            flaws,
        })
    }
}
