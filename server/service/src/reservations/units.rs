//! How much of a need a pick may promise: of one lot, part by part, as many as are open.

use crate::{
    context::Context,
    failure::{Done, invalid, wrong_state},
    fit::UnitFit,
    garments::need::NeedRecord,
    promises::{self, Asked},
    shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType, garments::Pick};
use ellwand_domain::{code::LotCode, quantity::Micrometres};
use ellwand_storage::{Reservation, Tx};

/// One need is made of one lot, unless it says that lots may be mixed: why a piece is of another.
pub(crate) fn of_another_lot(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    promised: &[Reservation],
) -> Done<Option<String>> {
    if need.input.mixing {
        return Ok(None);
    }
    let lots = promises::lots_of_need(tx, &need.row, promised)?;
    let other = lots.iter().find(|lot| **lot != shelved.record.lot.id);
    Ok(other.map(|other| {
        let (code, role) = (shelved.code(), &need.row.role);
        format!(
            "{code} is of another lot than {}, which the {role} has already",
            LotCode::new(*other)
        )
    }))
}

/// Refuses a second lot.
pub(super) fn check_one_lot(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    promised: &[Reservation],
) -> Done<()> {
    let Some(detail) = of_another_lot(tx, need, shelved, promised)? else {
        return Ok(());
    };
    let hint = "take a piece of that lot, release the promise first, or allow mixing in the need";
    Err(Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .into())
}

/// A part of a unit: only of cloth whose longest part is known and fits it.
pub(super) fn part_of(
    context: &Context<'_>,
    need: &NeedRecord,
    pick: &Pick,
) -> Done<Option<Micrometres>> {
    let Some(asked) = &pick.washed_length else {
        return Ok(None);
    };
    let role = &need.row.role;
    if need.demand.is_none() {
        return Err(invalid(
            "washed_length",
            format!("the {role} is not cut from a width, take units of it"),
        ));
    }
    let Some(longest) = need.longest_part else {
        let detail = format!("the {role} has no longest part: it cannot be split over pieces");
        return Err(invalid("washed_length", detail));
    };
    if asked.value() < longest {
        let longest = longest.show(context.units());
        let detail = format!("{} does not hold the longest part, {longest}", asked.text());
        return Err(invalid("washed_length", detail));
    }
    Ok(Some(asked.value()))
}

/// Promised parts of one unit that is not complete yet.
#[derive(Debug, Default)]
pub(crate) struct PromisedParts {
    /// Washed lengths.
    pub(crate) lengths: Vec<Micrometres>,
    /// The narrowest width that they were promised at, where one was asked.
    pub(crate) narrowest: Option<Micrometres>,
}

impl PromisedParts {
    /// Those among active promises.
    pub(crate) fn read(active: &[Reservation]) -> Done<Self> {
        let mut parts = Self::default();
        for row in active.iter().filter(|row| row.units == 0) {
            let asked = Asked::read(row)?;
            let Some(part) = asked.part_um else { continue };
            parts.add(
                Micrometres::new(part)?,
                asked.width_um.map(Micrometres::new).transpose()?,
            );
        }
        Ok(parts)
    }

    fn add(&mut self, length: Micrometres, width: Option<Micrometres>) {
        self.lengths.push(length);
        self.narrowest = match (self.narrowest, width) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
    }
}

/// Units that a part of one covers: one when it completes it with those that are promised, or holds all of it alone.
pub(super) fn completed(
    need: &NeedRecord,
    part: Micrometres,
    fit: &UnitFit,
    others: &[Reservation],
    open: i64,
) -> Done<i64> {
    let alone = need.completed_by(fit.width, &[part])?;
    let mut parts = PromisedParts::read(others)?;
    parts.add(part, fit.width);
    Ok(i64::from(
        open > 0 && (alone || need.completed_by(parts.narrowest, &parts.lengths)?),
    ))
}

/// Whole units that a pick covers: what it says, or all that are open.
pub(super) fn units_of(need: &NeedRecord, pick: &Pick, open: i64) -> Done<i64> {
    let role = &need.row.role;
    let usual = if need.input.reels.is_some() {
        open.min(1)
    } else {
        open
    };
    let units = pick.units.unwrap_or(usual);
    if units < 1 && pick.units.is_some() {
        return Err(invalid(
            "units",
            format!("{units} of the {role} is nothing to promise"),
        ));
    }
    if units < 1 {
        let detail = format!("the {role} needs no more: all of it is promised or cut");
        return Err(wrong_state(
            detail,
            "release a promise first, or raise the need",
        ));
    }
    if units > open {
        let detail = format!("{units} of the {role} are more than the {open} still open");
        return Err(Problem::new(ProblemType::ExceedsAvailable, detail)
            .field("units")
            .with("open", open)
            .hint(format!("take at most {open}"))
            .into());
    }
    Ok(units)
}
