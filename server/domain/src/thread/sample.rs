//! A seam that was measured: sewn, and its thread drawn out.

use super::{error::SeamError, ratio::ThreadRatio};
use crate::quantity::Micrometres;

/// Thread drawn out of a length of seam.
///
/// The method: unpick a known length, divide, multiply by the length of the seam (apparelscience.com; scribd 75439238).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sample {
    length: Micrometres,
    needle: Micrometres,
    under: Micrometres,
}

impl Sample {
    /// Thread that was drawn out of `length` of seam; `under` is zero for a stitch without one.
    ///
    /// # Errors
    /// [`SeamError::EmptySample`] when the seam or the needle thread has no length, [`SeamError::ShortSample`] when a thread is
    /// shorter than the seam that it runs along.
    pub const fn new(
        length: Micrometres,
        needle: Micrometres,
        under: Micrometres,
    ) -> Result<Self, SeamError> {
        if length.is_zero() || needle.is_zero() {
            return Err(SeamError::EmptySample);
        }
        let shorter =
            needle.get() < length.get() || (!under.is_zero() && under.get() < length.get());
        if shorter {
            return Err(SeamError::ShortSample);
        }
        Ok(Self {
            length,
            needle,
            under,
        })
    }

    /// Needle thread and under thread in a metre of seam.
    pub(super) fn ratios(self) -> Option<(ThreadRatio, ThreadRatio)> {
        let over =
            |thread: Micrometres| ThreadRatio::new(thread.get().into(), self.length.get().into());
        Some((over(self.needle)?, over(self.under)?))
    }
}
