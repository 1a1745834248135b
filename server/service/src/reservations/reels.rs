//! Needs that run from several reels at once: each unit from another piece.

use crate::{
    candidates,
    context::Context,
    failure::{Done, invalid},
    garments::need::NeedRecord,
    promises,
    shelved::{Shelved, show},
};
use ellwand_contract::{Problem, ProblemType, garments::Pick};
use ellwand_domain::{
    code::{GarmentCode, LotCode, ReservationCode},
    ledger::Quantity,
    setting::CutReason,
};
use ellwand_storage::{Garment, Reservation, Tx};
use std::collections::BTreeMap;

/// Pieces that gave a unit of a need that runs from several reels; none of other needs.
pub(crate) fn reels_given(tx: &mut Tx<'_>, need: &NeedRecord) -> Done<Vec<i64>> {
    if need.input.reels.is_none() {
        return Ok(Vec::new());
    }
    let mut cuts = tx.cuts_of_need(need.row.id)?;
    cuts.retain(|cut| cut.reason.0 == CutReason::Planned && cut.units > 0);
    Ok(cuts.into_iter().map(|cut| cut.piece_id).collect())
}

/// Why this reel is none of those that are still wanted: it is promised to the need, or `given` says that it gave it a unit. None
/// where the need does not run from several reels.
pub(crate) fn not_wanted(
    need: &NeedRecord,
    piece: i64,
    promised: &[Reservation],
    given: &[i64],
) -> Option<String> {
    let reels = need.input.reels?;
    let role = &need.row.role;
    if let Some(row) = promised.iter().find(|row| row.piece_id == piece) {
        let promise = ReservationCode::new(row.id);
        return Some(format!(
            "it is promised to the {role} already ({promise}), which takes {reels} reels"
        ));
    }
    given
        .contains(&piece)
        .then(|| format!("it gave its share to the {role} already, which takes {reels} reels"))
}

/// The same for one reel, of which it is looked up what it gave.
pub(crate) fn taken_already(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    piece: i64,
    promised: &[Reservation],
) -> Done<Option<String>> {
    let given = reels_given(tx, need)?;
    Ok(not_wanted(need, piece, promised, &given))
}

/// Refuses two units of one reel.
pub(super) fn check_pick(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    pick: &Pick,
    promised: &[Reservation],
) -> Done<()> {
    let Some(reels) = need.input.reels else {
        return Ok(());
    };
    let (code, role, garment) = (
        shelved.code(),
        &need.row.role,
        GarmentCode::new(need.row.garment_id),
    );
    let hint = format!("name another reel of its lot: ellwand candidates {garment} lists them");
    if let Some(units) = pick.units.filter(|units| *units > 1) {
        let detail = format!(
            "{code} is one reel and cannot stand for {units} of the {reels} that the {role} takes"
        );
        return Err(Problem::from(invalid("units", detail)).hint(hint).into());
    }
    match taken_already(tx, need, shelved.stored.piece.id, promised)? {
        None => Ok(()),
        Some(why) => {
            let detail = format!("{code} cannot serve the {role} twice: {why}");
            Err(Problem::new(ProblemType::DoesNotServe, detail)
                .hint(hint)
                .into())
        }
    }
}

/// Refuses the first reel of a lot that has too few of them for the need, where lots may not be mixed. `takes`: what each gives.
pub(super) fn check_lot(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    need: &NeedRecord,
    shelved: &Shelved,
    takes: Quantity,
    promised: &[Reservation],
) -> Done<()> {
    let open = need.open_units(promised.iter().map(|row| row.units).sum());
    let first = need.input.reels.is_some() && !need.input.mixing && open > 1;
    if !first || !promises::lots_of_need(tx, &need.row, promised)?.is_empty() {
        return Ok(());
    }
    let enough = |stored: ellwand_storage::StoredPiece| {
        let reel = Shelved {
            stored,
            record: shelved.record.clone(),
        }
        .current(context.today);
        reel.stored
            .piece
            .longest_free()
            .is_ok_and(|free| free >= takes)
    };
    let reels = tx
        .pieces_of_lot(shelved.stored.lot_id)?
        .into_iter()
        .map(enough);
    let has = reels.filter(|enough| *enough).count();
    if i64::try_from(has).is_ok_and(|has| has >= open) {
        return Ok(());
    }
    let mut lots: BTreeMap<i64, usize> = BTreeMap::new();
    for found in candidates::for_needs(tx, context, garment, &[need])? {
        for reel in found.view.serve {
            *lots.entry(reel.piece.lot.get()).or_default() += 1;
        }
    }
    lots.insert(shelved.stored.lot_id, has);
    let mut lots: Vec<(i64, usize)> = lots.into_iter().collect();
    lots.sort_by_key(|(lot, reels)| (std::cmp::Reverse(*reels), *lot));
    let told: Vec<String> = lots
        .iter()
        .take(5)
        .map(|(lot, reels)| format!("{} has {reels}", LotCode::new(*lot)))
        .collect();
    let detail = format!(
        "the {} takes {open} reels of one lot, and {} has too few with {} free each: {}",
        need.row.role,
        shelved.record.code(),
        show(context, false, takes),
        told.join(", ")
    );
    let hint = "name a reel of a lot that has enough, get more of one, or where lots may be mixed say mixing=yes in the need \
                (ellwand garment edit)";
    Err(Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .with("open", open)
        .into())
}
