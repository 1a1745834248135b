//! Overhangs of strips, read on a cantilever at 41.5°.

use super::{bending_length_from_overhang, reading::decimal_mm};
use crate::quantity::{Micrometres, fraction::Fraction};

/// Strips along one grain, at most.
const MOST_STRIPS: usize = 12;
/// Readings of one strip, at most: face up and down, from both ends.
const MOST_READINGS: usize = 4;

/// Strips that differ by more than this share of the shorter overhang need confirmation (common practice).
const APART_PERCENT: i128 = 20;

/// Why overhangs were refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StripError {
    /// No strip, or a strip without a reading.
    #[error("a strip has no reading: give its overhang, for example 62mm")]
    NoReading,
    /// More strips, or more readings of one, than anyone takes.
    #[error(
        "at most {MOST_STRIPS} strips along one grain, each read at most {MOST_READINGS} times"
    )]
    TooMany,
    /// Strips that were not read alike cannot be averaged fairly.
    #[error(
        "one strip has {first} readings and another {other}: read every strip the same way, face up and face down"
    )]
    Uneven {
        /// Readings of the first strip.
        first: usize,
        /// Readings of the other.
        other: usize,
    },
    /// A strip that does not bend at all, or was not moved.
    #[error(
        "an overhang of zero is not a reading: push the strip on until its tip meets the slope"
    )]
    Nothing,
    /// The strip ends before it bends far enough.
    #[error(
        "an overhang of {} mm cannot come from a strip of {} mm: \
         measure again, or give the strips' length",
        decimal_mm(*overhang), decimal_mm(*strip)
    )]
    LongerThanStrip {
        /// What was read.
        overhang: Micrometres,
        /// Length of the strip.
        strip: Micrometres,
    },
}

/// Overhangs along one grain: a list of strips, each with the same number of readings.
///
/// The mean is that of all readings, which weighs every strip and every side alike (common practice; four strips
/// that share no threads are asked for: textileapex.com 2023).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strips(Vec<Vec<Micrometres>>);

impl Strips {
    /// Overhangs of strips of one length.
    ///
    /// # Errors
    /// See [`StripError`]; an overhang must be shorter than its strip, part of which lies on the ledge.
    pub fn new(readings: Vec<Vec<Micrometres>>, strip: Micrometres) -> Result<Self, StripError> {
        let first = readings.first().map_or(0, Vec::len);
        if first == 0 || readings.iter().any(Vec::is_empty) {
            return Err(StripError::NoReading);
        }
        if readings.len() > MOST_STRIPS || readings.iter().any(|one| one.len() > MOST_READINGS) {
            return Err(StripError::TooMany);
        }
        if let Some(other) = readings.iter().map(Vec::len).find(|count| *count != first) {
            return Err(StripError::Uneven { first, other });
        }
        for overhang in readings.iter().flatten() {
            if overhang.is_zero() {
                return Err(StripError::Nothing);
            }
            if *overhang >= strip {
                return Err(StripError::LongerThanStrip {
                    overhang: *overhang,
                    strip,
                });
            }
        }
        Ok(Self(readings))
    }

    /// The readings as they were given.
    #[must_use]
    pub fn readings(&self) -> &[Vec<Micrometres>] {
        &self.0
    }

    /// Mean overhang, to the nearest micrometre.
    ///
    /// ```
    /// use ellwand_domain::{quantity::Micrometres, stiffness::Strips};
    /// let mm = Micrometres::from_mm;
    /// let strips = Strips::new(vec![vec![mm(62)], vec![mm(60)]], mm(200)).unwrap();
    /// assert_eq!(strips.mean(), mm(61));
    /// ```
    #[must_use]
    pub fn mean(&self) -> Micrometres {
        mean(self.0.iter().flatten())
    }

    /// Mean of the nth reading of every strip: with two readings a strip, face up and face down.
    #[must_use]
    pub fn mean_of_reading(&self, index: usize) -> Option<Micrometres> {
        self.0.first().filter(|strip| index < strip.len())?;
        Some(mean(self.0.iter().filter_map(|strip| strip.get(index))))
    }

    /// The least and the greatest overhang.
    #[must_use]
    pub fn range(&self) -> (Micrometres, Micrometres) {
        let all = || self.0.iter().flatten().copied();
        (
            all().min().unwrap_or_default(),
            all().max().unwrap_or_default(),
        )
    }

    /// The least and the greatest mean overhang of a strip, where they are more than 20 % apart: strips along one grain of
    /// one cloth bend alike, so that one may have been misread.
    #[must_use]
    pub fn far_apart(&self) -> Option<(Micrometres, Micrometres)> {
        let means = || self.0.iter().map(|strip| mean(strip.iter()));
        let (least, most) = (means().min()?, means().max()?);
        let apart = i128::from(most.get().saturating_sub(least.get())).saturating_mul(100);
        (apart > i128::from(least.get()).saturating_mul(APART_PERCENT)).then_some((least, most))
    }

    /// Half the mean overhang.
    #[must_use]
    pub fn bending_length(&self) -> Micrometres {
        bending_length_from_overhang(self.mean())
    }
}

fn mean<'a>(readings: impl Iterator<Item = &'a Micrometres> + Clone) -> Micrometres {
    let count = i128::try_from(readings.clone().count()).unwrap_or(0);
    let sum = readings
        .map(|reading| i128::from(reading.get()))
        .fold(0, i128::saturating_add);
    let nearest = Fraction::new(sum, count).and_then(Fraction::nearest);
    nearest
        .and_then(|um| Micrometres::new(um).ok())
        .unwrap_or_default()
}
