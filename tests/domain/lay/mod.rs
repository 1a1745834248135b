//! Outlines, turns and the check of a lay, by hand and beside a foreign library.

mod beside;
mod check;
mod kept;
mod ladder;
mod outline;

use ellwand_domain::{
    lay::{Lay, LayCloth, LayError, LayPart, Outline, Placement, Point, Turn, Ways},
    quantity::Micrometres,
    setting::Grain,
};

pub fn outline(corners: &[(i64, i64)]) -> Outline {
    Outline::new(corners.iter().copied().map(Point::from).collect()).unwrap()
}

pub fn rectangle(along: i64, across: i64) -> Outline {
    let side = |um| Micrometres::new(um).unwrap();
    Outline::rectangle(side(along), side(across)).unwrap()
}

pub fn part(name: &str, outline: Outline) -> LayPart {
    LayPart {
        name: name.to_owned(),
        outline,
        count: 1,
        grain: Grain::Lengthwise,
        may_flip: false,
    }
}

pub const fn cloth(usable: Micrometres, spacing: i64) -> LayCloth {
    LayCloth {
        usable,
        length: None,
        spacing: Micrometres::from_mm(spacing),
        ways: Ways::Two,
    }
}

pub const fn at(part: usize, along: i64, across: i64) -> Placement {
    Placement {
        part,
        turn: Turn::NONE,
        flipped: false,
        at: Point::new(along, across),
    }
}

/// Two outlines where they were drawn, moved by `more`, on cloth that is wide enough.
pub fn both(one: &Outline, other: &Outline, more: Point) -> Result<Lay, LayError> {
    let place = |part, outline: &Outline| {
        let least = outline.bounds().least;
        at(part, least.along + more.along, least.across + more.across)
    };
    let placements = vec![place(0, one), place(1, other)];
    let parts = vec![part("one", one.clone()), part("other", other.clone())];
    Lay::new(cloth(Micrometres::METRE, 0), parts, placements)
}
