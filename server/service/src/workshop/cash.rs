//! The step in which cash is paid.

use crate::desk::failure::{Done, Failure, invalid};
use ellwand_contract::Problem;
use ellwand_domain::{
    pricing::CashStep,
    quantity::{Currency, Money},
};

/// What is typed where there is none.
const NONE: &str = "none";

/// The step as it was asked for, in minor units; where none was, the former one, which another currency has no use for.
pub(super) fn asked(
    before: Option<i64>,
    asked: Option<&str>,
    change: (Currency, Currency),
) -> Done<Option<i64>> {
    let (was, currency) = change;
    let hint = format!("give a step of coins, such as 0.05 or 0.50, in {currency}, or none");
    match (asked, before) {
        (Some(text), _) if text.trim().eq_ignore_ascii_case(NONE) => Ok(None),
        (Some(text), _) => {
            let refused = |detail: String| -> Failure {
                Problem::from(invalid("cash_step", detail))
                    .hint(hint.clone())
                    .into()
            };
            let step =
                Money::parse(text, Some(currency)).map_err(|error| refused(error.to_string()))?;
            if step.currency != currency {
                let detail = format!(
                    "\"{text}\" is in {}; the workshop's currency is {currency}",
                    step.currency
                );
                return Err(refused(detail));
            }
            CashStep::new(step).map_err(|error| refused(error.to_string()))?;
            Ok(Some(step.minor))
        }
        (None, Some(minor)) if was != currency => {
            let step = Money {
                minor,
                currency: was,
            };
            let detail = format!("cash is paid in steps of {step}, which {currency} may not have");
            Err(Problem::from(invalid("cash_step", detail))
                .hint(hint)
                .into())
        }
        (None, before) => Ok(before),
    }
}

/// As it is shown, in the currency's digits.
pub(super) fn view(step: Option<i64>, currency: Currency) -> Option<String> {
    step.map(|minor| Money { minor, currency }.decimal())
}
