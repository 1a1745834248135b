//! Needs that run from several reels at once: each unit from another piece.

use crate::{
    failure::{Done, Failure, invalid},
    garments::need::NeedRecord,
    promises,
    shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, garments::Pick};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    setting::CutReason,
};
use ellwand_storage::{Reservation, Tx};

/// Why this reel is none of those that are still wanted: it is promised to the need, or gave it a unit. None where the need does not
/// run from several reels.
pub(crate) fn taken_already(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    piece: i64,
    promised: &[Reservation],
) -> Done<Option<String>> {
    let Some(reels) = need.input.reels else { return Ok(None) };
    let role = &need.row.role;
    if let Some(row) = promised.iter().find(|row| row.piece_id == piece) {
        let promise = ReservationCode::new(row.id);
        return Ok(Some(format!(
            "it is promised to the {role} already ({promise}), which takes {reels} reels"
        )));
    }
    let gave = promises::standing_cuts(tx, need.row.garment_id)?.into_iter().any(|(_, cut)| {
        (cut.need, cut.piece, cut.reason) == (need.row.id, piece, CutReason::Planned) && cut.units > 0
    });
    Ok(gave.then(|| format!("it gave its share to the {role} already, which takes {reels} reels")))
}

/// Refuses two units of one reel.
pub(super) fn check_pick(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    pick: &Pick,
    promised: &[Reservation],
) -> Done<()> {
    let Some(reels) = need.input.reels else { return Ok(()) };
    let (code, role, garment) = (shelved.code(), &need.row.role, GarmentCode::new(need.row.garment_id));
    let hint = format!("name another reel of its lot: ellwand candidates {garment} lists them");
    if let Some(units) = pick.units.filter(|units| *units > 1) {
        let detail =
            format!("{code} is one reel and cannot stand for {units} of the {reels} that the {role} takes");
        let Failure::Refused(problem) = invalid("units", detail) else { return Ok(()) };
        return Err(problem.hint(hint).into());
    }
    match taken_already(tx, need, shelved.stored.piece.id, promised)? {
        None => Ok(()),
        Some(why) => {
            let detail = format!("{code} cannot serve the {role} twice: {why}");
            Err(Problem::new(ProblemType::DoesNotServe, detail).hint(hint).into())
        }
    }
}
