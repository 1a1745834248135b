//! A part whose true size is known, so that what was traced from a scan or a photograph can be scaled.

use crate::{Drawn, PatternError};
use ellwand_domain::{
    lay::{Outline, Point},
    quantity::{Micrometres, Units, exact},
};

/// Most that length and width may scale differently, in thousandths: what is farther off has another shape.
const MOST_APART: i128 = 20;

/// A part as it was measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Its name.
    pub part: String,
    /// Along its grain.
    pub length: Micrometres,
    /// Across it.
    pub width: Micrometres,
}

impl Drawn {
    /// All parts scaled so that one is as long as it is known to be; its width must follow within 2 %.
    ///
    /// - Rounding: each corner to the nearest micrometre, halves away from zero.
    ///
    /// # Errors
    /// No part of this name, another shape, or an outline that closes by rounding.
    pub fn scaled(&self, known: &Known) -> Result<Self, PatternError> {
        let part = self.parts.iter().find(|part| part.name == known.part);
        let part = part.ok_or_else(|| PatternError::NoSuchPart {
            asked: known.part.clone(),
            parts: self
                .parts
                .iter()
                .map(|part| part.name.as_str())
                .collect::<Vec<_>>()
                .join(", "),
        })?;
        let (length, width) = part.size();
        let (is, was) = (known.length.get(), length.get());
        let followed = exact::mul_div_nearest(width.get(), is, was).unwrap_or(i64::MAX);
        let apart = i128::from(followed.abs_diff(known.width.get())).saturating_mul(1_000);
        if apart > i128::from(followed).saturating_mul(MOST_APART) {
            let size = |length: Micrometres, width: Micrometres| {
                let show = |side: Micrometres| side.show_width(Units::Metric);
                format!("{} × {}", show(length), show(width))
            };
            return Err(PatternError::Scale {
                part: known.part.clone(),
                drawn: size(length, width),
                known: size(known.length, known.width),
            });
        }
        let mut scaled = self.clone();
        for part in &mut scaled.parts {
            let corners = part.outline.corners().iter().map(|corner| {
                let um = |value| exact::mul_div_nearest(value, is, was).unwrap_or(i64::MAX);
                Point::new(um(corner.along), um(corner.across))
            });
            part.outline =
                Outline::new(corners.collect()).map_err(|error| PatternError::Outline {
                    part: part.name.clone(),
                    error,
                })?;
        }
        Ok(scaled)
    }
}
