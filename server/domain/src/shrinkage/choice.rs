//! Which shrinkage counts: the test, else what was stated, else what is typical, else nothing.

use super::{
    Direction, Preparation, Ratio, ShrinkageError, WashTest, typical::progressive, typical_of_blend,
};
use crate::{certainty::Certainty, cloth::FibreShare, quantity::PartsPerMillion};
use serde::{Deserialize, Serialize};
use std::{cmp::Ordering, fmt};

/// Where a shrinkage comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// Nothing is done to the cloth: shrinkage 0 by decision.
    NoPreparation,
    /// A measured swatch.
    WashTest,
    /// Stated by the seller.
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

/// Every source of a cloth's shrinkage.
#[derive(Debug, Clone, Copy)]
pub struct Candidates<'a> {
    /// What will be done to the cloth.
    pub preparation: Preparation,
    /// Wash tests of the lot with their numbers, oldest first.
    pub tests: &'a [(i64, WashTest)],
    /// Number of the test that the user insists on, for the preparation that it tested.
    pub pinned: Option<i64>,
    /// Stated by the seller.
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

impl Chosen {
    /// How well the less well known of both directions is known.
    #[must_use]
    pub fn weaker(&self) -> Certainty {
        self.certainty.max(self.width_certainty)
    }

    /// The same as the most that cloth can shrink which was steamed before: an estimate.
    #[must_use]
    pub fn after_steaming(self) -> Self {
        const SAID: &str = "the most for cloth that was steamed before";
        Self {
            certainty: self.certainty.max(Certainty::Estimated),
            width_certainty: self.width_certainty.max(Certainty::Estimated),
            source: format!("{}, {SAID}", self.source),
            width_source: format!("{}, {SAID}", self.width_source),
            ..self
        }
    }
}

/// For people: `4.57 % lengthwise, 1.43 % crosswise, measured (wash test 1)`; each direction with its own certainty and
/// source where they differ.
impl fmt::Display for Chosen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            length,
            width,
            certainty,
            width_certainty,
            kind: _,
            source,
            width_source,
        } = self;
        let length = length.shrinkage_ppm();
        let Some(width) = width else {
            return write!(
                f,
                "{length} lengthwise, crosswise unknown, {certainty} ({source})"
            );
        };
        let width = width.shrinkage_ppm();
        if (certainty, source) == (width_certainty, width_source) {
            return write!(
                f,
                "{length} lengthwise, {width} crosswise, {certainty} ({source})"
            );
        }
        write!(
            f,
            "{length} lengthwise, {certainty} ({source}); {width} crosswise, "
        )?;
        write!(f, "{width_certainty} ({width_source})")
    }
}

/// One direction.
struct Found {
    ratio: Ratio,
    certainty: Certainty,
    kind: Source,
    source: String,
}

/// Chooses the shrinkage of a cloth for a preparation, each direction on its own:
/// the pinned, else the latest wash test of that preparation with a reading at its number of washes, else the one that
/// reaches furthest → stated → typical high end → refused.
///
/// A test with fewer cycles than washes lends its last cycle, as an estimate. Where nothing is done, that is a decision:
/// shrinkage 0, certain.
///
/// # Errors
/// [`ShrinkageError::Unknown`] when no source knows the length; [`ShrinkageError::NothingLeft`] for a stated 100 % or
/// more.
pub fn choose(candidates: &Candidates<'_>) -> Result<Chosen, ShrinkageError> {
    step(candidates, 0)
}

/// What the next washes do to a cloth that was washed `done` times already, so that it ends up with the washes of
/// `candidates.preparation`: of a test the step from its reading at `done` to the one at the end.
///
/// A stated or typical figure counts for all washes, so that nothing is left for a further one; of fibres that go on
/// shrinking a further wash is unknown. The same holds for steaming again.
///
/// # Errors
/// As [`choose`]; [`ShrinkageError::UnknownStep`] when no source knows what a further wash does to the length.
pub fn step(candidates: &Candidates<'_>, done: u8) -> Result<Chosen, ShrinkageError> {
    let preparation = candidates.preparation;
    let unknown = match done {
        0 => ShrinkageError::Unknown { preparation },
        _ => ShrinkageError::UnknownStep { preparation },
    };
    let length = along(candidates, done, Direction::Lengthwise)?.ok_or(unknown)?;
    let width = along(candidates, done, Direction::Crosswise)?;
    let unknown = (
        Certainty::Unknown,
        "the crosswise shrinkage is unknown".to_owned(),
    );
    let (width, (width_certainty, width_source)) = match width {
        Some(found) => (Some(found.ratio), (found.certainty, found.source)),
        None => (None, unknown),
    };
    let Found {
        ratio,
        certainty,
        kind,
        source,
    } = length;
    Ok(Chosen {
        length: ratio,
        width,
        certainty,
        width_certainty,
        kind,
        source,
        width_source,
    })
}

