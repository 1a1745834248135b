//! Quotations: priced, frozen, shown, accepted, paid.

mod life;
mod options;
mod outcome;
mod price;
mod sheet;
pub(crate) mod supplement;
mod washed;

pub(crate) use life::{of_garment, promised};
pub(crate) use outcome::hour_earned;

use crate::desk::failure::{Done, Failure, invalid, not_found};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{code::QuotationCode, pricing::PricingError, setting::QuotationState};
use ellwand_storage::{Quotation, QuotationVersion, Tx};
use life::{cash, close};
use price::{ask, base, house, made, part_rates, quoted};
use sheet::{customer, freeze, list, show};

/// What became of a quotation.
pub(crate) fn row(tx: &mut Tx<'_>, code: QuotationCode) -> Done<Quotation> {
    tx.quotation(code.get())?
        .ok_or_else(|| not_found(format!("quotation {code}"), "see ellwand quote list"))
}

/// True while something is to come of a quotation: it is open, or not paid as agreed, or something of it goes back.
pub(crate) fn is_unsettled(tx: &mut Tx<'_>, id: i64) -> Done<bool> {
    let row = row(tx, QuotationCode::new(id))?;
    let Some(accepted) = row.accepted else {
        return Ok(row.state == QuotationState::Open);
    };
    if row.state == QuotationState::Cancelled {
        return Ok(close::settled(tx, &row)?.returned.minor != 0);
    }
    let agreed = show::frozen(tx, &row, accepted)?;
    let schedule = agreed.basis.schedule()?;
    let paid = [cash::settled(&tx.payments(id)?, agreed.basis.currency)];
    let standing = schedule
        .standing(schedule.stages.len(), &paid)
        .map_err(internal)?;
    Ok(standing.left.minor != 0 || standing.over.minor != 0)
}

/// A version of it.
fn version_of(tx: &mut Tx<'_>, row: &Quotation, version: i64) -> Done<QuotationVersion> {
    let code = QuotationCode::new(row.id);
    tx.quotation_version(row.id, version)?.ok_or_else(|| {
        not_found(
            format!("version {version} of {code}"),
            &format!("see ellwand quote show {code}"),
        )
    })
}

/// A refusal of the arithmetic, at the field that it is about.
fn refused(field: &'static str) -> impl Fn(PricingError) -> Failure {
    move |error| invalid(field, error.to_string())
}

fn internal(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
