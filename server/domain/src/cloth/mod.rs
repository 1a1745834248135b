//! Cloth: fibres, mass per area, width.

mod conversion;
mod doubt;
mod error;
pub mod fibre;
mod mass;
mod share;

pub use conversion::{Estimate, convert};
pub use doubt::{ClothDoubt, ClothFinding};
pub use error::ClothError;
pub use mass::{
    NO_HEAVIER, after_shrinkage, area_factor, heavier, length_by_mass, mass_now, mass_of,
};
pub use share::{FibreShare, check_shares, parse_shares};
