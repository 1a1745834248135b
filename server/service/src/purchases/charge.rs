//! Charges as typed, as landed and as kept.

use super::reclaim::Reclaim;
use crate::desk::failure::{Done, invalid};
use ellwand_contract::{
    Problem, ProblemType,
    purchases::{ChargeInput, ShareKey},
};
use ellwand_domain::{
    purchase::{Charge, ChargeKind, Share},
    quantity::{Currency, Money},
};
use ellwand_storage::PurchaseCharge;
use serde::{Deserialize, Serialize, de::DeserializeOwned};

/// A charge's key as the book keeps it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct KeptShare {
    pub(super) key: ShareKey,
    pub(super) on: Vec<usize>,
    pub(super) lines: Vec<usize>,
}

impl KeptShare {
    pub(super) fn of(input: &ChargeInput) -> Self {
        Self {
            key: input.share,
            on: input.on.clone(),
            lines: input.lines.clone(),
        }
    }
}

/// True where the price of a line, counted from 0, was among what a charge was shared by.
pub(crate) fn is_by_price(charge: &PurchaseCharge, line: usize) -> Done<bool> {
    let share: KeptShare = from_json("the key of a charge", &charge.share)?;
    let by_price = matches!(share.key, ShareKey::Value | ShareKey::Taxed);
    let bears = share.lines.is_empty() || share.lines.contains(&line.saturating_add(1));
    Ok(charge.kind != ChargeKind::Price && by_price && bears)
}

/// True for the price of a line, counted from 0, that was logged or corrected later.
pub(crate) fn is_price_of(charge: &PurchaseCharge, line: usize) -> Done<bool> {
    let share: KeptShare = from_json("the key of a charge", &charge.share)?;
    Ok(charge.kind == ChargeKind::Price && share.lines.contains(&line.saturating_add(1)))
}

/// A charge in minor units of its currency. A discount counts as negative, typed either way; other charges are
/// negative only where `credit` allows it.
///
/// `owned` says which lines belong to customers: they bear no cost.
pub(super) fn parse_charge(
    input: &ChargeInput,
    currency: Currency,
    credit: bool,
    owned: &[bool],
    reclaim: Reclaim,
) -> Done<Charge> {
    if input.kind == ChargeKind::Price {
        let detail = "the price of a lot is no charge";
        return Err(Problem::from(invalid("kind", detail))
            .hint("log it with the lot's code: ellwand lot price LOT 24.00")
            .into());
    }
    let money = Money::parse_signed(&input.amount, Some(currency))
        .map_err(|error| invalid("amount", error.to_string()))?;
    if money.currency != currency {
        let detail = format!(
            "\"{}\" is in {}; the invoice is in {currency}",
            input.amount, money.currency
        );
        return Err(invalid("amount", detail));
    }
    if money.minor == 0 {
        return Err(invalid(
            "amount",
            "a charge of zero changes nothing; leave it out",
        ));
    }
    if money.minor < 0 && input.kind != ChargeKind::Discount && !credit {
        return Err(Problem::from(invalid(
            "amount",
            format!("\"{}\" is negative", input.amount),
        ))
        .hint("enter it as discount=-5.00")
        .into());
    }
    let amount = if input.kind == ChargeKind::Discount {
        money.minor.saturating_abs().saturating_neg()
    } else {
        money.minor
    };
    let share = match (input.share, input.on.as_slice()) {
        (ShareKey::Taxed, on) => Share::TaxedAmount {
            charges: numbers("on", on)?,
        },
        (_, [_, ..]) => {
            return Err(invalid(
                "on",
                "only a charge shared by taxed amounts names earlier charges",
            ));
        }
        (ShareKey::Value, []) => Share::Value,
        (ShareKey::Length, []) => Share::Length,
        (ShareKey::Mass, []) => Share::Mass,
        (ShareKey::Count, []) => Share::Count,
    };
    Ok(Charge {
        kind: input.kind,
        amount,
        share,
        lines: lines(input, owned)?,
        reclaimed: reclaim.reclaimed,
    })
}

/// Positions of the lines that bear it, from 0; all when none are named and none belong to customers.
fn lines(input: &ChargeInput, owned: &[bool]) -> Done<Option<Vec<usize>>> {
    let owned_line = |line: &usize| owned.get(*line).copied().unwrap_or(false);
    if !input.lines.is_empty() {
        let lines = numbers("lines", &input.lines)?;
        if let Some(line) = lines.iter().find(|line| owned_line(line)) {
            let detail = format!(
                "line {} belongs to a customer, so it bears no charge",
                line + 1
            );
            return Err(invalid("lines", detail).with("line", line + 1));
        }
        return Ok(Some(lines));
    }
    if !owned.contains(&true) {
        return Ok(None);
    }
    let own: Vec<usize> = (0..owned.len()).filter(|line| !owned_line(line)).collect();
    if own.is_empty() {
        return Err(invalid(
            "amount",
            "every line belongs to a customer, so none bears a charge",
        ));
    }
    Ok(Some(own))
}

/// Numbers from 1 as positions from 0, each once.
fn numbers(field: &str, numbers: &[usize]) -> Done<Vec<usize>> {
    let mut positions = Vec::with_capacity(numbers.len());
    for number in numbers {
        let position = number
            .checked_sub(1)
            .ok_or_else(|| invalid(field, "lines and charges are counted from 1"))?;
        if positions.contains(&position) {
            return Err(invalid(field, format!("{number} is given twice")).with("line", *number));
        }
        positions.push(position);
    }
    Ok(positions)
}

/// A value as JSON for a column.
pub(super) fn json(value: &impl Serialize) -> Done<String> {
    serde_json::to_string(value)
        .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()).into())
}

/// A value of a JSON column.
pub(super) fn from_json<T: DeserializeOwned>(what: &str, text: &str) -> Done<T> {
    serde_json::from_str(text).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("{what} cannot be read: {error}"),
        )
        .into()
    })
}
