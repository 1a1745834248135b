//! What a plan says that one garment needs. Its serde is what the book keeps, so that names in requests may change without it.

use super::Part;
use crate::{
    code::{LotCode, MaterialCode},
    quantity::{AsTyped, Count, Micrometres, MilligramsPerM2},
    setting::{Grain, Kind},
    shrinkage::Preparation,
    trim::TrimSize,
};
use serde::{Deserialize, Serialize};

/// A need: what one garment takes, and what that must be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlannedNeed {
    /// What one garment takes.
    pub takes: Takes,
    /// What is asked of any kind.
    pub conditions: Conditions,
    /// Planned cost of one garment as typed, where no lot is promised yet.
    pub estimate: Option<String>,
}

/// What one garment takes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Takes {
    /// Cloth or interlining by length.
    Cloth {
        /// Washed lengths.
        lengths: ClothLengths,
        /// Its longest part: it may be split over pieces that each hold it.
        longest_part: Option<AsTyped<Micrometres>>,
        /// What is asked of it.
        cloth: ClothConditions,
    },
    /// Cloth or interlining by the parts that are cut from it.
    Parts {
        /// In the order of the plan.
        parts: Vec<TypedPart>,
        /// The maker's own lay of one garment: how long, and the usable width that it is for.
        own: Option<(AsTyped<Micrometres>, Option<AsTyped<Micrometres>>)>,
        /// What is asked of it.
        cloth: ClothConditions,
    },
    /// Thread.
    Thread {
        /// In all.
        length: AsTyped<Micrometres>,
        /// True where the length came from the seams that name this role.
        seams: bool,
        /// So many reels run at once and share the batch's length.
        reels: Option<i64>,
        /// Of this colour.
        colour: Option<String>,
    },
    /// Trims by length: tape, elastic, a zip by the metre.
    Measured {
        /// In all.
        length: AsTyped<Micrometres>,
        /// What is asked of them.
        trim: TrimConditions,
    },
    /// Trims by count: buttons, hooks.
    Counted {
        /// How many are sewn on.
        count: Count,
        /// So many more go with the garment.
        spares: Option<Count>,
        /// True for a set that matches.
        matching: bool,
        /// What is asked of them.
        trim: TrimConditions,
    },
}

/// Washed lengths of cloth.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClothLengths {
    /// One.
    One {
        /// How long.
        length: AsTyped<Micrometres>,
        /// Usable width that it is for; any, where it is not said.
        width: Option<AsTyped<Micrometres>>,
    },
    /// Several: usable widths, and the length at each.
    ByWidth(Vec<(AsTyped<Micrometres>, AsTyped<Micrometres>)>),
}

/// A part with its measures as they were typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TypedPart {
    /// The part.
    pub part: Part,
    /// Length of its shell part.
    pub length: String,
    /// Width of its shell part.
    pub width: String,
    /// Seam allowance.
    pub allowance: Option<String>,
}

/// What is asked of cloth and interlining.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClothConditions {
    /// Which of the two.
    pub fabric: Fabric,
    /// What it must have been through when it is cut; not decided, where it is not said.
    pub preparation: Option<Preparation>,
    /// Least mass per area.
    pub mass_min: Option<AsTyped<MilligramsPerM2>>,
    /// Most mass per area.
    pub mass_max: Option<AsTyped<MilligramsPerM2>>,
    /// Grain along the part.
    pub grain: Option<Grain>,
    /// How stiff along the part.
    pub stiffness: Option<Stiffness>,
    /// True: each length is whole repeats of its lot.
    pub match_repeat: bool,
    /// True: a batch's lengths are joined into one, its parts are laid together.
    pub one_length: bool,
}

/// Cloth, its lining, or the interlining between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fabric {
    /// Cloth.
    Cloth,
    /// Lining.
    Lining,
    /// Interlining.
    Interlining {
        /// Only fusible, or only sewn-in; either, where it is not said.
        fusible: Option<bool>,
    },
}

