//! Does a piece serve a need, and how much of it does the need take?

mod cloth;
mod estimate;
mod filling;
mod likely;
mod part;
mod parts;
mod placed;
mod planned;
mod repeats;
mod steps;
mod unit;

pub use cloth::{
    ClothDemand, ClothFacts, ClothFit, CuttingRule, Lengths, Misfit, WidthLength, fit_cloth,
    fit_unshrunk, washed_of, washes_done,
};
pub use estimate::Estimate;
pub use filling::{Begun, Filling, Joining, Share, lengths_left};
pub use likely::likely_raw;
pub use part::{Extent, Part, PartError, ShellMeasures};
pub use parts::{KeptRung, Laid, LaidPart, MOST_PARTS, Parts, PartsError, RowsError, Uses};
pub use placed::{MOST_DRAWN, PlacedError};
pub use planned::{
    ClothConditions, ClothLengths, Conditions, Fabric, PlannedNeed, Stiffness, Takes,
    TrimConditions, TypedPart,
};
pub use repeats::Repeats;
