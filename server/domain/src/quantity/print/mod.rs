//! Prints quantities for people, and as the exact decimal strings of the wire.

mod area;
mod decimal;
mod length;
mod mass;
mod value;

pub use area::{decimal_m2, show_area};
pub(crate) use decimal::{decimal, from_decimal};

/// Which units to show.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Units {
    /// Metres, centimetres, grams.
    #[default]
    Metric,
    /// Yards, inches, ounces.
    Imperial,
}
