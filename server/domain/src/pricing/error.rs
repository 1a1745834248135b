//! Why a price could not be worked out.

use crate::{
    allocation::AllocationError,
    costing::CostError,
    quantity::{Currency, Money, PartsPerMillion, QuantityError},
};

/// Why a price, a tax or a schedule of payments could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PricingError {
    /// An hourly rate over no hours.
    #[error(
        "{weeks} weeks of {minutes} min, {billable} of them billable, leave no billable hour to carry pay and overhead"
    )]
    NoBillableHours {
        /// Weeks worked.
        weeks: i64,
        /// Minutes per week.
        minutes: i64,
        /// Share of them that is billable.
        billable: PartsPerMillion,
    },
    /// What a past garment took, shared over no garments.
    #[error("{minutes} min were worked on a batch of {garments}; a batch has at least one garment")]
    NoGarments {
        /// Minutes of the batch.
        minutes: i64,
        /// Garments given.
        garments: i64,
    },
    /// A price, cost, rate or payment below zero.
    #[error("{what} is {given}; it must not be negative")]
    Negative {
        /// Name of the figure.
        what: &'static str,
        /// The amount or share given.
        given: String,
    },
    /// A share of more than there is.
    #[error("{what} is {given}; it can be 100 % at most")]
    AboveWhole {
        /// Name of the figure.
        what: &'static str,
        /// Share given.
        given: PartsPerMillion,
    },
    /// A margin that leaves nothing of the price for the cost.
    #[error("a margin of {margin} leaves nothing for the cost; give less than 100 %, or a markup")]
    MarginOfWhole {
        /// Margin given.
        margin: PartsPerMillion,
    },
    /// A given price that the handling alone is more than.
    #[error("the handling alone is more than the given price")]
    HandlingAbovePrice,
    /// A share of a price of nothing.
    #[error("nothing of it is priced, so there is nothing to take a share of; give a price")]
    NothingPriced,
    /// What an hour earns, without hours.
    #[error("no own hours were given, so there is nothing for {left} to be shared over")]
    NoOwnHours {
        /// What would be left for them.
        left: String,
    },
    /// Amounts of two currencies where they meet.
    #[error("{given} cannot be set against amounts in {wanted}; convert it first")]
    MixedCurrencies {
        /// Currency of the others.
        wanted: Currency,
        /// The odd one.
        given: Money,
    },
    /// A step that cannot be rounded to.
    #[error(
        "a step of {step} ending in {ending} is not possible; the step must be more than zero and the ending less than the step"
    )]
    Step {
        /// Step given.
        step: Money,
        /// Ending given.
        ending: Money,
    },
    /// A step of cash that no coin has.
    #[error(
        "cash cannot come in steps of {step}; a step is more than the smallest unit and divides 1 or is a multiple of it"
    )]
    CashStep {
        /// Step given.
        step: Money,
    },
    /// An amount that cannot change hands.
    #[error("{paid} cannot be paid in cash, which comes in steps of {step}: it would be {cash}")]
    NotInCash {
        /// Amount given.
        paid: Money,
        /// The step.
        step: Money,
        /// What it would be.
        cash: Money,
    },
    /// Nothing to tax.
    #[error("there is no line to tax")]
    NoLines,
    /// A tax rate without a name.
    #[error("the tax rate of {share} needs a name")]
    UnnamedRate {
        /// Its share.
        share: PartsPerMillion,
    },
    /// Two tax rates of one name.
    #[error("the tax rate {name} is given twice; every rate has its own name")]
    RateTwice {
        /// Name that is given twice.
        name: String,
    },
    /// A tax rate that is not among those given.
    #[error("there is no tax rate {name}; known rates: {known}")]
    UnknownRate {
        /// The name requested.
        name: String,
        /// The names there are.
        known: String,
    },
    /// A tax rate finer than the book holds.
    #[error("\"{text}\" is finer than a tax rate can be, which is 0.0001 %")]
    RateTooFine {
        /// What was typed.
        text: String,
    },
    /// A schedule without stages.
    #[error("a schedule of payments needs at least one stage")]
    NoStages,
    /// A stage before the last without an amount.
    #[error("stage {stage} has no amount; only the last stage takes the rest")]
    StageWithoutAmount {
        /// Its name.
        stage: String,
    },
    /// Stages of more than there is to pay.
    #[error("up to {stage} the stages come to {planned}, but only {total} is to be paid")]
    ExceedsTotal {
        /// The stage that goes beyond.
        stage: String,
        /// Sum up to it.
        planned: Money,
        /// All there is to pay.
        total: Money,
    },
    /// Stages that all have amounts, but leave something.
    #[error(
        "the stages come to {planned}, but {total} is to be paid; leave the last one open to take the rest"
    )]
    DoNotSum {
        /// Sum of the stages.
        planned: Money,
        /// All there is to pay.
        total: Money,
    },
    /// Cancelling keeps more than the whole price.
    #[error("on cancelling {kept} would be kept, but the whole price is {total}")]
    KeepsMore {
        /// What the terms come to.
        kept: Money,
        /// The whole price.
        total: Money,
    },
    /// More stages reached than there are.
    #[error("stage {reached} cannot be reached, as the schedule has {stages}")]
    UnknownStage {
        /// Stages reported as reached.
        reached: usize,
        /// Stages there are.
        stages: usize,
    },
    /// The arithmetic of a rate per hour.
    #[error(transparent)]
    Cost(#[from] CostError),
    /// The arithmetic of a split.
    #[error(transparent)]
    Allocation(#[from] AllocationError),
    /// A sum beyond the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
