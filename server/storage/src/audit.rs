//! What the audit compares.

/// A piece or layer: what its row says and what the ledger says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Balance {
    /// Row.
    pub id: i64,
    /// Its lot; 0 for a pool.
    pub lot: i64,
    /// The piece's number; 0 for a layer.
    pub number: i64,
    /// Kept quantity and value.
    pub kept: (i64, i64),
    /// The ledger's sums.
    pub ledger: (i64, i64),
    /// Kept sum of promises.
    pub held: i64,
}

/// A purchase: its total, its lines, its lots and what the ledger received, in millionths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PurchaseSum {
    /// Row.
    pub id: i64,
    /// Total.
    pub home: i64,
    /// Lines' landed costs.
    pub lines: i64,
    /// Lots' landed costs.
    pub lots: i64,
    /// What left the supplier.
    pub ledger: i64,
}
