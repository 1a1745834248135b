//! Sets of counted trims: joined from several pieces of one lot, and where they must match whole or not at all.

use crate::{
    candidates,
    context::Context,
    failure::{Done, invalid, wrong_state},
    garments::need::NeedRecord,
    promises::set::{self, Set},
    shelved::Shelved,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    garments::{Pick, SetLot},
    reservations::Reserve,
};
use ellwand_domain::{
    code::{GarmentCode, LotCode, ReservationCode},
    ledger::Quantity,
};
use ellwand_storage::{Garment, Reservation, Tx};

/// A part of a set that a pick promises.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub(super) trims: i64,
    /// The set that it joins; `None`: it begins one.
    pub(super) set: Option<i64>,
    pub(super) completes: bool,
    /// True when parts of the set that it joins are promised, until the day below.
    promised: bool,
    until: Option<NaiveDate>,
}

/// What a pick means beside the sets of its need.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joined {
    part: Option<Part>,
    /// Units that incomplete sets stand for.
    begun: i64,
}

impl Joined {
    pub(super) const fn part(&self) -> Option<&Part> {
        self.part.as_ref()
    }

    /// Units that whole ones may be promised of.
    pub(super) const fn open(&self, open: i64) -> i64 {
        open.saturating_sub(self.begun)
    }

    /// The last day: a set has one, that of its parts that are promised.
    pub(super) fn until(&self, asked: Option<NaiveDate>) -> Option<NaiveDate> {
        match self.part {
            Some(Part {
                set: Some(_),
                promised: true,
                until,
                ..
            }) => until,
            _ => asked,
        }
    }
}

/// Reads the part of a set that a pick asks for, and finds the set that it joins: the first incomplete one of the lot, those that
/// are promised before those that are only cut.
pub(super) fn join(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    pick: &Pick,
    open: i64,
    until: Option<NaiveDate>,
) -> Done<Joined> {
    let role = &need.row.role;
    let Some(each) = need.set_size() else {
        return match pick.trims {
            None => Ok(Joined {
                part: None,
                begun: 0,
            }),
            Some(_) => Err(invalid(
                "trims",
                format!("the {role} is not counted, so it has no sets"),
            )),
        };
    };
    let sets = set::sets_of(tx, &need.row, Some(context.today))?;
    let begun: Vec<&Set> = sets
        .iter()
        .filter(|set| set.missing(each) > 0 && !set.active.is_empty())
        .collect();
    let count = i64::try_from(begun.len()).unwrap_or(i64::MAX);
    let Some(trims) = pick.trims else {
        if open > 0
            && open <= count
            && let Some(told) = begun
                .first()
                .and_then(|set| set::told(set, &need.row, each))
        {
            return Err(wrong_state(told, "complete the set, or release it first"));
        }
        return Ok(Joined {
            part: None,
            begun: count,
        });
    };
    if pick.units.is_some() || pick.washed_length.is_some() {
        return Err(invalid(
            "trims",
            "a part of a set has no units and no length beside it",
        ));
    }
    if trims < 1 {
        return Err(invalid(
            "trims",
            format!("{trims} of the {role} is nothing to promise"),
        ));
    }
    let joins = sets
        .iter()
        .find(|set| set.lot == shelved.record.lot.id && set.missing(each) > 0);
    let (lacks, what) = match joins {
        Some(set) => (
            set.missing(each),
            format!("the set of {} lacks", ReservationCode::new(set.id)),
        ),
        None => (each, "one garment takes".to_owned()),
    };
    if trims > lacks {
        let detail = format!("{trims} of the {role} are more than the {lacks} that {what}");
        let hint = if joins.is_none() {
            "for several garments say how many: units"
        } else {
            "take at most that many"
        };
        return Err(Problem::from(invalid("trims", detail)).hint(hint).into());
    }
    let last = joins.and_then(|set| set.active.last());
    if open < 1 || (last.is_none() && open <= count) {
        let detail = format!("the {role} needs no more: all of it is promised or cut");
        return Err(wrong_state(
            detail,
            "release a promise first, or raise the need",
        ));
    }
    if let Some(row) = last {
        check_day(row, until)?;
    }
    let part = Part {
        trims,
        set: joins.map(|set| set.id),
        completes: trims == lacks,
        promised: last.is_some(),
        until: last.and_then(|row| row.until),
    };
    Ok(Joined {
        part: Some(part),
        begun: count,
    })
}

