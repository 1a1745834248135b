//! How much of a need a pick may promise: of one lot, a share of a unit, or as many units as are open.

use crate::{
    desk::{
        context::Context,
        failure::{Done, Failure, invalid, wrong_state},
    },
    garments::need::NeedRecord,
    promises::Filled,
    shelf::shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, garments::Pick};
use ellwand_domain::{
    code::{LotCode, ReservationCode},
    need::Joining,
};

/// One need is made of one lot, unless it says that lots may be mixed: why a piece is of another.
pub(crate) fn of_another_lot(
    need: &NeedRecord,
    shelved: &Shelved,
    filled: &Filled,
) -> Option<String> {
    if need.plan.conditions.mixing {
        return None;
    }
    let mut lots = filled.lots().iter();
    let other = lots.find(|lot| **lot != shelved.record.lot.id)?;
    let (code, role) = (shelved.code(), &need.row.role);
    Some(format!(
        "{code} is not of {}, the lot already taken for the {role}",
        LotCode::new(*other)
    ))
}

/// Refuses a second lot.
pub(super) fn check_one_lot(need: &NeedRecord, shelved: &Shelved, filled: &Filled) -> Done<()> {
    let Some(detail) = of_another_lot(need, shelved, filled) else {
        return Ok(());
    };
    let hint = "choose a piece of that lot, or allow mixing in the need";
    Err(Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .into())
}

/// What a pick promises: whole lengths, or a share of one unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Picked {
    /// So many units.
    Units(i64),
    /// Micrometres of washed length or of thread, or a number of trims.
    Share(i64),
}

/// Reads what a pick promises of a need as it is filled.
pub(super) fn picked(
    context: &Context<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    pick: &Pick,
    filled: &Filled,
) -> Done<Picked> {
    match asked_share(need, pick)? {
        None => units(context, need, pick, filled).map(Picked::Units),
        Some(share) => {
            check_share(context, need, shelved, share, filled)?;
            Ok(Picked::Share(share))
        }
    }
}

/// The share that a pick asks for, of a need whose units may be joined.
fn asked_share(need: &NeedRecord, pick: &Pick) -> Done<Option<i64>> {
    let role = &need.row.role;
    let (name, share) = match (pick.trims, &pick.washed_length) {
        (None, None) => return Ok(None),
        (Some(_), _) if !need.counted => {
            let detail = format!("the {role} is not counted, so it has no sets");
            return Err(invalid("trims", detail));
        }
        (Some(trims), None) => ("trims", trims),
        (Some(_), Some(_)) => {
            let detail = "a share of a set takes neither units nor a length";
            return Err(invalid("trims", detail));
        }
        (None, Some(length)) => ("washed_length", length.value().get()),
    };
    if name == "washed_length" && (need.counted || !need.is_joined()) {
        let detail = match need.demand {
            None => format!("the {role} is not cut from a width; choose units of it"),
            Some(_) => {
                format!("the {role} has no longest part: it cannot be split over pieces")
            }
        };
        return Err(invalid(name, detail));
    }
    if pick.units.is_some() && need.counted {
        let detail = "a share of a set takes neither units nor a length";
        return Err(invalid(name, detail));
    }
    if share < 1 {
        let detail = format!("{share} of the {role} cannot be promised; give 1 or more");
        return Err(invalid(name, detail).with("wanted", share).with("least", 1));
    }
    Ok(Some(share))
}

/// Refuses a share that the need has no use for.
fn check_share(
    context: &Context<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    share: i64,
    filled: &Filled,
) -> Done<()> {
    let role = &need.row.role;
    let begun = filled.begun_of(need, shelved.record.lot.id);
    let shared = i64::try_from(filled.begun().len()).unwrap_or(i64::MAX);
    if filled.open() < 1 || (begun.is_none() && filled.open() <= shared) {
        return Err(filled_up(need, filled));
    }
    if need.counted {
        let each = need.size_at(None)?;
        let (lacks, what) = match begun {
            Some(begun) => (begun.missing, "the set of that lot lacks"),
            None => (each, "one garment takes"),
        };
        if share > lacks {
            let detail = format!("{share} of the {role} are more than the {lacks} that {what}");
            let hint = match begun {
                None => "for several garments give the number of units",
                Some(_) => "take that many or fewer",
            };
            return Err(Problem::from(invalid("trims", detail))
                .hint(hint)
                .with("wanted", share)
                .with("most", lacks)
                .into());
        }
    }
    if let Joining::Joined {
        longest: Some(longest),
        ..
    } = need.joining()
        && share < longest
        && begun.is_none_or(|begun| begun.lacks_longest)
    {
        let (wanted, least) = (share, longest);
        let (share, longest) = (
            need.share_text(context, share)?,
            need.share_text(context, longest)?,
        );
        let detail = format!("{share} does not hold the longest part, {longest}");
        return Err(invalid("washed_length", detail)
            .with("wanted", wanted)
            .with("least", least));
    }
    Ok(())
}

/// Refuses more of a need that has all it takes, naming who holds it.
fn filled_up(need: &NeedRecord, filled: &Filled) -> Failure {
    let role = need.row.role.as_str();
    let mut held = filled.active.iter().map(|row| ReservationCode::new(row.id));
    let detail = format!("the {role} is already fully promised or cut");
    let refused = match held.next() {
        None => wrong_state(detail, "raise its length or count in the plan to cut more"),
        Some(first) => {
            let more = held.count();
            let more = if more == 0 {
                String::new()
            } else {
                format!(" and {more} more")
            };
            let hint = format!("release one first: ellwand release {first}; or raise the need");
            wrong_state(format!("{detail}, by {first}{more}"), &hint)
        }
    };
    refused.with("need", role).with("open", 0)
}

/// Whole units that a pick covers: what it says, or all that are open.
fn units(context: &Context<'_>, need: &NeedRecord, pick: &Pick, filled: &Filled) -> Done<i64> {
    let role = &need.row.role;
    let shared = match need.counted {
        // What was begun of a set is completed from its own lot.
        true => filled
            .begun()
            .iter()
            .filter(|begun| filled.has_share_of(begun.lot))
            .count(),
        false => 0,
    };
    let shared = i64::try_from(shared).unwrap_or(i64::MAX);
    if filled.open() > 0
        && filled.open() <= shared
        && let Some(begun) = filled.begun().first()
    {
        let lacking = filled.lacking(context, need, begun)?;
        return Err(wrong_state(
            lacking,
            "complete the set, or release it first",
        ));
    }
    let open = filled.open().saturating_sub(shared);
    let usual = if need.plan.reels().is_some() {
        open.min(1)
    } else {
        open
    };
    let units = pick.units.unwrap_or(usual);
    if units < 1 && pick.units.is_some() {
        return Err(invalid(
            "units",
            format!("{units} of the {role} cannot be promised; give 1 or more"),
        )
        .with("wanted", units)
        .with("least", 1));
    }
    if units < 1 {
        return Err(filled_up(need, filled));
    }
    if units > open {
        let detail = format!("{units} of the {role} are more than the {open} still open");
        return Err(Problem::new(ProblemType::ExceedsAvailable, detail)
            .field("units")
            .with("wanted", units)
            .with("open", open)
            .hint(format!("take {open} or fewer"))
            .into());
    }
    Ok(units)
}
