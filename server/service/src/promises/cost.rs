//! What promises would cost if they were cut as the book stands: worked out when it is asked, kept nowhere.
//!
//! Of cloth it is the share of its piece's value, of a panel only its share of the width, as a cut books it. Thread and trims come out of their layers in the order in which they were
//! promised, so that several promises never count the same cheap layer; what is not promised yet comes after all of them.

use crate::{
    desk::{Desk, failure::Done},
    garments::need::{self, NeedRecord},
    promises::panel,
    shelf::{
        pooled,
        shelved::Shelved,
        worth::{Unpriced, Worth},
    },
};
use ellwand_domain::{
    layer::{self, Layer, Method, Taken},
    ledger::Quantity,
    setting::ReservationState,
};
use ellwand_storage::Reservation;
use std::collections::{HashMap, hash_map::Entry};

/// Costs of promises, each material's layers read once.
#[derive(Debug, Default)]
pub(crate) struct Costs {
    materials: HashMap<i64, Pooled>,
}

/// A material's layers, as its promises share them.
#[derive(Debug)]
struct Pooled {
    costs: HashMap<i64, Worth>,
    unpriced: Unpriced,
    /// What they leave.
    left: Vec<Layer>,
}

impl Costs {
    /// What the promise would cost if all that it holds were cut now; nothing once it has ended.
    pub(crate) fn of(
        &mut self,
        desk: &mut Desk<'_>,
        row: &Reservation,
        need: &NeedRecord,
        shelved: &Shelved,
    ) -> Done<Worth> {
        if row.state != ReservationState::Active
            || row.until.is_some_and(|day| day < desk.context.today)
        {
            return Ok(Worth::NOTHING);
        }
        if shelved.stored.piece.rectangle.is_some() {
            let need = need.resting_on(row.lay_id);
            return of_cloth(desk, &need, shelved, Quantity::new(row.held)?);
        }
        let pooled = self.pooled(desk, shelved.record.material.id)?;
        Ok(pooled.costs.get(&row.id).copied().unwrap_or(Worth::NOTHING))
    }

    /// What taking `quantity` of the piece for a need would cost after all that is promised.
    pub(crate) fn beyond(
        &mut self,
        desk: &mut Desk<'_>,
        need: &NeedRecord,
        shelved: &Shelved,
        quantity: Quantity,
    ) -> Done<Worth> {
        if shelved.stored.piece.rectangle.is_some() {
            return of_cloth(desk, need, shelved, quantity);
        }
        let taken = self.taken(desk, shelved, quantity, need.own_lot())?;
        self.pooled(desk, shelved.record.material.id)?
            .unpriced
            .of(&taken)
    }

    /// Takes what was picked of thread and trims out of what is left for the needs after it.
    pub(crate) fn pick(
        &mut self,
        desk: &mut Desk<'_>,
        need: &NeedRecord,
        shelved: &Shelved,
        quantity: Quantity,
    ) -> Done<()> {
        if shelved.stored.piece.rectangle.is_some() {
            return Ok(());
        }
        let taken = self.taken(desk, shelved, quantity, need.own_lot())?;
        let pooled = self.pooled(desk, shelved.record.material.id)?;
        pooled.left = layer::draw_down(&pooled.left, &taken).map_err(pooled::refused)?;
        Ok(())
    }

    fn taken(
        &mut self,
        desk: &mut Desk<'_>,
        shelved: &Shelved,
        quantity: Quantity,
        own_lot: bool,
    ) -> Done<Vec<Taken>> {
        if shelved.record.lot.owner_id.is_some() {
            return Ok(Vec::new());
        }
        let own = if own_lot {
            pooled::own_layer(desk, shelved)?
        } else {
            None
        };
        let left = &self.pooled(desk, shelved.record.material.id)?.left;
        take(
            left,
            Method::from(desk.context.workshop.pooled_method),
            own,
            quantity.get(),
        )
    }

    fn pooled(&mut self, desk: &mut Desk<'_>, material: i64) -> Done<&mut Pooled> {
        Ok(match self.materials.entry(material) {
            Entry::Occupied(known) => known.into_mut(),
            Entry::Vacant(new) => new.insert(Pooled::read(desk, material)?),
        })
    }
}

impl Pooled {
    fn read(desk: &mut Desk<'_>, material: i64) -> Done<Self> {
        let method = Method::from(desk.context.workshop.pooled_method);
        let rows = desk.tx.layers(material)?;
        let layer_of = |lot: i64| {
            rows.iter()
                .find(|row| row.lot_id == Some(lot))
                .map(|row| row.id)
        };
        let unpriced = Unpriced::read(desk, material)?;
        let mut left = pooled::layers(desk, material)?;
        let mut promises = desk.tx.promises_of_material(material)?;
        promises.retain(|promise| {
            promise
                .row
                .until
                .is_none_or(|day| day >= desk.context.today)
        });
        let mut costs = HashMap::with_capacity(promises.len());
        // By the promise that each was first: one that undo made again keeps its place.
        promises.sort_by_key(|promise| (promise.row.line(), promise.row.id));
        for promise in promises {
            let own_lot = method == Method::Fifo && need::insists_on_lot(&promise.need)?;
            let own = if own_lot { layer_of(promise.lot) } else { None };
            let taken = take(&left, method, own, promise.row.held)?;
            left = layer::draw_down(&left, &taken).map_err(pooled::refused)?;
            costs.insert(promise.row.id, unpriced.of(&taken)?);
        }
        Ok(Self {
            costs,
            unpriced,
            left,
        })
    }
}

/// So much of a piece of cloth for a need, as far as it reaches.
fn of_cloth(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    quantity: Quantity,
) -> Done<Worth> {
    let piece = &shelved.stored.piece;
    let quantity = quantity.min(piece.quantity);
    let internal = |error| super::internal(shelved, &error);
    let mut booked = piece.value_of(quantity).map_err(internal)?;
    if let Some((panel, of)) = panel::planned(desk, need, shelved, quantity)? {
        booked = panel.cost(booked, of)?;
    }
    Worth::of_lot(&shelved.record.lot, booked, quantity.get())
}

/// As a cut would take it; what is not there cannot be planned.
fn take(layers: &[Layer], method: Method, own: Option<i64>, quantity: i64) -> Done<Vec<Taken>> {
    let available = layers
        .iter()
        .fold(0_i64, |sum, layer| sum.saturating_add(layer.quantity));
    match quantity.min(available) {
        0 => Ok(Vec::new()),
        quantity => layer::take_own_first(layers, method, own, quantity).map_err(pooled::refused),
    }
}
