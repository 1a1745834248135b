//! Shrinkage per direction: exact ratios, wash tests, typical values, and which of them counts.

mod choice;
mod construction;
mod error;
mod layers;
mod preparation;
mod ratio;
mod typical;
mod wash_test;

pub use choice::{Candidates, Chosen, Source, Stated, choose, step};
pub use error::ShrinkageError;
pub use layers::{Alike, layers_alike};
pub use preparation::{Preparation, Progress};
pub use ratio::{Ratio, most_shrinkage};
pub use typical::{Typical, typical, typical_of_blend};
pub use wash_test::{Direction, Marks, WashTest};
