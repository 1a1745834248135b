//! Lays that are kept: the same parts on several widths, each checked, and never worked out anew.

use super::{FORMAT, Lay, LayCloth, LayError, LayPart, OutlineError, Placement, Ways};
use crate::quantity::{Micrometres, Units};
use serde::{Deserialize, Serialize};

/// Most widths that one kept lay is for.
pub const MOST_RUNGS: usize = 8;

/// What all rungs of a kept lay have in common.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Stored", into = "Stored")]
pub struct LaidParts {
    /// Whether parts may lie upside down.
    pub ways: Ways,
    /// Least gap between parts.
    pub spacing: Micrometres,
    /// The parts.
    pub parts: Vec<LayPart>,
}

/// The same as it is stored.
#[derive(Serialize, Deserialize)]
struct Stored {
    format: u32,
    ways: Ways,
    spacing: Micrometres,
    parts: Vec<LayPart>,
}

/// Why a lay is not kept.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum KeptError {
    /// For no width, or for more than anyone asks for.
    #[error("a lay is kept for 1 to {MOST_RUNGS} widths, not {0}")]
    HowMany(usize),
    /// Two of one width.
    #[error("two of its lays are {} wide", .0.show_width(Units::Metric))]
    SameWidth(Micrometres),
    /// One of them failed the check.
    #[error("at {}: {error}", .usable.show_width(Units::Metric))]
    Rung {
        /// Its width.
        usable: Micrometres,
        /// Why.
        error: LayError,
    },
}

/// A lay that is kept, for several widths.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptLay {
    rungs: Vec<Lay>,
}

impl KeptLay {
    /// Checks where the parts lie at each usable width.
    ///
    /// # Errors
    /// [`KeptError`], the first that is found.
    pub fn new(
        laid: &LaidParts,
        mut rungs: Vec<(Micrometres, Vec<Placement>)>,
    ) -> Result<Self, KeptError> {
        if rungs.is_empty() || rungs.len() > MOST_RUNGS {
            return Err(KeptError::HowMany(rungs.len()));
        }
        rungs.sort_by_key(|(usable, _)| std::cmp::Reverse(*usable));
        let follow = rungs.iter().zip(rungs.iter().skip(1));
        if let Some((same, _)) = { follow }.find(|(one, next)| one.0 == next.0) {
            return Err(KeptError::SameWidth(same.0));
        }
        let checked = rungs.into_iter().map(|(usable, placements)| {
            let cloth = LayCloth {
                usable,
                length: None,
                spacing: laid.spacing,
                ways: laid.ways,
            };
            Lay::new(cloth, laid.parts.clone(), placements)
                .map_err(|error| KeptError::Rung { usable, error })
        });
        let rungs = checked.collect::<Result<Vec<_>, _>>()?;
        Ok(Self { rungs })
    }

    /// Its lays, the widest first.
    #[must_use]
    pub fn rungs(&self) -> &[Lay] {
        &self.rungs
    }

    /// The shortest of its lays that a usable width is enough for: wider cloth never needs more.
    #[must_use]
    pub fn at(&self, usable: Micrometres) -> Option<&Lay> {
        let serving = self.rungs.iter().filter(|lay| lay.cloth().usable <= usable);
        serving.min_by_key(|lay| lay.length())
    }
}

impl TryFrom<Stored> for LaidParts {
    type Error = OutlineError;
    fn try_from(stored: Stored) -> Result<Self, OutlineError> {
        let Stored {
            format,
            ways,
            spacing,
            parts,
        } = stored;
        if format != FORMAT {
            return Err(OutlineError::Format(format));
        }
        Ok(Self {
            ways,
            spacing,
            parts,
        })
    }
}

impl From<LaidParts> for Stored {
    fn from(laid: LaidParts) -> Self {
        Self {
            format: FORMAT,
            ways: laid.ways,
            spacing: laid.spacing,
            parts: laid.parts,
        }
    }
}
