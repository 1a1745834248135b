//! Does a piece serve a need, and how much of it does the need take?

mod cloth;
mod likely;
mod part;
mod parts;
mod repeats;
mod steps;

pub use cloth::{
    ClothDemand, ClothFacts, ClothFit, CuttingRule, Lengths, Misfit, WidthLength, fit_cloth,
    washes_done,
};
pub use likely::likely_raw;
pub use part::{Extent, Part, PartError, ShellMeasures};
pub use parts::{Laid, LaidPart, MOST_PARTS, Parts, PartsError, RowsError};
pub use repeats::Repeats;
