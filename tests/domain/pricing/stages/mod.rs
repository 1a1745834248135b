//! Deposits and stages of payment.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 320_68 is 320.68"
)]

mod payments;
mod plan;

use super::{ON_TOP, money, pc, taxed};
use ellwand_domain::{
    pricing::{
        PaidFor, Payable, PriceLineOf, PricingError, Schedule, ShareOf, StagePlan, Taxed, Term,
    },
    quantity::Money,
};

fn share(of: ShareOf, percent: &str) -> Term {
    Term::Share {
        of,
        share: pc(percent),
    }
}

fn gross(percent: &str) -> Term {
    share(ShareOf::Gross, percent)
}

fn stage(name: &str, terms: &[Term]) -> StagePlan {
    StagePlan {
        name: name.into(),
        terms: terms.to_vec(),
    }
}

/// A schedule of a price without labour and materials kept apart.
fn schedule(taxed: &Taxed, plan: &[StagePlan]) -> Result<Schedule, PricingError> {
    let none = Money {
        minor: 0,
        currency: taxed.currency,
    };
    Schedule::build(
        &Payable {
            taxed,
            labour: none,
            materials: none,
            paid_for: PaidFor::default(),
        },
        plan,
    )
}

fn due(schedule: &Schedule) -> Vec<i64> {
    schedule
        .stages
        .iter()
        .map(|stage| stage.amounts.gross)
        .collect()
}

/// Labour of 900.00, and materials, without tax.
fn made_to_measure(materials: &str, plan: &[StagePlan]) -> Result<Schedule, PricingError> {
    let taxed = taxed(ON_TOP, &[("900.00 EUR", "0%"), (materials, "0%")]);
    Schedule::build(
        &Payable {
            taxed: &taxed,
            labour: money("900.00 EUR"),
            materials: money(materials),
            paid_for: PaidFor::of(&taxed, &[PriceLineOf::Labour, PriceLineOf::Materials])?,
        },
        plan,
    )
}
