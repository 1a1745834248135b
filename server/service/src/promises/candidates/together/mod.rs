//! Needs that share pieces, served together: none takes what serves another alone.

mod explain;
mod shelf;

use self::{
    explain::{differs, explain, served},
    shelf::{Shelf, claim, fit_beside_each_other},
};
use super::{
    Found, Question, Serving, Working,
    pick::{self, Chosen},
};
use crate::desk::{Desk, failure::Done};
use ellwand_domain::{
    assign::{Assignment, BUDGET, assign},
    ledger::Quantity,
    setting::Kind,
};
use std::collections::{BTreeMap, BTreeSet};

/// What is known of a need before its turn comes.
#[derive(Default)]
pub(super) struct Planned {
    /// What serves it, where the shelf was looked at already.
    pub(super) found: Option<Found>,
    /// Its pieces; where there are none it chooses for itself.
    pub(super) chosen: Option<Vec<Chosen>>,
    /// That the search was given up.
    pub(super) reason: Option<String>,
    /// The choice in words, where it would choose otherwise alone.
    pub(super) together: Option<String>,
}

impl Planned {
    /// True for a need that others leave nothing for.
    pub(super) fn goes_without(&self) -> bool {
        self.chosen.as_ref().is_some_and(Vec::is_empty)
    }
}

/// Decides for all needs that share pieces; the others choose for themselves, each in its turn.
pub(super) fn plan(
    desk: &mut Desk<'_>,
    asked: &[Question<'_>],
    working: &mut Working,
) -> Done<Vec<Planned>> {
    let mut planned: Vec<Planned> = asked.iter().map(|_| Planned::default()).collect();
    let mut kinds: BTreeMap<Kind, Vec<usize>> = BTreeMap::new();
    for (index, question) in asked.iter().enumerate() {
        // A set that was begun is completed from its own lot.
        if question.open > 0 && question.filled.begun().is_empty() {
            kinds.entry(question.need.row.kind).or_default().push(index);
        }
    }
    for needs in kinds.into_values().filter(|needs| needs.len() > 1) {
        for index in &needs {
            if let (Some(question), Some(planned)) = (asked.get(*index), planned.get_mut(*index)) {
                planned.found = Some(Found::look(desk, question, working)?);
            }
        }
        for group in sharing(&needs, &planned) {
            decide(desk, asked, &group, &mut planned)?;
        }
    }
    Ok(planned)
}

/// Pieces that serve a need.
fn serving(planned: &[Planned], index: usize) -> &[Serving] {
    planned
        .get(index)
        .and_then(|planned| planned.found.as_ref())
        .map_or(&[], |found| &found.serve)
}

/// Needs that share pieces, directly or by way of others; in the order of the plan.
fn sharing(needs: &[usize], planned: &[Planned]) -> Vec<Vec<usize>> {
    let mut groups: Vec<(Vec<usize>, BTreeSet<i64>)> = Vec::new();
    for need in needs {
        let pieces = serving(planned, *need)
            .iter()
            .map(|serving| serving.shelved.stored.piece.id);
        let mut group = (vec![*need], pieces.collect::<BTreeSet<i64>>());
        let (joined, apart): (Vec<_>, Vec<_>) = groups
            .into_iter()
            .partition(|(_, pieces)| !pieces.is_disjoint(&group.1));
        for (needs, pieces) in joined {
            group.0.extend(needs);
            group.1.extend(pieces);
        }
        groups = apart;
        groups.push(group);
    }
    let mut groups: Vec<Vec<usize>> = groups.into_iter().map(|(needs, _)| needs).collect();
    groups.retain(|needs| needs.len() > 1);
    for needs in &mut groups {
        needs.sort_unstable();
    }
    groups
}

fn decide(
    desk: &mut Desk<'_>,
    asked: &[Question<'_>],
    group: &[usize],
    planned: &mut [Planned],
) -> Done<()> {
    let mut shelf = Shelf::default();
    let mut claims = Vec::with_capacity(group.len());
    let mut alone = Vec::with_capacity(group.len());
    for index in group {
        let Some(question) = asked.get(*index) else {
            continue;
        };
        let Some(found) = planned
            .get_mut(*index)
            .and_then(|planned| planned.found.as_mut())
        else {
            continue;
        };
        found
            .serve
            .sort_by_key(|serving| serving.rank(question.open));
        claims.push(claim(question, &found.serve, &mut shelf)?);
        alone.push(pick::alone(
            desk,
            question,
            &found.serve,
            &mut Working::default(),
        )?);
    }
    if fit_beside_each_other(&shelf, &claims, &alone) {
        return Ok(());
    }
    let keep = desk.context.workshop.offcut_length_um;
    let Some(assignment) = assign(&shelf.sources, &claims, keep, BUDGET) else {
        for index in group {
            if let Some(planned) = planned.get_mut(*index) {
                planned.reason = Some(GIVEN_UP.to_owned());
            }
        }
        return Ok(());
    };
    let chosen = chosen_of(&shelf, &assignment, group.len())?;
    let differs = differs(&shelf, &alone, &assignment);
    let roles: Vec<&str> = group
        .iter()
        .filter_map(|index| asked.get(*index))
        .map(|asked| asked.need.row.role.as_str())
        .collect();
    let text = differs.then(|| explain(desk.context, &shelf, &roles, &assignment));
    for ((index, chosen), alone) in group.iter().zip(chosen).zip(&alone) {
        if let Some(planned) = planned.get_mut(*index) {
            planned.together = text.clone().filter(|_| !chosen.is_empty());
            if chosen.is_empty() && !alone.is_empty() {
                let others = served(&shelf, &roles, &assignment);
                planned.reason = Some(format!("what would serve it goes to other needs: {others}"));
            }
            planned.chosen = Some(chosen);
        }
    }
    Ok(())
}

/// What each claim takes of which piece.
fn chosen_of(shelf: &Shelf, assignment: &Assignment, claims: usize) -> Done<Vec<Vec<Chosen>>> {
    let mut chosen: Vec<Vec<Chosen>> = (0..claims).map(|_| Vec::new()).collect();
    for take in &assignment.takes {
        let Some((id, _)) = shelf.pieces.get(take.source) else {
            continue;
        };
        let quantity = Quantity::new(take.quantity)?;
        let own = Chosen {
            piece: *id,
            stretch: take.stretch,
            units: take.units,
            quantity,
        };
        if let Some(chosen) = chosen.get_mut(take.claim) {
            chosen.push(own);
        }
    }
    Ok(chosen)
}

const GIVEN_UP: &str = "there are too many ways to share these pieces among the needs to compare them all: each took its best piece \
                        in the order of the plan";
