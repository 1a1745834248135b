//! Parts as they are drawn.

use crate::{curve, error::PatternError, keys::Keys};
use ellwand_domain::{lay::Outline, quantity::Micrometres, setting::Grain};
use kurbo::{BezPath, Point};
use serde::Serialize;

/// Most parts of a file.
pub(crate) const MOST_PARTS: usize = 500;

/// What a file holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawn {
    /// Parts, in the file's order.
    pub parts: Vec<DrawnPart>,
    /// What the file does not say, and what of it is not read.
    pub notes: Vec<String>,
}

/// A part as it is cut: whole, with its grain along the warp.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DrawnPart {
    /// What it is called; no two have one name.
    pub name: String,
    /// The need that it belongs to, where that is said.
    pub need: Option<String>,
    /// How often it is cut; 1, where that is not said.
    pub count: i64,
    /// True where every second one is turned over: left and right.
    pub pairs: bool,
    /// How its length lies on the cloth.
    pub grain: Grain,
    /// Its outline.
    pub outline: Outline,
}

impl DrawnPart {
    /// Its length along the grain and its width across it, as a tape measure finds them.
    #[must_use]
    pub fn size(&self) -> (Micrometres, Micrometres) {
        let bounds = self.outline.bounds();
        let side =
            |from: i64, to: i64| Micrometres::new(to.saturating_sub(from)).unwrap_or_default();
        (
            side(bounds.least.along, bounds.most.along),
            side(bounds.least.across, bounds.most.across),
        )
    }
}

/// A part as a file draws it, in millimetres of the page: x to the right, y upwards.
pub(crate) struct Sketch {
    pub(crate) name: String,
    pub(crate) path: BezPath,
    /// The direction of its grain on the page.
    pub(crate) grain: (f64, f64),
    /// The line that it is half drawn up to.
    pub(crate) fold: Option<(Point, Point)>,
    pub(crate) keys: Keys,
}

impl Sketch {
    /// Flattens its curves, unfolds it, and turns its grain along the warp.
    pub(crate) fn drawn(self) -> Result<DrawnPart, PatternError> {
        let mut corners = curve::flattened(&self.name, &self.path)?;
        if let Some(fold) = self.fold {
            corners = curve::unfolded(&corners, fold)
                .ok_or_else(|| PatternError::Fold(self.name.clone()))?;
        }
        let corners = curve::along(&corners, self.grain);
        let outline = Outline::new(corners).map_err(|error| PatternError::Outline {
            part: self.name.clone(),
            error,
        })?;
        Ok(DrawnPart {
            name: self.name,
            need: self.keys.need,
            count: self.keys.count.unwrap_or(1),
            pairs: self.keys.pairs,
            grain: self.keys.grain.unwrap_or(Grain::Lengthwise),
            outline,
        })
    }
}

impl Drawn {
    pub(crate) fn of(sketches: Vec<Sketch>, notes: Vec<String>) -> Result<Self, PatternError> {
        if sketches.is_empty() {
            return Err(PatternError::NoPart(""));
        }
        if sketches.len() > MOST_PARTS {
            return Err(PatternError::TooMany(sketches.len()));
        }
        let mut parts: Vec<DrawnPart> = Vec::with_capacity(sketches.len());
        for sketch in sketches {
            if parts.iter().any(|part| part.name == sketch.name) {
                return Err(PatternError::Twice(sketch.name));
            }
            parts.push(sketch.drawn()?);
        }
        Ok(Self { parts, notes })
    }
}
