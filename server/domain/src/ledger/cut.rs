//! Cutting: material leaves a piece for good.

use super::{
    CutEffect, CutOrder, Hold, LedgerError, Panel, Piece, Quantity, Rectangle,
    layout::{lay_out, successor},
    place::Place,
};
use crate::quantity::Millionths;
use crate::setting::End;

impl Piece {
    /// Cuts. On an error nothing has changed.
    ///
    /// A promise of its own is used first; beyond it only free cloth is taken, unless `may_break` says
    /// otherwise: then promises named there give way to all others, in the order of rule 6. The cut lies in one
    /// stretch. What lies before a cut that does not begin at the outer end becomes a piece of its own; before and behind,
    /// what is too short to keep is waste.
    ///
    /// # Errors
    /// [`LedgerError::Zero`], [`LedgerError::ExceedsOnHand`], [`LedgerError::NotARectangle`] or
    /// [`LedgerError::TooWide`] for the panel, [`LedgerError::NoSuchPromise`], [`LedgerError::BeyondEnd`],
    /// [`LedgerError::CrossesFlaw`], [`LedgerError::ExceedsAvailable`], in this order.
    pub fn cut(&mut self, order: &CutOrder) -> Result<CutEffect, LedgerError> {
        if order.quantity.is_zero() {
            return Err(LedgerError::Zero);
        }
        if order.quantity > self.quantity {
            return Err(LedgerError::ExceedsOnHand {
                wanted: order.quantity,
                on_hand: self.quantity,
            });
        }
        if let Some(panel) = order.panel {
            self.check_panel(panel)?;
        }
        let mut piece = self.clone();
        let own = order
            .reservation
            .and_then(|own| piece.hold(own))
            .map(|hold| hold.stretch);
        let (drawn, still_held) = piece.draw(order)?;
        let place = piece.place_of(order, own, self)?;
        let region_value = piece.value_of(order.quantity)?;
        let outer_value = match piece.quantity == order.quantity {
            true => Millionths::ZERO,
            false => piece.value.share(place.start.get(), piece.quantity.get())?,
        };
        let mut effect = CutEffect {
            value: region_value,
            drawn,
            still_held,
            strip: None,
            outer: None,
            wasted: Quantity::ZERO,
            broken: Vec::new(),
            came_off: place.end,
            flaws: Vec::new(),
        };
        if let Some(panel) = order.panel {
            effect.strip = piece.strip(order.quantity, region_value, panel)?;
            if let Some(strip) = &effect.strip {
                effect.value = effect.value.minus(strip.value)?;
            }
        }
        piece.take_out(
            &place,
            order.quantity,
            outer_value,
            region_value,
            &mut effect,
        )?;
        piece.settle_after(order, self, &mut effect)?;
        piece.waste_rests(order, &mut effect)?;
        *self = piece;
        Ok(effect)
    }

    /// Takes what the cut uses off its own promise.
    fn draw(&mut self, order: &CutOrder) -> Result<(Quantity, Quantity), LedgerError> {
        let Some(reservation) = order.reservation else {
            return Ok((Quantity::ZERO, Quantity::ZERO));
        };
        let held = self
            .hold(reservation)
            .ok_or(LedgerError::NoSuchPromise)?
            .quantity;
        let drawn = held.min(order.quantity);
        let left = if order.last {
            Quantity::ZERO
        } else {
            held.minus(drawn)?
        };
        if left.is_zero() {
            self.release(reservation)?;
        } else {
            self.resize_hold(reservation, left)?;
        }
        Ok((drawn, left))
    }

    fn check_panel(&self, panel: Panel) -> Result<Rectangle, LedgerError> {
        let rectangle = self.rectangle.ok_or(LedgerError::NotARectangle)?;
        if panel.width > rectangle.usable() {
            let (wanted, usable) = (panel.width.into(), rectangle.usable().into());
            return Err(LedgerError::TooWide { wanted, usable });
        }
        Ok(rectangle)
    }

