//! Taking back the planning, finishing, delivering or cancelling of a garment.

use super::{Case, Effect, cannot, cut::empty};
use crate::{detail::PlanKept, failure::Done, overhead, promises, shelved::Shelved};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::{AccountKind, Movement},
    setting::{BookingKind, GarmentState, PriceFrom},
};
use ellwand_storage::{Tx, Word};
use std::collections::BTreeSet;

impl Case<'_, '_> {
    pub(super) fn planned(&self, tx: &mut Tx<'_>, garment: i64) -> Done<Effect> {
        let mut row = self.garment_open(tx, garment)?;
        self.not_agreed(tx, garment, PriceFrom::Plan)?;
        let active: Vec<String> = tx
            .active_reservations_of_garment(garment)?
            .iter()
            .map(|row| ReservationCode::new(row.id).to_string())
            .collect();
        if !active.is_empty() {
            let detail = format!(
                "{} is promised material: {}",
                GarmentCode::new(garment),
                active.join(", ")
            );
            return Err(cannot(detail, "release it first"));
        }
        let kinds = [BookingKind::Cut, BookingKind::Worked, BookingKind::Planned];
        if let Some(first) = self.other_bookings(tx, garment, &kinds)?.first() {
            let detail = format!("{first} was booked on {}", GarmentCode::new(garment));
            return Err(cannot(
                detail,
                "take that back first, or cancel the garment",
            ));
        }
        row.state = Word(GarmentState::Cancelled);
        tx.update_garment(&row)?;
        Ok(Effect::default())
    }

    /// The plan is as it was before an edit; promises are looked at again.
    pub(super) fn replanned(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
        before: &PlanKept,
        after: &PlanKept,
    ) -> Done<Effect> {
        let mut row = self.garment_open(tx, garment)?;
        self.not_agreed(tx, garment, PriceFrom::Plan)?;
        let code = GarmentCode::new(garment);
        let changed = self.replanned_since(tx, garment)?;
        if changed.is_some() || PlanKept::read(tx, &row)? != *after {
            let by = changed
                .map(|first| format!(", by {first}"))
                .unwrap_or_default();
            let detail = format!("the plan of {code} was changed again since{by}");
            return Err(cannot(detail, "take that back first"));
        }
        let active = tx.active_reservations_of_garment(garment)?;
        let cuts = tx.cuts_of_garment(garment)?;
        for need in tx.needs(garment)? {
            let was = before.needs.iter().find(|kept| kept.id == need.id);
            let same = was.is_some_and(|was| (was.units, was.kind) == (need.units, need.kind.0));
            let used = cuts.iter().any(|cut| cut.need_id == need.id)
                || active.iter().any(|row| row.need_id == need.id);
            if used && !same {
                let detail = format!("the {} of {code} is promised or cut since", need.role);
                return Err(cannot(detail, "release or take that back first"));
            }
        }
        before.write(tx, &mut row)?;
        let mut effect = Effect::default();
        for ended in tx.reservations_ended_by(self.target.id)? {
            let again = self.promise_again(tx, &ended)?;
            effect.made_again(&ended, again);
        }
        let pieces: BTreeSet<i64> = tx
            .active_reservations_of_garment(garment)?
            .iter()
            .map(|row| row.piece_id)
            .collect();
        for piece in pieces {
            self.settle_again(tx, piece, &mut effect)?;
        }
        Ok(effect)
    }

    /// Thread and trims that a cancelled garment had given back leave their piece again, unless something was taken from
    /// there or from their layer since.
    fn taken_again(&self, tx: &mut Tx<'_>, back: &Movement) -> Done<()> {
        if back.to.kind == AccountKind::Layer {
            return Ok(());
        }
        if let Some(first) = self.taken_since(tx, back.to)? {
            let detail =
                format!("thread or trims that went back to the shelf were used since, by {first}");
            return Err(cannot(detail, "take that back first"));
        }
        let mut shelved = Shelved::load_row(tx, back.to.id)?;
        let free = shelved
            .stored
            .piece
            .free()
            .map_err(|error| promises::internal(&shelved, &error))?;
        if free < back.quantity_in {
            let detail = format!("what went back to {} is promised", shelved.code());
            return Err(cannot(detail, "release that promise first"));
        }
        let piece = &mut shelved.stored.piece;
        piece.quantity = piece.quantity.less(back.quantity_in);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)
    }

    /// The garment goes back to the state it was in; what went on to other places comes back.
    pub(super) fn moved(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
        before: GarmentState,
        released: &[i64],
        made: &[i64],
    ) -> Done<Effect> {
        let code = GarmentCode::new(garment);
        let mut later = vec![
            BookingKind::Finished,
            BookingKind::Delivered,
            BookingKind::Cancelled,
        ];
        if self.target.kind.0 == BookingKind::Finished {
            // What is not made yet is not rated.
            later.push(BookingKind::Rated);
        }
        for other in self.other_bookings(tx, garment, &later)? {
            if other.get() > self.target.id {
                return Err(cannot(
                    format!("{other} was booked on {code} since"),
                    "take that back first",
                ));
            }
        }
        if matches!(before, GarmentState::Planned | GarmentState::CutInto) {
            // Charges reach an unfinished garment, and not one that is done or given up.
            let lots = self.lots_in(tx, garment)?;
            self.uncharged(tx, &lots)?;
        }
        let mut effect = Effect {
            movements: self.reversed(),
            ..Effect::default()
        };
        for id in made {
            let mut shelved = Shelved::load_row(tx, *id)?;
            self.untouched(tx, &shelved)?;
            if !shelved.stored.piece.holds.is_empty() {
                return Err(cannot(
                    format!("{} is promised", shelved.code()),
                    "release that promise first",
                ));
            }
            empty(&mut shelved);
            let last_on = shelved.stored.last_on;
            shelved.save(tx, last_on)?;
        }
        let mut materials = BTreeSet::new();
        for movement in &self.movements {
            if movement.to.kind == AccountKind::Garment && movement.to.id != garment {
                let mut other = self.garment_open(tx, movement.to.id)?;
                self.planned_only(tx, &mut other)?;
            }
            if movement.to.kind == AccountKind::Layer
                || (movement.to.kind == AccountKind::Piece && !made.contains(&movement.to.id))
            {
                self.taken_again(tx, movement)?;
            }
            if movement.to.kind == AccountKind::Layer {
                materials.extend(tx.layer(movement.to.id)?.map(|layer| layer.material_id));
            }
        }
        for material in materials {
            self.layers_less(tx, material)?;
        }
        let missing =
            || crate::failure::not_found(format!("garment {code}"), "see the list of garments");
        let mut row = tx.garment(garment)?.ok_or_else(missing)?;
        if self.target.kind.0 == BookingKind::Finished {
            (row.good, row.spoiled, row.spoilage, row.salvage) = (None, None, None, 0);
        }
        row.state = Word(before);
        tx.update_garment(&row)?;
        if self.target.kind.0 == BookingKind::Cancelled {
            for work in tx.work(garment)? {
                overhead::reverse(tx, self.context, &work, 1, true)?;
            }
        }
        for id in released {
            let ended = promises::row(tx, *id)?;
            let again = self.promise_again(tx, &ended)?;
            effect.made_again(&ended, again);
        }
        Ok(effect)
    }
}
