//! Two layers that are sewn or fused together should shrink by the same share.

use crate::quantity::PartsPerMillion;

/// A difference above this is warned of: 1 percentage point (common practice).
const WARN_ABOVE_PPM: i64 = 10_000;
/// Above this the layers should not be put together: 2 percentage points (common practice).
const STOP_ABOVE_PPM: i64 = 20_000;

/// How far apart two layers shrink along the same direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alike {
    /// By one percentage point at most.
    Yes,
    /// By more: the one that shrinks more may ripple the other.
    Apart(PartsPerMillion),
    /// By more than two points.
    FarApart(PartsPerMillion),
}

/// Compares the shrinkage of two layers in one direction; a growth is a shrinkage below zero.
///
/// ```
/// use ellwand_domain::shrinkage::{Alike, layers_alike};
/// let share = |text: &str| text.parse().unwrap();
/// assert_eq!(layers_alike(share("3%"), share("2%")), Alike::Yes);
/// assert_eq!(layers_alike(share("5%"), share("3.5%")), Alike::Apart(share("1.5%")));
/// ```
#[must_use]
pub fn layers_alike(one: PartsPerMillion, other: PartsPerMillion) -> Alike {
    let ppm = one.get().saturating_sub(other.get()).saturating_abs();
    let apart = PartsPerMillion::new(ppm).unwrap_or(PartsPerMillion::MAX);
    if ppm <= WARN_ABOVE_PPM {
        Alike::Yes
    } else if ppm <= STOP_ABOVE_PPM {
        Alike::Apart(apart)
    } else {
        Alike::FarApart(apart)
    }
}
