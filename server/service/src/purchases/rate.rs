//! Asking about a day's rate that may be the wrong way round.

use crate::desk::{Desk, failure::Done};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    purchase::{RateDoubt, rate_doubt, rate_of_amounts},
    quantity::{Currency, Millionths, Money},
};
use ellwand_storage::Purchase;
use rust_decimal::Decimal;

/// An amount in another currency, and what it comes to at home.
pub(super) struct Converted {
    pub(super) amount: Money,
    pub(super) home: Money,
    /// The rate as it was typed; none where the amount at home was.
    pub(super) typed: Option<Decimal>,
}

fn decimal(money: Money) -> Decimal {
    let size = Money {
        minor: money.minor.saturating_abs(),
        ..money
    };
    Decimal::new(size.minor, size.currency.digits())
}

/// The rate of a purchase, as it was typed or as its amounts say.
fn of_purchase(purchase: &Purchase, currency: Currency) -> Option<Decimal> {
    match &purchase.rate {
        Some(text) => text.parse().ok(),
        None => {
            let home = Millionths::new(purchase.home_value).ok()?;
            let amount = Money {
                minor: purchase.invoice_minor,
                currency,
            };
            rate_of_amounts(Decimal::new(home.get(), 6), decimal(amount))
                .filter(|rate| *rate > Decimal::ZERO)
        }
    }
}

/// Refuses a currency's first rate, and one far off its last, until it is confirmed; both ways round are named.
pub(super) fn check(desk: &mut Desk<'_>, converted: &Converted, really: bool) -> Done<()> {
    let Converted {
        amount,
        home,
        typed,
    } = converted;
    let currency = amount.currency;
    if currency == desk.context.currency || really {
        return Ok(());
    }
    let rate = typed.or_else(|| rate_of_amounts(decimal(*home), decimal(*amount)));
    let Some(rate) = rate.filter(|rate| *rate > Decimal::ZERO) else {
        return Ok(());
    };
    let newest = desk.tx.purchases_in(currency.code(), 1)?;
    let last = newest
        .first()
        .and_then(|purchase| of_purchase(purchase, currency));
    let at_home = desk.context.currency;
    let both_ways = |rate: Decimal| match rate_of_amounts(Decimal::ONE, rate) {
        Some(other) => {
            format!("1 {currency} is {rate} {at_home}, and 1 {at_home} is {other} {currency}")
        }
        None => format!("1 {currency} is {rate} {at_home}"),
    };
    let (detail, field) = match rate_doubt(rate, last) {
        None => return Ok(()),
        // What the card statement says is no rate that could be the wrong way round.
        Some(RateDoubt::First) if typed.is_none() => return Ok(()),
        Some(RateDoubt::First) => (
            format!(
                "this is the first rate of {currency}: {}; {amount} comes to {home}",
                both_ways(rate)
            ),
            "rate",
        ),
        Some(RateDoubt::Far { last }) => {
            let field = if typed.is_some() {
                "rate"
            } else {
                "home_amount"
            };
            let detail = format!(
                "{}, more than 5 times off the last rate, {last}; {amount} comes to {home}",
                both_ways(rate)
            );
            (detail, field)
        }
    };
    let hint = format!(
        "if it is right, confirm with --really; else give how many {at_home} one {currency} is"
    );
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field(field)
        .hint(hint)
        .with("rate", rate.to_string())
        .into())
}
