//! What a garment was cut from and is promised.

use crate::{
    detail::{CutDetail, Detail},
    failure::Done,
    shelved::Shelved,
};
use ellwand_domain::setting::{BookingKind, CutReason, ReservationState};
use ellwand_storage::{Subject, Tx};

/// Lots that a garment's role was cut from and not given back, or is promised.
pub(crate) fn lots_of_role(tx: &mut Tx<'_>, garment: i64, role: &str) -> Done<Vec<i64>> {
    let mut lots = Vec::new();
    let needs: Vec<i64> =
        tx.needs(garment)?.iter().filter(|need| need.role == role).map(|need| need.id).collect();
    for row in tx.reservations_of_garment(garment)? {
        if needs.contains(&row.need_id) && row.state.0 == ReservationState::Active {
            lots.push(Shelved::load_row(tx, row.piece_id)?.record.lot.id);
        }
    }
    for detail in standing_cuts(tx, garment)? {
        if needs.contains(&detail.1.need) && detail.1.reason == CutReason::Planned {
            lots.push(detail.1.lot);
        }
    }
    lots.sort_unstable();
    lots.dedup();
    Ok(lots)
}

/// Cuts for a garment that were not taken back, oldest first: booking and what it kept.
pub(crate) fn standing_cuts(tx: &mut Tx<'_>, garment: i64) -> Done<Vec<(i64, CutDetail)>> {
    let bookings = tx.bookings(Some((Subject::Garment, garment)), i64::MAX, i64::MAX)?;
    let mut cuts = Vec::new();
    for booking in bookings.iter().rev() {
        if booking.kind.0 != BookingKind::Cut {
            continue;
        }
        if let Ok(Detail::Cut(cut)) = serde_json::from_str::<Detail>(&booking.detail)
            && tx.undone_by(booking.id)?.is_none()
        {
            cuts.push((booking.id, *cut));
        }
    }
    Ok(cuts)
}
