//! From spots to a lay that passed the check, and from lays to spots.

use crate::piece::{Pieces, Spot};
use ellwand_domain::lay::{Lay, LayCloth, LayError, Placement, Point};

/// The lay of spots on whole micrometres.
///
/// # Errors
/// What the check refuses, of any length of cloth.
pub(crate) fn lay(pieces: &Pieces, spots: &[Spot]) -> Result<Lay, LayError> {
    let placements = spots.iter().enumerate();
    let placements = placements.map(|(piece, spot)| pieces.placement(piece, *spot));
    checked(pieces, placements.collect())
}

/// A lay by its placements in any order; its length is looked at last of all.
pub(crate) fn checked(pieces: &Pieces, mut placements: Vec<Placement>) -> Result<Lay, LayError> {
    placements.sort_by_key(|placement| placement.part);
    let cloth = LayCloth {
        length: None,
        ..pieces.cloth
    };
    Lay::new(cloth, pieces.parts.clone(), placements)
}

/// Where each piece of a lay of these pieces lies.
pub(crate) fn spots(pieces: &Pieces, lay: &Lay) -> Option<Vec<Spot>> {
    let placements = lay.placements().iter().enumerate();
    let spots = placements.map(|(piece, placement)| pieces.spot(piece, placement));
    let spots: Vec<Spot> = spots.collect::<Option<_>>()?;
    (spots.len() == pieces.len()).then_some(spots)
}

/// A lay that was made for narrower cloth, more parts or fewer directions, taken over for these pieces: parts are known by their name
/// and outline. Nothing where it does not hold all of them.
pub(crate) fn taken_over(pieces: &Pieces, known: &Lay) -> Option<Lay> {
    let mut left: Vec<&Placement> = known.placements().iter().collect();
    let mut placements = Vec::with_capacity(pieces.len());
    for kind in &pieces.pieces {
        let part = pieces.parts.get(*kind)?;
        let is_it = |placement: &&Placement| {
            let of = known.parts().get(placement.part);
            of.is_some_and(|of| of.name == part.name && of.outline == part.outline)
        };
        let at = left.iter().position(is_it)?;
        placements.push(Placement {
            part: *kind,
            ..*left.remove(at)
        });
    }
    checked(pieces, placements).ok()
}

/// One part after the other in rows of like ones, by the boxes around them: what is always possible.
pub(crate) fn rows(pieces: &Pieces) -> Result<Lay, LayError> {
    let spacing = pieces.cloth.spacing.get();
    let mut placements = Vec::with_capacity(pieces.len());
    let mut end = 0;
    for (kind, part) in pieces.parts.iter().enumerate() {
        let per_row =
            |across: i64| (pieces.cloth.usable.get() + spacing) / (across + spacing).max(1);
        let count = part.count.max(0);
        let rows = |across: i64| (count + per_row(across) - 1) / per_row(across).max(1);
        let stances = pieces.kinds[kind].stances.iter();
        let shortest =
            stances.min_by_key(|some| rows(some.size.across) * (some.size.along + spacing));
        let Some(stance) = shortest else { continue };
        for number in 0..count {
            let (row, column) = (
                number / per_row(stance.size.across),
                number % per_row(stance.size.across),
            );
            placements.push(Placement {
                part: kind,
                turn: stance.turn,
                flipped: stance.flipped,
                at: Point::new(
                    end + row * (stance.size.along + spacing),
                    column * (stance.size.across + spacing),
                ),
            });
        }
        end += rows(stance.size.across) * (stance.size.along + spacing);
    }
    checked(pieces, placements)
}
