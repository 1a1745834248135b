//! What stages of payment are made of.

use super::PaidFor;
use crate::{
    pricing::{
        PricingError, ShareOf,
        check::{overflow, part_of_whole, positive_in},
    },
    quantity::{Currency, Money, PARTS_PER_MILLION, PartsPerMillion},
};

/// Part of the amount of a stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Term {
    /// A share of something named.
    Share {
        /// What it is a share of.
        of: ShareOf,
        /// How much of it.
        share: PartsPerMillion,
    },
    /// An amount.
    Fixed(Money),
}

/// A stage of payment as it is agreed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StagePlan {
    /// What it is called: "deposit", "first fitting".
    pub name: String,
    /// Added up; empty only for the last stage, which takes the rest.
    pub terms: Vec<Term>,
}

/// The amounts that shares are of, in minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Bases {
    pub(super) currency: Currency,
    pub(super) gross: i64,
    pub(super) labour: i64,
    pub(super) materials: i64,
    pub(super) paid_for: PaidFor,
}

impl Bases {
    /// The same, with labour and materials as they are paid for.
    pub(super) fn paid(self) -> Self {
        Self {
            labour: self.amount(ShareOf::LabourWithTax),
            materials: self.amount(ShareOf::MaterialsWithTax),
            ..self
        }
    }

    /// `Σ terms` in millionths of a minor unit; exact.
    pub(super) fn exact(&self, terms: &[Term]) -> Result<i128, PricingError> {
        let mut sum = 0_i128;
        for term in terms {
            let (amount, share) = match *term {
                Term::Share { of, share } => {
                    let share = part_of_whole("the share of a stage", share)?.get();
                    (self.amount(of), share)
                }
                Term::Fixed(fixed) => (
                    positive_in(self.currency, "the amount of a stage", fixed)?,
                    PARTS_PER_MILLION,
                ),
            };
            let term = i128::from(amount).checked_mul(i128::from(share));
            sum = term
                .and_then(|term| sum.checked_add(term))
                .ok_or_else(overflow)?;
        }
        Ok(sum)
    }

    fn amount(&self, of: ShareOf) -> i64 {
        match of {
            ShareOf::Gross => self.gross,
            ShareOf::Labour => self.labour,
            ShareOf::Materials => self.materials,
            // Below zero where a change takes more off than it adds.
            ShareOf::LabourWithTax => self.paid_for.labour.max(0),
            ShareOf::MaterialsWithTax => self.paid_for.materials.max(0),
        }
    }
}
