//! What a quotation and its supplements come to, and what was paid on them.

use super::{super::cash, chain::accepted};
use crate::desk::{Desk, failure::Done};
use ellwand_contract::quotations::{CustomerSheet, Supplement, Together};
use ellwand_domain::{code::QuotationCode, quantity::Currency};
use ellwand_storage::Tx;

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
    let left = agreed.saturating_sub(settled).max(0);
    Ok(Together {
        agreed: money(agreed),
        paid: money(paid),
        left: money(left),
    })
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