/// A set has one last day: refuses another than that of a part that is promised.
fn check_day(row: &Reservation, asked: Option<NaiveDate>) -> Done<()> {
    let Some(asked) = asked.filter(|day| Some(*day) != row.until) else {
        return Ok(());
    };
    let set = ReservationCode::new(row.set_id.unwrap_or(row.id));
    let (has, hint) = match row.until {
        Some(day) => (
            format!("is promised until {day}"),
            format!("name {day}, or no day"),
        ),
        None => (
            "is promised without a last day".to_owned(),
            "name no day".to_owned(),
        ),
    };
    let detail =
        format!("the set of {set} {has}, and all of a set has one last day: {asked} is another");
    let problem = Problem::new(ProblemType::WrongState, detail).field("until");
    Err(problem
        .hint(format!("{hint}, or release {set} first"))
        .into())
}

/// A set that must match is promised whole in one request, or not at all.
pub(super) fn whole_or_nothing(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    request: &Reserve,
    garment: &Garment,
    needs: &[NeedRecord],
) -> Done<()> {
    for need in needs.iter().filter(|need| need.input.matching) {
        let own = |pick: &&Pick| pick.need.trim().eq_ignore_ascii_case(&need.row.role);
        let parts: Vec<(i64, i64)> = request
            .picks
            .iter()
            .filter(own)
            .filter_map(|pick| Some((pick.piece.lot.get(), pick.trims?)))
            .collect();
        let Some(each) = need
            .per_unit
            .map(Quantity::get)
            .filter(|_| !parts.is_empty())
        else {
            continue;
        };
        let promised = super::active_of(tx, context, garment.id, need.row.id)?;
        if need.open_units(promised.iter().map(|row| row.units).sum()) < 1 {
            continue;
        }
        // What each set lacks, as the picks come.
        let sets = set::sets_of(tx, &need.row, Some(context.today))?;
        let mut open: Vec<(i64, i64)> = Vec::new();
        let mut begun: Vec<(i64, i64)> = sets
            .iter()
            .map(|set| (set.lot, set.missing(each)))
            .filter(|(_, missing)| *missing > 0)
            .collect();
        for (lot, trims) in parts {
            let lacks = match open
                .iter()
                .position(|(other, missing)| *other == lot && *missing > 0)
            {
                Some(at) => open.remove(at).1,
                None => match begun.iter().position(|(other, _)| *other == lot) {
                    Some(at) => begun.remove(at).1,
                    None => each,
                },
            };
            open.push((lot, lacks.saturating_sub(trims)));
        }
        let Some((lot, missing)) = open.into_iter().find(|(_, missing)| *missing > 0) else {
            continue;
        };
        let detail = format!(
            "the {} of {} match: {each} of one lot are promised together, and {missing} of {} are missing",
            need.row.role,
            GarmentCode::new(garment.id),
            LotCode::new(lot)
        );
        let problem = Problem::new(ProblemType::DoesNotServe, detail)
            .field("picks")
            .with("missing", missing)
            .hint("nothing was reserved; name all of the set at once, or let ellwand candidates find the pieces");
        return Err(with_alternatives(tx, context, garment, need, problem)?.into());
    }
    Ok(())
}

/// Adds which lots could fill a need of counted trims, and which come nearest.
pub(super) fn with_alternatives(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    need: &NeedRecord,
    problem: Problem,
) -> Done<Problem> {
    if !need.counted {
        return Ok(problem);
    }
    let found = candidates::for_needs(tx, context, garment, &[need])?;
    let lots = found
        .into_iter()
        .next()
        .map(|found| found.view.lots)
        .unwrap_or_default();
    let told = alternatives(&lots);
    let enough = lots
        .iter()
        .filter(|lot| lot.missing == 0)
        .map(|lot| lot.lot.to_string());
    let mut problem = problem.with("enough", enough.collect::<Vec<_>>());
    problem.detail = format!("{}; {told}", problem.detail);
    Ok(problem)
}

/// `enough: L7 has 9 free; not enough: L5 has 6 free, 1 missing`.
fn alternatives(lots: &[SetLot]) -> String {
    let (enough, short): (Vec<_>, Vec<_>) = lots.iter().partition(|lot| lot.missing == 0);
    let mut parts = Vec::new();
    if !enough.is_empty() {
        let told: Vec<String> = enough
            .iter()
            .map(|lot| format!("{} has {} free", lot.lot, lot.free))
            .collect();
        parts.push(format!("enough: {}", told.join(", ")));
    }
    if !short.is_empty() {
        let told: Vec<String> = short
            .iter()
            .map(|lot| format!("{} has {} free, {} missing", lot.lot, lot.free, lot.missing))
            .collect();
        parts.push(format!("not enough: {}", told.join("; ")));
    }
    match parts.is_empty() {
        true => "no lot that meets the conditions has any free".to_owned(),
        false => parts.join("; "),
    }
}