fn along(
    candidates: &Candidates<'_>,
    done: u8,
    direction: Direction,
) -> Result<Option<Found>, ShrinkageError> {
    let Candidates {
        preparation,
        stated,
        fibres,
        construction,
        ..
    } = *candidates;
    if preparation.is_nothing() {
        return Ok(Some(Found {
            ratio: Ratio::UNCHANGED,
            certainty: Certainty::Measured,
            kind: Source::NoPreparation,
            source: "no preparation, cut as it is".to_owned(),
        }));
    }
    if let Some(found) = tested(candidates, done, direction) {
        return Ok(Some(found));
    }
    let stated = match direction {
        Direction::Lengthwise => stated.length,
        Direction::Crosswise => stated.width,
    };
    let found = if let Some(share) = stated {
        let (ratio, source) = (Ratio::from_ppm(share)?, "stated by the seller".to_owned());
        Some(Found {
            ratio,
            certainty: Certainty::Stated,
            kind: Source::Stated,
            source,
        })
    } else {
        typical_of_blend(fibres, construction, preparation).and_then(|typical| {
            let (ratio, source) = match direction {
                Direction::Lengthwise => (Some(typical.length), typical.source),
                Direction::Crosswise => (typical.width, typical.width_source),
            };
            let (certainty, kind) = (Certainty::Estimated, Source::Typical);
            ratio.map(|ratio| Found {
                ratio,
                certainty,
                kind,
                source,
            })
        })
    };
    if done == 0 {
        return Ok(found);
    }
    Ok(found
        .filter(|_| progressive(fibres).is_none())
        .map(|found| Found {
            ratio: Ratio::UNCHANGED,
            source: format!(
                "{}, which covers all washes: no more is expected",
                found.source
            ),
            ..found
        }))
}

/// The step from `done` washes to those of the preparation by the test that counts.
fn tested(candidates: &Candidates<'_>, done: u8, direction: Direction) -> Option<Found> {
    let Candidates {
        preparation,
        tests,
        pinned,
        fibres,
        ..
    } = *candidates;
    // Steaming is not counted: cloth that is steamed again has had one.
    let (washes, cycle, cycles) = match preparation {
        Preparation::Steamed => (done.saturating_add(1), "steaming", "steamings"),
        Preparation::None | Preparation::Raw | Preparation::Washed { .. } => {
            (preparation.cycles().max(done), "wash", "washes")
        }
    };
    let same = || {
        tests
            .iter()
            .filter(|(_, test)| test.preparation().same_kind(preparation))
    };
    let read =
        |test: &WashTest| Some((test.ratio(direction, done)?, test.ratio(direction, washes)?));
    let (number, ((before, begins), (whole, ends))) =
        match same().find(|(number, _)| pinned == Some(*number)) {
            Some((number, test)) => (*number, read(test)?),
            None => {
                let all =
                    same().filter_map(|(number, test)| Some((*number, test.reach(), read(test)?)));
                let best = all.max_by_key(|(number, reach, ((_, begins), (_, ends)))| {
                    let there = *ends == washes;
                    (
                        there,
                        there && *begins == done,
                        if there { 0 } else { *reach },
                        *number,
                    )
                })?;
                (best.0, best.2)
            }
        };
    // Nothing was read between both: what goes on shrinking is unknown there.
    if done > 0 && ends <= begins && progressive(fibres).is_some() {
        return None;
    }
    let (certainty, source) = match ends.cmp(&washes) {
        Ordering::Equal if done == 0 => (Certainty::Measured, preparation.to_string()),
        Ordering::Equal if begins == done => (
            Certainty::Measured,
            format!("from {cycle} {done} to {cycle} {washes}"),
        ),
        Ordering::Less => (
            Certainty::Estimated,
            format!("{ends} of {washes} {cycles} tested"),
        ),
        Ordering::Equal | Ordering::Greater => (
            Certainty::Estimated,
            format!("read after {ends} {cycles} only"),
        ),
    };
    let ratio = if done == 0 {
        whole
    } else {
        before.inverse().then(whole)
    };
    let source = format!("wash test {number}, {source}");
    Some(Found {
        ratio,
        certainty,
        kind: Source::WashTest,
        source,
    })
}
