//! Outlines as the collision engine sees them: in millimetres, a little larger than they are, with fewer corners.

use ellwand_domain::lay::Outline;
use jagua_rs::geometry::{
    Transformation,
    fail_fast::SPSurrogateConfig,
    geo_traits::Transformable,
    primitives::{Point, SPolygon},
    shape_modification::{ShapeModifyMode, offset_shape},
};
use std::f32::consts::PI;

/// Corners are left out while the outline grows by no more than this in one pass of [`PASSES`]; mm.
const THINNED: f64 = 0.03;
const PASSES: usize = 3;
/// Circles inside of each outline: at most 24, since each pair of outlines compares all
/// of them; 16 once they cover 80 % of it, 8 once they cover 90 %.
pub(crate) const SURROGATE: SPSurrogateConfig = SPSurrogateConfig {
    n_pole_limits: [(24, 0.0), (16, 0.8), (8, 0.9)],
    ff_pole_area_ratio: 0.5,
    n_ff_piers: 0,
};
const UM_PER_MM: f64 = 1000.0;

type Place = (f64, f64);

/// An outline, its least corner at the origin, grown by `by` mm on all sides, with its circles. What cannot be grown, because it is
/// narrower than that somewhere, is taken as the box around it.
pub(crate) fn grown(outline: &Outline, by: f64) -> Option<SPolygon> {
    let least = outline.bounds().least;
    let corners = outline.corners().iter().map(|corner| {
        let (along, across) = (corner.along - least.along, corner.across - least.across);
        (along as f64 / UM_PER_MM, across as f64 / UM_PER_MM)
    });
    let corners = thinned(corners.collect());
    let mitred = || SPolygon::new(floats(&offset(&corners, by))).ok();
    let rounded = || {
        let thin = SPolygon::new(floats(&corners)).ok()?;
        // Its arcs are polygons inside of the circle: up to 0.13 % flat.
        offset_shape(&thin, ShapeModifyMode::Inflate, (by * 1.002) as f32).ok()
    };
    let boxed = || {
        let most = outline.bounds().most;
        let along = (most.along - least.along) as f64 / UM_PER_MM + by;
        let across = (most.across - least.across) as f64 / UM_PER_MM + by;
        SPolygon::new(floats(&[
            (-by, -by),
            (along, -by),
            (along, across),
            (-by, across),
        ]))
        .ok()
    };
    let with_circles = |mut polygon: SPolygon| {
        polygon.generate_surrogate(SURROGATE).ok()?;
        Some(polygon)
    };
    mitred()
        .and_then(with_circles)
        .or_else(|| rounded().and_then(with_circles))
        .or_else(|| boxed().and_then(with_circles))
}

/// A shape upside down in the box around its outline: its circles are the same, and took the most time to find.
pub(crate) fn half_turned(extent: (f32, f32), shape: &SPolygon) -> SPolygon {
    shape.transform_clone(&Transformation::from_rotation(PI).translate(extent))
}

fn floats(corners: &[Place]) -> Vec<Point> {
    let point = |(along, across): &Place| Point(*along as f32, *across as f32);
    corners.iter().map(point).collect()
}

/// Moves each edge outwards; sharp corners are cut off where a circle around them would touch.
fn offset(corners: &[Place], by: f64) -> Vec<Place> {
    let mut grown = Vec::with_capacity(corners.len() * 2);
    for at in 0..corners.len() {
        let [before, here, after] = around(corners, at);
        let (into, out) = (direction(before, here), direction(here, after));
        // Against the clock the outside lies to the right.
        let (first, second) = ((into.1, -into.0), (out.1, -out.0));
        let alike = first.0 * second.0 + first.1 * second.1;
        let is_bulge = into.0 * out.1 - into.1 * out.0 > 0.0;
        if !is_bulge || alike > -0.2 {
            let far = by / (1.0 + alike).max(0.05);
            grown.push((
                here.0 + (first.0 + second.0) * far,
                here.1 + (first.1 + second.1) * far,
            ));
            continue;
        }
        // tan of a quarter of the turn, by half angles.
        let half = ((1.0 + alike) / 2.0).sqrt();
        let back = by * ((1.0 - half) / (1.0 + half)).sqrt();
        grown.push((
            here.0 + first.0 * by + into.0 * back,
            here.1 + first.1 * by + into.1 * back,
        ));
        grown.push((
            here.0 + second.0 * by - out.0 * back,
            here.1 + second.1 * by - out.1 * back,
        ));
    }
    grown
}

/// Leaves out corners, so that the outline grows by a tenth of a millimetre at most and shrinks nowhere.
fn thinned(mut corners: Vec<Place>) -> Vec<Place> {
    for _ in 0..PASSES {
        let mut at = 0;
        while at < corners.len() && corners.len() > 4 {
            at += match hollow(&corners, at).or_else(|| blunt(&corners, at)) {
                Some(Thinner::Without) => {
                    corners.remove(at);
                    1
                }
                Some(Thinner::Joined(place)) => {
                    let next = (at + 1) % corners.len();
                    if let Some(corner) = corners.get_mut(at) {
                        *corner = place;
                    }
                    corners.remove(next);
                    1
                }
                None => 1,
            };
        }
    }
    corners
}

enum Thinner {
    /// The corner goes.
    Without,
    /// This corner and the next become one.
    Joined(Place),
}

/// A corner that points inwards, or hardly at all.
fn hollow(corners: &[Place], at: usize) -> Option<Thinner> {
    let [before, here, after] = around(corners, at);
    let along = direction(before, after);
    let outwards = along.1 * (here.0 - before.0) - along.0 * (here.1 - before.1);
    (-THINNED..=0.0)
        .contains(&outwards)
        .then_some(Thinner::Without)
}

/// An edge between two corners that point outwards, whose neighbours meet just beyond it.
fn blunt(corners: &[Place], at: usize) -> Option<Thinner> {
    let [before, here, next] = around(corners, at);
    let [_, _, after] = around(corners, at + 1);
    let (into, edge, out) = (
        direction(before, here),
        direction(here, next),
        direction(next, after),
    );
    let sine = |one: Place, other: Place| one.0 * other.1 - one.1 * other.0;
    if sine(into, edge) <= 0.0 || sine(edge, out) <= 0.0 || sine(into, out) < 1e-3 {
        return None;
    }
    let length = sine((next.0 - here.0, next.1 - here.1), out) / sine(into, out);
    let place = (here.0 + into.0 * length, here.1 + into.1 * length);
    let beyond = sine(into, edge) * length;
    (length > 0.0 && beyond.abs() <= THINNED).then_some(Thinner::Joined(place))
}

fn around(corners: &[Place], at: usize) -> [Place; 3] {
    let corner = |at: usize| corners.get(at % corners.len()).copied().unwrap_or_default();
    [corner(at + corners.len() - 1), corner(at), corner(at + 1)]
}

fn direction(from: Place, to: Place) -> Place {
    let (along, across) = (to.0 - from.0, to.1 - from.1);
    let length = (along * along + across * across).sqrt().max(1e-9);
    (along / length, across / length)
}
