//! Drawings in the layers of ASTM D6673: a block for each part, its boundary on layer 1, fold on 6, grain on 7, words in texts.
//!
//! - Source: `dxf_layers.csv` of the reference tables (open notes on the format). Without a line on layer 7 the grain is taken to
//!   run along x (common practice), which is said.

use crate::{
    PatternError,
    drawn::{Drawn, Sketch},
    keys::Keys,
    unit::Unit,
};
use dxf::{
    Drawing,
    entities::{Entity, EntityType},
    enums::Units,
};
use kurbo::{Arc, BezPath, PathEl, Point, Rect, Shape, SvgArc, Vec2};
use std::collections::BTreeSet;

const BOUNDARY: &str = "1";
const FOLD: &str = "6";
const GRAIN: &str = "7";
/// Layers that hold words or nothing of an outline.
const READ: [&str; 6] = ["0", BOUNDARY, FOLD, GRAIN, "12", "15"];
/// How near ends of lines are that go on.
const JOINS_MM: f64 = 0.1;

pub(crate) fn read(bytes: &[u8], unit: Option<Unit>) -> Result<Drawn, PatternError> {
    let mut reader = bytes;
    let drawing = Drawing::load(&mut reader).map_err(|error| PatternError::Unreadable {
        kind: "DXF",
        why: error.to_string(),
    })?;
    let blocks = drawing
        .blocks()
        .filter(|block| !block.name.starts_with('*'));
    let mut groups: Vec<(&str, Vec<&Entity>)> = blocks
        .map(|block| (block.name.as_str(), block.entities.iter().collect()))
        .collect();
    let loose: Vec<&Entity> = drawing.entities().collect();
    let mm = unit_of(&drawing, &loose, unit)?.mm();
    if !groups.iter().any(|(_, entities)| has_boundary(entities)) {
        groups = vec![("part", loose)];
    }
    let (mut sketches, mut notes) = (Vec::new(), Vec::new());
    for (name, entities) in &groups {
        if has_boundary(entities) {
            sketches.push(sketch(name, entities, mm, &mut notes)?);
        }
    }
    let left: BTreeSet<&str> = groups
        .iter()
        .flat_map(|(_, entities)| entities)
        .map(|entity| entity.common.layer.as_str())
        .filter(|layer| !READ.contains(layer))
        .collect();
    if !left.is_empty() {
        let left: Vec<&str> = left.into_iter().take(12).collect();
        notes.push(format!("what is on layer {} is left out", left.join(", ")));
    }
    if sketches.is_empty() {
        return Err(PatternError::NoPart(": none is drawn on layer 1"));
    }
    Drawn::of(sketches, notes)
}

fn has_boundary(entities: &[&Entity]) -> bool {
    entities
        .iter()
        .any(|entity| entity.common.layer == BOUNDARY && line(entity, 1.0).is_some())
}

/// The unit of the header, else of a text `Units: METRIC` or `ENGLISH`, else the one that was given.
fn unit_of(
    drawing: &Drawing,
    loose: &[&Entity],
    given: Option<Unit>,
) -> Result<Unit, PatternError> {
    let of_blocks = drawing.blocks().flat_map(|block| &block.entities);
    let texts = of_blocks.chain(loose.iter().copied()).filter_map(text);
    let said = texts.filter_map(|text| {
        let (key, value) = text.split_once(':')?;
        match (
            key.trim().to_lowercase().as_str(),
            value.trim().to_lowercase().as_str(),
        ) {
            ("units", "metric") => Some(Unit::Mm),
            ("units", "english" | "imperial") => Some(Unit::Inch),
            _ => None,
        }
    });
    match drawing.header.default_drawing_units {
        Units::Millimeters => Some(Unit::Mm),
        Units::Centimeters => Some(Unit::Cm),
        Units::Inches => Some(Unit::Inch),
        _ => said.min_by_key(|_| 0),
    }
    .or(given)
    .ok_or(PatternError::NoUnit("add --unit mm, cm or in"))
}

fn text(entity: &Entity) -> Option<&str> {
    match &entity.specific {
        EntityType::Text(text) => Some(&text.value),
        EntityType::MText(text) => Some(&text.text),
        _ => None,
    }
}

