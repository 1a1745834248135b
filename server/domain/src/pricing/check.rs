//! What every price, share and amount must be.

use super::PricingError;
use crate::quantity::{Currency, Millionths, Money, PartsPerMillion, QuantityError};

const LIMIT: &str = "what is counted exactly";

pub(super) const fn overflow() -> PricingError {
    PricingError::Quantity(QuantityError::Overflow { limit: LIMIT })
}

/// Refuses a value below zero.
pub(super) fn not_negative(
    what: &'static str,
    value: Millionths,
) -> Result<Millionths, PricingError> {
    if value.get() < 0 {
        return Err(PricingError::Negative {
            what,
            given: value.decimal(),
        });
    }
    Ok(value)
}

/// Refuses a share below zero.
pub(super) fn share_not_negative(
    what: &'static str,
    share: PartsPerMillion,
) -> Result<PartsPerMillion, PricingError> {
    if share.get() < 0 {
        return Err(PricingError::Negative {
            what,
            given: share.to_string(),
        });
    }
    Ok(share)
}

/// Refuses a share below zero or above all.
pub(super) fn part_of_whole(
    what: &'static str,
    share: PartsPerMillion,
) -> Result<PartsPerMillion, PricingError> {
    if share > PartsPerMillion::WHOLE {
        return Err(PricingError::AboveWhole { what, given: share });
    }
    share_not_negative(what, share)
}

/// Minor units of an amount that must be in `wanted`.
pub(super) fn minor_in(wanted: Currency, given: Money) -> Result<i64, PricingError> {
    if given.currency != wanted {
        return Err(PricingError::MixedCurrencies { wanted, given });
    }
    Ok(given.minor)
}

/// [`minor_in`] for amounts that must not be negative.
pub(super) fn positive_in(
    wanted: Currency,
    what: &'static str,
    given: Money,
) -> Result<i64, PricingError> {
    let minor = minor_in(wanted, given)?;
    if minor < 0 {
        return Err(PricingError::Negative {
            what,
            given: given.to_string(),
        });
    }
    Ok(minor)
}
