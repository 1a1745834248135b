//! A lay, and the check that makes it.

use super::{FORMAT, LayCloth, LayError, LayPart, Outline, OutlineError, Point, Turn, meet, point};
use crate::quantity::Micrometres;
use serde::{Deserialize, Serialize};

/// Longest lay.
pub(super) const MOST_LENGTH: Micrometres = Micrometres::from_mm(1_000_000);

/// One part as it lies on the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Placement {
    /// Which of the parts, from 0.
    pub part: usize,
    /// How it is turned, after it was turned over.
    pub turn: Turn,
    /// True where it lies face down.
    pub flipped: bool,
    /// Where the least corner of the box around it lies.
    pub at: Point,
}

/// Parts on cloth, proved to be possible.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Kept", into = "Kept")]
pub struct Lay {
    cloth: LayCloth,
    parts: Vec<LayPart>,
    placements: Vec<Placement>,
    most: Point,
}

/// A lay as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    format: u32,
    cloth: LayCloth,
    parts: Vec<LayPart>,
    placements: Vec<Placement>,
}

impl Lay {
    /// Checks a lay: each part lies there as often as it is cut, in a direction that its grain and the cloth allow, inside the usable
    /// width and the length, over no other, and no nearer to one than the spacing. Parts may touch one another and the edges.
    ///
    /// # Errors
    /// [`LayError`], the first that is found.
    pub fn new(
        cloth: LayCloth,
        parts: Vec<LayPart>,
        placements: Vec<Placement>,
    ) -> Result<Self, LayError> {
        if !cloth.is_sensible() {
            return Err(LayError::Cloth);
        }
        counted(&parts, &placements)?;
        let mut outlines = Vec::with_capacity(placements.len());
        for placement in &placements {
            if let Some(part) = parts.get(placement.part) {
                outlines.push((part, placed(&cloth, part, placement)?));
            }
        }
        apart(&cloth, &outlines)?;
        let ends = outlines.iter().map(|(_, outline)| outline.bounds().most);
        let most = point::Bounds::around(ends.chain([Point::default()])).most;
        Ok(Self {
            cloth,
            parts,
            placements,
            most,
        })
    }

    /// The cloth that it was laid for.
    #[must_use]
    pub const fn cloth(&self) -> LayCloth {
        self.cloth
    }

    /// Its parts.
    #[must_use]
    pub fn parts(&self) -> &[LayPart] {
        &self.parts
    }

    /// How they lie.
    #[must_use]
    pub fn placements(&self) -> &[Placement] {
        &self.placements
    }

    /// Length of the cloth that it takes: the farthest end of a part.
    #[must_use]
    pub fn length(&self) -> Micrometres {
        Micrometres::new(self.most.along).unwrap_or(Micrometres::MAX)
    }

    /// Width that it takes of it.
    #[must_use]
    pub fn width(&self) -> Micrometres {
        Micrometres::new(self.most.across).unwrap_or(Micrometres::MAX)
    }

    /// Area of its parts; square micrometres, rounded down.
    #[must_use]
    pub fn area_um2(&self) -> i128 {
        let twice = self
            .parts
            .iter()
            .map(|part| part.outline.twice_area_um2() * i128::from(part.count));
        twice.sum::<i128>().div_euclid(2)
    }
}

fn counted(parts: &[LayPart], placements: &[Placement]) -> Result<(), LayError> {
    let mut placed = vec![0_i64; parts.len()];
    for (at, placement) in placements.iter().enumerate() {
        let Some(count) = placed.get_mut(placement.part) else {
            return Err(LayError::NoSuchPart {
                placement: at + 1,
                part: placement.part.saturating_add(1),
                parts: parts.len(),
            });
        };
        *count += 1;
    }
    match parts
        .iter()
        .zip(placed)
        .find(|(part, placed)| part.count != *placed)
    {
        None => Ok(()),
        Some((part, placed)) => Err(LayError::Count {
            name: part.name.clone(),
            count: part.count,
            placed,
        }),
    }
}

/// A part as it lies there, inside the cloth.
fn placed(cloth: &LayCloth, part: &LayPart, placement: &Placement) -> Result<Outline, LayError> {
    let name = || part.name.clone();
    if !cloth.ways.turns(part.grain).contains(&placement.turn) {
        let (name, turn) = (name(), placement.turn);
        return Err(LayError::Direction { name, turn });
    }
    if placement.flipped && !part.may_flip {
        return Err(LayError::Flipped { name: name() });
    }
    let end = cloth.length.unwrap_or(MOST_LENGTH).min(MOST_LENGTH);
    let outside = || LayError::Outside {
        name: name(),
        usable: cloth.usable,
        length: cloth.length,
    };
    let is_on = |at: Point| {
        (0..=end.get()).contains(&at.along) && (0..=cloth.usable.get()).contains(&at.across)
    };
    // Before anything is moved there: sums stay small.
    if !is_on(placement.at) {
        return Err(outside());
    }
    let outline = part.outline.placed(placement)?;
    if !is_on(outline.bounds().most) {
        return Err(outside());
    }
    Ok(outline)
}

fn apart(cloth: &LayCloth, outlines: &[(&LayPart, Outline)]) -> Result<(), LayError> {
    let spacing = cloth.spacing.get();
    let boxes: Vec<_> = outlines
        .iter()
        .map(|(_, outline)| outline.bounds())
        .collect();
    for (one, other) in point::near_pairs(&boxes, spacing - 1) {
        let (Some((one, first)), Some((other, second))) = (outlines.get(one), outlines.get(other))
        else {
            continue;
        };
        let (name, beside) = (one.name.clone(), other.name.clone());
        if meet::overlap(first, second) {
            return Err(LayError::Overlap {
                one: name,
                other: beside,
            });
        }
        if spacing > 0 && meet::nearer(first, second, spacing) {
            return Err(LayError::TooNear {
                one: name,
                other: beside,
                spacing: cloth.spacing,
            });
        }
    }
    Ok(())
}

impl TryFrom<Kept> for Lay {
    type Error = LayError;
    fn try_from(kept: Kept) -> Result<Self, LayError> {
        if kept.format != FORMAT {
            return Err(OutlineError::Format(kept.format).into());
        }
        Self::new(kept.cloth, kept.parts, kept.placements)
    }
}

impl From<Lay> for Kept {
    fn from(lay: Lay) -> Self {
        Self {
            format: FORMAT,
            cloth: lay.cloth,
            parts: lay.parts,
            placements: lay.placements,
        }
    }
}
