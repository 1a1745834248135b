//! Taking back what was done to a piece or a lot's sheet.

use super::{Case, Effect, cannot, cut::empty};
use crate::{
    detail::PieceBefore,
    failure::Done,
    promises,
    shelved::{LotRecord, Shelved},
};
use ellwand_domain::{
    ledger::{Account, AccountKind, Flaw, Movement, Quantity, Rectangle},
    quantity::{Micrometres, Millionths},
    setting::{BookingKind, End},
};
use ellwand_storage::Tx;

/// What a split kept.
pub(super) struct SplitKept {
    pub(super) piece: i64,
    pub(super) made: i64,
    pub(super) quantity: i64,
    pub(super) end: End,
    pub(super) flaws: Vec<Flaw>,
    pub(super) structure: i64,
}

impl Case<'_, '_> {
    /// Refuses when the piece is not as this booking left it. Acts count its structure up and their undo counts it
    /// down again, so that what was taken back since does not stand in the way.
    pub(super) fn unchanged(&self, tx: &mut Tx<'_>, shelved: &Shelved, structure: i64) -> Done<()> {
        if shelved.stored.structure == structure {
            return Ok(());
        }
        let by = self
            .reshaped_since(tx, shelved)?
            .map(|first| format!(", by {first}"))
            .unwrap_or_default();
        let detail = format!(
            "{} was prepared, measured, split or marked since{by}",
            shelved.code()
        );
        Err(cannot(detail, "take that back first"))
    }

    /// Settles the promises on a piece that is as it was, and saves it.
    fn settle(&self, tx: &mut Tx<'_>, shelved: &mut Shelved, effect: &mut Effect) -> Done<()> {
        let because = format!("{} was taken back", self.code());
        let settled = promises::resettle(tx, self.context, self.booking, shelved, &because)?;
        effect.changed.extend(settled.changed);
        effect.broken.extend(settled.broken);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        self.restore_broken(tx, effect)
    }

    pub(super) fn flawed(
        &self,
        tx: &mut Tx<'_>,
        piece: i64,
        before: Vec<Flaw>,
        structure: i64,
    ) -> Done<Effect> {
        let mut shelved = Shelved::load_row(tx, piece)?;
        self.unchanged(tx, &shelved, structure)?;
        self.uncut_since(tx, &shelved)?;
        shelved.stored.piece.flaws = before;
        shelved.stored.structure = structure - 1;
        let mut effect = Effect::default();
        self.settle(tx, &mut shelved, &mut effect)?;
        Ok(effect)
    }

    pub(super) fn split(&self, tx: &mut Tx<'_>, kept: &SplitKept) -> Done<Effect> {
        let mut shelved = Shelved::load_row(tx, kept.piece)?;
        self.unchanged(tx, &shelved, kept.structure)?;
        let mut made = Shelved::load_row(tx, kept.made)?;
        self.uncut(tx, &made)?;
        self.uncut_since(tx, &shelved)?;
        if let Some(first) = self.first_since(tx, Account::piece(kept.made), |_| true)? {
            let detail = format!("{} was charged or changed since, by {first}", made.code());
            return Err(cannot(detail, "take that back first"));
        }
        if !made.stored.piece.holds.is_empty() {
            return Err(cannot(
                format!("{} is promised", made.code()),
                "release that promise first",
            ));
        }
        let value = made.stored.piece.value;
        empty(&mut made);
        let last_on = made.stored.last_on;
        made.save(tx, last_on)?;
        shelved
            .stored
            .piece
            .put_back(Quantity::new(kept.quantity)?, value, kept.end, &kept.flaws)
            .map_err(|error| promises::internal(&shelved, &error))?;
        shelved.stored.structure = kept.structure - 1;
        // What it is worth now returns: a late charge may have raised it since.
        let (from, to) = (Account::piece(kept.made), Account::piece(kept.piece));
        let back = Movement::new(from, to, Quantity::new(kept.quantity)?, value);
        let mut effect = Effect {
            movements: vec![back],
            ..Effect::default()
        };
        self.settle(tx, &mut shelved, &mut effect)?;
        Ok(effect)
    }

    pub(super) fn remeasured(&self, tx: &mut Tx<'_>, before: &PieceBefore) -> Done<Effect> {
        let mut shelved = Shelved::load_row(tx, before.piece)?;
        self.unchanged(tx, &shelved, before.structure)?;
        self.uncut_since(tx, &shelved)?;
        self.same_widths_since(tx, &shelved, &[BookingKind::Edited])?;
        as_it_was(&mut shelved, before)?;
        self.layers_as_before(tx, &shelved)?;
        let mut effect = Effect {
            movements: self.reversed(),
            ..Effect::default()
        };
        self.settle(tx, &mut shelved, &mut effect)?;
        Ok(effect)
    }

