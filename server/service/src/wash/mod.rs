//! Wash tests, and pieces that were washed or steamed.

mod done;
mod swatch;
mod test;

use crate::{
    context::Context,
    failure::Done,
    promises::{self, Settled},
    shelved::{LotRecord, Shelved},
};
use ellwand_storage::Tx;

/// Looks again at the promises on a lot's raw pieces, whose shrinkage is another now.
pub(crate) fn resettle_raw(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    record: &LotRecord,
    because: &str,
) -> Done<Settled> {
    let mut all = Settled::default();
    for stored in tx.pieces_of_lot(record.lot.id)? {
        if stored.preparation.is_some() || stored.piece.holds.is_empty() {
            continue;
        }
        let mut shelved = Shelved { stored, record: record.clone() };
        let settled = promises::resettle(tx, context, booking, &mut shelved, because)?;
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        all.changed.extend(settled.changed);
        all.broken.extend(settled.broken);
    }
    Ok(all)
}
