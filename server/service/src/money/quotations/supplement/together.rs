//! What a quotation and its supplements come to, and what was paid on them.

use super::{super::cash, chain::accepted};
use crate::desk::{Desk, failure::Done};
use ellwand_contract::quotations::{CustomerSheet, Supplement, Together};
use ellwand_domain::{
    code::QuotationCode, pricing::owed, quantity::Currency, setting::QuotationState,
};
use ellwand_storage::{Quotation, Tx};

/// Minor units of a quotation and its accepted supplements.
#[derive(Default)]
struct InAll {
    agreed: i64,
    paid: i64,
    /// What was paid, with the roundings of cash.
    settled: i64,
}

fn in_all(tx: &mut Tx<'_>, base: i64) -> Done<InAll> {
    let mut all = InAll::default();
    for (quotation, frozen) in accepted(tx, base)? {
        let total = frozen.basis.schedule()?.total();
        all.agreed = all.agreed.saturating_add(total.minor);
        let logged = tx.payments(quotation.id)?;
        let sums = cash::sums(&logged);
        all.paid = all.paid.saturating_add(sums.paid);
        all.settled = all.settled.saturating_add(sums.settled);
    }
    Ok(all)
}

/// What is agreed with a quotation and its accepted supplements, and what was paid on all of them.
pub(in crate::money::quotations) fn together(
    tx: &mut Tx<'_>,
    base: i64,
    currency: Currency,
) -> Done<Together> {
    let InAll {
        agreed,
        paid,
        settled,
    } = in_all(tx, base)?;
    let money = |minor: i64| currency.money(minor).decimal();
    Ok(Together {
        agreed: money(agreed),
        paid: money(paid),
        left: money(owed([(agreed, settled)])),
    })
}

/// What is owed on a quotation with its supplements, in minor units; on a supplement nothing, for it counts with what it supplements.
pub(in crate::money::quotations) fn owed_on(tx: &mut Tx<'_>, row: &Quotation) -> Done<i64> {
    let accepted = |row: &Quotation| row.state == QuotationState::Accepted;
    if row.supplement_to.is_some() || !accepted(row) {
        return Ok(0);
    }
    let mut accounts = Vec::new();
    for row in std::iter::once(row).chain(&tx.supplements(row.id)?) {
        if let Some(agreed) = row.agreed_minor.filter(|_| accepted(row)) {
            accounts.push((agreed, cash::sums(&tx.payments(row.id)?).settled));
        }
    }
    Ok(owed(accounts))
}

/// Says on the customer's sheet what it supplements, and what both come to.
pub(in crate::money::quotations) fn mark(
    desk: &mut Desk<'_>,
    to: i64,
    gross: i64,
    sheet: &mut CustomerSheet,
) -> Done<()> {
    let agreed = in_all(desk, to)?.agreed;
    let money = |minor: i64| desk.context.currency.money(minor).decimal();
    let to = QuotationCode::new(to);
    sheet.title = format!("Supplement to {to}: {}", sheet.title);
    let together = money(agreed.saturating_add(gross));
    sheet.supplement = Some(Supplement {
        to,
        agreed: money(agreed),
        together,
    });
    Ok(())
}
