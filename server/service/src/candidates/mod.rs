//! Which pieces can serve a garment's needs, why each other cannot, and what to take.

mod advice;
mod looking;
mod near;
mod pick;
mod reels;
mod sets;

use crate::{
    context::Context,
    failure::{Done, Failure},
    fit::{self, UnitFit},
    garments::need::{NeedRecord, load_garment},
    perform::Perform,
    promises::{self, Costs},
    reservations::{PromisedParts, active_of, need_named, taken_already},
    shelved::{LotRecord, Shelved, show},
    stiffness::{self, Shell},
};
use ellwand_contract::{
    Micro, Problem, ProblemType,
    garments::{Candidate, Candidates, CannotServe, GetCandidates, NeedCandidates, Pick},
};
use ellwand_domain::{
    certainty::Certainty,
    ledger::Quantity,
    quantity::{Micrometres, Millionths},
    setting::Kind,
};
use ellwand_storage::{Garment, Reservation, StoredPiece, Tx};
use std::collections::{HashMap, HashSet};

impl Perform for GetCandidates {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Candidates, Failure> {
        let (garment, needs) = load_garment(tx, self.garment)?;
        let chosen: Vec<&NeedRecord> = match &self.need {
            Some(role) => vec![need_named(&needs, self.garment, role)?],
            None => needs.iter().collect(),
        };
        let needs = for_needs(tx, context, &garment, &chosen)?;
        Ok(Candidates { garment: self.garment, needs: needs.into_iter().map(|need| need.view).collect() })
    }
}

/// A need with all that bounds it.
struct Question<'a> {
    garment: &'a Garment,
    need: &'a NeedRecord,
    /// Lots that it has cloth of already, when they may not be mixed.
    bound: &'a [i64],
    /// Its promises.
    active: &'a [Reservation],
    open: i64,
    /// What promised parts leave of the last open length.
    missing: Option<Micrometres>,
    /// For an interlining: the cloth that it will be put to.
    shell: Option<Shell>,
}

/// What the pieces that were looked at are good for.
#[derive(Default)]
struct Found {
    serve: Vec<Serving>,
    cannot: Vec<CannotServe>,
    known: HashSet<i64>,
    /// Trims, whether they serve or not.
    seen: Vec<Shelved>,
}

impl Found {
    fn judge(
        &mut self,
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        asked: &Question<'_>,
        working: &mut Working,
        pieces: Vec<StoredPiece>,
    ) -> Done<()> {
        for stored in pieces {
            if !self.known.insert(stored.piece.id) {
                continue;
            }
            let shelved = working.current(tx, context, stored)?;
            if asked.need.row.kind.0 == Kind::Trim {
                self.seen.push(shelved.clone());
            }
            match serves(tx, context, asked, &shelved, &mut working.costs)? {
                Ok(serving) => self.serve.push(*serving),
                Err(reason) => {
                    let name = shelved.record.material.name.clone();
                    self.cannot.push(CannotServe { piece: shelved.code(), name, reason });
                }
            }
        }
        Ok(())
    }
}

/// The candidates of a need, and what its picks come to.
pub(crate) struct Answered {
    pub(crate) view: NeedCandidates,
    /// Shape: one for each of the picks.
    pub(crate) takings: Vec<Taking>,
}

/// How much a pick takes, and what it would cost after all that is promised and picked before it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Taking {
    pub(crate) quantity: i64,
    pub(crate) cost: Millionths,
}

/// Candidates of needs, each as the picks for those before it leave the shelf.
pub(crate) fn for_needs(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    needs: &[&NeedRecord],
) -> Done<Vec<Answered>> {
    let mut working = Working::default();
    needs.iter().map(|need| candidates(tx, context, garment, need, &mut working)).collect()
}

/// Pieces as they would be after the picks so far, and lots read so far.
#[derive(Default)]
struct Working {
    pieces: HashMap<i64, Shelved>,
    lots: HashMap<i64, LotRecord>,
    costs: Costs,
    picks: i64,
}

impl Working {
    fn current(&mut self, tx: &mut Tx<'_>, context: &Context<'_>, stored: StoredPiece) -> Done<Shelved> {
        if let Some(picked) = self.pieces.get(&stored.piece.id) {
            return Ok(picked.clone());
        }
        let record = match self.lots.get(&stored.lot_id) {
            Some(record) => record.clone(),
            None => {
                let record = LotRecord::load(tx, stored.lot_id)?;
                self.lots.insert(stored.lot_id, record.clone());
                record
            }
        };
        Ok(Shelved { stored, record }.current(context.today))
    }
}

