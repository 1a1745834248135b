//! What comes after the goods, placed: a line's share goes to what is still here of its lot, by the value that went there, and the
//! rest to an adjustment. A credit never takes more from a place than it is worth.

use super::refused;
use crate::{
    desk::{
        context::Context,
        detail::ChargeShare,
        failure::{Done, invalid},
    },
    shelf::{
        lots::{weights::Weights, went},
        pools,
        shelved::{LotRecord, Shelved},
    },
};
use chrono::NaiveDate;
use ellwand_domain::{
    layer::WHOLE,
    ledger::{Account, AccountKind, Movement, Quantity},
    purchase::spread_late,
    quantity::Millionths,
    setting::GarmentState,
};
use ellwand_storage::{Layer, PurchaseLine, Subject, Tx};

/// What comes to the lots of a purchase after its goods, line by line.
pub(super) struct Gains {
    /// Where it comes from.
    from: Account,
    day: NaiveDate,
    pub(super) movements: Vec<Movement>,
    pub(super) shares: Vec<ChargeShare>,
    /// What went to the adjustment.
    gone: Millionths,
}

impl Gains {
    pub(super) fn new(from: Account, day: NaiveDate) -> Self {
        Self {
            from,
            day,
            movements: Vec::new(),
            shares: Vec::new(),
            gone: Millionths::ZERO,
        }
    }

    /// That some of it is an adjustment, where it is.
    pub(super) fn note(&self, context: &Context<'_>) -> Option<String> {
        let gone = context.printed(self.gone);
        let currency = context.currency;
        (!self.gone.is_zero()).then(|| {
            format!(
                "{gone} {currency} of it is for what is no longer here, and is booked as an adjustment"
            )
        })
    }

    /// A line's share: to what is still here of its lot, the rest to an adjustment.
    pub(super) fn line(
        &mut self,
        tx: &mut Tx<'_>,
        line: &PurchaseLine,
        share: Millionths,
    ) -> Done<()> {
        if share.is_zero() {
            return Ok(());
        }
        let record = LotRecord::load(tx, line.lot_id)?;
        let mut lot = record.lot.clone();
        let mut row = line.clone();
        row.landed = row.landed.saturating_add(share.get());
        if row.landed < 0 {
            let cost = Millionths::new(line.landed)?.decimal();
            let detail = format!(
                "line {} cost {cost}; a credit cannot take off more",
                line.position
            );
            return Err(invalid("charge.amount", detail)
                .with("line", line.position)
                .with("most_millionths", line.landed));
        }
        let (here, whole) = still_here(tx, &record, line)?;
        let spread = spread_late(share, &here, whole).map_err(refused)?;
        let mut adjustment = spread.adjustment;
        for (place, part) in spread.parts {
            adjustment = adjustment.plus(self.place(tx, line.lot_id, place, part)?)?;
        }
        let gone = Account::new(AccountKind::Adjustment, 0);
        self.movement(line.lot_id, gone, adjustment);
        self.gone = self.gone.plus(adjustment)?;
        lot.landed = row.landed;
        tx.update_lot(&lot)?;
        tx.update_purchase_line(&row)?;
        Ok(())
    }

    fn movement(&mut self, lot: i64, place: Account, value: Millionths) {
        let share = ChargeShare {
            lot,
            place,
            value: value.get(),
        };
        let source = self.from;
        let (from, to, value) = if value.get() < 0 {
            (place, source, value.negated())
        } else {
            (source, place, value)
        };
        if !value.is_zero() {
            self.shares.push(share);
            self.movements
                .push(Movement::new(from, to, Quantity::ZERO, value));
        }
    }

    /// Adds a part to a place, or takes a credit from it as far as it is worth that; gives back what did not fit.
    fn place(
        &mut self,
        tx: &mut Tx<'_>,
        lot: i64,
        place: Account,
        part: Millionths,
    ) -> Done<Millionths> {
        let fits = |worth: i64| Millionths::new(part.get().max(worth.saturating_neg()));
        let taken = match place.kind {
            AccountKind::Piece => {
                let mut shelved = Shelved::load_row(tx, place.id)?;
                let piece = &mut shelved.stored.piece;
                let taken = fits(piece.value.get())?;
                piece.value = piece.value.plus(taken)?;
                shelved.save(tx, self.day)?;
                taken
            }
            AccountKind::Layer => {
                let Some(mut layer) = tx.layer(place.id)? else {
                    return Ok(part);
                };
                let taken = fits(layer.value)?;
                layer.value = layer.value.saturating_add(taken.get());
                tx.save_layer(&layer)?;
                taken
            }
            _ => {
                let mut worth = 0_i64;
                for (stored, _) in tx.movements_at(place)? {
                    let value = stored.movement.value.get();
                    worth = worth.saturating_add(if stored.movement.to == place {
                        value
                    } else {
                        -value
                    });
                }
                // An earlier line of this charge may have reached the same garment.
                for movement in &self.movements {
                    let value = movement.value.get();
                    worth = worth.saturating_add(
                        match (movement.to == place, movement.from == place) {
                            (true, _) => value,
                            (_, true) => -value,
                            _ => 0,
                        },
                    );
                }
                fits(worth.max(0))?
            }
        };
        self.movement(lot, place, taken);
        Ok(part.minus(taken)?)
    }

