//! Cloth: fibres, mass per area, width.

mod conversion;
mod error;
pub mod fibre;
mod mass;
mod share;

pub use conversion::{Estimate, convert};
pub use error::ClothError;
pub use mass::{after_shrinkage, area_factor, length_by_mass, mass_of, mass_per_metre, width_of};
pub use share::{FibreShare, check_shares, parse_shares};
