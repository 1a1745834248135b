//! The cost sheet of a garment.

use crate::{Amount, Micro, act::act};
use ellwand_domain::{
    code::{GarmentCode, LotCode},
    setting::GarmentState,
};
use serde::{Deserialize, Serialize};

/// Show the cost sheet of a garment, planned beside actual.
///
/// Each material is at its own lot's cost, work at its pay rate, overhead on billable hours. Own mistakes and faulty
/// cloth are listed separately, below the cost of the job. The bridge leads from planned to actual, to the cent; a
/// finished batch also shows the cost of each good garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetCost {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
}
act!(read GetCost => CostSheet, "get_cost", "/v1/garments/{garment}/cost", "Returns a garment's cost sheet, planned beside actual.", needs SeePayRates);

/// Planned and actual cost, line by line. Every printed column adds up to its printed total.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CostSheet {
    /// Garment.
    pub garment: GarmentCode,
    /// Name of the garment.
    pub name: String,
    /// State.
    pub state: GarmentState,
    /// How many were started.
    pub count: i64,
    /// The workshop's currency.
    pub currency: String,
    /// Materials, labour and overhead of the job, without losses.
    pub lines: Vec<CostLine>,
    /// Sum of `lines`.
    pub job: CostPair,
    /// Losses, shown separately: own mistakes and faulty cloth, in cloth and in time.
    pub losses: Vec<CostLine>,
    /// Sum of `losses`.
    pub loss: CostPair,
    /// Job and losses together.
    pub all: CostPair,
    /// What the customer's changes of mind cost; included in `lines`.
    pub customer_changes: CostPair,
    /// From planned to actual: adds up to `all` actual less `all` planned; empty where one of them has no total.
    pub bridge: Vec<BridgeStep>,
    /// What each good one costs, once finished and priced.
    pub per_good: Option<PerGood>,
    /// How stiff the interlinings are that are promised or cut, need by need.
    pub stiffness: Vec<PartStiffness>,
    /// Remarks: what has no planned cost, missing pay rates …
    pub notes: Vec<String>,
}

/// A planned and an actual amount; null where some hours have no rate, so that there is no total, and where a line has no
/// price.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CostPair {
    /// Planned, exact.
    pub planned: Option<Micro>,
    /// Actual, exact.
    pub actual: Option<Micro>,
    /// Planned in minor units.
    pub planned_printed: Option<String>,
    /// Actual in minor units.
    pub actual_printed: Option<String>,
}

/// Group of costs that a line belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum CostGroup {
    /// Material at its own lot's cost.
    Material,
    /// Labour.
    Labour,
    /// Overhead on billable hours.
    Overhead,
}

/// A line of the cost sheet.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CostLine {
    /// Group of costs.
    pub group: CostGroup,
    /// `shell`, `sewing` …
    pub name: String,
    /// Lot or person: `L1 navy wool`, `owner`.
    pub detail: String,
    /// Planned quantity for people: `2.60 m`, `9 h`; absent: not planned.
    pub planned_quantity: Option<String>,
    /// Actual quantity for people.
    pub actual_quantity: Option<String>,
    /// The planned quantity of a material, exact.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned_amount: Option<Amount>,
    /// The actual quantity of a material, exact.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub actual_amount: Option<Amount>,
    /// Amounts; a planned one is absent from the sum while it is unknown.
    pub cost: CostPair,
    /// False: no planned cost is known; it is unpriced, not zero.
    pub planned_known: bool,
}

/// A step from planned to actual.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BridgeStep {
    /// `quantity`, `price`, `time`, `rate`, `overhead on extra hours`, `not planned`.
    pub name: String,
    /// Positive: costs more than planned.
    pub amount: Micro,
    /// In minor units.
    pub printed: String,
}

/// How stiff the parts of an interlining are, of one lot.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PartStiffness {
    /// Role of the need.
    pub need: String,
    /// Lot that is promised or cut.
    pub lot: LotCode,
    /// Along and across the part, what turning it would change, the least with the shell, or how to measure it.
    pub notes: Vec<String>,
}

/// Cost of each good garment of a finished batch.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PerGood {
    /// Good ones.
    pub good: i64,
    /// Spoiled ones.
    pub spoiled: i64,
    /// Cost each, rounded down to the millionth; the first ones carry the rest.
    pub each: Micro,
    /// In minor units, half up.
    pub each_printed: String,
    /// Loss on spoiled ones, less salvage.
    pub loss: Micro,
    /// In minor units, half up.
    pub loss_printed: String,
}
