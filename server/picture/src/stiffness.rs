//! Rigidity by direction as a picture: an SVG file of one lot, or of two over each other.
//!
//! Lines differ by dashes and marks, not by colour alone. Distances from the middle go by the square root, so that a
//! grain that is fifteen times as stiff as the other leaves something to see of that one; the rings say what they are.

use crate::markup::{add, escape, px};
use ellwand_contract::{
    Problem, ProblemType,
    stiffness::{DirectedStiffness, Stiffness},
};
use ellwand_domain::{
    setting::{Grain, StiffnessWay},
    stiffness::{decimal_unm, from_decimal_unm},
};

/// Middle of the rings, in tenths of a pixel.
const MIDDLE: (i64, i64) = (2_000, 1_950);
/// Radius of the outer ring, in tenths of a pixel.
const RADIUS: i64 = 1_450;
/// Ten thousand sines of 0°, 5°, … 90°.
const SINES: [i64; 19] = [
    0, 872, 1_736, 2_588, 3_420, 4_226, 5_000, 5_736, 6_428, 7_071, 7_660, 8_192, 8_660, 9_063,
    9_397, 9_659, 9_848, 9_962, 10_000,
];
/// Longest name in the legend.
const NAME: usize = 40;
/// Lines of the first and the second lot: colour, dashes.
const LINES: [(&str, &str); 2] = [("#17365d", "none"), ("#b0450a", "7 4")];

/// A lot's curve.
struct Curve<'a> {
    lot: &'a Stiffness,
    points: Vec<Point>,
}

/// Rigidity in one direction; nanonewton metres.
struct Point {
    at: i64,
    band: Option<(i64, i64)>,
    way: StiffnessWay,
}

/// Draws one lot, or two over each other.
///
/// # Errors
/// [`ProblemType::Unknown`] for a lot of which not both grains are known.
pub fn draw(lots: &[Stiffness]) -> Result<String, Problem> {
    let curves = lots.iter().map(curve).collect::<Result<Vec<_>, _>>()?;
    let alone = curves.len() == 1;
    let reach = |point: &Point| match point.band {
        // The band is drawn for a single lot only: two could not be kept apart.
        Some((_, high)) if alone => high.max(point.at),
        _ => point.at,
    };
    let most = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .map(reach)
        .max()
        .unwrap_or(1);
    let scale = Scale {
        outer: rung_above(most.max(1)),
    };
    let banded = alone
        && curves
            .iter()
            .any(|curve| curve.points.iter().any(|point| point.band.is_some()));
    let height = 384 + 34 * i64::try_from(curves.len()).unwrap_or(2) + if banded { 24 } else { 4 };
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 400 {height}\" width=\"400\" height=\"{height}\" \
         font-family=\"sans-serif\" font-size=\"12\">\n<title>{}</title>\n\
         <rect width=\"400\" height=\"{height}\" fill=\"#fff\"/>\n",
        escape(&title(lots))
    );
    rings(&mut svg, &scale);
    for (curve, line) in curves.iter().zip(LINES) {
        if banded {
            band(&mut svg, &scale, curve);
        }
        outline(&mut svg, &scale, curve, line);
    }
    marks(&mut svg, &scale, &curves);
    labels(&mut svg, &scale);
    legend(&mut svg, &curves, banded);
    svg.push_str("</svg>\n");
    Ok(svg)
}

fn title(lots: &[Stiffness]) -> String {
    let names: Vec<String> = lots
        .iter()
        .map(|lot| format!("{} {}", lot.lot, lot.name))
        .collect();
    format!("Rigidity by direction: {}", names.join(" and "))
}

fn curve(lot: &Stiffness) -> Result<Curve<'_>, Problem> {
    let read = |text: &String| from_decimal_unm(text).ok();
    let point = |one: &DirectedStiffness| {
        let band = one
            .low_unm
            .as_ref()
            .and_then(read)
            .zip(one.high_unm.as_ref().and_then(read));
        Some(Point {
            at: read(&one.rigidity_unm)?,
            band,
            way: one.way,
        })
    };
    let points: Option<Vec<Point>> = lot.directions.iter().map(point).collect();
    match points.filter(|points| points.len() == SINES.len()) {
        Some(points) => Ok(Curve { lot, points }),
        None => {
            let known = |grain| lot.grains.iter().any(|found| found.grain == grain);
            let missing: Vec<&str> = [Grain::Lengthwise, Grain::Crosswise]
                .into_iter()
                .filter(|grain| !known(*grain))
                .map(Grain::word)
                .collect();
            let detail = format!(
                "a picture needs both grains: the stiffness of {} {} is unknown",
                lot.lot,
                missing.join(" and ")
            );
            let hint = format!("test strips of it with ellwand lot stiffness {}", lot.lot);
            Err(Problem::new(ProblemType::Unknown, detail).hint(hint))
        }
    }
}

