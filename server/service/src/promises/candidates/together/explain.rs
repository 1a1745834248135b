//! The choice in words.

use super::shelf::Shelf;
use crate::{desk::context::Context, shelf::shelved::Measure};
use ellwand_contract::garments::Pick;
use ellwand_domain::{assign::Assignment, ledger::Quantity};
use std::collections::BTreeSet;

/// True when a need takes other pieces than it would alone.
pub(super) fn differs(shelf: &Shelf, alone: &[Vec<Pick>], assignment: &Assignment) -> bool {
    alone.iter().enumerate().any(|(claim, picks)| {
        let own: BTreeSet<String> = picks.iter().map(|pick| pick.piece.to_string()).collect();
        let takes = assignment.takes.iter().filter(|take| take.claim == claim);
        let takes: BTreeSet<String> = takes.map(|take| shelf.code(take.source)).collect();
        !takes.is_empty() && takes != own
    })
}

/// `chosen together: lining from L1.1, shell from L2.1; too short to keep: 0.05 m of L2.1`.
pub(super) fn explain(
    context: &Context<'_>,
    shelf: &Shelf,
    roles: &[&str],
    assignment: &Assignment,
) -> String {
    let Assignment {
        unserved,
        short,
        stopped,
        ..
    } = assignment;
    let rests = short.iter().map(|(source, rest)| {
        let rest = Quantity::new(*rest).unwrap_or_default();
        format!(
            "{} of {}",
            Measure::Length.show(context, rest),
            shelf.code(*source)
        )
    });
    let rests = rests.collect::<Vec<String>>().join(", ");
    let rests = match rests.as_str() {
        "" => "no rest is too short to keep".to_owned(),
        rests => format!("too short to keep: {rests}"),
    };
    let which = match (unserved.is_empty(), stopped) {
        (_, true) => "not every choice was looked at",
        (true, false) => "it leaves the least waste of all choices that serve every need",
        (false, false) => "no choice serves more of them",
    };
    format!(
        "chosen together: {}; {which} ({rests})",
        served(shelf, roles, assignment)
    )
}

/// `lining from L1.1, shell from L2.1 + L2.2`.
pub(super) fn served(shelf: &Shelf, roles: &[&str], assignment: &Assignment) -> String {
    let mut needs = Vec::with_capacity(roles.len());
    for (claim, role) in roles.iter().enumerate() {
        let own = assignment.takes.iter().filter(|take| take.claim == claim);
        let mut pieces: Vec<String> = own.map(|take| shelf.code(take.source)).collect();
        pieces.dedup();
        if !pieces.is_empty() {
            needs.push(format!("{role} from {}", pieces.join(" + ")));
        }
    }
    needs.join(", ")
}
