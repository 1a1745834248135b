//! Why a purchase was refused. Lines and charges are counted from 1, as on paper.

use crate::{allocation::AllocationError, quantity::QuantityError};
use rust_decimal::Decimal;

/// Why an invoice could not be landed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LandError {
    /// An invoice without lines.
    #[error("a purchase needs at least one line")]
    NoLines,
    /// A price, length, mass or count below zero.
    #[error("the {what} of line {line} is negative; it must be zero or more")]
    NegativeLine {
        /// Line, from 1.
        line: usize,
        /// Price, length, mass or count.
        what: &'static str,
    },
    /// A line does not have the key its charge is shared by.
    #[error(
        "charge {charge} is shared by {key}, but line {line} has no {key}; give it or share by something else"
    )]
    MissingKey {
        /// Charge, from 1.
        charge: usize,
        /// Line, from 1.
        line: usize,
        /// Price, length or mass.
        key: &'static str,
    },
    /// A charge names a line that the invoice does not have.
    #[error("charge {charge} names line {line}; the last line of the purchase is {lines}")]
    UnknownLine {
        /// Charge, from 1.
        charge: usize,
        /// Line named, from 1.
        line: usize,
        /// Lines there are.
        lines: usize,
    },
    /// A charge over no line at all.
    #[error("charge {charge} names no line; leave the lines out to share it over all")]
    NoLinesNamed {
        /// Charge, from 1.
        charge: usize,
    },
    /// A tax on a charge that comes later, or on itself.
    #[error(
        "charge {charge} is shared by amounts that include charge {named}, which must come before it"
    )]
    NotEarlier {
        /// Charge, from 1.
        charge: usize,
        /// Charge named, from 1.
        named: usize,
    },
    /// A taxed amount below zero.
    #[error(
        "the taxed amount of line {line} for charge {charge} is negative; leave the discount out of it"
    )]
    NegativeTaxedAmount {
        /// Charge, from 1.
        charge: usize,
        /// Line, from 1.
        line: usize,
    },
    /// A discount that would raise the cost.
    #[error("charge {charge} is a discount of {amount} minor units; a discount is negative")]
    DiscountNotNegative {
        /// Charge, from 1.
        charge: usize,
        /// Minor units given.
        amount: i64,
    },
    /// Discounts larger than the line.
    #[error(
        "line {line} would cost {total} minor units after its charges; it must not fall below zero"
    )]
    NegativeTotal {
        /// Line, from 1.
        line: usize,
        /// Line total, in minor units of the invoice.
        total: i64,
    },
    /// An exchange rate of zero or less.
    #[error("the exchange rate is {rate}; it must be more than zero")]
    RateNotPositive {
        /// Rate given.
        rate: Decimal,
    },
    /// An exchange rate with too many decimals.
    #[error("the exchange rate {rate} has more than {max} digits after the point")]
    RateTooFine {
        /// Rate given.
        rate: Decimal,
        /// Decimals that are kept.
        max: u32,
    },
    /// A typed home amount that contradicts the invoice.
    #[error(
        "the home amount is {home} minor units for an invoice of {invoice}; both are zero or both are more than zero"
    )]
    HomeContradicts {
        /// Home minor units typed.
        home: i64,
        /// Invoice total in its minor units.
        invoice: i64,
    },
    /// More is reported here than was bought.
    #[error("what is left weighs more than the whole line; check the quantities")]
    MoreThanBought,
    /// The landing does not belong to these lines.
    #[error("the purchase has {lines} lines, but {landed} were landed")]
    OtherLines {
        /// Lines given.
        lines: usize,
        /// Lines landed.
        landed: usize,
    },
    /// The arithmetic of a split.
    #[error(transparent)]
    Allocation(#[from] AllocationError),
    /// A sum beyond the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
