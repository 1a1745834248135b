//! Which pieces can serve a garment's needs, why each other cannot, and what to take.

mod advice;
mod colour;
mod found;
mod joined;
mod looking;
mod near;
mod pick;
mod question;
mod reels;
mod serving;
mod together;

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    promises::{Costs, Standing, reservations::need_named},
    shelf::{
        shelved::{LotRecord, Shelved},
        worth::Worth,
    },
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{Candidates, GetCandidates, NeedCandidates, Pick},
};
use ellwand_domain::{
    ledger::{Quantity, Rank},
    setting::Kind,
};
use ellwand_storage::{Garment, StoredPiece};
use found::Found;
use question::Question;
use serving::Serving;
use std::collections::HashMap;
use together::Planned;

impl Perform for GetCandidates {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Candidates, Failure> {
        let (garment, needs) = load_garment(desk, self.garment)?;
        let chosen: Vec<&NeedRecord> = match &self.need {
            Some(role) => vec![need_named(&needs, self.garment, role)?],
            None => needs.iter().collect(),
        };
        let needs = for_needs(desk, &garment, &chosen)?;
        let views = needs.into_iter().map(|need| {
            let mut view = need.view;
            if view.undecided.is_some() {
                view.picks.clear();
            }
            view
        });
        Ok(Candidates {
            garment: self.garment,
            needs: views.collect(),
        })
    }
}

/// The candidates of a need, and what its picks come to.
pub(crate) struct Answered {
    pub(crate) view: NeedCandidates,
    /// Shape: one for each of the picks.
    pub(crate) takings: Vec<Taking>,
    /// Where it shares pieces with other needs and takes others than it would alone: the choice in words.
    pub(crate) together: Option<String>,
}

/// How much a pick takes, and what it would cost after all that is promised and picked before it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Taking {
    pub(crate) quantity: i64,
    pub(crate) cost: Worth,
}

/// Candidates of needs, each as the picks for those before it leave the shelf; needs that share pieces are served together.
pub(crate) fn for_needs(
    desk: &mut Desk<'_>,
    garment: &Garment,
    needs: &[&NeedRecord],
) -> Done<Vec<Answered>> {
    let mut working = Working::default();
    let standing = Standing::read(desk, garment.id)?;
    let asked = needs
        .iter()
        .map(|need| Question::new(desk, garment, need, &standing));
    let asked = asked.collect::<Result<Vec<_>, _>>()?;
    let planned = together::plan(desk, &asked, &mut working)?;
    let mut turns: Vec<_> = asked.iter().zip(planned).enumerate().collect();
    // Needs that go without are answered last, so that their reasons are those of what is left.
    turns.sort_by_key(|(index, (_, planned))| (planned.goes_without(), *index));
    let mut answers = Vec::with_capacity(turns.len());
    for (index, (asked, planned)) in turns {
        answers.push((index, candidates(desk, asked, planned, &mut working)?));
    }
    answers.sort_by_key(|(index, _)| *index);
    Ok(answers.into_iter().map(|(_, answer)| answer).collect())
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
    fn current(&mut self, desk: &mut Desk<'_>, stored: StoredPiece) -> Done<Shelved> {
        if let Some(picked) = self.pieces.get(&stored.piece.id) {
            return Ok(picked.clone());
        }
        let record = match self.lots.get(&stored.lot_id) {
            Some(record) => record.clone(),
            None => {
                let record = LotRecord::load(desk, stored.lot_id)?;
                self.lots.insert(stored.lot_id, record.clone());
                record
            }
        };
        Ok(Shelved { stored, record }.current(desk.context.today))
    }

    /// True when the picks so far change nothing of what was found for a need: no piece, and no layer that it costs.
    fn leaves_as_it_was(&self, need: &NeedRecord, found: &Found) -> bool {
        let of_layers = matches!(need.row.kind, Kind::Thread | Kind::Trim);
        let picked = |piece: &i64| found.known.contains(piece);
        self.picks == 0 || !(of_layers || self.pieces.keys().any(picked))
    }

    /// The rank of the next pick: each has a number of its own, below those of promises.
    fn next_rank(&mut self, shelved: &Shelved) -> Rank {
        self.picks = self.picks.saturating_sub(1);
        Rank {
            accepted: false,
            due: None,
            promised: shelved.stored.last_on,
            reservation: self.picks,
        }
    }
}

fn candidates(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    planned: Planned,
    working: &mut Working,
) -> Done<Answered> {
    let &Question { need, open, .. } = asked;
    let Planned {
        found,
        chosen,
        reason,
        together,
    } = planned;
    let mut found = match found.filter(|found| working.leaves_as_it_was(need, found)) {
        Some(found) => found,
        None => Found::look(desk, asked, working)?,
    };
    let lots = joined::sort_out(desk.context, asked, &mut found)?;
    let mut notes = asked.filled.notes(desk.context, need)?;
    notes.extend(near::used_up(desk, need)?);
    let Found {
        mut serve,
        cannot,
        seen: all,
        nearest_only,
        ..
    } = found;
    serve.sort_by_key(|serving| serving.rank(open));
    let each = need
        .per_unit
        .map(|each| need.measure().show_taken(desk.context, each))
        .unwrap_or_default();
    notes.extend(reels::nearest(asked, &serve, &each));
    notes.extend(together.iter().cloned().chain(reason));
    let picks = match chosen {
        Some(chosen) => pick::take(asked, &serve, &chosen, working)?,
        None => pick::alone(desk, asked, &serve, working)?,
    };
    let takings = takings(desk, asked, &serve, &picks, &mut working.costs)?;
    let near = match picks.is_empty() && open > 0 {
        true => near::lots(desk, asked, &all)?,
        false => Vec::new(),
    };
    let undecided = colour::undecided(asked, &serve);
    let advice = match (&undecided, picks.is_empty() && open > 0) {
        (Some(_), _) => Some(colour::advice(asked, &serve)),
        (None, true) => advice::of(asked, &serve, &lots),
        (None, false) => None,
    };
    let view = NeedCandidates {
        role: need.row.role.clone(),
        amount: need.amount_text(desk.context),
        units_open: open,
        serve: serve.into_iter().map(|serving| serving.view).collect(),
        cannot,
        nearest_only,
        picks,
        lots,
        near,
        notes,
        advice,
        undecided,
    };
    Ok(Answered {
        view,
        takings,
        together,
    })
}

/// What each pick comes to, thread and trims from the layers that those before it leave.
fn takings(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    serve: &[Serving],
    picks: &[Pick],
    costs: &mut Costs,
) -> Done<Vec<Taking>> {
    let mut takings = Vec::with_capacity(picks.len());
    for pick in picks {
        let serving = serve
            .iter()
            .find(|serving| serving.view.piece == pick.piece);
        let serving = serving
            .ok_or_else(|| Problem::new(ProblemType::Internal, "a picked piece is no candidate"))?;
        let length = pick.washed_length.as_ref();
        let share = pick.trims.or(length.map(|length| length.value().get()));
        let takes = match share {
            Some(_) => pick::of_share(desk, asked, serving, share)?.takes,
            None => serving.fit.takes,
        };
        let all = takes.get().saturating_mul(pick.units.unwrap_or(1));
        let need = asked.need;
        let (quantity, shelved) = (Quantity::new(all)?, &serving.shelved);
        let cost = costs.beyond(desk, need, shelved, quantity)?;
        costs.pick(desk, need, shelved, quantity)?;
        takings.push(Taking {
            quantity: all,
            cost,
        });
    }
    Ok(takings)
}
