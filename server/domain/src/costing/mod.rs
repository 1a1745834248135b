//! Job costing: rates, variances, the cost sheet of a garment, and the cost of each good garment of a batch.
//!
//! A job's cost is its direct material, its direct labour and the overhead applied to it (OpenStax Principles of
//! Accounting vol. 2, 4.2 and 4.5). What a mistake wasted is shown apart and is never part of it (IAS 2 para 16).
//! Variances explain the way from plan to fact and never add to cost.

mod batch;
mod bridge;
mod error;
mod labour;
mod line;
mod material;
mod outcome;
mod pay;
mod period;
mod printed;
mod rate;
mod sheet;
mod variance;

pub use crate::setting::Spoilage;
pub use batch::{BatchCost, MAX_BATCH, on_good, per_good};
pub use bridge::{Bridge, BridgeItem};
pub use error::CostError;
pub use line::{
    LabourLine, LineKind, LossLine, LossReason, MaterialLine, MaterialLoss, PlannedWork, SheetLine,
    Used, WorkDone,
};
pub use outcome::{ComparedLine, Comparison, Measured, Variance, VarianceKind};
pub use pay::{BEGINNING, PayRate};
pub use period::{Applied, PeriodOverhead, billable_share, minutes_in_days};
pub use printed::{PrintedLine, PrintedSheet};
pub use rate::{HourlyCost, OverheadRate, labour_cost, overhead_applied};
pub use sheet::{CostSheet, SheetInput};
pub use variance::{
    LabourVariance, MaterialVariance, StandardPrice, labour_variance, material_variance,
    overhead_on_extra_hours,
};
