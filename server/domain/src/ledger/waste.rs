//! What a cut leaves and nobody keeps.

use super::{CutEffect, CutOrder, Flaw, Hold, LedgerError, Piece, Quantity, layout::lay_out};
use crate::quantity::Millionths;
use crate::setting::End;

impl Piece {
    /// Makes waste of what is too short to keep, before and behind the cut, unless something is promised in it.
    pub(super) fn waste_rests(
        &mut self,
        order: &CutOrder,
        effect: &mut CutEffect,
    ) -> Result<(), LedgerError> {
        let is_short =
            |outer: &Self| outer.quantity <= order.outer_waste_up_to && outer.holds.is_empty();
        if let Some(outer) = effect.outer.take_if(|outer| is_short(outer)) {
            effect.wasted = outer.quantity;
            effect.value = effect.value.plus(outer.value)?;
            effect.flaws = joined(
                outer.flaws,
                outer.quantity,
                std::mem::take(&mut effect.flaws),
            );
        }
        if self.quantity > order.waste_up_to || self.quantity.is_zero() || !self.holds.is_empty() {
            return Ok(());
        }
        let (cut, own) = (
            std::mem::take(&mut effect.flaws),
            std::mem::take(&mut self.flaws),
        );
        effect.flaws = match effect.came_off {
            End::Outer => joined(cut, order.quantity.plus(effect.wasted)?, own),
            End::Inner => joined(own, self.quantity, cut),
        };
        effect.wasted = effect.wasted.plus(self.quantity)?;
        effect.value = effect.value.plus(self.value)?;
        // Nothing is left to come off: what comes back is one length from the outer end.
        effect.came_off = End::Outer;
        (self.quantity, self.value) = (Quantity::ZERO, Millionths::ZERO);
        Ok(())
    }

    /// Every promise behind the cut, where what lies before it is too short to keep and all of them fit there.
    pub(super) fn behind(
        &self,
        outer: &Self,
        waiting: &[Hold],
        order: &CutOrder,
    ) -> Option<Vec<Hold>> {
        if outer.quantity > order.outer_waste_up_to {
            return None;
        }
        let before = outer.spans().len();
        let moved = waiting.iter().map(|hold| Hold {
            stretch: hold.stretch.checked_sub(before).unwrap_or(usize::MAX),
            ..*hold
        });
        let laid = lay_out(&self.span_lengths(), moved.collect(), false);
        laid.broken.is_empty().then_some(laid.kept)
    }
}

/// Flaws of two lengths that lie one behind the other.
fn joined(mut outer: Vec<Flaw>, length: Quantity, inner: Vec<Flaw>) -> Vec<Flaw> {
    let moved = |flaw: Flaw| Flaw {
        at: flaw.at.saturating_add(length.get()),
        ..flaw
    };
    outer.extend(inner.into_iter().map(moved));
    outer
}
