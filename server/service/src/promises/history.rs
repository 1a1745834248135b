//! What a garment was cut from and is promised.

use crate::{
    detail::{CutDetail, Detail},
    failure::Done,
};
use ellwand_domain::setting::{BookingKind, CutReason};
use ellwand_storage::{Need, Reservation, Subject, Tx};

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
    for (_, cut) in standing_cuts(tx, need.garment_id)? {
        if cut.need == need.id && cut.reason == CutReason::Planned {
            lots.push(cut.lot);
        }
    }
    lots.sort_unstable();
    lots.dedup();
    Ok(lots)
}

/// Cuts for a garment that were not taken back, oldest first: booking and what it kept.
pub(crate) fn standing_cuts(tx: &mut Tx<'_>, garment: i64) -> Done<Vec<(i64, CutDetail)>> {
    let mut cuts = Vec::new();
    for booking in tx.standing_bookings(Subject::Garment, garment, BookingKind::Cut)? {
        if let Ok(Detail::Cut(cut)) = serde_json::from_str::<Detail>(&booking.detail) {
            cuts.push((booking.id, *cut));
        }
    }
    Ok(cuts)
}
