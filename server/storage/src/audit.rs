//! What the audit compares.

use ellwand_domain::layer::Step;

/// A piece or layer: its row against the ledger.
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

/// A movement at a cost layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LayerStep {
    /// The layer.
    pub layer: i64,
    /// Its place in the ledger.
    pub sequence: i64,
    /// The booking that its own booking takes back.
    pub undoes: Option<i64>,
    /// What moved, with what is known of its booking.
    pub step: Step,
}

/// A counter of codes and the highest code that was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CounterSum {
    /// What it counts.
    pub kind: String,
    /// The number it gives next; none where there is no counter.
    pub next: Option<i64>,
    /// The highest number in use.
    pub highest: i64,
}
