//! Taking back a purchase or a late charge.

use super::{Case, Effect, cannot, cut::empty};
use crate::{
    detail::LineGain,
    failure::{Done, Failure, not_found},
    shelved::Shelved,
};
use ellwand_domain::{
    code::PurchaseCode,
    ledger::{Account, AccountKind, Movement},
};
use ellwand_storage::Tx;
use std::collections::BTreeSet;

impl Case<'_, '_> {
    pub(super) fn receipt(&self, tx: &mut Tx<'_>, purchase: i64, lots: &[i64]) -> Done<Effect> {
        let code = PurchaseCode::new(purchase);
        let charges = tx.purchase_charges(purchase)?;
        if charges.iter().any(|charge| charge.late) {
            return Err(cannot(
                format!("{code} has late charges"),
                "take those back first",
            ));
        }
        // Lots of one material share its layers.
        let mut materials = BTreeSet::new();
        for lot in lots {
            for stored in tx.pieces_of_lot(*lot)? {
                let mut shelved = Shelved::load_row(tx, stored.piece.id)?;
                self.untouched(tx, &shelved)?;
                if !shelved.stored.piece.holds.is_empty() {
                    let detail = format!("{} is promised", shelved.code());
                    return Err(cannot(detail, "release that promise first"));
                }
                empty(&mut shelved);
                let last_on = shelved.stored.last_on;
                shelved.save(tx, last_on)?;
            }
            let missing = || not_found(format!("lot {lot}"), "see the shelf");
            let mut row = tx.lot(*lot)?.ok_or_else(missing)?;
            row.landed = 0;
            materials.insert(row.material_id);
            tx.update_lot(&row)?;
            tx.delete_pool_share(*lot)?;
        }
        for material in materials {
            self.layers_less(tx, material)?;
        }
        let mut row = self.purchase(tx, purchase)?;
        row.home_value = 0;
        tx.update_purchase(&row)?;
        for mut line in tx.purchase_lines(purchase)? {
            line.landed = 0;
            tx.update_purchase_line(&line)?;
        }
        Ok(Effect {
            movements: self.reversed(),
            ..Effect::default()
        })
    }

    fn purchase(&self, tx: &mut Tx<'_>, purchase: i64) -> Done<ellwand_storage::Purchase> {
        let code = PurchaseCode::new(purchase);
        tx.purchase(purchase)?
            .ok_or_else(|| not_found(format!("purchase {code}"), "see the list of purchases"))
    }

    /// Takes what this booking had put into layers of a material out of them again.
    pub(super) fn layers_less(&self, tx: &mut Tx<'_>, material: i64) -> Done<()> {
        self.layers_untaken(tx)?;
        for mut layer in tx.layers(material)? {
            let into = |movement: &&Movement| {
                movement.to.kind == AccountKind::Layer && movement.to.id == layer.id
            };
            let (mut quantity, mut value) = (0, 0);
            for movement in self.movements.iter().filter(into) {
                quantity += movement.quantity_in.get();
                value += movement.value.get();
            }
            if quantity == 0 && value == 0 {
                continue;
            }
            let left = (layer.quantity - quantity, layer.value - value);
            if left.0 < 0 || left.1 < 0 || (left.0 == 0 && left.1 != 0) {
                return Err(cannot(
                    "thread or trims of it have been used since",
                    "take those uses back first",
                ));
            }
            (layer.quantity, layer.value) = left;
            tx.save_layer(&layer)?;
        }
        Ok(())
    }

    pub(super) fn charge(
        &self,
        tx: &mut Tx<'_>,
        purchase: i64,
        gains: &[LineGain],
        home: i64,
    ) -> Done<Effect> {
        let mut effect = Effect {
            movements: self.reversed(),
            ..Effect::default()
        };
        let lots: BTreeSet<i64> = gains.iter().map(|gain| gain.lot).collect();
        for movement in effect.movements.clone() {
            for place in [movement.from, movement.to] {
                self.undrawn(tx, place)?;
            }
            self.move_value(tx, movement.from, -movement.value.get(), &lots)?;
            self.move_value(tx, movement.to, movement.value.get(), &lots)?;
        }
        for mut line in tx.purchase_lines(purchase)? {
            if let Some(gain) = gains.iter().find(|gain| gain.position == line.position) {
                line.landed -= gain.gain;
                tx.update_purchase_line(&line)?;
                if let Some(mut lot) = tx.lot(gain.lot)? {
                    lot.landed -= gain.gain;
                    tx.update_lot(&lot)?;
                }
            }
        }
        let mut row = self.purchase(tx, purchase)?;
        row.home_value -= home;
        tx.update_purchase(&row)?;
        effect.notes.push(format!(
            "the charge on {} is gone again",
            PurchaseCode::new(purchase)
        ));
        Ok(effect)
    }

    /// Refuses when value left a piece or layer since: a share of the charge went with it.
    fn undrawn(&self, tx: &mut Tx<'_>, place: Account) -> Done<()> {
        if !matches!(place.kind, AccountKind::Piece | AccountKind::Layer) {
            return Ok(());
        }
        let Some(first) = self.taken_since(tx, place)? else {
            return Ok(());
        };
        let detail = format!("{first} took a share of the charge with it");
        Err(cannot(
            detail,
            "take that back first, or book the charge's opposite",
        ))
    }

    /// Adds value to a piece or layer; other places keep no balance. `lots` are those that the charge reached.
    fn move_value(
        &self,
        tx: &mut Tx<'_>,
        place: Account,
        value: i64,
        lots: &BTreeSet<i64>,
    ) -> Done<()> {
        match place.kind {
            AccountKind::Piece => {
                let mut shelved = Shelved::load_row(tx, place.id)?;
                let now = shelved.stored.piece.value.get().saturating_add(value);
                if now < 0 || (now > 0 && shelved.stored.piece.quantity.is_zero()) {
                    return Err(self.used_since(tx, &shelved.code().to_string(), lots)?);
                }
                shelved.stored.piece.value = ellwand_domain::quantity::Millionths::new(now)?;
                let last_on = shelved.stored.last_on;
                shelved.save(tx, last_on)
            }
            AccountKind::Layer => {
                let Some(mut layer) = tx.layer(place.id)? else {
                    return Ok(());
                };
                layer.value += value;
                if layer.value < 0 || (layer.value > 0 && layer.quantity == 0) {
                    return Err(self.used_since(tx, "the thread or trim", lots)?);
                }
                tx.save_layer(&layer)?;
                Ok(())
            }
            AccountKind::Garment => self.garment_open(tx, place.id).map(|_| ()),
            _ => Ok(()),
        }
    }

    /// Why what a charge gave cannot be taken off again: a later credit took it, or it was used.
    fn used_since(&self, tx: &mut Tx<'_>, what: &str, lots: &BTreeSet<i64>) -> Done<Failure> {
        Ok(match self.charged_since(tx, lots)? {
            Some((charge, _)) => cannot(
                format!("{charge} credited {what} since"),
                "take that back first",
            ),
            None => cannot(
                format!("{what} has been used since"),
                "take those uses back first",
            ),
        })
    }
}
