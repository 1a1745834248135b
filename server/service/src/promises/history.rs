//! What a garment was cut from and is promised.

use crate::failure::Done;
use ellwand_domain::setting::CutReason;
use ellwand_storage::{Need, Reservation, Tx};

/// Lots that a garment's role was cut from and not given back, or is promised.
pub(crate) fn lots_of_role(tx: &mut Tx<'_>, garment: i64, role: &str) -> Done<Vec<i64>> {
    // A garment has one need of a role.
    let needs = tx.needs(garment)?;
    let Some(need) = needs.iter().find(|need| need.role == role) else {
        return Ok(Vec::new());
    };
    let mut promised = tx.active_reservations_of_garment(garment)?;
    promised.retain(|row| row.need_id == need.id);
    lots_of_need(tx, need, &promised)
}

/// Lots that a need was cut from and not given back, or is promised by these promises of its own.
pub(crate) fn lots_of_need(
    tx: &mut Tx<'_>,
    need: &Need,
    promised: &[Reservation],
) -> Done<Vec<i64>> {
    let mut lots = Vec::new();
    for row in promised {
        lots.extend(tx.piece(row.piece_id)?.map(|stored| stored.lot_id));
    }
    for cut in tx.cuts_of_need(need.id)? {
        if cut.reason.0 == CutReason::Planned {
            lots.push(cut.lot_id);
        }
    }
    lots.sort_unstable();
    lots.dedup();
    Ok(lots)
}