/// Roots of rigidities as distances from the middle.
struct Scale {
    outer: i64,
}

impl Scale {
    /// Tenths of a pixel, rounded down.
    fn distance(&self, nnm: i64) -> i64 {
        let share = i128::from(nnm.max(0)) * i128::from(RADIUS * RADIUS) / i128::from(self.outer);
        i64::try_from(share.isqrt()).unwrap_or(RADIUS)
    }

    /// A place on the paper: step of 5° from the warp, which stands upright, in a quarter of the picture.
    fn place(&self, nnm: i64, step: usize, (right, up): (i64, i64)) -> (i64, i64) {
        let distance = self.distance(nnm);
        let (across, along) = (SINES[step], SINES[SINES.len() - 1 - step]);
        (
            MIDDLE.0 + right * distance * across / 10_000,
            MIDDLE.1 - up * distance * along / 10_000,
        )
    }
}

/// The least of 1, 2 and 5 times a power of ten that is not below; nanonewton metres.
fn rung_above(nnm: i64) -> i64 {
    let mut power = 1_i64;
    loop {
        for rung in [1, 2, 5] {
            if power.saturating_mul(rung) >= nnm {
                return power.saturating_mul(rung);
            }
        }
        power = power.saturating_mul(10);
    }
}

/// The rung below: 5 of 10, 2 of 5, 1 of 2.
fn rung_below(nnm: i64) -> i64 {
    if nnm.to_string().starts_with('5') {
        nnm * 2 / 5
    } else {
        nnm / 2
    }
}

/// The outer ring and two that are well apart from it.
fn ring_values(scale: &Scale) -> [i64; 3] {
    let second = rung_below(rung_below(scale.outer));
    [scale.outer, second, rung_below(rung_below(second))]
}

fn rings(svg: &mut String, scale: &Scale) {
    let (x, y) = (px(MIDDLE.0), px(MIDDLE.1));
    for value in ring_values(scale) {
        let radius = px(scale.distance(value));
        add(
            svg,
            format_args!(
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"none\" stroke=\"#bbb\" stroke-width=\"1\"/>"
            ),
        );
    }
    for (step, quarter) in [(0, (1, 1)), (9, (1, 1)), (18, (1, 1)), (9, (-1, 1))] {
        let (a, b) = scale.place(scale.outer, step, quarter);
        let (c, d) = (2 * MIDDLE.0 - a, 2 * MIDDLE.1 - b);
        add(
            svg,
            format_args!(
                "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" stroke=\"#ccc\" stroke-width=\"1\"/>",
                px(a),
                px(b),
                px(c),
                px(d)
            ),
        );
    }
}

/// All around: the quarter that is known, and its mirror images.
fn around(scale: &Scale, values: &[i64]) -> String {
    let last = values.len().saturating_sub(1);
    let mut places = Vec::new();
    for (quarter, backwards) in [
        ((1, 1), false),
        ((1, -1), true),
        ((-1, -1), false),
        ((-1, 1), true),
    ] {
        for index in 0..last {
            let step = if backwards { last - index } else { index };
            places.push(scale.place(values[step], step, quarter));
        }
    }
    let text: Vec<String> = places
        .iter()
        .map(|(x, y)| format!("{},{}", px(*x), px(*y)))
        .collect();
    format!("M{}Z", text.join("L"))
}

/// Where eight cloths in ten lie, for what is computed.
fn band(svg: &mut String, scale: &Scale, curve: &Curve<'_>) {
    if curve.points.iter().all(|point| point.band.is_none()) {
        return;
    }
    let side = |high: bool| -> Vec<i64> {
        let of = |point: &Point| {
            point
                .band
                .map_or(point.at, |(low, up)| if high { up } else { low })
        };
        curve.points.iter().map(of).collect()
    };
    let (outer, inner) = (around(scale, &side(true)), around(scale, &side(false)));
    add(
        svg,
        format_args!(
            "<path d=\"{outer}{inner}\" fill=\"#dde4ee\" fill-rule=\"evenodd\" stroke=\"none\"/>"
        ),
    );
}

fn outline(svg: &mut String, scale: &Scale, curve: &Curve<'_>, (colour, dashes): (&str, &str)) {
    let values: Vec<i64> = curve.points.iter().map(|point| point.at).collect();
    let path = around(scale, &values);
    add(
        svg,
        format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2.5\" stroke-dasharray=\"{dashes}\" \
             stroke-linejoin=\"round\"/>"
        ),
    );
}

