//! The totals of every month, added up again from the ledger.

use crate::{desk::failure::Done, ledger::month};
use ellwand_contract::audit::{Audit, Finding};
use ellwand_domain::{code::MaterialCode, month::Period};
use ellwand_storage::Tx;
use std::collections::BTreeSet;

/// Rule 1 for the totals of months: month by month, at most one finding for each.
pub(super) fn totals(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    let mut months: BTreeSet<_> = tx.months_with_totals()?.into_iter().collect();
    if let Some((first, last)) = tx.days_booked()? {
        let mut month = Period::month_of(first);
        while month.first <= last {
            months.insert(month.first);
            let Some(next) = month.last.succ_opt() else {
                break;
            };
            month = Period::month_of(next);
        }
    }
    for first in months {
        let period = Period::month_of(first);
        let ((kept, kept_stock), (ledger, stock)) = month::of_month(tx, period)?;
        let detail = if kept != ledger {
            let odd = kept.iter().find(|flow| !ledger.contains(flow));
            let odd = odd.or_else(|| ledger.iter().find(|flow| !kept.contains(flow)));
            odd.map(|flow| {
                let (from, to) = (flow.from.text(), flow.to.text());
                format!("its total from {from} to {to} is not what the ledger adds up to")
            })
        } else if kept_stock != stock {
            let odd = kept_stock.iter().find(|sum| !stock.contains(sum));
            let odd = odd.or_else(|| stock.iter().find(|sum| !kept_stock.contains(sum)));
            odd.map(|(material, _)| {
                let material = MaterialCode::new(*material);
                format!("its total of {material} is not what the ledger adds up to")
            })
        } else {
            None
        };
        if let Some(detail) = detail {
            audit.findings.push(Finding {
                rule: 1,
                record: format!("month {}", first.format("%Y-%m")),
                detail,
            });
        }
    }
    Ok(())
}
