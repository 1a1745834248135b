//! What is asked of a period.

use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::{month::Flow, setting::WorkKind};

/// A flow of one material, as the ledger has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LedgerFlow {
    /// The material; none for what is no material any more.
    pub material: Option<i64>,
    /// What moved.
    pub flow: Flow,
}

/// A garment that something was booked of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct DayAct {
    /// Garment.
    pub garment: i64,
    /// Business date.
    pub day: NaiveDate,
}

/// A quotation with its sum, tax included, in minor units of its currency.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct QuotedSum {
    /// Quotation.
    pub quotation: i64,
    /// Sum.
    pub minor: i64,
}

/// Payments: how many, and what they come to in minor units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PaidSum {
    /// Number of payments, those back to customers among them.
    pub count: i64,
    /// Sum.
    pub minor: i64,
}

/// An accepted quotation that is not settled; minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OwedOn {
    /// The quotation, or the one that it supplements.
    pub quotation: i64,
    /// Garment.
    pub garment: i64,
    /// Customer.
    pub customer: Option<i64>,
    /// What was agreed to.
    pub agreed: i64,
    /// What was paid, with the roundings of cash.
    pub settled: i64,
}

/// Minutes of a person at one kind of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Worked {
    /// Person.
    pub person: i64,
    /// Kind of work.
    pub kind: WorkKind,
    /// Whether they are billable.
    pub billable: bool,
    /// Minutes.
    pub minutes: i64,
}
