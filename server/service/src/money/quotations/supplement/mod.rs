//! Supplementary quotations: what a customer's later change costs on top of what was agreed.
//!
//! One is open at a time, and each rests on what was accepted before it, so that they are taken back in the opposite order.

mod agreed;
mod chain;
mod change;
mod sold;
mod together;
mod washed;

pub(super) use agreed::Agreed;
pub(super) use chain::{accepted, as_planned, check_free};
pub(crate) use chain::{open_beside, resting_on, rests};
pub(super) use change::{nothing_to_pay, reduce};
pub(super) use together::{mark, owed_on, together};

use super::{freeze::Wish, internal, row, show};
use crate::{
    desk::failure::{Done, invalid, wrong_state},
    garments::operation::is_same,
};
use ellwand_contract::quotations::PriceInput;
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    setting::{PriceFrom, QuotationState},
};
use ellwand_storage::{Quotation, Tx};

/// The accepted quotation that a supplement is asked for, and how it is priced where nothing is said: by the same rule.
pub(super) fn check(
    tx: &mut Tx<'_>,
    to: QuotationCode,
    garment: GarmentCode,
    wish: &mut Wish,
) -> Done<Quotation> {
    let base = row(tx, to)?;
    let field = "supplement_to";
    if base.garment_id != garment.get() {
        let detail = format!(
            "{to} is for {}, not for {garment}",
            GarmentCode::new(base.garment_id)
        );
        return Err(invalid(field, detail).naming("garment", GarmentCode::new(base.garment_id)));
    }
    if let Some(first) = base.supplement_to {
        let first = QuotationCode::new(first);
        return Err(invalid(
            field,
            format!("{to} supplements {first} itself; supplement {first}"),
        )
        .naming("quotation", first));
    }
    if base.state != QuotationState::Accepted {
        let hint = match base.state {
            QuotationState::Open => "it can still be made again with ellwand quote again",
            _ => "make a quotation of its own",
        };
        return Err(wrong_state(
            format!(
                "{to} is {}; only what is accepted can be supplemented",
                base.state
            ),
            hint,
        )
        .naming("quotation", to)
        .naming("state", base.state));
    }
    if let Some(open) = tx
        .supplements(base.id)?
        .iter()
        .find(|row| row.state == QuotationState::Open)
    {
        let detail = format!(
            "{} supplements {to} and is still open",
            QuotationCode::new(open.id)
        );
        return Err(wrong_state(
            detail,
            "make that one again with ellwand quote again, or close it",
        ));
    }
    let agreed = show::agreed(tx, &base)?;
    if wish.from == PriceFrom::Actual || agreed.inside.from == PriceFrom::Actual {
        let detail = "a change is priced from the plan, not from what the garment cost";
        return Err(invalid("from", detail));
    }
    if wish.price == PriceInput::default() {
        wish.price = priced_as(tx, &base)?;
    }
    wish.supplement_to = Some(base.id);
    Ok(base)
}

/// How an accepted quotation was priced, for a change of its plan.
fn priced_as(tx: &mut Tx<'_>, base: &Quotation) -> Done<PriceInput> {
    let version = super::version_of(tx, base, base.accepted.unwrap_or(base.version))?;
    let first: Wish = serde_json::from_str(&version.asked).map_err(internal)?;
    let chosen = base.accepted_option.as_deref();
    let is_chosen = |name: &str| chosen.is_some_and(|chosen| is_same(name, chosen));
    let mut options = first.options.into_iter();
    let option = options.find(|option| is_chosen(&option.name));
    let price = option
        .and_then(|option| option.price)
        .unwrap_or(first.price);
    if price.price.is_some() {
        let to = QuotationCode::new(base.id);
        let detail = format!(
            "{to} has a fixed price, which does not price a change; choose how to price it"
        );
        return Err(invalid("price", detail));
    }
    // What was typed for one material or the handling was for the whole.
    Ok(PriceInput {
        material_price: Vec::new(),
        handling: None,
        ..price
    })
}