/// A dot of the first lot, a square of the second.
fn mark(svg: &mut String, second: bool, (x, y): (i64, i64)) {
    let (colour, _) = LINES[usize::from(second)];
    if second {
        let (x, y) = (px(x - 40), px(y - 40));
        let square = format!("<rect x=\"{x}\" y=\"{y}\" width=\"8\" height=\"8\" fill=\"#fff\"");
        add(
            svg,
            format_args!("{square} stroke=\"{colour}\" stroke-width=\"2\"/>"),
        );
    } else {
        let (x, y) = (px(x), px(y));
        add(
            svg,
            format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"4\" fill=\"{colour}\"/>"),
        );
    }
}

/// Marks where strips were tested or a figure was printed.
fn marks(svg: &mut String, scale: &Scale, curves: &[Curve<'_>]) {
    for (index, curve) in curves.iter().enumerate() {
        for (step, point) in curve.points.iter().enumerate() {
            if point.way != StiffnessWay::Tested {
                continue;
            }
            let mut places: Vec<(i64, i64)> = [(1, 1), (1, -1), (-1, -1), (-1, 1)]
                .into_iter()
                .map(|quarter| scale.place(point.at, step, quarter))
                .collect();
            places.sort_unstable();
            places.dedup();
            for place in places {
                mark(svg, index > 0, place);
            }
        }
    }
}

fn labels(svg: &mut String, scale: &Scale) {
    let halo = "stroke=\"#fff\" stroke-width=\"3\" paint-order=\"stroke\"";
    // Ring values stand on a line of their own, 25° from the weft, below it.
    for value in ring_values(scale) {
        let (x, y) = scale.place(value, 13, (1, -1));
        add(
            svg,
            format_args!(
                "<text x=\"{}\" y=\"{}\" fill=\"#555\" font-size=\"11\" text-anchor=\"middle\" {halo}>{}</text>",
                px(x),
                px(y + 40),
                decimal_unm(value)
            ),
        );
    }
    let text = |svg: &mut String, x: i64, y: i64, anchor: &str, words: &str| {
        add(
            svg,
            format_args!(
                "<text x=\"{x}\" y=\"{y}\" fill=\"#222\" text-anchor=\"{anchor}\" {halo}>{words}</text>"
            ),
        );
    };
    text(svg, 200, 18, "middle", "lengthwise (warp)");
    text(svg, 200, 36, "middle", "0°");
    text(svg, 348, 184, "start", "90°");
    text(svg, 348, 199, "start", "cross-");
    text(svg, 348, 213, "start", "wise");
    text(svg, 312, 90, "start", "bias 45°");
    text(svg, 8, 362, "start", "rings: rigidity in µN·m;");
    text(
        svg,
        8,
        377,
        "start",
        "distance from the middle by its square root",
    );
}

fn legend(svg: &mut String, curves: &[Curve<'_>], banded: bool) {
    let mut y = 400_i64;
    for (index, (curve, (colour, dashes))) in curves.iter().zip(LINES).enumerate() {
        add(
            svg,
            format_args!(
                "<line x1=\"8\" y1=\"{0}\" x2=\"48\" y2=\"{0}\" stroke=\"{colour}\" stroke-width=\"2.5\" \
                 stroke-dasharray=\"{dashes}\"/>",
                y - 4
            ),
        );
        mark(svg, index > 0, (280, (y - 4) * 10));
        let name: String = format!("{} {}", curve.lot.lot, curve.lot.name)
            .chars()
            .take(NAME)
            .collect();
        add(
            svg,
            format_args!(
                "<text x=\"56\" y=\"{y}\" fill=\"#222\">{}</text>",
                escape(&name)
            ),
        );
        let figures = [("lengthwise", 0), ("bias", 9), ("crosswise", 18)].map(|(name, step)| {
            let point = &curve.points[step];
            let computed = if point.way == StiffnessWay::Tested {
                ""
            } else {
                " computed"
            };
            format!("{name} {}{computed}", decimal_unm(point.at))
        });
        add(
            svg,
            format_args!(
                "<text x=\"56\" y=\"{}\" fill=\"#222\" font-size=\"11\">{}</text>",
                y + 15,
                figures.join(", ")
            ),
        );
        y += 34;
    }
    if banded {
        add(
            svg,
            format_args!(
                "<rect x=\"8\" y=\"{}\" width=\"40\" height=\"10\" fill=\"#dde4ee\"/>",
                y - 10
            ),
        );
        add(
            svg,
            format_args!(
                "<text x=\"56\" y=\"{y}\" fill=\"#222\" font-size=\"11\">in 8 cloths of 10, where it is computed</text>"
            ),
        );
    }
}
