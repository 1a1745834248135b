//! How many must be sold before something is earned.

use super::{PricingError, check::not_negative};
use crate::quantity::{Millionths, exact};

/// A fixed cost against what each unit leaves for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contribution {
    /// Cost of the period, or of the run, whatever is sold.
    pub fixed: Millionths,
    /// Net price of a unit.
    pub price: Millionths,
    /// Cost of one more unit.
    pub variable: Millionths,
}

/// What must be sold to cover the fixed cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BreakEven {
    /// Whole units, rounded up: part of a garment is not sold.
    pub units: i64,
    /// Sales in money, rounded up to the millionth; those of `units` may be more.
    pub sales: Millionths,
}

impl Contribution {
    /// What one unit leaves for the fixed cost; below zero at a loss.
    ///
    /// # Errors
    /// [`PricingError::Negative`] for a cost or price below zero.
    pub fn per_unit(&self) -> Result<Millionths, PricingError> {
        not_negative("the fixed cost", self.fixed)?;
        not_negative("the variable cost", self.variable)?;
        Ok(not_negative("the price", self.price)?.minus(self.variable)?)
    }

    /// Units and sales that cover the fixed cost.
    ///
    /// - Formula: units = fixed ÷ (price − variable); sales = fixed ÷ contribution ratio, (price − variable) ÷ price.
    /// - Source: OpenStax, Principles of Accounting vol. 2, 3.2; rounding up is common practice.
    ///
    /// # Errors
    /// [`PricingError::Negative`], [`PricingError::NoContribution`], overflow.
    pub fn break_even(&self) -> Result<BreakEven, PricingError> {
        let each = self.per_unit()?.get();
        if each <= 0 {
            let (price, variable) = (self.price.decimal(), self.variable.decimal());
            return Err(PricingError::NoContribution { price, variable });
        }
        let fixed = self.fixed.get();
        let sales = exact::mul_div_ceil(fixed, self.price.get(), each)?;
        Ok(BreakEven {
            units: exact::mul_div_ceil(fixed, 1, each)?,
            sales: Millionths::new(sales)?,
        })
    }

    /// Profit at a number of units; below zero at a loss.
    ///
    /// # Errors
    /// [`PricingError::Negative`], overflow.
    pub fn profit_at(&self, units: i64) -> Result<Millionths, PricingError> {
        if units < 0 {
            return Err(PricingError::Negative {
                what: "the number of units",
                given: units.to_string(),
            });
        }
        Ok(self.per_unit()?.share(units, 1)?.minus(self.fixed)?)
    }
}
