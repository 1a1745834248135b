//! What to do where the open units of a need cannot be filled.

use super::{Question, Serving};
use ellwand_contract::garments::SetLot;
use ellwand_domain::ledger::Quantity;

/// What helps, as a hint; `None` where nothing on the shelf comes near. Mixing is named only where it would fill the need.
pub(super) fn of(asked: &Question<'_>, serve: &[Serving], lots: &[SetLot]) -> Option<String> {
    let &Question { need, open, .. } = asked;
    if let Some(reels) = need.plan.reels().filter(|_| serve.is_empty()) {
        return Some(format!(
            "get reels that hold more, or raise reels={reels} in the need if the machine runs from more at once"
        ));
    }
    let each = need.per_unit.map_or(1, Quantity::get).max(1);
    let units = match need.counted {
        true => lots
            .iter()
            .fold(0_i64, |sum, lot| sum.saturating_add(lot.free / each)),
        false => serve
            .iter()
            .fold(0_i64, |sum, serving| sum.saturating_add(serving.view.units)),
    };
    if units < 1 && lots.is_empty() {
        return None;
    }
    let mut ways = vec![match need.plan.conditions.mixing {
        true => "get more of it",
        false => "get more of one lot",
    }];
    if !need.plan.conditions.mixing && asked.bound.is_empty() && units >= open {
        ways.push("if lots may be mixed set mixing=yes in the need (ellwand garment edit)");
    }
    if need.plan.reels().is_none() && asked.garment.count > 1 && units > 0 {
        ways.push("split the batch (ellwand garment copy with --count)");
    }
    Some(ways.join(", or "))
}
