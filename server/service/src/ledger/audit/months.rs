//! The totals of every month and every year, added up again from the ledger.

use crate::{desk::failure::Done, ledger::month::Totals};
use chrono::{Datelike, NaiveDate};
use ellwand_contract::audit::{Audit, Finding};
use ellwand_domain::{code::MaterialCode, month::Period};
use ellwand_storage::Tx;
use std::collections::BTreeSet;

/// Rule 1 for the totals of months and years: at most one finding for each.
pub(super) fn totals(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    let mut year = Totals::default();
    let mut months = months(tx)?.into_iter().peekable();
    while let Some(first) = months.next() {
        let booked = Totals::booked(tx, Period::month_of(first))?;
        let kept = Totals::kept(tx, first, first)?;
        find(
            audit,
            format!("month {}", first.format("%Y-%m")),
            &kept,
            &booked,
        );
        year = year.plus(&booked);
        if months.peek().is_none_or(|next| next.year() != first.year()) {
            let whole = |month: u32| first.with_day(1).and_then(|day| day.with_month(month));
            if let (Some(january), Some(december)) = (whole(1), whole(12)) {
                let kept = Totals::kept(tx, january, december)?;
                find(audit, format!("year {}", first.year()), &kept, &year);
            }
            year = Totals::default();
        }
    }
    Ok(())
}

/// First days of the months from the first booking to the last, and of those that have totals.
fn months(tx: &mut Tx<'_>) -> Done<BTreeSet<NaiveDate>> {
    let mut months: BTreeSet<NaiveDate> = tx.months_with_totals()?.into_iter().collect();
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
    Ok(months)
}

fn find(audit: &mut Audit, record: String, kept: &Totals, booked: &Totals) {
    let odd = kept.flows.iter().find(|flow| !booked.flows.contains(flow));
    let odd = odd.or_else(|| booked.flows.iter().find(|flow| !kept.flows.contains(flow)));
    let detail = odd.map(|flow| {
        let (from, to) = (flow.from.text(), flow.to.text());
        format!("its total from {from} to {to} is not what the ledger adds up to")
    });
    let grown = || {
        let materials = kept.stock.keys().chain(booked.stock.keys());
        let mut odd = materials.filter(|id| kept.stock.get(id) != booked.stock.get(id));
        let material = MaterialCode::new(*odd.next()?);
        Some(format!(
            "its total of {material} is not what the ledger adds up to"
        ))
    };
    if let Some(detail) = detail.or_else(grown) {
        audit.findings.push(Finding {
            rule: 1,
            record,
            detail,
        });
    }
}