    /// The strip beside a panel, when it is kept: full width less the panel, with the piece's selvedges.
    pub(super) fn strip(
        &self,
        length: Quantity,
        value: Millionths,
        panel: Panel,
    ) -> Result<Option<Self>, LedgerError> {
        let rectangle = self.check_panel(panel)?;
        let full = rectangle.full.less(panel.width);
        if !panel.keep_strip || full.is_zero() {
            return Ok(None);
        }
        let worth = value.minus(panel.cost(value, rectangle)?)?;
        let selvedges = rectangle.selvedges.min(full);
        Ok(Some(Self::new(
            0,
            length,
            Some(Rectangle { full, selvedges }),
            worth,
        )))
    }

    /// Takes the cut out of the piece; what lay before it becomes `effect.outer`.
    fn take_out(
        &mut self,
        place: &Place,
        quantity: Quantity,
        outer_value: Millionths,
        region_value: Millionths,
        effect: &mut CutEffect,
    ) -> Result<(), LedgerError> {
        if place.end == End::Inner {
            effect.flaws = self.drop_inner(quantity)?;
        } else {
            let before = self.spans();
            let holds = self.holds.clone();
            if !place.start.is_zero() {
                let mut outer = Self::new(0, place.start, self.rectangle, outer_value);
                outer.flaws = self.drop_outer(place.start)?;
                effect.outer = Some(outer);
            }
            effect.flaws = self.drop_outer(quantity)?;
            if let Some(outer) = &effect.outer {
                self.holds = holds;
                self.follow_around(outer, place.start.plus(quantity)?, &before);
            }
        }
        self.value = self.value.minus(region_value)?;
        if let Some(outer) = &effect.outer {
            self.value = self.value.minus(outer.value)?;
        }
        Ok(())
    }

    /// Lets the promises follow their cloth to either side of a cut: stretches of `outer` count first, then those
    /// of the rest, which begins at `rest_start` of the piece that had the stretches `before`.
    fn follow_around(&mut self, outer: &Self, rest_start: Quantity, before: &[(i64, i64)]) {
        let rest = self.spans().into_iter();
        let rest = rest.map(|(start, length)| (start.saturating_add(rest_start.get()), length));
        let spans: Vec<(i64, i64)> = outer.spans().into_iter().chain(rest).collect();
        for hold in &mut self.holds {
            hold.stretch = before
                .get(hold.stretch)
                .map_or(usize::MAX, |old| successor(*old, &spans, hold.quantity));
        }
    }

    /// Finds a place for every promise in what is left, those that must be kept first, and refuses if one of
    /// them breaks.
    fn settle_after(
        &mut self,
        order: &CutOrder,
        before: &Self,
        effect: &mut CutEffect,
    ) -> Result<(), LedgerError> {
        let may_give_way = |hold: &Hold| {
            order.may_break.contains(&hold.reservation)
                || order.reservation == Some(hold.reservation)
        };
        let mut waiting = std::mem::take(&mut self.holds);
        waiting.sort_by_key(|hold| (may_give_way(hold), hold.rank));
        let mut lengths = self.span_lengths();
        let outer_spans = effect.outer.as_ref().map_or_else(Vec::new, Self::spans);
        if let Some(holds) = effect
            .outer
            .as_ref()
            .and_then(|outer| self.behind(outer, &waiting, order))
        {
            self.holds = holds;
            return Ok(());
        }
        lengths.splice(0..0, outer_spans.iter().map(|(_, length)| *length));
        let laid = lay_out(&lengths, waiting, false);
        for mut hold in laid.kept {
            match (
                hold.stretch.checked_sub(outer_spans.len()),
                &mut effect.outer,
            ) {
                (Some(stretch), _) => {
                    hold.stretch = stretch;
                    self.holds.push(hold);
                }
                (None, Some(outer)) => outer.holds.push(hold),
                (None, None) => effect.broken.push(hold.reservation),
            }
        }
        let mut broken = laid.broken;
        let protected = |hold: &&Hold| !may_give_way(hold);
        let protected: Vec<i64> = broken
            .iter()
            .filter(protected)
            .map(|hold| hold.reservation)
            .collect();
        if !protected.is_empty() {
            return Err(before.exceeds(order, protected)?);
        }
        broken.sort_by_key(|hold| hold.rank);
        effect
            .broken
            .extend(broken.into_iter().map(|hold| hold.reservation));
        Ok(())
    }
}
