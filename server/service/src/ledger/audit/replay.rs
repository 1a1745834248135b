//! Every cost layer replayed from its movements alone, a batch at a time.

use super::BATCH;
use crate::desk::failure::Done;
use ellwand_contract::audit::{Audit, Finding};
use ellwand_domain::{
    code::{BookingCode, LotCode},
    layer::Replay,
};
use ellwand_storage::{LayerStep, Tx};
use std::collections::{HashMap, VecDeque};

/// Movements at layers in one direction, in the order of the layers and then of the ledger.
struct Cursor {
    out: bool,
    after: (i64, i64),
    ahead: VecDeque<LayerStep>,
    done: bool,
}

impl Cursor {
    const fn new(out: bool) -> Self {
        Self {
            out,
            after: (0, 0),
            ahead: VecDeque::new(),
            done: false,
        }
    }

    fn next(&mut self, tx: &mut Tx<'_>) -> Done<Option<&LayerStep>> {
        if self.ahead.is_empty() && !self.done {
            self.ahead = tx.audit_layer_steps(self.out, self.after, BATCH)?.into();
            match self.ahead.back() {
                Some(last) => self.after = (last.layer, last.sequence),
                None => self.done = true,
            }
        }
        Ok(self.ahead.front())
    }
}

/// Replays all layers; at most one finding for each.
pub(super) fn replay(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    let mut cursors = [Cursor::new(true), Cursor::new(false)];
    let mut replay: Option<(i64, Replay, bool)> = None;
    loop {
        let mut first: Option<(i64, i64, usize)> = None;
        for (index, cursor) in cursors.iter_mut().enumerate() {
            if let Some(step) = cursor.next(tx)? {
                let at = (step.layer, step.sequence, index);
                first = Some(first.map_or(at, |first| first.min(at)));
            }
        }
        let Some((layer, _, index)) = first else {
            return Ok(());
        };
        let Some(step) = cursors
            .get_mut(index)
            .and_then(|cursor| cursor.ahead.pop_front())
        else {
            return Ok(());
        };
        let current = match replay.take().filter(|(id, ..)| *id == layer) {
            Some(current) => current,
            None => (layer, Replay::new(layer), false),
        };
        let (layer, mut state, mut found) = current;
        let fault = state.step(&step.step).err().map(|fault| fault.to_string());
        let fault = match fault {
            None if !found => not_opposite(tx, &step)?,
            fault => fault,
        };
        if let Some(fault) = fault.filter(|_| !found) {
            found = true;
            let booking = BookingCode::new(step.step.booking);
            let record = record(tx, layer)?;
            audit.findings.push(Finding {
                rule: 4,
                record,
                detail: format!("{booking}: {fault}"),
            });
        }
        replay = Some((layer, state, found));
    }
}

/// What is wrong with an undo that does not book the opposite. A share of a late charge may go along, by way of the supplier.
fn not_opposite(tx: &mut Tx<'_>, step: &LayerStep) -> Done<Option<String>> {
    let Some(undoes) = step.undoes else {
        return Ok(None);
    };
    let opposite = step.step.movement.reversed();
    let original = tx.movements_of(&[undoes])?;
    let share = opposite.quantity_in.is_zero()
        && (opposite.from.kind.is_source() || opposite.to.kind.is_source());
    if share || original.iter().any(|stored| stored.movement == opposite) {
        return Ok(None);
    }
    Ok(Some(format!(
        "it is not the opposite of what {} booked",
        BookingCode::new(undoes)
    )))
}

fn record(tx: &mut Tx<'_>, layer: i64) -> Done<String> {
    let lot = tx.layer(layer)?.and_then(|layer| layer.lot_id);
    Ok(lot.map_or_else(
        || format!("cost {layer}"),
        |lot| format!("cost of {}", LotCode::new(lot)),
    ))
}

/// Shares of lots in pools must add up to their whole receipts.
pub(super) fn shares(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    for (lot, sum) in tx.audit_pool_shares()? {
        audit.findings.push(Finding {
            rule: 2,
            record: LotCode::new(lot).to_string(),
            detail: format!(
                "its shares in the pool and in what was taken add up to {sum} billionths"
            ),
        });
    }
    Ok(())
}

/// Counters must give codes that nothing has yet.
pub(super) fn counters(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    let names = HashMap::from([("work", "work entries"), ("wash_test", "wash tests")]);
    for sum in tx.audit_counters()? {
        let next = sum.next.unwrap_or(1);
        if next <= sum.highest {
            let what = names
                .get(sum.kind.as_str())
                .copied()
                .unwrap_or(sum.kind.as_str());
            audit.findings.push(Finding {
                rule: 1,
                record: format!("counter of {what}"),
                detail: format!("it gives {next} next, but {} is in use", sum.highest),
            });
        }
    }
    for lot in tx.audit_piece_numbers()? {
        audit.findings.push(Finding {
            rule: 1,
            record: LotCode::new(lot).to_string(),
            detail: "its next piece would get a number that is in use".to_owned(),
        });
    }
    Ok(())
}
