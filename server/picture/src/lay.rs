//! A lay as a picture to scale: the cloth runs down the page from the end that the lay begins at, between its edges; waste is shaded,
//! parts are white with their grain, and a list below says where each is chalked.
//!
//! Nothing is told by colour, so that it reads in black and white; and the cloth is as wide as the page, on paper and on a telephone.

use crate::markup::{add, escape, px};
use ellwand_contract::{
    Metres,
    lays::{LaidPart, Lay, LayPoint},
};
use ellwand_domain::quantity::{Micrometres, Units};

/// Width of the page, and the place and width of the cloth on it; tenths of a pixel.
const PAGE: i64 = 8_000;
const LEFT: i64 = 560;
const TOP: i64 = 1_000;
const CLOTH: i64 = 7_000;
/// Height of a line of the list, in tenths of a pixel.
const LINE: i64 = 210;
/// Letters of a name that are drawn.
const NAME: usize = 28;
/// Tenths of a pixel that a letter is wide, for each pixel of its size.
const LETTER: i64 = 6;

/// Draws a lay. Lengths are in the reader's units.
#[must_use]
pub fn draw(lay: &Lay, units: Units) -> String {
    let scale = Scale::of(lay, units);
    let (down, _) = scale.place(Metres(lay.length_m.0), Metres::default());
    let list = down + 700;
    let height = list + LINE * i64::try_from(lay.parts.len()).unwrap_or(0);
    let (width, height) = (px(PAGE), px(height));
    let title = escape(&format!("{} {}, {}", lay.garment, lay.name, lay.need));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
         fill=\"#000\">\n<title>{title}</title>\n\
         <defs><pattern id=\"waste\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate(45)\"><path d=\"M0 0V8\" stroke=\"#999\"/></pattern></defs>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n"
    );
    text(&mut svg, (80, 300), 24, "start", &title);
    text(&mut svg, (80, 580), 17, "start", &summary(lay, units));
    cloth(&mut svg, &scale, lay);
    rules(&mut svg, &scale, lay);
    for part in &lay.parts {
        outline(&mut svg, &scale, part);
    }
    for (number, part) in lay.parts.iter().enumerate() {
        label(&mut svg, &scale, number + 1, part);
    }
    chalk(&mut svg, list, lay, units);
    svg.push_str("</svg>\n");
    svg
}

/// Micrometres to tenths of a pixel.
struct Scale {
    usable: i64,
    units: Units,
}

impl Scale {
    fn of(lay: &Lay, units: Units) -> Self {
        let usable = lay.usable_m.0.get().max(1);
        Self { usable, units }
    }

    fn size(&self, length: i64) -> i64 {
        let tenths = i128::from(length) * i128::from(CLOTH) / i128::from(self.usable);
        i64::try_from(tenths).unwrap_or(i64::MAX)
    }

    /// A place on the page: how far down, how far to the right.
    fn place(&self, along: Metres, across: Metres) -> (i64, i64) {
        (
            TOP + self.size(along.0.get()),
            LEFT + self.size(across.0.get()),
        )
    }

    fn at(&self, point: LayPoint) -> (i64, i64) {
        self.place(point.along_m, point.across_m)
    }
}

/// `1.34 m of 134 cm on L17.2; 93.2 % of it is used`.
fn summary(lay: &Lay, units: Units) -> String {
    let on = lay
        .piece
        .map_or_else(String::new, |piece| format!(" on {piece}"));
    format!(
        "{} of {}{on}; {} % of it is used; all parts face up",
        lay.length_m.0.show_taken(units),
        lay.usable_m.0.show_width(units),
        lay.used_percent
    )
}

fn text(svg: &mut String, (x, y): (i64, i64), size: i64, anchor: &str, words: &str) {
    add(
        svg,
        format_args!(
            "<text x=\"{}\" y=\"{}\" font-size=\"{size}\" text-anchor=\"{anchor}\">{words}</text>",
            px(x),
            px(y)
        ),
    );
}

/// The cloth, shaded: what no part covers is waste.
fn cloth(svg: &mut String, scale: &Scale, lay: &Lay) {
    let height = px(scale.size(lay.length_m.0.get()));
    let (x, y, width) = (px(LEFT), px(TOP), px(CLOTH));
    add(
        svg,
        format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"url(#waste)\" stroke=\"#000\" stroke-width=\"3\"/>"
        ),
    );
}

/// A mark each 10 cm or 4 in on both sides that lengths are measured from, every fifth with its number.
fn rules(svg: &mut String, scale: &Scale, lay: &Lay) {
    let (step, name, each) = match scale.units {
        Units::Metric => (100_000, "cm", 10),
        Units::Imperial => (101_600, "in", 4),
    };
    let marks = |end: i64| (0..=end / step).map(move |number| (number, number * step));
    for (number, at) in marks(scale.usable) {
        let x = LEFT + scale.size(at);
        let long = number % 5 == 0;
        tick(svg, (x, TOP), (x, TOP - if long { 160 } else { 80 }));
        if long {
            let words = format!("{} {name}", number * each);
            text(svg, (x, TOP - 190), 13, "middle", &words);
        }
    }
    for (number, at) in marks(lay.length_m.0.get()) {
        let y = TOP + scale.size(at);
        let long = number % 5 == 0;
        tick(svg, (LEFT, y), (LEFT - if long { 160 } else { 80 }, y));
        if long && number > 0 {
            let words = (number * each).to_string();
            text(svg, (LEFT - 180, y + 45), 13, "end", &words);
        }
    }
}

