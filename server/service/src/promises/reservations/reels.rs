//! Needs that run from several reels at once: each unit from another piece.

use crate::{
    desk::{
        Desk,
        failure::{Done, invalid},
    },
    garments::need::NeedRecord,
    promises::{Filled, candidates, fit::UnitFit},
    shelf::shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, garments::Pick};
use ellwand_domain::code::{GarmentCode, LotCode, ReservationCode};
use ellwand_storage::Garment;
use std::collections::BTreeMap;

/// Why this reel is none of those that are still wanted: it is promised to the need, or gave it a unit. None where the need does not
/// run from several reels.
pub(crate) fn taken_already(
    need: &NeedRecord,
    piece: i64,
    filled: &Filled,
) -> Done<Option<String>> {
    let Some(reels) = need.plan.reels() else {
        return Ok(None);
    };
    let role = &need.row.role;
    if let Some(row) = filled.promise_on(piece) {
        let promise = ReservationCode::new(row.id);
        return Ok(Some(format!(
            "it is already promised to the {role} ({promise}), which takes {reels} reels"
        )));
    }
    let gave = filled.has_cut_of(piece);
    Ok(gave.then(|| format!("it already gave its share to the {role}, which takes {reels} reels")))
}

/// Refuses two units of one reel.
pub(super) fn check_pick(
    need: &NeedRecord,
    shelved: &Shelved,
    pick: &Pick,
    filled: &Filled,
) -> Done<()> {
    let Some(reels) = need.plan.reels() else {
        return Ok(());
    };
    let (code, role, garment) = (
        shelved.code(),
        &need.row.role,
        GarmentCode::new(need.row.garment_id),
    );
    let hint = format!("choose another reel of its lot: ellwand candidates {garment} lists them");
    if let Some(units) = pick.units.filter(|units| *units > 1) {
        let detail = format!(
            "{code} is one reel and cannot stand for {units} of the {reels} that the {role} takes"
        );
        return Err(Problem::from(invalid("units", detail))
            .hint(hint)
            .with("wanted", units)
            .with("most", 1)
            .into());
    }
    match taken_already(need, shelved.stored.piece.id, filled)? {
        None => Ok(()),
        Some(why) => {
            let detail = format!("{code} cannot serve the {role} twice: {why}");
            Err(Problem::new(ProblemType::DoesNotServe, detail)
                .hint(hint)
                .into())
        }
    }
}

/// Refuses the first reel of a lot that has too few of them for the need, where lots may not be mixed. `fit`: what each gives.
pub(super) fn check_lot(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    shelved: &Shelved,
    fit: &UnitFit,
    filled: &Filled,
) -> Done<()> {
    let (open, takes) = (filled.open(), fit.takes);
    let first = need.plan.reels().is_some() && !need.plan.conditions.mixing && open > 1;
    if !first || !filled.lots().is_empty() {
        return Ok(());
    }
    let enough = |stored: ellwand_storage::StoredPiece| {
        let reel = Shelved {
            stored,
            record: shelved.record.clone(),
        }
        .current(desk.context.today);
        reel.stored
            .piece
            .longest_free()
            .is_ok_and(|free| free >= takes)
    };
    let reels = desk
        .tx
        .pieces_of_lot(shelved.stored.lot_id)?
        .into_iter()
        .map(enough);
    let has = reels.filter(|enough| *enough).count();
    if i64::try_from(has).is_ok_and(|has| has >= open) {
        return Ok(());
    }
    let mut lots: BTreeMap<i64, usize> = BTreeMap::new();
    for found in candidates::for_needs(desk, garment, &[need])? {
        for reel in found.view.serve {
            *lots.entry(reel.piece.lot.get()).or_default() += 1;
        }
    }
    lots.insert(shelved.stored.lot_id, has);
    let mut lots: Vec<(i64, usize)> = lots.into_iter().collect();
    lots.sort_by_key(|(lot, reels)| (std::cmp::Reverse(*reels), *lot));
    let counts: Vec<String> = lots
        .iter()
        .take(5)
        .map(|(lot, reels)| format!("{} has {reels}", LotCode::new(*lot)))
        .collect();
    let detail = format!(
        "the {} takes {open} reels of one lot, and {} has too few with {} free each: {}",
        need.row.role,
        shelved.record.code(),
        shelved.show_taken(desk.context, takes),
        counts.join(", ")
    );
    let hint = "choose a reel of a lot that has enough, or if lots may be mixed set mixing=yes in the need \
                (ellwand garment edit)";
    Err(Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .with("open", open)
        .into())
}
