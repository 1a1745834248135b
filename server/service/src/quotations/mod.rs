//! Quotations: priced, frozen, shown, accepted, paid.

mod accept;
mod ask;
mod close;
mod costs;
mod freeze;
mod labour;
mod list;
mod make;
mod material;
mod pay;
mod price;
mod show;

use crate::failure::{Done, Failure, invalid, not_found};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{code::QuotationCode, pricing::PricingError};
use ellwand_storage::{Quotation, QuotationVersion, Tx};

/// What became of a quotation.
pub(crate) fn row(tx: &mut Tx<'_>, code: QuotationCode) -> Done<Quotation> {
    tx.quotation(code.get())?.ok_or_else(|| {
        not_found(format!("quotation {code}"), "see the list of quotations for those there are")
    })
}

/// A version of it.
fn version_of(tx: &mut Tx<'_>, row: &Quotation, version: i64) -> Done<QuotationVersion> {
    let code = QuotationCode::new(row.id);
    tx.quotation_version(row.id, version)?.ok_or_else(|| {
        not_found(format!("version {version} of {code}"), "see the quotation for its versions")
    })
}

/// A refusal of the arithmetic, at the field that it is about.
fn refused(field: &'static str) -> impl Fn(PricingError) -> Failure {
    move |error| invalid(field, error.to_string())
}

fn internal(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
