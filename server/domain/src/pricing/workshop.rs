//! From a year's figures to what an hour must bring.

use super::{
    PricingError,
    check::{not_negative, overflow, part_of_whole},
};
use crate::{
    costing::HourlyCost,
    quantity::{Millionths, Minutes, PARTS_PER_MILLION, PartsPerMillion, exact},
};

/// What a workshop wants to earn and has to spend, and the time it has for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkshopFigures {
    /// Pay wanted for the period, before the owner's own taxes.
    pub pay: Millionths,
    /// Running expenses of the period.
    pub overhead: Millionths,
    /// Weeks that are worked.
    pub weeks: i64,
    /// Minutes worked in such a week.
    pub minutes_per_week: Minutes,
    /// Share of them that customers pay for.
    pub billable: PartsPerMillion,
}

/// What a billable hour must bring, with every step of the sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkshopRates {
    /// What it was worked out from.
    pub figures: WorkshopFigures,
    /// `weeks × minutes per week`.
    pub worked: Minutes,
    /// `worked × billable share`.
    pub billable: Minutes,
    /// Pay per billable hour.
    pub labour: HourlyCost,
    /// Overhead per billable hour.
    pub overhead: HourlyCost,
    /// Both together: (pay + overhead) per billable hour. Whoever charges it charges no overhead beside it.
    pub hourly: HourlyCost,
}

impl WorkshopFigures {
    /// The rates of these figures, kept as ratios.
    ///
    /// - Formula: labour rate = pay ÷ billable hours, overhead rate = overhead ÷ billable hours, hourly rate = both.
    /// - Rounding: billable minutes down to a whole minute, so that no hour is counted on that is not there.
    /// - Source: how to calculate a billable rate, heancalculator.com (formula).
    ///
    /// ```
    /// use ellwand_domain::{pricing::WorkshopFigures, quantity::{Millionths, Minutes, PartsPerMillion}};
    /// let figures = WorkshopFigures {
    ///     pay: Millionths::new(30_000_000_000)?,
    ///     overhead: Millionths::new(9_600_000_000)?,
    ///     weeks: 46,
    ///     minutes_per_week: Minutes::new(40 * 60)?,
    ///     billable: PartsPerMillion::new(600_000)?,
    /// };
    /// let rates = figures.rates().unwrap();
    /// assert_eq!(rates.billable.get(), 1_104 * 60);
    /// assert_eq!(rates.hourly.of(60)?.rounded(2), "35.87");
    /// # Ok::<(), ellwand_domain::quantity::QuantityError>(())
    /// ```
    ///
    /// # Errors
    /// In this order: [`PricingError::Negative`] for pay, overhead or share, [`PricingError::AboveWhole`] for a share
    /// above 100 %, [`PricingError::NoBillableHours`], overflow.
    pub fn rates(self) -> Result<WorkshopRates, PricingError> {
        let pay = not_negative("the pay wanted", self.pay)?;
        let overhead = not_negative("the overhead", self.overhead)?;
        let share = part_of_whole("the billable share", self.billable)?;
        let none = PricingError::NoBillableHours {
            weeks: self.weeks,
            minutes: self.minutes_per_week.get(),
            billable: share,
        };
        if self.weeks <= 0 {
            return Err(none);
        }
        let worked = self
            .minutes_per_week
            .get()
            .checked_mul(self.weeks)
            .ok_or_else(overflow)?;
        let billable = exact::mul_div_floor(worked, share.get(), PARTS_PER_MILLION)?;
        if billable == 0 {
            return Err(none);
        }
        Ok(WorkshopRates {
            figures: self,
            worked: Minutes::new(worked)?,
            billable: Minutes::new(billable)?,
            labour: HourlyCost::over(pay, billable)?,
            overhead: HourlyCost::over(overhead, billable)?,
            hourly: HourlyCost::over(pay.plus(overhead)?, billable)?,
        })
    }
}