fn sketch(
    block: &str,
    entities: &[&Entity],
    mm: f64,
    notes: &mut Vec<String>,
) -> Result<Sketch, PatternError> {
    let mut keys = Keys::default();
    for text in entities.iter().copied().filter_map(text) {
        keys.line(block, text)?;
    }
    let name = keys.name.clone().unwrap_or_else(|| block.to_owned());
    let on = |layer: &'static str| {
        let all = entities
            .iter()
            .filter(move |entity| entity.common.layer == layer);
        all.filter_map(move |entity| line(entity, mm))
    };
    let mut outlines = joined(on(BOUNDARY).collect());
    outlines.sort_by(|one, other| size(other).total_cmp(&size(one)));
    if outlines.len() > 1 {
        notes.push(format!(
            "{name}: what layer 1 holds beside its largest outline is left out"
        ));
    }
    let path = outlines.into_iter().next().unwrap_or_default();
    let ends = |path: BezPath| {
        let points: Vec<Point> = path
            .elements()
            .iter()
            .filter_map(PathEl::end_point)
            .collect();
        points.first().copied().zip(points.last().copied())
    };
    let grain = on(GRAIN).find_map(ends).map(|(from, to)| to - from);
    let grain = grain
        .filter(|grain| grain.hypot() > 0.0)
        .unwrap_or_else(|| {
            notes.push(format!(
                "{name}: no grain line, so it is taken to run along x"
            ));
            Vec2::new(1.0, 0.0)
        });
    Ok(Sketch {
        fold: on(FOLD).find_map(ends).filter(|(from, to)| from != to),
        name,
        path,
        grain: (grain.x, grain.y),
        keys,
    })
}

fn size(path: &BezPath) -> f64 {
    let Rect { x0, y0, x1, y1 } = path.bounding_box();
    (x1 - x0) * (y1 - y0)
}

/// What an entity draws, in millimetres; none for what is no line.
fn line(entity: &Entity, mm: f64) -> Option<BezPath> {
    let at = |x: f64, y: f64| Point::new(x * mm, y * mm);
    match &entity.specific {
        EntityType::Line(line) => Some(chain(
            [
                (at(line.p1.x, line.p1.y), 0.0),
                (at(line.p2.x, line.p2.y), 0.0),
            ],
            false,
        )),
        EntityType::LwPolyline(line) => {
            let corners = line
                .vertices
                .iter()
                .map(|corner| (at(corner.x, corner.y), corner.bulge));
            Some(chain(corners, line.is_closed()))
        }
        EntityType::Polyline(line) => {
            let corners = line.vertices().map(|corner| {
                let place = &corner.location;
                (at(place.x, place.y), corner.bulge)
            });
            Some(chain(corners, line.is_closed()))
        }
        _ => None,
    }
}

/// Lines and arcs from corner to corner; a bulge is the tangent of a quarter of the arc's angle.
fn chain(corners: impl IntoIterator<Item = (Point, f64)>, is_closed: bool) -> BezPath {
    let mut path = BezPath::new();
    let mut before: Option<(Point, f64)> = None;
    let corners: Vec<_> = corners.into_iter().collect();
    let again = corners.first().copied().filter(|_| is_closed);
    for (to, bulge) in corners.into_iter().chain(again) {
        match before {
            None => path.move_to(to),
            Some((from, bend)) => bent(&mut path, (from, to), bend),
        }
        before = Some((to, bulge));
    }
    if is_closed && before.is_some() {
        path.close_path();
    }
    path
}

fn bent(path: &mut BezPath, (from, to): (Point, Point), bulge: f64) {
    let half = from.distance(to) / 2.0;
    if bulge == 0.0 || half == 0.0 {
        path.line_to(to);
        return;
    }
    let radius = half * (1.0 + bulge * bulge) / (2.0 * bulge.abs());
    let arc = Arc::from_svg_arc(&SvgArc {
        from,
        to,
        radii: Vec2::new(radius, radius),
        x_rotation: 0.0,
        large_arc: bulge.abs() > 1.0,
        sweep: bulge > 0.0,
    });
    match arc {
        Some(arc) => path.extend(arc.append_iter(0.01)),
        None => path.line_to(to),
    }
}

/// Open lines that go on from end to end, as one; closed ones as they are.
fn joined(mut lines: Vec<BezPath>) -> Vec<BezPath> {
    let is_closed = |path: &BezPath| matches!(path.elements().last(), Some(PathEl::ClosePath));
    let (mut done, mut open): (Vec<_>, Vec<_>) = lines.drain(..).partition(is_closed);
    while let Some(mut path) = open.pop() {
        while let Some((at, is_back)) = goes_on(&path, &open) {
            let next = open.swap_remove(at);
            let next = if is_back {
                next.reverse_subpaths()
            } else {
                next
            };
            path.extend(next.elements().iter().skip(1).copied());
        }
        done.push(path);
    }
    done
}

/// The line that begins or ends where a path ends.
fn goes_on(path: &BezPath, lines: &[BezPath]) -> Option<(usize, bool)> {
    let end = path.elements().last()?.end_point()?;
    let is_there =
        |point: Option<Point>| point.is_some_and(|point| point.distance(end) <= JOINS_MM);
    lines.iter().enumerate().find_map(|(at, line)| {
        let first = line.elements().first()?.end_point();
        let last = line.elements().last()?.end_point();
        if is_there(first) {
            return Some((at, false));
        }
        is_there(last).then_some((at, true))
    })
}