    /// Layers of thread and trims get the quantity back that the measuring had changed.
    pub(super) fn layers_as_before(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        self.layers_untaken(tx)?;
        if self
            .movements
            .iter()
            .any(|movement| !movement.value.is_zero())
        {
            let lots = self.lots_moved(tx)?;
            self.uncharged(tx, &lots)?;
        }
        let mut layers = tx.layers(shelved.record.material.id)?;
        for movement in &self.movements {
            for layer in &mut layers {
                if movement.from.kind == AccountKind::Layer && movement.from.id == layer.id {
                    layer.quantity += movement.quantity_out.get();
                    layer.value += movement.value.get();
                    tx.save_layer(layer)?;
                }
                if movement.to.kind == AccountKind::Layer && movement.to.id == layer.id {
                    let left = layer.quantity - movement.quantity_in.get();
                    if left < 0 || (left == 0 && layer.value != Millionths::ZERO.get()) {
                        let first = self.moved_since(tx, movement.to)?;
                        let by = first
                            .map(|first| format!(", by {first}"))
                            .unwrap_or_default();
                        let detail = format!("what was found has been used since{by}");
                        return Err(cannot(detail, "take that back first"));
                    }
                    layer.quantity = left;
                    tx.save_layer(layer)?;
                }
            }
        }
        Ok(())
    }

    pub(super) fn tested(
        &self,
        tx: &mut Tx<'_>,
        lot: i64,
        before: Option<&PieceBefore>,
        strip: Option<i64>,
    ) -> Done<Effect> {
        let mut effect = match before {
            Some(before) => {
                self.strip_back(tx, before.piece, strip)?;
                self.remeasured(tx, before)?
            }
            None => Effect::default(),
        };
        let record = LotRecord::load(tx, lot)?;
        let tests = tx.wash_tests(lot)?;
        if let Some(test) = tests.iter().find(|test| test.booking_id == self.target.id)
            && record.sheet.wash_test == Some(test.number)
        {
            let detail = format!(
                "wash test {} of {} was chosen to count",
                test.number,
                record.code()
            );
            return Err(cannot(
                detail,
                "let another one count first, with ellwand lot edit",
            ));
        }
        // Promises are settled by the tests that are left.
        tx.mark_undone(self.target.id, self.booking)?;
        let because = format!("{} was taken back", self.code());
        let settled = promises::resettle_lot(tx, self.context, self.booking, &record, &because)?;
        effect.changed.extend(settled.changed);
        effect.broken.extend(settled.broken);
        if before.is_none() {
            self.restore_broken(tx, &mut effect)?;
        }
        Ok(effect)
    }

    /// Gives the value of the strip beside a swatch back to the piece, if nobody has touched it.
    fn strip_back(&self, tx: &mut Tx<'_>, piece: i64, strip: Option<i64>) -> Done<()> {
        let value = self.withdraw(tx, strip)?;
        if value.is_zero() {
            return Ok(());
        }
        let mut shelved = Shelved::load_row(tx, piece)?;
        shelved.stored.piece.value = shelved.stored.piece.value.plus(value)?;
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)
    }
}

/// Puts a piece back as an act that changed its measures had found it.
pub(super) fn as_it_was(shelved: &mut Shelved, before: &PieceBefore) -> Done<()> {
    let stored = &mut shelved.stored;
    stored.piece.quantity = Quantity::new(before.quantity)?;
    stored.piece.rectangle = widths_of(before)?;
    stored.piece.flaws.clone_from(&before.flaws);
    stored.preparation = before.preparation;
    stored.prepared = before.prepared;
    stored.mass_factor_ppm = before.mass_factor_ppm;
    (stored.tare, stored.estimated) = (before.tare, before.estimated);
    stored.structure = before.structure - 1;
    Ok(())
}

/// What a piece had measured across.
pub(super) fn widths_of(before: &PieceBefore) -> Done<Option<Rectangle>> {
    let Some(full) = before.full_width else {
        return Ok(None);
    };
    let selvedges = Micrometres::new(before.selvedges.unwrap_or(0))?;
    Ok(Some(Rectangle {
        full: Micrometres::new(full)?,
        selvedges,
    }))
}
