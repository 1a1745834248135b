//! What fell below its least level.

use super::goods::net;
use crate::{desk::failure::Done, shelf::shelved::amount};
use ellwand_contract::month::BelowLeast;
use ellwand_domain::{
    code::MaterialCode,
    ledger::Quantity,
    month::{Parts, Period},
    setting::TrimUnit,
};
use ellwand_storage::Tx;
use std::collections::HashMap;

/// By how much the pieces of watched materials grew.
fn grown(tx: &mut Tx<'_>, parts: &Parts) -> Done<HashMap<i64, i64>> {
    let mut sums: HashMap<i64, i64> = match parts.months {
        Some((first, last)) => tx
            .stock_of_months(first, last, false)?
            .into_iter()
            .collect(),
        None => HashMap::new(),
    };
    for days in &parts.days {
        for found in tx.flows_of_days(days.first, days.last)? {
            let Some(material) = found.material else {
                continue;
            };
            let sum = sums.entry(material).or_default();
            *sum = sum.saturating_add(found.flow.growth());
        }
    }
    Ok(sums)
}

/// Materials with less on the shelf than their least level at the end of a period.
pub(super) fn below(tx: &mut Tx<'_>, period: Period) -> Done<Vec<BelowLeast>> {
    let watched = tx.materials_with_least()?;
    if watched.is_empty() {
        return Ok(Vec::new());
    }
    let before = grown(tx, &period.before())?;
    let during = grown(tx, &period.parts())?;
    let mut below = Vec::new();
    for row in watched {
        let Some(least) = row.least else { continue };
        let at_start = before.get(&row.id).copied().unwrap_or(0);
        let at_end = at_start.saturating_add(during.get(&row.id).copied().unwrap_or(0));
        if at_end >= least {
            continue;
        }
        below.push(BelowLeast {
            material: MaterialCode::new(row.id),
            kind: row.kind,
            name: row.name,
            on_hand: net(TrimUnit::of(row.counted), at_end),
            least: amount(row.counted, Quantity::new(least)?),
            fell: at_start >= least,
        });
    }
    Ok(below)
}
