//! Which shrinkage counts: the test, else what was stated, else what is typical, else nothing.

use super::{Direction, Preparation, Ratio, ShrinkageError, WashTest, typical_of_blend};
use crate::{certainty::Certainty, cloth::FibreShare, quantity::PartsPerMillion};
use serde::{Deserialize, Serialize};
use std::cmp::Ordering;

/// Where a shrinkage comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// Nothing is done to the cloth: shrinkage 0 by decision.
    NoPreparation,
    /// A measured swatch.
    WashTest,
    /// What the seller said.
    Stated,
    /// The typical high end of its kind.
    Typical,
}

/// Shrinkage as the seller states it; positive shrinks. Holds for any preparation.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stated {
    /// Lengthwise.
    pub length: Option<PartsPerMillion>,
    /// Crosswise.
    pub width: Option<PartsPerMillion>,
}

/// Everything that may say how a cloth shrinks.
#[derive(Debug, Clone, Copy)]
pub struct Candidates<'a> {
    /// What will be done to the cloth.
    pub preparation: Preparation,
    /// Wash tests of the lot with their numbers, oldest first.
    pub tests: &'a [(i64, WashTest)],
    /// Number of the test that the user insists on, for the preparation that it tested.
    pub pinned: Option<i64>,
    /// What the seller said.
    pub stated: Stated,
    /// Fibres of the cloth; may be empty.
    pub fibres: &'a [FibreShare],
    /// Construction in words, where known.
    pub construction: Option<&'a str>,
}

/// The shrinkage that counts, per direction.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// Lengthwise.
    pub length: Ratio,
    /// Crosswise; nothing when no source knows (the caller says so).
    pub width: Option<Ratio>,
    /// How well the length is known.
    pub certainty: Certainty,
    /// How well the width is known.
    pub width_certainty: Certainty,
    /// Where the length is from.
    pub kind: Source,
    /// The same in words.
    pub source: String,
    /// Where the width is from, in words.
    pub width_source: String,
}

/// One direction.
struct Found {
    ratio: Ratio,
    certainty: Certainty,
    kind: Source,
    source: String,
}

/// Chooses the shrinkage of a cloth for a preparation, each direction on its own:
/// the pinned, else the latest wash test of that preparation, cumulative to its number of washes → stated → typical high
/// end → refused.
///
/// A test with fewer cycles than washes lends its last cycle, as an estimate. `Preparation::None` is a decision:
/// shrinkage 0, certain.
///
/// # Errors
/// [`ShrinkageError::Unknown`] when no source knows the length; [`ShrinkageError::NothingLeft`] for a stated 100 % or
/// more.
pub fn choose(candidates: &Candidates<'_>) -> Result<Chosen, ShrinkageError> {
    let preparation = candidates.preparation;
    let length = along(candidates, Direction::Lengthwise)?.ok_or(ShrinkageError::Unknown { preparation })?;
    let width = along(candidates, Direction::Crosswise)?;
    let unknown = (Certainty::Unknown, "the crosswise shrinkage is unknown".to_owned());
    let (width, (width_certainty, width_source)) = match width {
        Some(found) => (Some(found.ratio), (found.certainty, found.source)),
        None => (None, unknown),
    };
    let Found { ratio, certainty, kind, source } = length;
    Ok(Chosen { length: ratio, width, certainty, width_certainty, kind, source, width_source })
}

fn along(candidates: &Candidates<'_>, direction: Direction) -> Result<Option<Found>, ShrinkageError> {
    let Candidates { preparation, tests, pinned, stated, fibres, construction } = *candidates;
    if preparation == Preparation::None {
        return Ok(Some(Found {
            ratio: Ratio::UNCHANGED,
            certainty: Certainty::Measured,
            kind: Source::NoPreparation,
            source: "no preparation, cut as it is".to_owned(),
        }));
    }
    let washes = preparation.cycles();
    let mut fitting = tests.iter().rev().filter(|(_, test)| test.preparation().same_kind(preparation));
    let ratio = |(number, test): &(i64, WashTest)| Some((*number, test.ratio(direction, washes)?));
    let tested = match fitting.clone().find(|(number, _)| pinned == Some(*number)) {
        Some(test) => ratio(test),
        None => fitting.find_map(ratio),
    };
    if let Some((number, (ratio, cycles))) = tested {
        let (certainty, source) = match cycles.cmp(&washes) {
            Ordering::Equal => (Certainty::Measured, format!("wash test {number}, {preparation}")),
            Ordering::Less => {
                (Certainty::Estimated, format!("wash test {number}, {cycles} of {washes} washes tested"))
            }
            Ordering::Greater => {
                (Certainty::Estimated, format!("wash test {number}, read after {cycles} washes only"))
            }
        };
        return Ok(Some(Found { ratio, certainty, kind: Source::WashTest, source }));
    }
    let said = match direction {
        Direction::Lengthwise => stated.length,
        Direction::Crosswise => stated.width,
    };
    if let Some(share) = said {
        let (ratio, source) = (Ratio::from_ppm(share)?, "stated by the seller".to_owned());
        return Ok(Some(Found { ratio, certainty: Certainty::Stated, kind: Source::Stated, source }));
    }
    let Some(typical) = typical_of_blend(fibres, construction, preparation) else { return Ok(None) };
    let ratio = match direction {
        Direction::Lengthwise => Some(typical.length),
        Direction::Crosswise => typical.width,
    };
    let (certainty, kind, source) = (Certainty::Estimated, Source::Typical, typical.source);
    Ok(ratio.map(|ratio| Found { ratio, certainty, kind, source }))
}
