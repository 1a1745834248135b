//! Wash tests: marks on a swatch, read before and after each cycle.

use super::{Preparation, Ratio, ShrinkageError};
use crate::quantity::Micrometres;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Pairs of marks in one direction, at most (ISO 3759 and AATCC TM135 ask for three; from memory).
const MOST_PAIRS: usize = 3;
/// Cycles of one test, at most: a preparation counts its washes in a byte.
const MOST_CYCLES: usize = 255;

/// A direction of the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// Along the warp.
    Lengthwise,
    /// Along the weft.
    Crosswise,
}

impl fmt::Display for Direction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Lengthwise => "lengthwise",
            Self::Crosswise => "crosswise",
        })
    }
}

/// Distances between pairs of marks, read at one time.
///
/// Shape: one to three readings per direction, in the same order every time; a direction that is not tested is empty.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Marks {
    /// Along the warp.
    pub lengthwise: Vec<Micrometres>,
    /// Along the weft.
    #[serde(default)]
    pub crosswise: Vec<Micrometres>,
}

impl Marks {
    /// The readings of one direction.
    #[must_use]
    pub fn along(&self, direction: Direction) -> &[Micrometres] {
        match direction {
            Direction::Lengthwise => &self.lengthwise,
            Direction::Crosswise => &self.crosswise,
        }
    }
}

/// A measured swatch: marks before, and after each cycle of one preparation. Kept as its readings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Readings", into = "Readings")]
pub struct WashTest {
    preparation: Preparation,
    before: Marks,
    cycles: Vec<Marks>,
}

/// A wash test that nobody has checked yet.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Readings {
    preparation: Preparation,
    before: Marks,
    cycles: Vec<Marks>,
}

impl WashTest {
    /// Takes the readings. `cycles[0]` was read after the first cycle; with several washes in
    /// `preparation` see [`Self::washes_a_reading`].
    ///
    /// Checks, in this order: something is tested, a cycle, readings at all, not too many, a pair for each mark, none
    /// of them zero.
    ///
    /// # Errors
    /// [`ShrinkageError`], one variant per check.
    pub fn new(
        preparation: Preparation,
        before: Marks,
        cycles: Vec<Marks>,
    ) -> Result<Self, ShrinkageError> {
        if preparation.is_nothing() {
            return Err(ShrinkageError::NothingTested);
        }
        if cycles.is_empty() {
            return Err(ShrinkageError::NoCycles);
        }
        if before.lengthwise.is_empty() && before.crosswise.is_empty() {
            return Err(ShrinkageError::NoReadings);
        }
        if cycles.len() > MOST_CYCLES {
            return Err(ShrinkageError::TooMany {
                what: "cycles",
                found: cycles.len(),
                most: MOST_CYCLES,
            });
        }
        for direction in [Direction::Lengthwise, Direction::Crosswise] {
            check(direction, before.along(direction), &cycles)?;
        }
        Ok(Self {
            preparation,
            before,
            cycles,
        })
    }

    /// The preparation that was tested.
    #[must_use]
    pub const fn preparation(&self) -> Preparation {
        self.preparation
    }

    /// The readings before.
    #[must_use]
    pub const fn before(&self) -> &Marks {
        &self.before
    }

    /// The readings after each cycle.
    #[must_use]
    pub fn cycles(&self) -> &[Marks] {
        &self.cycles
    }

    /// Washes from one reading to the next: a test of `washed x3` with one reading was read after the third wash, with
    /// three after each.
    #[must_use]
    pub fn washes_a_reading(&self) -> u8 {
        let readings = u8::try_from(self.cycles.len()).unwrap_or(u8::MAX);
        match self.preparation.cycles().checked_rem(readings) {
            Some(0) => self
                .preparation
                .cycles()
                .checked_div(readings)
                .unwrap_or(1)
                .max(1),
            _ => 1,
        }
    }

    /// The most washes that it was read after.
    #[must_use]
    pub fn reach(&self) -> usize {
        self.cycles
            .len()
            .saturating_mul(usize::from(self.washes_a_reading()))
    }

    /// The exact change of a direction after `washes` cycles together: Σ after / Σ before.
    ///
    /// The second value is the number of washes it was read after: `washes` itself, or the nearest one that was read (then
    /// it is an estimate): the next later one, else the last. Nothing when the direction was not tested. Zero washes change
    /// nothing.
    #[must_use]
    pub fn ratio(&self, direction: Direction, washes: u8) -> Option<(Ratio, u8)> {
        let before = total(self.before.along(direction))?;
        let step = usize::from(self.washes_a_reading());
        let tested = usize::from(washes).div_ceil(step).min(self.cycles.len());
        let Some(last) = tested.checked_sub(1) else {
            return Some((Ratio::UNCHANGED, 0));
        };
        let after = total(self.cycles.get(last)?.along(direction))?;
        Some((
            Ratio::new(before, after).ok()?,
            u8::try_from(tested.checked_mul(step)?).unwrap_or(u8::MAX),
        ))
    }
}

fn check(
    direction: Direction,
    before: &[Micrometres],
    cycles: &[Marks],
) -> Result<(), ShrinkageError> {
    if before.len() > MOST_PAIRS {
        let found = before.len();
        return Err(ShrinkageError::TooMany {
            what: "pairs of marks",
            found,
            most: MOST_PAIRS,
        });
    }
    for (cycle, marks) in (1_usize..).zip(cycles) {
        let after = marks.along(direction);
        if after.len() != before.len() {
            let (before, after) = (before.len(), after.len());
            return Err(ShrinkageError::UnequalCounts {
                direction,
                cycle,
                before,
                after,
            });
        }
        if before.iter().chain(after).any(|reading| reading.is_zero()) {
            return Err(ShrinkageError::ZeroReading);
        }
    }
    Ok(())
}

/// Sum of at most three readings; nothing when there are none.
fn total(readings: &[Micrometres]) -> Option<i64> {
    let sum = readings
        .iter()
        .fold(0_i64, |sum, reading| sum.saturating_add(reading.get()));
    (sum > 0).then_some(sum)
}

impl TryFrom<Readings> for WashTest {
    type Error = ShrinkageError;
    fn try_from(readings: Readings) -> Result<Self, ShrinkageError> {
        let Readings {
            preparation,
            before,
            cycles,
        } = readings;
        Self::new(preparation, before, cycles)
    }
}

impl From<WashTest> for Readings {
    fn from(test: WashTest) -> Self {
        let WashTest {
            preparation,
            before,
            cycles,
        } = test;
        Self {
            preparation,
            before,
            cycles,
        }
    }
}
