//! Pictures of answers, as SVG files that stand alone: no script, no font and no address outside of them.
//!
//! They are drawn in whole numbers from what the book answers, so that the same answer always gives the same picture.

pub mod lay;
mod markup;
pub mod stiffness;
