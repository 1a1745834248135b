//! Proving the book from its ledger.

use crate::act::act;
use serde::{Deserialize, Serialize};

/// Prove the book's rules from the ledger alone.
///
/// Balances, values, purchases and promises are computed anew from the movements and compared with what the book says.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct RunAudit {}
act!(read RunAudit => Audit, "run_audit", "/v1/audit", "Proves the book's rules from the ledger alone.", needs Books);

/// What was proved and what is off.
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
    /// What is off; empty: the book is in order.
    pub findings: Vec<Finding>,
}

/// Something that is off.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Finding {
    /// Rule, by its number.
    pub rule: u8,
    /// Of what: `L1.1`, `P3` …
    pub record: String,
    /// What the ledger says and what the book says.
    pub detail: String,
}
