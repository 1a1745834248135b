//! Parts that are all rectangles: the domain packs them exactly, with edges that touch.

use crate::{exact, piece::Pieces, stance::size};
use ellwand_domain::{
    lay::{Ladder, Lay, LayPart, Outline, Placement, Point, Rectangles, Turn},
    quantity::Micrometres,
    setting::Grain,
};

/// The domain's lay of rectangles; nothing where a part is none, or where rows are no longer.
///
/// A gap is kept by packing rectangles that are longer and wider by it, on cloth that is wider by it.
pub(crate) fn packed(pieces: &Pieces) -> Option<Lay> {
    let spacing = pieces.cloth.spacing.get();
    let mut rectangles = Vec::with_capacity(pieces.parts.len());
    let mut shifts = Vec::with_capacity(pieces.parts.len());
    for part in &pieces.parts {
        let (length, width) = sides(&part.outline)?;
        let with_gap = extent(part, length + spacing, width + spacing)?;
        let without = extent(part, length, width)?;
        rectangles.push(Rectangles {
            length: Micrometres::new(length + spacing).ok()?,
            width: Micrometres::new(width + spacing).ok()?,
            grain: part.grain,
            extent: (
                Micrometres::new(with_gap.along).ok()?,
                Micrometres::new(with_gap.across).ok()?,
            ),
            count: part.count,
        });
        // Both have one middle; what lies straight begins where the cloth does.
        let shift = |with: i64, without: i64| (with - without - spacing) / 2;
        shifts.push(Point::new(
            shift(with_gap.along, without.along),
            shift(with_gap.across, without.across),
        ));
    }
    let usable = Micrometres::new(pieces.cloth.usable.get() + spacing).ok()?;
    let ladder = Ladder::remembered(rectangles);
    let placements = ladder.at(usable)?.lay.placements().iter().map(|placement| {
        let shift = shifts.get(placement.part)?;
        let at = (
            placement.at.along + shift.along,
            placement.at.across + shift.across,
        );
        Some(Placement {
            at: at.into(),
            ..*placement
        })
    });
    let mut placements = placements.collect::<Option<Vec<Placement>>>()?;
    // What is on the bias alone begins a little later.
    let begin = placements
        .iter()
        .map(|placement| placement.at.along)
        .min()?;
    for placement in &mut placements {
        placement.at.along -= begin;
    }
    exact::checked(pieces, placements).ok()
}

/// The box around a rectangle as its grain lies on the cloth.
fn extent(part: &LayPart, length: i64, width: i64) -> Option<Point> {
    let turn = match part.grain {
        Grain::Lengthwise => Turn::NONE,
        Grain::Crosswise => Turn::degrees(90),
        Grain::Bias => Turn::degrees(45),
    };
    let (length, width) = (
        Micrometres::new(length).ok()?,
        Micrometres::new(width).ok()?,
    );
    let turned = Outline::rectangle(length, width)
        .ok()?
        .turned(turn, false)
        .ok()?;
    Some(size(turned.bounds()))
}

/// Length and width of an outline that is a rectangle along its grain.
fn sides(outline: &Outline) -> Option<(i64, i64)> {
    let Point { along, across } = size(outline.bounds());
    let is_full = outline.twice_area_um2() == 2 * i128::from(along) * i128::from(across);
    is_full.then_some((along, across))
}
