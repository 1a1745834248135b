//! Job costing: one cost item, and the sheets that are folds over it; rates, variances, the cost of each good garment of a batch.
//!
//! A job's cost is its direct material, its direct labour and the overhead applied to it (OpenStax Principles of
//! Accounting vol. 2, 4.2 and 4.5). What a mistake wasted is shown apart and is never part of it (IAS 2 para 16).
//! Variances explain the way from plan to fact and never add to cost.

mod batch;
mod bridge;
mod compare;
mod error;
mod extent;
mod group;
mod item;
mod loss;
mod overhead;
mod pay;
mod period;
mod rate;
mod sheet;

pub use crate::setting::Spoilage;
pub use batch::{BatchCost, MAX_BATCH, on_good, per_good};
pub use bridge::{BridgeItem, Step, shown_steps};
pub use compare::{Comparison, Variance, VarianceKind};
pub use error::CostError;
pub use extent::Extent;
pub use group::{LineKind, PriceGroup};
pub use item::CostItem;
pub use loss::LossReason;
pub use overhead::{OVERHEAD, overhead_on, planned_overhead};
pub use pay::{BEGINNING, PayRate};
pub use period::{Applied, PeriodOverhead, billable_share, minutes_in_days};
pub use rate::{HourlyCost, OverheadRate, labour_cost};
pub use sheet::{CostRow, CostSheet, Total, head};
