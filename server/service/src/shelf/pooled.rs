//! Cost layers of thread and trims: read, drawn from, given back.

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
    },
    shelf::{
        pools,
        shelved::{Shelved, amount},
    },
};
use ellwand_contract::{Micro, Problem, ProblemType, cuts::FromLayer, sheets::Stock};
use ellwand_domain::{
    code::LotCode,
    layer::{self, Layer, LayerError, Method, Taken},
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
};
use ellwand_storage::Tx;

/// Layers of a material as the domain knows them, oldest first.
pub(crate) fn layers(tx: &mut Tx<'_>, material: i64) -> Done<Vec<Layer>> {
    let rows = tx.layers(material)?;
    let read = |row: &ellwand_storage::Layer| -> Done<Layer> {
        Ok(Layer {
            id: row.id,
            sequence: row.id,
            quantity: row.quantity,
            value: Millionths::new(row.value)?,
        })
    };
    rows.iter().map(read).collect()
}

/// What is left of a material's layers and what it cost; with a lot, of its own layer where lots keep theirs.
pub(crate) fn stock(
    desk: &mut Desk<'_>,
    material: i64,
    counted: bool,
    lot: Option<i64>,
) -> Done<Stock> {
    let mut rows = desk.tx.layers(material)?;
    let pooled = rows.iter().all(|row| row.lot_id.is_none());
    if let Some(lot) = lot.filter(|_| !pooled) {
        rows.retain(|row| row.lot_id == Some(lot));
    }
    let value = Millionths::new(rows.iter().map(|row| row.value).sum())?;
    let quantity = Quantity::new(rows.iter().map(|row| row.quantity).sum())?;
    let printed = desk.context.printed(value);
    Ok(Stock {
        quantity: amount(counted, quantity),
        value: Some(Micro(value)),
        printed: Some(printed),
        pooled,
    })
}

/// What taking `quantity` of a pooled piece would cost, layer by layer; `own_lot`: at its own lot's layer, as far as that
/// reaches.
pub(crate) fn preview(
    desk: &mut Desk<'_>,
    shelved: &Shelved,
    quantity: Quantity,
    own_lot: bool,
) -> Done<Vec<Taken>> {
    if shelved.record.lot.owner_id.is_some() {
        return Ok(Vec::new());
    }
    let material = shelved.record.material.id;
    let all = layers(desk, material)?;
    let method = Method::from(desk.context.workshop.pooled_method);
    let own = if own_lot {
        own_layer(desk, shelved)?
    } else {
        None
    };
    layer::take_own_first(&all, method, own, quantity.get()).map_err(refused)
}

/// The layer of the piece's own lot, where lots keep theirs.
pub(crate) fn own_layer(tx: &mut Tx<'_>, shelved: &Shelved) -> Done<Option<i64>> {
    let rows = tx.layers(shelved.record.material.id)?;
    Ok(rows
        .iter()
        .find(|row| row.lot_id == Some(shelved.record.lot.id))
        .map(|row| row.id))
}

/// Changes the layers as a pooled piece was found to hold `now` instead of `was`: the quantity of its own lot's first, or of the
/// pool. Value stays with what is left; a layer that is emptied loses its own as normal loss. Answers the value lost.
pub(crate) fn found(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &Shelved,
    was: Quantity,
    now: Quantity,
    movements: &mut Vec<Movement>,
) -> Done<Millionths> {
    if shelved.stored.piece.rectangle.is_some()
        || shelved.record.lot.owner_id.is_some()
        || was == now
    {
        return Ok(Millionths::ZERO);
    }
    let material = shelved.record.material.id;
    let (nothing, own) = (
        Account::new(AccountKind::NormalLoss, 0),
        own_layer(desk, shelved)?,
    );
    if now < was {
        let method = Method::from(desk.context.workshop.pooled_method);
        let lost = layer::lose(&layers(desk, material)?, method, own, was.minus(now)?.get())
            .map_err(refused)?;
        let before = layers(desk, material)?;
        let emptied = |part: &&Taken| {
            before
                .iter()
                .any(|layer| layer.id == part.layer && layer.quantity == part.quantity)
        };
        let emptied: Vec<Taken> = lost.iter().filter(emptied).copied().collect();
        pools::carry_off(desk, booking, &emptied, nothing)?;
        draw_down(desk, material, &lost)?;
        for part in &lost {
            let quantity = Quantity::new(part.quantity)?;
            movements.push(Movement::new(
                Account::layer(part.layer),
                nothing,
                quantity,
                part.value,
            ));
        }
        return cost(&lost);
    }
    let mut rows = desk.tx.layers(material)?;
    let at = rows.iter().position(|row| Some(row.id) == own);
    let at = at
        .or_else(|| rows.iter().position(|row| row.quantity > 0))
        .unwrap_or(0);
    let Some(row) = rows.get_mut(at) else {
        return Ok(Millionths::ZERO);
    };
    let more = now.minus(was)?;
    row.quantity = row.quantity.saturating_add(more.get());
    movements.push(Movement::new(
        nothing,
        Account::layer(row.id),
        more,
        Millionths::ZERO,
    ));
    desk.tx.save_layer(row)?;
    Ok(Millionths::ZERO)
}

