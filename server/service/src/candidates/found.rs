//! What the pieces that were looked at are good for.

use super::{Question, Serving, Working, looking};
use crate::{
    context::Context, failure::Done, fit, promises::Costs, reservations::not_wanted,
    shelved::Shelved, stiffness,
};
use ellwand_contract::{
    Micro, Problem, ProblemType,
    garments::{Candidate, CannotServe},
};
use ellwand_domain::{ledger::Quantity, setting::Kind};
use ellwand_storage::{StoredPiece, Tx};
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
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        asked: &Question<'_>,
        working: &mut Working,
    ) -> Done<Self> {
        let mut found = Self::default();
        let seen = looking::pieces(tx, context, asked)?;
        found.nearest_only = seen.nearest_only;
        found.judge(tx, context, asked, working, seen.pieces)?;
        if seen.by_length
            && let Some(takes) = found
                .serve
                .iter()
                .map(|serving| serving.fit.least.get())
                .min()
        {
            // What is taken off those that serve is exact: the pieces nearest to it leave least.
            let nearer = looking::nearest(tx, asked, takes)?;
            found.judge(tx, context, asked, working, nearer)?;
        }
        Ok(found)
    }

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
                    self.cannot.push(CannotServe {
                        piece: shelved.code(),
                        name,
                        reason,
                    });
                }
            }
        }
        Ok(())
    }
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
    let &Question {
        garment,
        need,
        ref bound,
        ref active,
        ref given,
        open,
        missing,
        ref shell,
        ..
    } = asked;
    if !bound.is_empty() && !bound.contains(&shelved.record.lot.id) {
        let lots: Vec<String> = bound
            .iter()
            .map(|lot| ellwand_domain::code::LotCode::new(*lot).to_string())
            .collect();
        return Ok(Err(format!(
            "the {} has {} of lot {} already",
            need.row.role,
            stuff(need.row.kind.0),
            lots.join(", ")
        )));
    }
    if let Some(reason) = not_wanted(need, shelved.stored.piece.id, active, given) {
        return Ok(Err(reason));
    }
    let mut fit = match fit::fit(tx, context, garment, need, shelved, missing)? {
        Ok(fit) => fit,
        Err(reason) => return Ok(Err(reason.text)),
    };
    if let Some(shell) = shell {
        fit.notes
            .extend(stiffness::layer_notes(tx, need, shelved, shell)?);
    }
    let piece = &shelved.stored.piece;
    let internal = |error| {
        Problem::new(
            ProblemType::Internal,
            format!("{}: {error}", shelved.code()),
        )
    };
    let (longest, free) = (
        piece.longest_free().map_err(internal)?,
        piece.free().map_err(internal)?,
    );
    let most = if need.input.reels.is_some() {
        1
    } else {
        open.max(1)
    };
    let (room, mut fit) = fit.within(longest, most);
    // Of counted trims a part will do, where the lot has the rest.
    let part = need.counted && room < 1 && !longest.is_zero();
    if room < 1 && !part {
        let (has, wants) = shelved.show_beside(context, longest, fit.least);
        let at_longest = if piece.flaws.is_empty() {
            ""
        } else {
            " in its longest stretch"
        };
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
    Ok(Ok(Box::new(Serving {
        shelved: shelved.clone(),
        fit,
        view,
        longest,
        off,
    })))
}
