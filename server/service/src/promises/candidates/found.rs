//! What the pieces that were looked at are good for.

use super::{Question, Serving, Working, looking};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
    promises::{
        self, Costs,
        fit::{self, Reason, UnitFit},
        reservations::taken_already,
    },
    shelf::{shelved::Shelved, stiffness, worth::Worth},
};
use ellwand_contract::garments::{Candidate, CannotServe};
use ellwand_domain::{
    certainty::Certainty,
    code::LotCode,
    ledger::{Quantity, Stretch},
    quantity::Micrometres,
    setting::{Kind, WhyNot},
};
use ellwand_storage::StoredPiece;
use std::collections::HashSet;

/// What the pieces that were looked at are good for.
#[derive(Default)]
pub(super) struct Found {
    pub(super) serve: Vec<Serving>,
    pub(super) cannot: Vec<CannotServe>,
    pub(super) known: HashSet<i64>,
    /// Trims, whether they serve or not.
    pub(super) seen: Vec<Shelved>,
    pub(super) nearest_only: bool,
}

impl Found {
    /// Looks at the shelf as the picks so far leave it.
    pub(super) fn look(
        desk: &mut Desk<'_>,
        asked: &Question<'_>,
        working: &mut Working,
    ) -> Done<Self> {
        let mut found = Self::default();
        let seen = looking::pieces(desk, asked)?;
        found.nearest_only = seen.nearest_only;
        found.judge(desk, asked, working, seen.pieces)?;
        if seen.by_length
            && let Some(takes) = found
                .serve
                .iter()
                .map(|serving| serving.fit.least.get())
                .min()
        {
            // What is taken off those that serve is exact: the pieces nearest to it leave least.
            let nearer = looking::nearest(desk, asked, takes)?;
            found.judge(desk, asked, working, nearer)?;
        }
        Ok(found)
    }

    fn judge(
        &mut self,
        desk: &mut Desk<'_>,
        asked: &Question<'_>,
        working: &mut Working,
        pieces: Vec<StoredPiece>,
    ) -> Done<()> {
        for stored in pieces {
            if !self.known.insert(stored.piece.id) {
                continue;
            }
            let shelved = working.current(desk, stored)?;
            if asked.need.row.kind == Kind::Trim {
                self.seen.push(shelved.clone());
            }
            match serves(desk, asked, &shelved, &mut working.costs)? {
                Ok(serving) => self.serve.push(*serving),
                Err(reason) => self.cannot.push(CannotServe {
                    piece: shelved.code(),
                    name: shelved.record.material.name.clone(),
                    why: reason.why,
                    reason: reason.text,
                }),
            }
        }
        Ok(())
    }
}

/// How much worse a material is that is not called like the need's role: less than any difference in size.
const UNLIKE: i64 = 1;

/// What a need is made of, in a word.
const fn stuff(kind: Kind) -> &'static str {
    match kind {
        Kind::Cloth | Kind::Lining | Kind::Interlining => "cloth",
        Kind::Thread => "thread",
        Kind::Trim => "trims",
    }
}

/// Judges a piece; the reason where it cannot serve.
fn serves(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    shelved: &Shelved,
    costs: &mut Costs,
) -> Done<Result<Box<Serving>, Reason>> {
    let need = asked.need;
    if let Some(text) = bound_elsewhere(asked, shelved) {
        return Ok(Err(Reason::other(WhyNot::Lot, text)));
    }
    if let Some(text) = taken_already(need, shelved.stored.piece.id, &asked.filled)? {
        return Ok(Err(Reason::other(WhyNot::Other, text)));
    }
    let room = Room::of(shelved)?;
    let (fit, size) = match of_unit(desk, asked, shelved)? {
        Ok(fitted) => fitted,
        Err(reason) => return Ok(Err(room.at_best(desk, need, shelved, reason)?)),
    };
    let most = if need.plan.reels().is_some() {
        1
    } else {
        asked.open.max(1)
    };
    let (units, mut fit) = fit.within(&room.stretches, most);
    let gives = match need.is_joined() {
        true => share_of(desk, need, shelved, room.longest)?,
        false => 0,
    };
    let mut short = None;
    if units < 1 {
        let reason = room.short_of(desk.context, shelved, &fit)?;
        // Of what is joined a share will do, where others have the rest.
        match of_share(desk, asked, shelved, gives)? {
            Some(shared) if shared.least <= room.longest => {
                let notes = std::mem::take(&mut fit.notes);
                (_, fit) = shared.within(&[room.longest], 1);
                fit.notes = notes;
            }
            _ => return Ok(Err(Reason::other(WhyNot::Short, reason))),
        }
        short = Some(reason);
    }
    let takes_all = Quantity::new(fit.takes.get().saturating_mul(units.max(1)))?;
    let cost = costs.beyond(desk, need, shelved, takes_all)?;
    let view = candidate(shelved, &fit, units, (room.free, takes_all), cost);
    Ok(Ok(Box::new(Serving {
        off: match need.is_unlike_its_role(&shelved.record) {
            true => {
                let off = need.size_off(&shelved.record);
                off.plus(Micrometres::new(UNLIKE)?)?
            }
            false => need.size_off(&shelved.record),
        },
        shelved: shelved.clone(),
        fit,
        view,
        longest: room.longest,
        size,
        gives,
        short,
    })))
}