/// What was taken of the layers of thread or trims.
#[derive(Default)]
pub(crate) struct TakenFromLayers {
    pub(crate) layers: Vec<FromLayer>,
    pub(crate) movements: Vec<Movement>,
    pub(crate) cost: Millionths,
}

/// Takes a quantity of thread or trims from its layers to a place; `own_lot`: at its own lot's layer, as far as that reaches.
pub(crate) fn take(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &Shelved,
    (quantity, own_lot): (Quantity, bool),
    to: Account,
) -> Done<TakenFromLayers> {
    let taken = preview(desk, shelved, quantity, own_lot)?;
    let layers = from_layers(desk, shelved, &taken)?;
    pools::carry_off(desk, booking, &taken, to)?;
    draw_down(desk, shelved.record.material.id, &taken)?;
    let mut movements = Vec::with_capacity(taken.len());
    for part in &taken {
        let quantity = Quantity::new(part.quantity)?;
        movements.push(Movement::new(
            Account::layer(part.layer),
            to,
            quantity,
            part.value,
        ));
    }
    Ok(TakenFromLayers {
        layers,
        movements,
        cost: cost(&taken)?,
    })
}

/// From which layers a taking came, for its answer.
fn from_layers(tx: &mut Tx<'_>, shelved: &Shelved, taken: &[Taken]) -> Done<Vec<FromLayer>> {
    let rows = tx.layers(shelved.record.material.id)?;
    let mut from_layers = Vec::with_capacity(taken.len());
    for part in taken {
        let lot = rows
            .iter()
            .find(|row| row.id == part.layer)
            .and_then(|row| row.lot_id);
        from_layers.push(FromLayer {
            lot: lot.map(LotCode::new),
            quantity: shelved.amount(Quantity::new(part.quantity)?),
            cost: Micro(part.value),
        });
    }
    Ok(from_layers)
}

/// Writes the layers after a taking.
pub(crate) fn draw_down(tx: &mut Tx<'_>, material: i64, taken: &[Taken]) -> Done<()> {
    let before = layers(tx, material)?;
    write(
        tx,
        material,
        &layer::draw_down(&before, taken).map_err(refused)?,
    )
}

/// Writes the layers after a taking was given back.
pub(crate) fn put_back(tx: &mut Tx<'_>, material: i64, taken: &[Taken]) -> Done<()> {
    let before = layers(tx, material)?;
    write(
        tx,
        material,
        &layer::put_back(&before, taken).map_err(refused)?,
    )
}

/// Sum of what was taken.
pub(crate) fn cost(taken: &[Taken]) -> Done<Millionths> {
    Ok(Millionths::sum(taken.iter().map(|taken| taken.value))?)
}

fn write(tx: &mut Tx<'_>, material: i64, after: &[Layer]) -> Done<()> {
    for mut row in tx.layers(material)? {
        let Some(now) = after.iter().find(|layer| layer.id == row.id) else {
            continue;
        };
        if (row.quantity, row.value) != (now.quantity, now.value.get()) {
            row.quantity = now.quantity;
            row.value = now.value.get();
            tx.save_layer(&row)?;
        }
    }
    Ok(())
}

pub(crate) fn refused(error: LayerError) -> Failure {
    Problem::new(ProblemType::ExceedsOnHand, error.to_string())
        .hint("count what is there, and measure the piece if the book is wrong")
        .into()
}
