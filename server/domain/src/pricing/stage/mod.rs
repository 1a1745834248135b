//! Deposits and stages of payment.
//!
//! What is paid before the work is delivered is owed to the customer until then, not income (OpenStax, Principles of
//! Accounting vol. 1, 12.1). Where a deposit is taxed, it is on the amount received (Principal VAT Directive art. 65).

mod due;
mod paid_for;
mod plan;
mod standing;
mod tax;

pub use due::stages_reached;
pub use paid_for::PaidFor;
pub use plan::{StagePlan, Term};
pub use standing::{Cancelled, StageStanding, Standing};

use super::{
    Amounts, PricingError, RateTotal, Rounding, Taxed,
    check::{overflow, positive_in},
};
use crate::quantity::{Currency, Money, PARTS_PER_MILLION, exact};
use plan::Bases;

/// What is to be paid, and the parts of it that shares may be of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Payable<'a> {
    /// Lines with their tax.
    pub taxed: &'a Taxed,
    /// Labour as the quotation shows it.
    pub labour: Money,
    /// Materials as the quotation shows them.
    pub materials: Money,
    /// What is to be paid for either, after discounts and with tax.
    pub paid_for: PaidFor,
}

/// One stage of payment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// What it is called.
    pub name: String,
    /// What is to be paid, and the tax inside.
    pub amounts: Amounts,
    /// The same by tax rate, for a deposit invoice.
    pub rates: Vec<RateTotal>,
}

/// Stages that add up to what is to be paid: in gross, tax and net, and at every rate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// In the order they are reached.
    pub stages: Vec<Stage>,
    bases: Bases,
}

impl Schedule {
    /// Works out the stages.
    ///
    /// - Formula: a stage is the sum of its terms, the last one the rest. A stage's gross is shared over the tax rates by
    ///   what is left at each; the tax inside is gross × t / (1 + t), and the last stage takes the tax that is left.
    /// - Rounding: each stage half up to the minor unit, at most what is left; shares of rates by largest remainder; tax by
    ///   the rules of `payable`, kept between nothing and what is left of it.
    /// - A rate may be below zero in all, where a change takes more off at it than it adds: each stage carries its share of that.
    /// - A last stage may have terms of its own; then all stages must come to the total exactly.
    ///
    /// # Errors
    /// In this order: [`PricingError::NoStages`]; [`PricingError::MixedCurrencies`] or [`PricingError::Negative`] for labour,
    /// materials, or a total below zero; then stage by stage [`PricingError::StageWithoutAmount`], the errors of its
    /// terms ([`PricingError::AboveWhole`], [`PricingError::Negative`], [`PricingError::MixedCurrencies`]),
    /// [`PricingError::ExceedsTotal`]; last [`PricingError::DoNotSum`].
    pub fn build(payable: &Payable<'_>, plan: &[StagePlan]) -> Result<Self, PricingError> {
        let Payable {
            taxed,
            labour,
            materials,
            paid_for,
        } = *payable;
        let (last, earlier) = plan.split_last().ok_or(PricingError::NoStages)?;
        let currency = taxed.currency;
        let bases = Bases {
            currency,
            gross: taxed.total.gross,
            labour: positive_in(currency, "the labour", labour)?,
            materials: positive_in(currency, "the materials", materials)?,
            paid_for,
        };
        let mut left = tax::Left::of(taxed)?;
        let mut stages = Vec::with_capacity(plan.len());
        let mut planned = 0_i128;
        for stage in earlier {
            if stage.terms.is_empty() {
                return Err(PricingError::StageWithoutAmount {
                    stage: stage.name.clone(),
                });
            }
            let exact = bases.exact(&stage.terms)?;
            planned = planned.checked_add(exact).ok_or_else(overflow)?;
            bases.within(planned, &stage.name)?;
            let gross = half_up(exact)?.min(left.gross()?);
            stages.push(left.take(&stage.name, gross)?);
        }
        if !last.terms.is_empty() {
            planned = planned
                .checked_add(bases.exact(&last.terms)?)
                .ok_or_else(overflow)?;
            bases.within(planned, &last.name)?;
            if planned < bases.total() {
                // Down, so that what is missing shows.
                let planned =
                    exact::narrow(exact::div_floor(planned, i128::from(PARTS_PER_MILLION)))?;
                let (planned, total) = (bases.money(planned), bases.money(bases.gross));
                return Err(PricingError::DoNotSum { planned, total });
            }
        }
        stages.push(left.take(&last.name, left.gross()?)?);
        Ok(Self { stages, bases })
    }

    /// Currency of all amounts.
    #[must_use]
    pub const fn currency(&self) -> Currency {
        self.bases.currency
    }

    /// All that is to be paid.
    #[must_use]
    pub const fn total(&self) -> Money {
        self.bases.money(self.bases.gross)
    }
}

impl Bases {
    const fn money(&self, minor: i64) -> Money {
        self.currency.money(minor)
    }

    /// The gross total in millionths of a minor unit.
    fn total(&self) -> i128 {
        i128::from(self.gross).saturating_mul(i128::from(PARTS_PER_MILLION))
    }

    /// Refuses more than there is to pay.
    fn within(&self, planned: i128, stage: &str) -> Result<(), PricingError> {
        if planned > self.total() {
            let (planned, total) = (self.money(up(planned)?), self.money(self.gross));
            return Err(PricingError::ExceedsTotal {
                stage: stage.to_owned(),
                planned,
                total,
            });
        }
        Ok(())
    }
}

/// Millionths of a minor unit to whole ones, half up.
fn half_up(exact: i128) -> Result<i64, PricingError> {
    Ok(exact::narrow(
        Rounding::HalfUp.divide(exact, i128::from(PARTS_PER_MILLION))?,
    )?)
}

/// Millionths of a minor unit to whole ones, up, so that what is too much by a part of one shows.
fn up(exact: i128) -> Result<i64, PricingError> {
    Ok(exact::narrow(exact::div_ceil(
        exact,
        i128::from(PARTS_PER_MILLION),
    ))?)
}
