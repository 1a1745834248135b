//! Plain SVG: each shape with a name of its own (`id`), or the largest shape of a named group, is a part. Up the page is its grain.

use crate::{
    PatternError,
    drawn::{Drawn, Sketch},
    keys::Keys,
    unit::Unit,
};
use kurbo::{Affine, BezPath, Point, Rect, Shape};
use roxmltree::{Document, Node};
use std::collections::BTreeMap;
use usvg::tiny_skia_path::PathSegment;

/// Pixels of CSS in a millimetre.
const PX_IN_MM: f64 = 96.0 / 25.4;
/// Units that have a length on paper.
const PHYSICAL: [&str; 5] = ["mm", "cm", "in", "pt", "pc"];

pub(crate) fn read(text: &str, unit: Option<Unit>) -> Result<Drawn, PatternError> {
    let unreadable = |why: String| PatternError::Unreadable { kind: "SVG", why };
    // Without a document type: nothing in it refers to anything else.
    let document = Document::parse(text).map_err(|error| unreadable(error.to_string()))?;
    let scale = scale(document.root_element(), unit)?;
    let options = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    let tree =
        usvg::Tree::from_str(text, &options).map_err(|error| unreadable(error.to_string()))?;
    let mut found = Found::default();
    found.group(tree.root(), None);
    let mut sketches = Vec::new();
    for (name, shapes) in found.shapes {
        sketches.extend(sketch(&document, name, &shapes, scale)?);
    }
    if sketches.is_empty() {
        return Err(PatternError::NoPart(
            ": give the shape of each part a name (its id)",
        ));
    }
    let mut notes = vec!["the grain of each part is taken to run up the page".to_owned()];
    match found.unnamed {
        0 => {}
        1 => notes.push("1 shape without a name is left out".to_owned()),
        more => notes.push(format!("{more} shapes without a name are left out")),
    }
    Drawn::of(sketches, notes)
}

/// Millimetres in a pixel of the tree.
fn scale(root: Node<'_, '_>, unit: Option<Unit>) -> Result<f64, PatternError> {
    let is_physical = |side: &str| {
        root.attribute(side)
            .is_some_and(|text| PHYSICAL.iter().any(|unit| text.trim().ends_with(unit)))
    };
    match unit {
        _ if is_physical("width") || is_physical("height") => Ok(1.0 / PX_IN_MM),
        Some(unit) => Ok(unit.mm()),
        None => Err(PatternError::NoUnit(
            "give its page a width such as 210mm, or add --unit mm",
        )),
    }
}

/// Shapes by the name that they or their group have, in the order of the file.
#[derive(Default)]
struct Found {
    shapes: Vec<(String, Vec<BezPath>)>,
    unnamed: usize,
}

impl Found {
    fn group(&mut self, group: &usvg::Group, name: Option<&str>) {
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => {
                    let own = Some(inner.id()).filter(|id| !id.is_empty());
                    self.group(inner, own.or(name));
                }
                usvg::Node::Path(path) if path.is_visible() => {
                    let own = Some(path.id()).filter(|id| !id.is_empty());
                    match name.or(own) {
                        Some(name) => self.shape(name, bezier(path)),
                        None => self.unnamed = self.unnamed.saturating_add(1),
                    }
                }
                _ => {}
            }
        }
    }

    fn shape(&mut self, name: &str, path: BezPath) {
        match self.shapes.iter_mut().find(|(known, _)| known == name) {
            Some((_, shapes)) => shapes.push(path),
            None => self.shapes.push((name.to_owned(), vec![path])),
        }
    }
}

fn bezier(path: &usvg::Path) -> BezPath {
    let at =
        |point: usvg::tiny_skia_path::Point| Point::new(f64::from(point.x), f64::from(point.y));
    let mut bezier = BezPath::new();
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => bezier.move_to(at(to)),
            PathSegment::LineTo(to) => bezier.line_to(at(to)),
            PathSegment::QuadTo(by, to) => bezier.quad_to(at(by), at(to)),
            PathSegment::CubicTo(by, and, to) => bezier.curve_to(at(by), at(and), at(to)),
            PathSegment::Close => bezier.close_path(),
        }
    }
    let turn = path.abs_transform();
    let parts = [turn.sx, turn.ky, turn.kx, turn.sy, turn.tx, turn.ty].map(f64::from);
    Affine::new(parts) * bezier
}

/// The largest outline among the shapes of a name, y upwards, in millimetres; what is drawn inside it is no outline.
fn sketch(
    document: &Document<'_>,
    id: String,
    shapes: &[BezPath],
    scale: f64,
) -> Result<Option<Sketch>, PatternError> {
    let outlines = shapes.iter().flat_map(outlines);
    let size = |path: &BezPath| {
        let Rect { x0, y0, x1, y1 } = path.bounding_box();
        (x1 - x0) * (y1 - y0)
    };
    let Some(largest) = outlines.max_by(|one, other| size(one).total_cmp(&size(other))) else {
        return Ok(None);
    };
    let mut keys = Keys::default();
    let own = document
        .descendants()
        .find(|node| node.attribute("id") == Some(&id));
    let texts = own.into_iter().flat_map(|node| node.descendants());
    for text in texts.filter(Node::is_text).filter_map(|node| node.text()) {
        for line in text.lines() {
            keys.line(&id, line)?;
        }
    }
    Ok(Some(Sketch {
        name: keys.name.clone().unwrap_or(id),
        path: Affine::new([scale, 0.0, 0.0, -scale, 0.0, 0.0]) * largest,
        grain: (0.0, 1.0),
        fold: None,
        keys,
    }))
}

/// Each outline of a path by itself.
fn outlines(path: &BezPath) -> Vec<BezPath> {
    let mut all: BTreeMap<usize, BezPath> = BTreeMap::new();
    for element in path.elements() {
        if matches!(element, kurbo::PathEl::MoveTo(_)) {
            let number = all.len();
            all.insert(number, BezPath::new());
        }
        if let Some(mut last) = all.last_entry() {
            last.get_mut().push(*element);
        }
    }
    all.into_values().collect()
}
