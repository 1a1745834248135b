//! Proving the book from its ledger.

use crate::act::act;
use serde::{Deserialize, Serialize};

/// Prove the book's rules from the ledger alone.
///
/// Balances, values, purchases and promises are computed again from the movements and compared with the book.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct RunAudit {}
act!(read RunAudit => Audit, "run_audit", "/v1/audit", "Proves the book's rules from the ledger alone.", needs Books);

/// What was checked and what does not add up.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Audit {
    /// Bookings read.
    pub bookings: i64,
    /// Movements read.
    pub movements: i64,
    /// Pieces compared.
    pub pieces: i64,
    /// Cost layers compared.
    pub layers: i64,
    /// Purchases compared.
    pub purchases: i64,
    /// Stretches compared.
    pub stretches: i64,
    /// What does not add up; empty: the book is in order.
    pub findings: Vec<Finding>,
}

/// A record that does not agree with the ledger.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Finding {
    /// Rule, by its number; 8: a kept lay passes its check, and takes the lengths that it is kept for.
    pub rule: u8,
    /// The record: `L1.1`, `P3` …
    pub record: String,
    /// The ledger's figure and the book's.
    pub detail: String,
}
