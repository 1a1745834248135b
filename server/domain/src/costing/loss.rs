//! Why material or time went beyond the good garment.

use crate::setting::{CutReason, WorkReason};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Why material or time went beyond the good garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
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
    /// Loss that a cut's reason makes of its cost: `None` where the garment carries it.
    #[must_use]
    pub const fn of_cut(reason: CutReason) -> Option<Self> {
        match reason {
            CutReason::OwnMistake => Some(Self::OwnMistake),
            CutReason::FaultyCloth => Some(Self::FaultyCloth),
            CutReason::CustomerChange => Some(Self::CustomerChange),
            CutReason::Planned | CutReason::Toile | CutReason::Swatch => None,
        }
    }

    /// Loss that a work entry's reason makes of its cost: `None` where the garment carries it.
    #[must_use]
    pub const fn of_work(reason: WorkReason) -> Option<Self> {
        match reason {
            WorkReason::OwnMistake => Some(Self::OwnMistake),
            WorkReason::FaultyCloth => Some(Self::FaultyCloth),
            WorkReason::CustomerChange => Some(Self::CustomerChange),
            WorkReason::Planned => None,
        }
    }

    /// True for what the customer wanted otherwise: it is charged, and no loss.
    #[must_use]
    pub const fn is_change(self) -> bool {
        matches!(self, Self::CustomerChange)
    }
}

impl fmt::Display for LossReason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::OwnMistake => "own mistake",
            Self::FaultyCloth => "faulty cloth",
            Self::CustomerChange => "customer's change",
        })
    }
}