fn tick(svg: &mut String, (x1, y1): (i64, i64), (x2, y2): (i64, i64)) {
    let [x1, y1, x2, y2] = [x1, y1, x2, y2].map(px);
    add(
        svg,
        format_args!("<path d=\"M{x1} {y1}L{x2} {y2}\" stroke=\"#000\"/>"),
    );
}

fn outline(svg: &mut String, scale: &Scale, part: &LaidPart) {
    let corners = part.corners.iter().map(|corner| {
        let (y, x) = scale.at(*corner);
        format!("{},{}", px(x), px(y))
    });
    let corners: Vec<String> = corners.collect();
    add(
        svg,
        format_args!(
            "<polygon points=\"{}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>",
            corners.join(" ")
        ),
    );
    let [(begin_y, begin_x), (end_y, end_x)] = part.grain_line.map(|end| scale.at(end));
    // Inside of the part, with a head at the end.
    let within = |from: i64, to: i64, tenths: i64| from + (to - from) * tenths / 10;
    let (x1, y1) = (within(begin_x, end_x, 1), within(begin_y, end_y, 1));
    let (x2, y2) = (within(begin_x, end_x, 9), within(begin_y, end_y, 9));
    tick(svg, (x1, y1), (x2, y2));
    for point in head((end_x - begin_x, end_y - begin_y)) {
        tick(svg, (x2, y2), (x2 - point.0, y2 - point.1));
    }
}

/// Both barbs of an arrow's head, 8 px long, back from its point.
fn head((right, down): (i64, i64)) -> [(i64, i64); 2] {
    let square = i128::from(right).pow(2) + i128::from(down).pow(2);
    let length = i64::try_from(square.isqrt()).unwrap_or(1).max(1);
    let along = (80 * right / length, 80 * down / length);
    let aside = (-along.1 / 2, along.0 / 2);
    [
        (along.0 + aside.0, along.1 + aside.1),
        (along.0 - aside.0, along.1 - aside.1),
    ]
}

/// Its number in the list and its name, in the middle, as large as there is room: across the page, or along its grain where it is narrow
/// or lies on the bias.
fn label(svg: &mut String, scale: &Scale, number: usize, part: &LaidPart) {
    let [(begin_y, begin_x), (end_y, end_x)] = part.grain_line.map(|end| scale.at(end));
    let (x, y) = (px((begin_x + end_x) / 2), px((begin_y + end_y) / 2));
    let name: String = part.part.chars().take(NAME).collect();
    let words = escape(&format!("{number} {name}"));
    let letters = i64::try_from(name.chars().count()).unwrap_or(0) + 4;
    let (long, wide) = (
        scale.size(part.length_m.0.get()),
        scale.size(part.width_m.0.get()),
    );
    let (across, down) = match part.turn {
        90 | 270 => (long, wide),
        _ => (wide, long),
    };
    let aslant = !part.turn.is_multiple_of(90) || (across < down && across < letters * LETTER * 16);
    let (room, height, lift) = match aslant {
        // Beside the line, so half of the width is there for it.
        true => (long, wide / 2, "-0.25em"),
        false => (across, down, "0.35em"),
    };
    let size = (room / (letters * LETTER)).min(height / 13).clamp(6, 20);
    let turn = match aslant {
        true => format!(" transform=\"rotate({} {x} {y})\"", along_grain(part.turn)),
        false => String::new(),
    };
    add(
        svg,
        format_args!(
            "<text x=\"{x}\" y=\"{y}\" dy=\"{lift}\" font-size=\"{size}\" text-anchor=\"middle\" stroke=\"#fff\" \
             stroke-width=\"4\" paint-order=\"stroke\"{turn}>{words}</text>"
        ),
    );
}

/// Degrees, with the clock, by which words lie along the grain of a part and are not upside down.
fn along_grain(turn: u16) -> i64 {
    match 90 - i64::from(turn) {
        angle if angle < -90 => angle + 180,
        90 => -90,
        angle => angle,
    }
}

/// Where each is chalked: both ends of its grain line from the nearer edge, and the first from the cut end.
fn chalk(svg: &mut String, top: i64, lay: &Lay, units: Units) {
    let heading = "Chalk the line along the middle of each part, with its grain: from the cut end; from the left or right edge";
    text(svg, (80, top - 250), 14, "start", heading);
    for (row, part) in lay.parts.iter().enumerate() {
        let y = top + LINE * i64::try_from(row).unwrap_or(0);
        text(
            svg,
            (80, y),
            14,
            "start",
            &escape(&line(lay, row + 1, part, units)),
        );
    }
}

/// `3 front, 1 of 2, 72 × 30 cm: begins 0 cm from the cut end, 15 cm left; ends 15 cm left`.
fn line(lay: &Lay, number: usize, part: &LaidPart, units: Units) -> String {
    let width = |of: Metres| of.0.show_width(units);
    let [begin, end] = part.grain_line;
    let from_edge = |point: LayPoint| {
        let right = lay.usable_m.0.less(point.across_m.0);
        match point.across_m.0 <= right {
            true => format!("{} left", width(point.across_m)),
            false => format!("{} right", Micrometres::show_width(right, units)),
        }
    };
    format!(
        "{number} {}, {} of {}, {} × {}: begins {} from the cut end, {}; ends {}",
        part.part.chars().take(NAME).collect::<String>(),
        part.number,
        part.of,
        width(part.length_m),
        width(part.width_m),
        width(begin.along_m),
        from_edge(begin),
        from_edge(end)
    )
}
