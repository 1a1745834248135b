//! The basis of a price, how it is made, and what it leaves for an hour.

use super::{
    PriceGroup, PricingError,
    check::not_negative,
    markup::{price_by_margin, price_by_markup},
};
use crate::{
    costing::labour_cost,
    quantity::{HourlyRate, Millionths, Minutes, PartsPerMillion, QuantityError},
};

/// What a garment costs, for its price: planned for a quotation, actual for looking back.
///
/// The owner's hours are in it: they count for the price, never for the value of stock.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PriceBase {
    /// Materials; for a quotation at what it would cost to replace them, so that a gift is not given away.
    pub materials: Millionths,
    /// Paid people's labour.
    pub paid_labour: Millionths,
    /// Overhead on the billable hours; zero where `own_pay` is at a rate that holds it.
    pub overhead: Millionths,
    /// The owner's billable hours at the pay wanted.
    pub own_pay: Millionths,
    /// All the owner's minutes, billable or not.
    pub own_minutes: Minutes,
    /// What went to own mistakes and faulty cloth; zero in a plan.
    pub losses: Millionths,
}

/// How a net price is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PriceRule {
    /// A markup on materials, and one on everything else.
    Markup {
        /// Share of the materials.
        materials: PartsPerMillion,
        /// Share of paid labour, overhead and own pay.
        work: PartsPerMillion,
    },
    /// A margin on the price.
    Margin(PartsPerMillion),
    /// What all own hours should earn once the rest is paid; see [`PriceBase::earnings`], which turns it back.
    HourlyTarget {
        /// For every own hour, billable or not.
        per_hour: HourlyRate,
        /// Markup on the materials, beside it.
        materials: PartsPerMillion,
    },
    /// A price that is given, by the market or the customer.
    Fixed(Millionths),
}

/// What a price leaves for the owner's hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Earnings {
    /// What is left for all of them; below zero when they cost money.
    pub left: Millionths,
    /// All of them; more than zero.
    pub minutes: Minutes,
}

impl Earnings {
    /// For one hour, to the nearest millionth.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn per_hour(&self) -> Result<Millionths, PricingError> {
        Ok(self.left.share(60, self.minutes.get())?)
    }
}

impl PriceBase {
    /// Adds a cost to the sum of its group.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`].
    pub fn add(&mut self, group: PriceGroup, cost: Millionths) -> Result<(), QuantityError> {
        let sum = match group {
            PriceGroup::Materials => &mut self.materials,
            PriceGroup::PaidLabour => &mut self.paid_labour,
            PriceGroup::OwnLabour => &mut self.own_pay,
            PriceGroup::Overhead => &mut self.overhead,
        };
        *sum = sum.plus(cost)?;
        Ok(())
    }

    /// The floor: materials, paid labour, overhead and own hours at the pay wanted; markup and margin are on it.
    ///
    /// # Errors
    /// [`PricingError::Negative`] naming the part below zero, overflow.
    pub fn floor(&self) -> Result<Millionths, PricingError> {
        let Self {
            materials,
            paid_labour,
            overhead,
            own_pay,
            own_minutes: _,
            losses,
        } = *self;
        not_negative("the materials", materials)?;
        not_negative("the paid labour", paid_labour)?;
        not_negative("the overhead", overhead)?;
        not_negative("the own pay", own_pay)?;
        not_negative("the losses", losses)?;
        Ok(Millionths::sum([
            materials,
            paid_labour,
            overhead,
            own_pay,
        ])?)
    }

    /// All of it together, of a change that may take more off than it adds.
    ///
    /// # Errors
    /// Overflow.
    pub fn sum(&self) -> Result<Millionths, QuantityError> {
        Millionths::sum([
            self.materials,
            self.paid_labour,
            self.overhead,
            self.own_pay,
        ])
    }

    /// What an own hour of a change earns at its net price, to the nearest millionth; `None` without own hours.
    ///
    /// # Errors
    /// Overflow.
    pub fn hour_of_change(
        &self,
        net_price: Millionths,
    ) -> Result<Option<Millionths>, PricingError> {
        if self.own_minutes == Minutes::ZERO {
            return Ok(None);
        }
        let left = net_price.minus(self.beside_own_hours()?)?;
        Ok(Some(
            Earnings {
                left,
                minutes: self.own_minutes,
            }
            .per_hour()?,
        ))
    }

    /// The net price by a rule.
    ///
    /// - Rounding: to the nearest millionth, each product once; to the minor unit only on the quotation.
    ///
    /// # Errors
    /// Those of [`Self::floor`], of [`price_by_markup`] and [`price_by_margin`].
    pub fn price(&self, rule: &PriceRule) -> Result<Millionths, PricingError> {
        let floor = self.floor()?;
        match *rule {
            PriceRule::Markup { materials, work } => {
                let work = price_by_markup(floor.minus(self.materials)?, work)?;
                Ok(price_by_markup(self.materials, materials)?.plus(work)?)
            }
            PriceRule::Margin(margin) => price_by_margin(floor, margin),
            PriceRule::HourlyTarget {
                per_hour,
                materials,
            } => {
                let wanted = labour_cost(self.own_minutes, per_hour.get())?;
                let rest = self.beside_own_hours()?.minus(self.materials)?;
                Ok(Millionths::sum([
                    price_by_markup(self.materials, materials)?,
                    rest,
                    wanted,
                ])?)
            }
            PriceRule::Fixed(price) => not_negative("the price", price),
        }
    }

    /// What the owner's hours earn at a net price.
    ///
    /// - Formula: (net price − materials − overhead − paid labour − losses) ÷ all own hours, unbillable ones too.
    ///
    /// # Errors
    /// [`PricingError::Negative`], [`PricingError::NoOwnHours`], overflow.
    pub fn earnings(&self, net_price: Millionths) -> Result<Earnings, PricingError> {
        self.floor()?;
        let left = not_negative("the price", net_price)?.minus(self.beside_own_hours()?)?;
        if self.own_minutes == Minutes::ZERO {
            return Err(PricingError::NoOwnHours {
                left: left.decimal(),
            });
        }
        Ok(Earnings {
            left,
            minutes: self.own_minutes,
        })
    }

    /// The pay that is wanted for an own hour, over all own hours, so that what an hour earns is held against it; `lost`: the pay
    /// wanted for own time that no price is for.
    ///
    /// - Rounding: to the nearest millionth. None without own hours.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn hour_wanted(&self, lost: Millionths) -> Result<Option<Millionths>, PricingError> {
        if self.own_minutes == Minutes::ZERO {
            return Ok(None);
        }
        Ok(Some(
            self.own_pay.plus(lost)?.share(60, self.own_minutes.get())?,
        ))
    }

    /// Everything that has to be paid before own hours earn anything.
    fn beside_own_hours(&self) -> Result<Millionths, PricingError> {
        Ok(Millionths::sum([
            self.materials,
            self.paid_labour,
            self.overhead,
            self.losses,
        ])?)
    }
}
