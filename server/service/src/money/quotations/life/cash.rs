//! Payments in cash, where it comes in steps.

use crate::desk::failure::{Done, invalid};
use crate::money::quotations::{close, internal};
use ellwand_domain::{
    pricing::{CashStep, Paid, PaidSums, PricingError, Schedule},
    quantity::{Currency, Money},
    setting::QuotationState,
};
use ellwand_storage::{Payment, Quotation, Tx};

/// The step that a version froze.
pub(in crate::money::quotations) fn step(
    minor: Option<i64>,
    currency: Currency,
) -> Done<Option<CashStep>> {
    let step = minor.map(|minor| CashStep::new(currency.money(minor)));
    step.transpose().map_err(internal)
}

/// An amount as it is paid in cash; null where cash has no step of its own.
pub(in crate::money::quotations) fn in_cash(
    step: Option<CashStep>,
    amount: Money,
) -> Done<Option<String>> {
    step.map(|step| Ok(step.of(amount).map_err(internal)?.decimal()))
        .transpose()
}

/// What payments come to.
pub(in crate::money::quotations) fn sums(rows: &[Payment]) -> PaidSums {
    PaidSums::of(rows.iter().map(|row| Paid {
        minor: row.minor,
        rounding: row.rounding_minor,
    }))
}

/// What they settle of the schedule.
pub(in crate::money::quotations) fn settled(rows: &[Payment], currency: Currency) -> Money {
    currency.money(sums(rows).settled)
}

/// What a payment in cash settles beyond its amount, below zero where it settles less.
pub(in crate::money::quotations) fn rounding(
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    schedule: &Schedule,
    step: CashStep,
    paid: Money,
) -> Done<i64> {
    let currency = paid.currency;
    let before = [settled(&tx.payments(quotation.id)?, currency)];
    let back = |minor: i64| currency.money(minor.saturating_neg());
    let open = match (quotation.state, paid.minor < 0) {
        (QuotationState::Cancelled, true) => {
            vec![back(close::settled(tx, quotation)?.returned.minor)]
        }
        (QuotationState::Cancelled, false) => Vec::new(),
        (_, false) => schedule.open(&before).map_err(internal)?,
        (_, true) => {
            let standing = schedule.standing(0, &before).map_err(internal)?;
            vec![back(standing.over.minor), back(standing.paid.minor)]
        }
    };
    let open: Vec<Money> = open
        .into_iter()
        .filter(|amount| amount.minor != 0)
        .collect();
    let settled = step.settled(paid, &open).map_err(|error| match error {
        PricingError::NotInCash { .. } => invalid("amount", error.to_string()),
        error => internal(error),
    })?;
    Ok(settled.minor.saturating_sub(paid.minor))
}
