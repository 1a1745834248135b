//! What is laid: each part as often as it is cut, and where each piece lies.

use crate::{
    LayFault, MOST_PARTS,
    stance::{self, Kind, Stance},
};
use ellwand_domain::lay::{LayCloth, LayPart, Placement, Point};

pub(crate) const UM_PER_MM: f32 = 1000.0;
/// How much each outline is grown beyond half the spacing, so that the gap survives floats and whole micrometres; mm, and mm for each mm
/// of the longest lay.
const MARGIN: f64 = 0.002;
const MARGIN_BY_LENGTH: f64 = 5e-7;

/// Where a piece lies: which of its stances, and the least corner of its box in mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Spot {
    pub(crate) stance: usize,
    pub(crate) along: f32,
    pub(crate) across: f32,
}

/// All that is laid.
#[derive(Debug)]
pub(crate) struct Pieces {
    pub(crate) cloth: LayCloth,
    pub(crate) parts: Vec<LayPart>,
    pub(crate) kinds: Vec<Kind>,
    /// The kind of each piece, ascending.
    pub(crate) pieces: Vec<usize>,
}

impl Pieces {
    /// # Errors
    /// [`LayFault`], where they cannot be laid at any length.
    pub(crate) fn new(parts: &[LayPart], cloth: LayCloth) -> Result<Self, LayFault> {
        let count = parts.iter().map(|part| part.count.max(0)).sum::<i64>();
        if count == 0 {
            return Err(LayFault::Nothing);
        }
        if count > MOST_PARTS as i64 {
            return Err(LayFault::TooMany(count));
        }
        let by = cloth.spacing.get() as f64 / 2000.0
            + MARGIN
            + MARGIN_BY_LENGTH * likely_length(parts, &cloth);
        let kinds = parts.iter().map(|part| Kind::new(part, &cloth, by));
        let kinds = kinds.collect::<Result<Vec<Kind>, LayFault>>()?;
        let pieces = parts.iter().enumerate().flat_map(|(kind, part)| {
            std::iter::repeat_n(kind, usize::try_from(part.count).unwrap_or(0))
        });
        Ok(Self {
            cloth,
            parts: parts.to_vec(),
            pieces: pieces.collect(),
            kinds,
        })
    }

    pub(crate) fn len(&self) -> usize {
        self.pieces.len()
    }

    pub(crate) fn kind(&self, piece: usize) -> &Kind {
        &self.kinds[self.pieces[piece]]
    }

    pub(crate) fn stance(&self, piece: usize, spot: Spot) -> &Stance {
        &self.kind(piece).stances[spot.stance]
    }

    /// Usable width in mm.
    pub(crate) fn width(&self) -> f32 {
        self.cloth.usable.get() as f32 / UM_PER_MM
    }

    /// Length below which no lay is: by area, and by the longest part.
    pub(crate) fn least_length(&self) -> i64 {
        let twice = |part: &LayPart| part.outline.twice_area_um2() * i128::from(part.count.max(0));
        let area = self.parts.iter().map(twice).sum::<i128>() / 2;
        let usable = i128::from(self.cloth.usable.get().max(1));
        let by_area = i64::try_from((area + usable - 1) / usable).unwrap_or(i64::MAX);
        let longest = |kind: &usize| {
            let stances = self.kinds[*kind].stances.iter();
            stances.map(|stance| stance.size.along).min().unwrap_or(0)
        };
        self.pieces.iter().map(longest).fold(by_area, i64::max)
    }

    /// A place on whole micrometres, inside of the width.
    pub(crate) fn placement(&self, piece: usize, spot: Spot) -> Placement {
        let stance = self.stance(piece, spot);
        let most = self.cloth.usable.get() - stance.size.across;
        let across = whole(spot.across).min(most).max(0);
        Placement {
            part: self.pieces[piece],
            turn: stance.turn,
            flipped: stance.flipped,
            at: Point::new(whole(spot.along).max(0), across),
        }
    }

    /// The spot of a placement of a piece.
    pub(crate) fn spot(&self, piece: usize, placement: &Placement) -> Option<Spot> {
        let is_it =
            |stance: &Stance| (stance.turn, stance.flipped) == (placement.turn, placement.flipped);
        let stance = self.kind(piece).stances.iter().position(is_it)?;
        Some(Spot {
            stance,
            along: placement.at.along as f32 / UM_PER_MM,
            across: placement.at.across as f32 / UM_PER_MM,
        })
    }
}

fn whole(mm: f32) -> i64 {
    (f64::from(mm) * f64::from(UM_PER_MM)).round() as i64
}

/// Longer than a lay will be: twice the boxes' area by the width, and the longest sides; mm.
fn likely_length(parts: &[LayPart], cloth: &LayCloth) -> f64 {
    let sides = parts.iter().map(|part| {
        let size = stance::size(part.outline.bounds());
        let (along, across) = (size.along as f64, size.across as f64);
        (along * across * part.count.max(0) as f64, along.max(across))
    });
    let (area, longest) = sides.fold((0.0, 0.0_f64), |(area, longest), part| {
        (area + part.0, longest.max(part.1))
    });
    (2.0 * area / cloth.usable.get().max(1) as f64 + 2.0 * longest) / f64::from(UM_PER_MM)
}