/// A piece that serves, with what ranks it.
struct Serving {
    shelved: Shelved,
    fit: UnitFit,
    view: Candidate,
    longest: Quantity,
    /// Trims: how far the size is from the one that is asked for; within the tolerance all serve.
    off: Micrometres,
}

impl Serving {
    /// Best first: the nearest size, known shrinkage, all open units in one piece, least left over, cheapest, code.
    fn rank(&self, open: i64) -> (Micrometres, bool, bool, i64, Option<i64>, i64, i64) {
        let used = Quantity::new(self.fit.takes.get().saturating_mul(self.view.units)).unwrap_or_default();
        (
            self.off,
            self.fit.certainty > Certainty::Stated,
            self.view.units < open,
            self.longest.less(used).get(),
            self.view.cost.map(Micro::get),
            self.shelved.stored.lot_id,
            self.shelved.stored.number,
        )
    }
}

fn candidates(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    need: &NeedRecord,
    working: &mut Working,
) -> Done<Answered> {
    let active = active_of(tx, context, garment.id, need.row.id)?;
    let open = need.open_units(active.iter().map(|row| row.units).sum());
    let bound = match need.input.mixing {
        true => Vec::new(),
        false => promises::lots_of_need(tx, &need.row, &active)?,
    };
    let missing = missing_part(need, &active, open)?;
    let shell = match need.row.kind.0 {
        Kind::Interlining => stiffness::shell_of(tx, garment)?,
        _ => None,
    };
    let asked = Question { garment, need, bound: &bound, active: &active, open, missing, shell };
    let mut found = Found::default();
    let seen = looking::pieces(tx, context, &asked)?;
    found.judge(tx, context, &asked, working, seen.pieces)?;
    if seen.by_length
        && let Some(takes) = found.serve.iter().map(|serving| serving.fit.least.get()).min()
    {
        // What is taken off those that serve is exact: the pieces nearest to it leave least.
        let nearer = looking::nearest(tx, &asked, takes)?;
        found.judge(tx, context, &asked, working, nearer)?;
    }
    let own = sets::begun(tx, context, need)?;
    let lots = sets::sort_out(context, need, open, &own, &mut found)?;
    let mut notes = sets::told(need, &own);
    notes.extend(near::used_up(tx, need)?);
    let Found { mut serve, cannot, seen: all, .. } = found;
    serve.sort_by_key(|serving| serving.rank(open));
    let each = need.per_unit.map(|each| show(context, need.counted, each)).unwrap_or_default();
    notes.extend(reels::nearest(&asked, &serve, &each));
    let mut picks = Vec::new();
    // The nearest sizes alone, where they reach; else those a little off beside them.
    for nearest in serve.chunk_by(|one, next| one.off == next.off).scan(0, |end, sizes| {
        *end += sizes.len();
        Some(*end)
    }) {
        let serve = serve.get(..nearest).unwrap_or_default();
        if own.is_empty() {
            picks = pick::pick(need, serve, open, missing, working)?;
        }
        if picks.is_empty() && need.counted {
            picks = sets::pick(need, serve, open, &own, working)?;
        }
        if !picks.is_empty() {
            break;
        }
    }
    let takings = takings(tx, context, need, &serve, &picks, &mut working.costs)?;
    let near = match picks.is_empty() && open > 0 {
        true => near::lots(tx, &asked, &all)?,
        false => Vec::new(),
    };
    let advice = match picks.is_empty() && open > 0 {
        true => advice::of(&asked, &serve, &lots),
        false => None,
    };
    let view = NeedCandidates {
        role: need.row.role.clone(),
        amount: need.amount_text(context),
        units_open: open,
        serve: serve.into_iter().map(|serving| serving.view).collect(),
        cannot,
        nearest_only: seen.nearest_only,
        picks,
        lots,
        near,
        notes,
        advice,
    };
    Ok(Answered { view, takings })
}

