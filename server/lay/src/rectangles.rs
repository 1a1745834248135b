//! Parts that are all rectangles: the domain packs them exactly, with edges that touch.

use crate::{exact, piece::Pieces};
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
    let sides = exact::rectangles(&pieces.parts)?;
    let mut rectangles = Vec::with_capacity(sides.len());
    let mut shifts = Vec::with_capacity(sides.len());
    for (part, (length, width)) in pieces.parts.iter().zip(sides) {
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
    let bounds = turned.bounds();
    Some(Point::new(
        bounds.most.along - bounds.least.along,
        bounds.most.across - bounds.least.across,
    ))
}