/// A piece that serves, as it is shown; what is free of it, and what all units take.
fn candidate(
    shelved: &Shelved,
    fit: &UnitFit,
    units: i64,
    (free, takes_all): (Quantity, Quantity),
    cost: Worth,
) -> Candidate {
    Candidate {
        piece: shelved.code(),
        name: shelved.record.material.name.clone(),
        place: shelved.stored.place.clone(),
        units,
        takes: shelved.amount(fit.takes),
        length_by: fit.length_by,
        lay: fit.lay,
        free: shelved.amount(free),
        left: shelved.amount(free.less(takes_all)),
        cost: cost.micro(),
        cost_certainty: cost.certainty,
        certainty: fit.certainty,
        shrinkage: fit.shrinkage.clone(),
        directions: fit.directions.clone(),
        steps: fit.all_steps(),
        notes: fit.notes.clone(),
    }
}

/// What one unit takes of a piece, and how much that is in the measure of a share; of the last open unit, where it was begun,
/// what it lacks.
fn of_unit(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    shelved: &Shelved,
) -> Done<Result<(UnitFit, i64), Reason>> {
    let &Question {
        garment,
        need,
        open,
        ref filled,
        ref shell,
        ..
    } = asked;
    let begun = filled.begun_of(need, shelved.record.lot.id);
    let begun = begun.filter(|_| open == 1 && !need.counted);
    let missing = begun
        .map(|begun| Quantity::new(begun.missing))
        .transpose()?;
    let mut fit = match fit::fit(desk, garment, need, shelved, missing)? {
        Ok(fit) => fit,
        Err(reason) => return Ok(Err(reason)),
    };
    if let Some(shell) = shell {
        let notes = stiffness::layer_notes(desk, need, shelved, shell)?;
        fit.notes.extend(notes);
    }
    let size = match missing {
        Some(missing) => missing.get(),
        None => need.size_at(fit.usable.map(Micrometres::get))?,
    };
    Ok(Ok((fit, size)))
}

/// What a share takes of a piece; nothing for none, or where it does not serve.
fn of_share(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    shelved: &Shelved,
    share: i64,
) -> Done<Option<UnitFit>> {
    if share < 1 {
        return Ok(None);
    }
    let share = Some(Quantity::new(share)?);
    Ok(fit::fit(desk, asked.garment, asked.need, shelved, share)?.ok())
}

/// What is free of a piece.
struct Room {
    /// In each stretch.
    stretches: Vec<Quantity>,
    longest: Quantity,
    free: Quantity,
}

impl Room {
    fn of(shelved: &Shelved) -> Done<Self> {
        let internal = |error| promises::internal(shelved, &error);
        let piece = &shelved.stored.piece;
        let stretches = piece.stretches().map_err(internal)?;
        let stretches: Vec<Quantity> = stretches.iter().map(Stretch::free).collect();
        Ok(Self {
            longest: stretches.iter().copied().max().unwrap_or_default(),
            stretches,
            free: piece.free().map_err(internal)?,
        })
    }

    /// That it is less than one unit takes, and what would decide it where that is an estimate.
    fn short_of(&self, context: &Context<'_>, shelved: &Shelved, fit: &UnitFit) -> Done<String> {
        let mut text = self.too_short(context, shelved, fit.least);
        let estimated = fit
            .directions
            .as_ref()
            .is_some_and(|directions| directions.lengthwise.certainty == Certainty::Estimated);
        if let Some(washed) = fit.washed.filter(|_| estimated) {
            let needed = washed.plus(context.rule()?.end_allowance)?;
            let has = Micrometres::new(self.longest.get())?;
            text.push_str(&fit::decides(has, needed, "lengthwise"));
        }
        Ok(text)
    }

    fn too_short(&self, context: &Context<'_>, shelved: &Shelved, least: Quantity) -> String {
        let (has, wants) = shelved.show_beside(context, self.longest, least);
        let at_longest = if shelved.stored.piece.flaws.is_empty() {
            ""
        } else {
            " in its longest stretch"
        };
        format!("{has} free{at_longest}, {wants} needed")
    }

    /// The reason; where it is a figure that is not known, that the piece is too short whatever that figure is.
    fn at_best(
        &self,
        desk: &mut Desk<'_>,
        need: &NeedRecord,
        shelved: &Shelved,
        reason: Reason,
    ) -> Done<Reason> {
        if reason.why != WhyNot::Unknown || need.is_joined() {
            return Ok(reason);
        }
        let least = fit::least_at_best(desk, need, shelved)?;
        Ok(match least.filter(|least| *least > self.longest) {
            Some(least) => {
                let text = self.too_short(desk.context, shelved, least);
                Reason::other(WhyNot::Short, format!("{text} at least"))
            }
            None => reason,
        })
    }
}

/// That the need has another lot already.
fn bound_elsewhere(asked: &Question<'_>, shelved: &Shelved) -> Option<String> {
    let bound = &asked.bound;
    if bound.is_empty() || bound.contains(&shelved.record.lot.id) {
        return None;
    }
    let lots: Vec<String> = bound
        .iter()
        .map(|lot| LotCode::new(*lot).to_string())
        .collect();
    Some(format!(
        "the {} already has {} of lot {}",
        asked.need.row.role,
        stuff(asked.need.row.kind),
        lots.join(", ")
    ))
}

/// How large a share of a unit a length of the piece gives: of cloth what is left of it after the wash, less the end allowance.
fn share_of(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    longest: Quantity,
) -> Done<i64> {
    let ([washed], width) = fit::measured(desk, need, shelved, [longest])?;
    let allowance = match width {
        Some(_) => desk.context.rule()?.end_allowance.get(),
        None => 0,
    };
    Ok(washed.saturating_sub(allowance).max(0))
}