/// What each pick comes to, thread and trims from the layers that those before it leave.
fn takings(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    need: &NeedRecord,
    serve: &[Serving],
    picks: &[Pick],
    costs: &mut Costs,
) -> Done<Vec<Taking>> {
    let mut takings = Vec::with_capacity(picks.len());
    for pick in picks {
        let serving = serve.iter().find(|serving| serving.view.piece == pick.piece);
        let serving =
            serving.ok_or_else(|| Problem::new(ProblemType::Internal, "a picked piece is no candidate"))?;
        let units = pick.units.unwrap_or(serving.view.units);
        let all = pick.trims.unwrap_or(serving.fit.takes.get().saturating_mul(units));
        let (quantity, shelved) = (Quantity::new(all)?, &serving.shelved);
        let cost = costs.beyond(tx, context, shelved, quantity, need.own_lot())?;
        costs.pick(tx, context, shelved, quantity, need.own_lot())?;
        takings.push(Taking { quantity: all, cost });
    }
    Ok(takings)
}

/// What a need is made of, in a word.
const fn stuff(kind: Kind) -> &'static str {
    match kind {
        Kind::Cloth | Kind::Interlining => "cloth",
        Kind::Thread => "thread",
        Kind::Trim => "trims",
    }
}

fn serves(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    asked: &Question<'_>,
    shelved: &Shelved,
    costs: &mut Costs,
) -> Done<Result<Box<Serving>, String>> {
    let Question { garment, need, bound, active, open, missing, ref shell } = *asked;
    if !bound.is_empty() && !bound.contains(&shelved.record.lot.id) {
        let lots: Vec<String> =
            bound.iter().map(|lot| ellwand_domain::code::LotCode::new(*lot).to_string()).collect();
        return Ok(Err(format!(
            "the {} has {} of lot {} already",
            need.row.role,
            stuff(need.row.kind.0),
            lots.join(", ")
        )));
    }
    if let Some(reason) = taken_already(tx, need, shelved.stored.piece.id, active)? {
        return Ok(Err(reason));
    }
    let mut fit = match fit::fit(tx, context, garment, need, shelved, missing)? {
        Ok(fit) => fit,
        Err(reason) => return Ok(Err(reason.text)),
    };
    if let Some(shell) = shell {
        fit.notes.extend(stiffness::layer_notes(tx, need, shelved, shell)?);
    }
    let piece = &shelved.stored.piece;
    let internal = |error| Problem::new(ProblemType::Internal, format!("{}: {error}", shelved.code()));
    let (longest, free) = (piece.longest_free().map_err(internal)?, piece.free().map_err(internal)?);
    let most = if need.input.reels.is_some() { 1 } else { open.max(1) };
    let (room, mut fit) = fit.within(longest, most);
    // Of counted trims a part will do, where the lot has the rest.
    let part = need.counted && room < 1 && !longest.is_zero();
    if room < 1 && !part {
        let (has, wants) = shelved.show_beside(context, longest, fit.least);
        let at_longest = if piece.flaws.is_empty() { "" } else { " in its longest stretch" };
        return Ok(Err(format!("{has} free{at_longest}, {wants} needed")));
    }
    let units = if part { 0 } else { room };
    if part {
        (fit.takes, fit.least) = (longest, longest);
    }
    let takes_all = Quantity::new(fit.takes.get().saturating_mul(units.max(1)))?;
    let cost = costs.beyond(tx, context, shelved, takes_all, need.own_lot())?;
    let view = Candidate {
        piece: shelved.code(),
        name: shelved.record.material.name.clone(),
        place: shelved.stored.place.clone(),
        units,
        takes: shelved.amount(fit.takes),
        free: shelved.amount(free),
        left: shelved.amount(free.less(takes_all)),
        cost: Some(Micro(cost)),
        shrinkage: fit.shrinkage.clone(),
        directions: fit.directions.clone(),
        steps: fit.all_steps(),
        notes: fit.notes.clone(),
    };
    let off = need.size_off(&shelved.record);
    Ok(Ok(Box::new(Serving { shelved: shelved.clone(), fit, view, longest, off })))
}

/// What parts that are promised already leave of the last open length: no less than its longest part.
fn missing_part(need: &NeedRecord, active: &[Reservation], open: i64) -> Done<Option<Micrometres>> {
    let promised = PromisedParts::read(active)?;
    if need.demand.is_none() || promised.lengths.is_empty() || open != 1 {
        return Ok(None);
    }
    let missing = need.missing_of(promised.narrowest, &promised.lengths)?;
    Ok(Some(missing.max(need.longest_part.unwrap_or_default())))
}