    pub(super) fn subjects(&self) -> Vec<(Subject, i64)> {
        let mut subjects = vec![(Subject::Purchase, self.from.id)];
        subjects.extend(self.shares.iter().map(|share| (Subject::Lot, share.lot)));
        for movement in &self.movements {
            for place in [movement.from, movement.to] {
                if place.kind == AccountKind::Garment {
                    subjects.push((Subject::Garment, place.id));
                }
            }
        }
        subjects
    }
}

/// What is still here of a lot, each with its weight, and the weight of all of it.
///
/// The weight is the value that went there, which follows the cloth through shrinkage and strips; of a lot that cost nothing it
/// is how much of it lies there. Of a pool, in which lots melt into one, it is the receipt's share.
fn still_here(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    line: &PurchaseLine,
) -> Done<(Vec<(Account, i128)>, i128)> {
    let layers = tx.layers(record.material.id)?;
    let own: Vec<(Account, i64, i64)> = if record.kind().is_rectangle() {
        let pieces = tx.pieces_of_lot(record.lot.id)?.into_iter();
        let held = pieces.map(|stored| {
            let piece = stored.piece;
            (
                Account::piece(piece.id),
                piece.value.get(),
                piece.quantity.get(),
            )
        });
        held.collect()
    } else {
        match layers
            .iter()
            .find(|layer| layer.lot_id == Some(record.lot.id))
        {
            Some(own) => vec![(Account::layer(own.id), own.value, own.quantity)],
            None => return in_pool(tx, &layers, record.lot.id),
        }
    };
    let (mut here, went, whole) = if line.landed > 0 {
        let places: Vec<Account> = own.iter().map(|(place, ..)| *place).collect();
        let held: Vec<(Account, i64)> = own
            .iter()
            .map(|(place, value, _)| (*place, *value))
            .collect();
        (
            held,
            went::flows(tx, &record.lot, &places)?,
            i128::from(line.landed),
        )
    } else {
        let held: Vec<(Account, i64)> = own
            .iter()
            .map(|(place, _, quantity)| (*place, *quantity))
            .collect();
        let weights = Weights::read(tx, &held)?;
        let whole = weights.whole();
        (weights.own, weights.went, whole)
    };
    for (account, weight) in went {
        if account.kind == AccountKind::Garment && unfinished(tx, account.id)? {
            here.push((account, weight));
        }
    }
    let here: Vec<(Account, i128)> = here
        .iter()
        .map(|(account, weight)| (*account, i128::from(*weight).max(0)))
        .collect();
    let sum = here
        .iter()
        .fold(0_i128, |sum, (_, weight)| sum.saturating_add(*weight));
    Ok((here, whole.max(sum)))
}

/// What is still here of a lot that came into a pool: its share there, and what unfinished garments took of it.
fn in_pool(tx: &mut Tx<'_>, layers: &[Layer], lot: i64) -> Done<(Vec<(Account, i128)>, i128)> {
    let mut here = Vec::new();
    if let Some(own) = tx.pool_share(lot)?
        && layers
            .iter()
            .any(|layer| layer.id == own.layer_id && layer.quantity > 0)
    {
        here.push((Account::layer(own.layer_id), i128::from(own.share)));
    }
    for (account, share) in pools::places(tx, lot)? {
        if account.kind == AccountKind::Garment && unfinished(tx, account.id)? {
            here.push((account, i128::from(share.max(0))));
        }
    }
    Ok((here, i128::from(WHOLE)))
}

fn unfinished(tx: &mut Tx<'_>, garment: i64) -> Done<bool> {
    let state = tx.garment(garment)?.map(|garment| garment.state);
    Ok(matches!(
        state,
        Some(GarmentState::Planned | GarmentState::CutInto)
    ))
}
