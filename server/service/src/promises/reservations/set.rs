//! Sets of counted trims: joined from several pieces of one lot, and where they must match whole or not at all.

use super::units::Picked;
use crate::{
    desk::{Desk, failure::Done},
    garments::need::NeedRecord,
    promises::{Filled, candidates},
    shelf::shelved::Shelved,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    garments::{Pick, SetLot},
    reservations::Reserve,
};
use ellwand_domain::code::{GarmentCode, LotCode, ReservationCode};
use ellwand_storage::Garment;
use std::collections::BTreeMap;

/// The last day of a promise: a set of trims has one, that of its parts that are promised. Refuses another.
pub(super) fn until(
    need: &NeedRecord,
    shelved: &Shelved,
    picked: Picked,
    asked: Option<NaiveDate>,
    filled: &Filled,
) -> Done<Option<NaiveDate>> {
    let lot = shelved.record.lot.id;
    let joins =
        need.counted && matches!(picked, Picked::Share(_)) && filled.begun_of(need, lot).is_some();
    let Some(row) = filled.last_share_of(lot).filter(|_| joins) else {
        return Ok(asked);
    };
    let Some(asked) = asked.filter(|day| Some(*day) != row.until) else {
        return Ok(row.until);
    };
    let code = ReservationCode::new(row.id);
    let (has, hint) = match row.until {
        Some(day) => (
            format!("is promised until {day}"),
            format!("choose {day}, or leave the day out"),
        ),
        None => (
            "is promised without a last day".to_owned(),
            "leave the day out".to_owned(),
        ),
    };
    let detail = format!("the set of {code} {has}; a set has one last day, and {asked} is another");
    let problem = Problem::new(ProblemType::WrongState, detail).field("until");
    Err(problem
        .hint(format!("{hint}, or release {code} first"))
        .with("day", asked.to_string())
        .with("until", row.until.map(|day| day.to_string()))
        .with("held_by", vec![code.to_string()])
        .into())
}

/// A set that must match is promised whole in one request, or not at all.
pub(super) fn whole_or_nothing(
    desk: &mut Desk<'_>,
    request: &Reserve,
    garment: &Garment,
    needs: &[NeedRecord],
) -> Done<()> {
    for need in needs.iter().filter(|need| need.plan.matching()) {
        let own = |pick: &&Pick| pick.need.trim().eq_ignore_ascii_case(&need.row.role);
        let parts: Vec<(i64, i64)> = request
            .picks
            .iter()
            .filter(own)
            .filter_map(|pick| Some((pick.piece.lot.get(), pick.trims?)))
            .collect();
        if parts.is_empty() {
            continue;
        }
        let filled = Filled::read(desk, need)?;
        if filled.open() < 1 {
            continue;
        }
        let Some((lot, missing)) = short(need, &filled, &parts) else {
            continue;
        };
        let detail = format!(
            "the {} of {} match: {} of one lot are promised together, and {missing} of {} are missing",
            need.row.role,
            GarmentCode::new(garment.id),
            need.set_size().unwrap_or(0),
            LotCode::new(lot)
        );
        let problem = Problem::new(ProblemType::DoesNotServe, detail)
            .field("picks")
            .with("lot", LotCode::new(lot).to_string())
            .with("missing", missing)
            .hint("nothing was reserved; ellwand candidates shows what to choose as one set");
        return Err(with_alternatives(desk, garment, need, problem)?.into());
    }
    Ok(())
}

/// The first lot whose parts leave a set short, and by how many; nothing where one of them is more than a set lacks, which is
/// refused by itself.
fn short(need: &NeedRecord, filled: &Filled, parts: &[(i64, i64)]) -> Option<(i64, i64)> {
    let each = need.set_size()?;
    let mut lacks: BTreeMap<i64, i64> = BTreeMap::new();
    for (lot, trims) in parts {
        let begun = filled
            .begun_of(need, *lot)
            .map_or(each, |begun| begun.missing);
        let left = lacks.entry(*lot).or_insert(begun);
        match left.checked_sub(*trims)? {
            over if over < 0 => return None,
            0 => *left = each,
            missing => *left = missing,
        }
    }
    lacks.into_iter().find(|(_, missing)| *missing < each)
}

/// Adds which lots could fill a need of counted trims, and which come nearest.
pub(super) fn with_alternatives(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    problem: Problem,
) -> Done<Problem> {
    if !need.counted {
        return Ok(problem);
    }
    let found = candidates::for_needs(desk, garment, &[need])?;
    let lots = found
        .into_iter()
        .next()
        .map(|found| found.view.lots)
        .unwrap_or_default();
    let lots_text = alternatives(&lots);
    let enough = lots
        .iter()
        .filter(|lot| lot.missing == 0)
        .map(|lot| lot.lot.to_string());
    let mut problem = problem.with("enough", enough.collect::<Vec<_>>());
    problem.detail = format!("{}; {lots_text}", problem.detail);
    Ok(problem)
}

/// `enough: L7 has 9 free; not enough: L5 has 6 free, 1 missing`.
fn alternatives(lots: &[SetLot]) -> String {
    let (enough, short): (Vec<_>, Vec<_>) = lots.iter().partition(|lot| lot.missing == 0);
    let mut parts = Vec::new();
    if !enough.is_empty() {
        let lots_text: Vec<String> = enough
            .iter()
            .map(|lot| format!("{} has {} free", lot.lot, lot.free))
            .collect();
        parts.push(format!("enough: {}", lots_text.join(", ")));
    }
    if !short.is_empty() {
        let lots_text: Vec<String> = short
            .iter()
            .map(|lot| format!("{} has {} free, {} missing", lot.lot, lot.free, lot.missing))
            .collect();
        parts.push(format!("not enough: {}", lots_text.join("; ")));
    }
    match parts.is_empty() {
        true => "no lot that meets the conditions has any free".to_owned(),
        false => parts.join("; "),
    }
}
