//! Cost layers of thread and trims: read, drawn from, given back.

use crate::{
    context::Context,
    failure::{Done, Failure},
    shelved::{Shelved, amount},
};
use ellwand_contract::{Micro, Problem, ProblemType, sheets::Stock};
use ellwand_domain::{
    layer::{self, Layer, LayerError, Method, Taken},
    ledger::Quantity,
    quantity::Millionths,
};
use ellwand_storage::Tx;

/// Layers of a material as the domain knows them, oldest first.
pub(crate) fn layers(tx: &mut Tx<'_>, material: i64) -> Done<Vec<Layer>> {
    let rows = tx.layers(material)?;
    let read = |row: &ellwand_storage::Layer| -> Done<Layer> {
        Ok(Layer { id: row.id, sequence: row.id, quantity: row.quantity, value: Millionths::new(row.value)? })
    };
    rows.iter().map(read).collect()
}

/// What is left of a material's layers and what it cost; with a lot, of its own layer where lots keep theirs.
pub(crate) fn stock(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    material: i64,
    counted: bool,
    lot: Option<i64>,
) -> Done<Stock> {
    let mut rows = tx.layers(material)?;
    let pooled = rows.iter().all(|row| row.lot_id.is_none());
    if let Some(lot) = lot.filter(|_| !pooled) {
        rows.retain(|row| row.lot_id == Some(lot));
    }
    let value = Millionths::new(rows.iter().map(|row| row.value).sum())?;
    let quantity = Quantity::new(rows.iter().map(|row| row.quantity).sum())?;
    let printed = context.printed(value);
    Ok(Stock {
        quantity: amount(counted, quantity),
        value: Some(Micro(value)),
        printed: Some(printed),
        pooled,
    })
}

/// What taking `quantity` of a pooled piece would cost, layer by layer; `own_lot`: at its own lot's layer.
pub(crate) fn preview(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    quantity: Quantity,
    own_lot: bool,
) -> Done<Vec<Taken>> {
    if shelved.record.lot.owner_id.is_some() {
        return Ok(Vec::new());
    }
    let material = shelved.record.material.id;
    let all = layers(tx, material)?;
    let method = Method::from(context.workshop.pooled_method.0);
    if own_lot && method == Method::Fifo {
        let rows = tx.layers(material)?;
        if let Some(own) = rows.iter().find(|row| row.lot_id == Some(shelved.record.lot.id)) {
            return Ok(vec![layer::take_from_lot(&all, own.id, quantity.get()).map_err(refused)?]);
        }
    }
    layer::take(&all, method, quantity.get()).map_err(refused)
}

/// Writes the layers after a taking.
pub(crate) fn draw_down(tx: &mut Tx<'_>, material: i64, taken: &[Taken]) -> Done<()> {
    let before = layers(tx, material)?;
    write(tx, material, &layer::draw_down(&before, taken).map_err(refused)?)
}

/// Writes the layers after a taking was given back.
pub(crate) fn put_back(tx: &mut Tx<'_>, material: i64, taken: &[Taken]) -> Done<()> {
    let before = layers(tx, material)?;
    write(tx, material, &layer::put_back(&before, taken).map_err(refused)?)
}

/// Sum of what was taken.
pub(crate) fn cost(taken: &[Taken]) -> Done<Millionths> {
    Ok(Millionths::sum(taken.iter().map(|taken| taken.value))?)
}

fn write(tx: &mut Tx<'_>, material: i64, after: &[Layer]) -> Done<()> {
    for mut row in tx.layers(material)? {
        let Some(now) = after.iter().find(|layer| layer.id == row.id) else { continue };
        if (row.quantity, row.value) != (now.quantity, now.value.get()) {
            row.quantity = now.quantity;
            row.value = now.value.get();
            tx.save_layer(&row)?;
        }
    }
    Ok(())
}

fn refused(error: LayerError) -> Failure {
    Problem::new(ProblemType::ExceedsOnHand, error.to_string())
        .hint("count what is there, and measure the piece if the book is wrong")
        .into()
}