impl ClothConditions {
    /// Nothing is asked.
    pub const NONE: Self = Self {
        fabric: Fabric::Cloth,
        preparation: None,
        mass_min: None,
        mass_max: None,
        grain: None,
        stiffness: None,
        match_repeat: false,
        one_length: false,
    };

    /// Interlining: only fusible (true), only sewn-in (false).
    #[must_use]
    pub const fn fusible(&self) -> Option<bool> {
        match self.fabric {
            Fabric::Interlining { fusible } => fusible,
            Fabric::Cloth | Fabric::Lining => None,
        }
    }
}

/// Rigidity along the part, in nanonewton metres.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stiffness {
    /// Within a range, open at one end where that is not said.
    Range {
        /// The least.
        min: Option<AsTyped<i64>>,
        /// The most.
        max: Option<AsTyped<i64>>,
    },
    /// As a lot is on one of its grains.
    Like {
        /// Which lot.
        lot: LotCode,
        /// Which of its grains.
        grain: Grain,
    },
}

/// What is asked of trims.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TrimConditions {
    /// Of this size.
    pub size: Option<AsTyped<TrimSize>>,
    /// Of this colour.
    pub colour: Option<String>,
}

impl TrimConditions {
    /// Nothing is asked.
    pub const NONE: Self = Self {
        size: None,
        colour: None,
    };
}

/// What is asked of any kind. The garment whose lot a need must be of stands in a column of its own.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Conditions {
    /// Only this material.
    pub material: Option<MaterialCode>,
    /// Only this lot.
    pub lot: Option<LotCode>,
    /// Only what contains this fibre, by the book's name.
    pub fibre: Option<String>,
    /// True: may be made from several lots.
    pub mixing: bool,
}

impl PlannedNeed {
    /// The kind of material.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match &self.takes {
            Takes::Cloth { cloth, .. } | Takes::Parts { cloth, .. } => match cloth.fabric {
                Fabric::Cloth => Kind::Cloth,
                Fabric::Lining => Kind::Lining,
                Fabric::Interlining { .. } => Kind::Interlining,
            },
            Takes::Thread { .. } => Kind::Thread,
            Takes::Measured { .. } | Takes::Counted { .. } => Kind::Trim,
        }
    }

    /// What is asked of cloth and interlining; nothing of thread and trims.
    #[must_use]
    pub const fn cloth(&self) -> &ClothConditions {
        match &self.takes {
            Takes::Cloth { cloth, .. } | Takes::Parts { cloth, .. } => cloth,
            _ => &ClothConditions::NONE,
        }
    }

    /// What is asked of trims; nothing of the others.
    #[must_use]
    pub const fn trim(&self) -> &TrimConditions {
        match &self.takes {
            Takes::Measured { trim, .. } | Takes::Counted { trim, .. } => trim,
            _ => &TrimConditions::NONE,
        }
    }

    /// The colour that is asked of thread and trims.
    #[must_use]
    pub fn colour(&self) -> Option<&str> {
        match &self.takes {
            Takes::Thread { colour, .. } => colour.as_deref(),
            _ => self.trim().colour.as_deref(),
        }
    }

    /// True for thread whose length came from the seams.
    #[must_use]
    pub const fn seams(&self) -> bool {
        matches!(self.takes, Takes::Thread { seams: true, .. })
    }

    /// Reels that run at once.
    #[must_use]
    pub const fn reels(&self) -> Option<i64> {
        match self.takes {
            Takes::Thread { reels, .. } => reels,
            _ => None,
        }
    }

    /// True for a set of trims that matches.
    #[must_use]
    pub const fn matching(&self) -> bool {
        matches!(self.takes, Takes::Counted { matching: true, .. })
    }

    /// Trims by count, and the spares that go with them.
    #[must_use]
    pub fn count(&self) -> (Option<i64>, Option<i64>) {
        match self.takes {
            Takes::Counted { count, spares, .. } => (Some(count.get()), spares.map(Count::get)),
            _ => (None, None),
        }
    }
}
