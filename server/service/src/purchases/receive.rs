//! Putting the lines of a purchase on the shelf: lots, pieces, cost layers, and their movements.

use super::{line::LineRead, source};
use crate::{
    desk::{Desk, counter, failure::Done},
    shelf::{pooled, pools, sheet, shelved::NewPiece},
};
use ellwand_contract::text::{LINE, clean_text};
use ellwand_contract::{Problem, ProblemType, purchases::Buy};
use ellwand_domain::{
    cloth::NO_HEAVIER,
    code::LotCode,
    layer::{self, Layer, Method},
    ledger::{Account, Movement},
    purchase::{Landed, split_value},
    quantity::Millionths,
};
use ellwand_storage::{Lot, Purchase, PurchaseLine, Tx};

/// What came in.
pub(super) struct Received {
    pub(super) lots: Vec<i64>,
    pub(super) movements: Vec<Movement>,
    /// Remarks, each with its lot.
    pub(super) notes: Vec<String>,
}

/// Makes a lot of every line.
pub(super) fn receive(
    desk: &mut Desk<'_>,
    purchase: &Purchase,
    buy: &Buy,
    lines: &[LineRead],
    landed: &Landed,
) -> Done<Received> {
    let count = i64::try_from(lines.len()).unwrap_or(i64::MAX);
    let mut id = desk.tx.next_numbers(counter::LOT, count)?;
    let mut received = Received {
        lots: Vec::new(),
        movements: Vec::new(),
        notes: Vec::new(),
    };
    for (((position, line), input), cost) in (1..).zip(lines).zip(&buy.lines).zip(&landed.per_line)
    {
        let mut lot = Lot {
            id,
            material_id: line.material.id,
            purchase_id: purchase.id,
            owner_id: line.owner,
            received: purchase.on_date,
            dye_lot: clean_text("dye_lot", "dye lot", LINE, input.dye_lot.as_ref())?,
            paid: clean_text("paid", "amount", LINE, input.paid.as_ref())?,
            sheet: sheet::write(&line.sheet)?,
            colour: String::new(),
            mass_mg_m2: None,
            next_piece: 1,
            landed: cost.home.get(),
            unpriced: line.keys.price.is_none(),
            replacement_value: line.replacement.map(|of| of.value.get()),
            replacement_per: line.replacement.map(|of| of.per),
            value_estimated: line.about,
        };
        sheet::fill_search_columns(&mut lot, &line.sheet);
        desk.tx.insert_lot(&lot)?;
        sheet::save_fibres(desk, lot.id, &line.sheet)?;
        desk.tx.insert_purchase_line(&PurchaseLine {
            purchase_id: purchase.id,
            position,
            lot_id: id,
            price_minor: cost.price,
            amount_minor: cost.invoice_minor,
            landed: cost.home.get(),
            quantity: line.total.get(),
            length_um: line.keys.length_um,
            mass_mg: line.keys.mass_mg,
        })?;
        let place = clean_text("place", "place", LINE, input.place.as_ref())?;
        let made = shelve(desk, purchase, line, (id, cost.home), place)?;
        received.movements.extend(made);
        if line.rectangle.is_none() && line.owner.is_none() {
            pool(desk, purchase, line, id, cost.home, &mut received.movements)?;
        }
        let code = LotCode::new(id);
        received
            .notes
            .extend(line.notes.iter().map(|note| format!("{code}: {note}")));
        received.lots.push(id);
        id = id.saturating_add(1);
    }
    Ok(received)
}

/// The pieces of a line; cloth carries its value by area, thread and trims leave it to their layer.
fn shelve(
    tx: &mut Tx<'_>,
    purchase: &Purchase,
    line: &LineRead,
    (lot, home): (i64, Millionths),
    place: Option<String>,
) -> Done<Vec<Movement>> {
    let mut movements = Vec::with_capacity(line.pieces.len());
    let values = match line.rectangle {
        Some(rectangle) => {
            let area =
                |length: i64| i128::from(length).saturating_mul(i128::from(rectangle.full.get()));
            let areas: Vec<i128> = line.pieces.iter().map(|piece| area(piece.get())).collect();
            split_value(home, &areas)
                .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?
        }
        None => vec![Millionths::ZERO; line.pieces.len()],
    };
    for (quantity, value) in line.pieces.iter().zip(values) {
        let new = NewPiece {
            lot,
            quantity: *quantity,
            rectangle: line.rectangle,
            value,
            flaws: Vec::new(),
            preparation: line.preparation,
            prepared: line.preparation.map(|_| purchase.on_date),
            mass_factor_ppm: NO_HEAVIER,
            estimated: line.estimated,
            offcut: false,
            place: place.clone(),
            day: purchase.on_date,
        };
        let stored = new.number(tx)?;
        tx.insert_piece(&stored)?;
        movements.push(Movement::new(
            source(purchase),
            Account::piece(stored.piece.id),
            *quantity,
            value,
        ));
    }
    Ok(movements)
}

/// A layer of its own, or more in the material's pool.
fn pool(
    desk: &mut Desk<'_>,
    purchase: &Purchase,
    line: &LineRead,
    lot: i64,
    home: Millionths,
    movements: &mut Vec<Movement>,
) -> Done<()> {
    let material = line.material.id;
    let method = Method::from(desk.context.workshop.pooled_method);
    let before = pooled::layers(desk, material)?;
    let id = match (method, before.as_slice()) {
        (Method::MovingAverage, [pool]) => pool.id,
        _ => desk.tx.next_numbers(counter::LAYER, 1)?,
    };
    let receipt = Layer {
        id,
        sequence: id,
        quantity: line.total.get(),
        value: home,
    };
    let after = layer::receive(&before, method, receipt)
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
    let missing = || {
        Problem::new(
            ProblemType::Internal,
            format!("layer {id} was not received"),
        )
    };
    let now = after
        .iter()
        .find(|layer| layer.id == id)
        .ok_or_else(missing)?;
    desk.tx.save_layer(&ellwand_storage::Layer {
        id,
        material_id: material,
        lot_id: if method == Method::Fifo {
            Some(lot)
        } else {
            None
        },
        quantity: now.quantity,
        value: now.value.get(),
    })?;
    if method == Method::MovingAverage {
        pools::received(desk, id, lot)?;
    }
    movements.push(Movement::new(
        source(purchase),
        Account::layer(id),
        line.total,
        home,
    ));
    Ok(())
}
