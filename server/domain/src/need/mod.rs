//! Does a piece serve a need, and how much of it does the need take?

mod cloth;
mod likely;
mod steps;

pub use cloth::{ClothDemand, ClothFacts, ClothFit, CuttingRule, Misfit, WidthLength, fit_cloth};
pub use likely::likely_raw;
