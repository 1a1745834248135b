//! Areas for people and for the wire.

use super::{Units, decimal};
use crate::quantity::exact;

/// A hundred square millimetres (0.0001 m²) in square micrometres.
const SHOWN_METRIC: i128 = 100_000_000;
/// A ten-thousandth of a square yard (1 yd = 0.9144 m by definition) in square micrometres.
const SHOWN_IMPERIAL: i128 = 83_612_736;
/// A square millimetre in square micrometres.
const WIRE: i128 = 1_000_000;

fn in_steps(area_um2: i128, step: i128) -> i64 {
    i64::try_from(exact::div_nearest(area_um2, step)).unwrap_or(i64::MAX)
}

/// An area for people, to the nearest ten-thousandth: `0.21 m²`, `0.0881 m²`, or `0.25 yd²`.
#[must_use]
pub fn show_area(area_um2: i128, units: Units) -> String {
    match units {
        Units::Metric => format!("{} m²", decimal(in_steps(area_um2, SHOWN_METRIC), 4, 2)),
        Units::Imperial => format!("{} yd²", decimal(in_steps(area_um2, SHOWN_IMPERIAL), 4, 2)),
    }
}

/// Square metres for the wire, to the nearest square millimetre: `0.21`, `0.0881`.
#[must_use]
pub fn decimal_m2(area_um2: i128) -> String {
    decimal(in_steps(area_um2, WIRE), 6, 2)
}
