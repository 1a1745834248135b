//! Lays that are searched for: bars on research instances, exact fits, laws, and the same answer each time.
#![expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]

#[path = "../support/esicup.rs"]
mod esicup;
mod faults;
mod fits;
mod laws;
mod repeated;
mod research;

use ellwand_domain::{
    lay::{Lay, LayCloth, LayPart, Outline, Point, Ways},
    quantity::Micrometres,
    setting::Grain,
};
use ellwand_lay::{Budget, Found, search};
use std::sync::atomic::AtomicBool;

/// A part by its corners in mm.
pub fn part(name: &str, count: i64, corners: &[(i64, i64)]) -> LayPart {
    let um = |(along, across): &(i64, i64)| Point::new(along * 1000, across * 1000);
    LayPart {
        name: name.to_owned(),
        outline: Outline::new(corners.iter().map(um).collect()).unwrap(),
        count,
        grain: Grain::Lengthwise,
        may_flip: false,
    }
}

/// A rectangle in mm.
pub fn rectangle(count: i64, along: i64, across: i64) -> LayPart {
    let corners = [(0, 0), (along, 0), (along, across), (0, across)];
    part(&format!("{along} × {across}"), count, &corners)
}

/// Two-way cloth of a width in mm.
pub const fn cloth(usable: i64, spacing: i64) -> LayCloth {
    LayCloth {
        usable: Micrometres::from_mm(usable),
        length: None,
        spacing: Micrometres::from_mm(spacing),
        ways: Ways::Two,
    }
}

pub const fn budget(positions: u64, seed: u64) -> Budget {
    Budget {
        positions,
        time: None,
        seed,
    }
}

pub fn searched(parts: &[LayPart], cloth: LayCloth, budget: Budget, known: Option<&Lay>) -> Found {
    search(
        parts,
        cloth,
        budget,
        known,
        &mut |_| {},
        &AtomicBool::new(false),
    )
    .unwrap()
}

/// The parts of a shirt without its small ones, drawn from hand: a back and two fronts with armholes, sleeves with a cap, a collar.
pub fn shirt() -> Vec<LayPart> {
    vec![
        part(
            "back",
            1,
            &[
                (0, 0),
                (520, 0),
                (560, 60),
                (720, 100),
                (740, 200),
                (740, 320),
                (720, 420),
                (560, 460),
                (520, 520),
                (0, 520),
            ],
        ),
        part(
            "front",
            2,
            &[
                (0, 0),
                (520, 0),
                (550, 50),
                (690, 90),
                (710, 180),
                (620, 270),
                (0, 280),
            ],
        ),
        part(
            "sleeve",
            2,
            &[
                (0, 60),
                (420, 0),
                (520, 110),
                (560, 220),
                (520, 330),
                (420, 440),
                (0, 380),
            ],
        ),
        part(
            "collar",
            2,
            &[(0, 0), (430, 0), (460, 70), (420, 90), (40, 90), (-30, 70)],
        ),
    ]
}
