//! What goes into a cost sheet, and the lines that come out.

use super::HourlyCost;
use crate::{
    quantity::{Millionths, Minutes},
    setting::{CutReason, WorkReason},
};
use serde::{Deserialize, Serialize};

/// Why material or time went beyond the good garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum LossReason {
    /// The maker's own mistake: a loss.
    OwnMistake,
    /// The cloth was faulty: a loss, or a claim on the supplier.
    FaultyCloth,
    /// The customer wanted it otherwise: to be charged, not lost.
    CustomerChange,
}

impl LossReason {
    /// What a cut's reason says of its cost: `None` where it rides on the garment.
    #[must_use]
    pub const fn of_cut(reason: CutReason) -> Option<Self> {
        match reason {
            CutReason::OwnMistake => Some(Self::OwnMistake),
            CutReason::FaultyCloth => Some(Self::FaultyCloth),
            CutReason::CustomerChange => Some(Self::CustomerChange),
            CutReason::Planned | CutReason::Toile | CutReason::Swatch => None,
        }
    }

    /// What a work entry's reason says of its cost: `None` where it rides on the garment.
    #[must_use]
    pub const fn of_work(reason: WorkReason) -> Option<Self> {
        match reason {
            WorkReason::OwnMistake => Some(Self::OwnMistake),
            WorkReason::FaultyCloth => Some(Self::FaultyCloth),
            WorkReason::CustomerChange => Some(Self::CustomerChange),
            WorkReason::Planned => None,
        }
    }
}

/// What a line of the sheet is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum LineKind {
    /// Cloth, interlining, thread or trim.
    Material,
    /// Billable minutes at their rate.
    Labour,
    /// Overhead on billable minutes.
    Overhead,
}

/// A quantity of a material and its cost.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Used {
    /// Micrometres, µm² or pieces: one unit for the whole line.
    pub quantity: i64,
    /// Its cost.
    pub value: Millionths,
}

/// Material that did not end in the good garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MaterialLoss {
    /// How much, and its cost.
    pub used: Used,
    /// Why.
    pub reason: LossReason,
}

/// One material of a garment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialLine {
    /// What people call it.
    pub name: String,
    /// The plan, if there was one.
    pub planned: Option<Used>,
    /// What the good garment took, normal waste included, losses not.
    pub actual: Used,
    /// What went beyond it.
    pub losses: Vec<MaterialLoss>,
}

/// Planned billable minutes of an operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlannedWork {
    /// Minutes.
    pub minutes: Minutes,
    /// What an hour costs.
    pub rate: HourlyCost,
}

/// Minutes that were worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WorkDone {
    /// Minutes.
    pub minutes: Minutes,
    /// What an hour costs.
    pub rate: HourlyCost,
    /// Only billable minutes carry labour and overhead.
    pub billable: bool,
    /// Set where the minutes are not the garment's own.
    pub reason: Option<LossReason>,
    /// Overhead of the day they were worked on, where it is not the plan's.
    pub overhead: Option<HourlyCost>,
}

/// One operation of a garment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabourLine {
    /// What people call it.
    pub operation: String,
    /// The plan, if there was one.
    pub planned: Option<PlannedWork>,
    /// Shape: any number of entries, each with its own rate.
    pub actual: Vec<WorkDone>,
}

/// A line of the sheet: planned beside actual, losses not in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetLine {
    /// What it is.
    pub kind: LineKind,
    /// Material or operation.
    pub name: String,
    /// `None` where nothing was planned.
    pub planned: Option<Millionths>,
    /// What the good garment took.
    pub actual: Millionths,
}

/// A loss, or a customer's change, shown apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LossLine {
    /// What it is.
    pub kind: LineKind,
    /// Material or operation.
    pub name: String,
    /// Why.
    pub reason: LossReason,
    /// What it cost.
    pub value: Millionths,
}
