//! Curves as corners, and corners in the frame of the cloth. Lengths in millimetres until they become points.

use crate::error::PatternError;
use ellwand_domain::lay;
use kurbo::{BezPath, PathEl, Point, Vec2};

/// How far a corner line may lie from its curve.
const FLATNESS: f64 = 0.05;
/// How near the ends of a closed outline are to one another, and a half part to its fold.
const CLOSE: f64 = 0.1;

/// The corners of a closed path, each curve within 0.05 mm.
pub(crate) fn flattened(part: &str, path: &BezPath) -> Result<Vec<Point>, PatternError> {
    let (mut corners, mut is_closed) = (Vec::new(), false);
    kurbo::flatten(path, FLATNESS, |element| match element {
        PathEl::MoveTo(to) | PathEl::LineTo(to) => corners.push(to),
        PathEl::ClosePath => is_closed = true,
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    if let [first, .., last] = corners.as_slice() {
        let gap = first.distance(*last);
        if gap <= CLOSE {
            corners.pop();
        } else if !is_closed {
            return Err(PatternError::Open {
                part: part.to_owned(),
                gap_mm: format!("{gap:.1}"),
            });
        }
    }
    Ok(corners)
}

/// A smooth path through points, as a natural cubic spline over the chords between them.
///
/// - Source: C. de Boor, *A Practical Guide to Splines*, chapter IV: free ends, second derivatives by a tridiagonal system
///   (from memory).
pub(crate) fn through(points: &[Point]) -> Vec<PathEl> {
    let lengths: Vec<f64> = points
        .windows(2)
        .map(|pair| match pair {
            [one, other] => one.distance(*other),
            _ => 0.0,
        })
        .collect();
    if points.len() < 3 || lengths.iter().any(|length| *length <= 0.0) {
        return points
            .iter()
            .skip(1)
            .map(|to| PathEl::LineTo(*to))
            .collect();
    }
    let second = second_derivatives(points, &lengths);
    let spans = points.windows(2).zip(second.windows(2)).zip(&lengths);
    spans
        .filter_map(|((ends, bends), length)| match (ends, bends) {
            ([from, to], [bend_from, bend_to]) => {
                let chord = (*to - *from) / *length;
                let leaves = chord - (*bend_from * 2.0 + *bend_to) * (*length / 6.0);
                let comes = chord + (*bend_from + *bend_to * 2.0) * (*length / 6.0);
                let third = *length / 3.0;
                Some(PathEl::CurveTo(
                    *from + leaves * third,
                    *to - comes * third,
                    *to,
                ))
            }
            _ => None,
        })
        .collect()
}

/// Second derivatives at the points, none at both ends.
fn second_derivatives(points: &[Point], lengths: &[f64]) -> Vec<Vec2> {
    // Forward: each row as what is left of it, `bend[i] = begun - share × bend[i + 1]`.
    let mut rows: Vec<(f64, Vec2)> = vec![(0.0, Vec2::ZERO)];
    for (three, two) in points.windows(3).zip(lengths.windows(2)) {
        let ([before, at, after], [to, from]) = (three, two) else {
            continue;
        };
        let slopes = (*after - *at) / *from - (*at - *before) / *to;
        let (share, begun) = rows.last().copied().unwrap_or_default();
        let pivot = 2.0 * (to + from) - to * share;
        rows.push((from / pivot, (slopes * 6.0 - begun * *to) / pivot));
    }
    let mut bends = vec![Vec2::ZERO];
    for (share, begun) in rows.iter().rev() {
        let next = bends.last().copied().unwrap_or_default();
        bends.push(*begun - next * *share);
    }
    bends.reverse();
    bends
}

/// A half with its mirror image on the other side of the fold; none where it is not drawn up to the fold, lies on both sides, or
/// comes to the fold more than once, so that the whole would have a hole.
pub(crate) fn unfolded(half: &[Point], (from, to): (Point, Point)) -> Option<Vec<Point>> {
    let line = (to - from).normalize();
    let aside = |point: &Point| line.cross(*point - from);
    let is_on = |point: &Point| aside(point).abs() <= CLOSE;
    let sides = half.iter().map(aside);
    let (least, most) = sides.fold((f64::MAX, f64::MIN), |(least, most), side| {
        (least.min(side), most.max(side))
    });
    if least < -CLOSE && most > CLOSE {
        return None;
    }
    // Where the outline leaves the fold, round to where it comes back.
    let count = half.len();
    let leaves = (0..count).find(|at| {
        let next = half.get((at + 1) % count);
        half.get(*at).is_some_and(is_on) && !next.is_some_and(is_on)
    })?;
    let away: Vec<Point> = (1..count)
        .filter_map(|step| half.get((leaves + step) % count).copied())
        .take_while(|point| !is_on(point))
        .collect();
    if away.len() < half.iter().filter(|point| !is_on(point)).count() {
        return None;
    }
    let comes = half.get((leaves + away.len() + 1) % count)?;
    let on_line = |point: Point| from + line * line.dot(point - from);
    let start = on_line(*half.get(leaves)?);
    let over = |point: &Point| {
        let foot = on_line(*point);
        foot + (foot - *point)
    };
    let mut whole = vec![start];
    whole.extend(&away);
    whole.push(on_line(*comes));
    whole.extend(away.iter().rev().map(over));
    Some(whole)
}

/// Corners turned so that the grain runs along the warp, in whole micrometres; those that fall together stand once.
pub(crate) fn along(corners: &[Point], grain: (f64, f64)) -> Vec<lay::Point> {
    let grain = Vec2::new(grain.0, grain.1).normalize();
    let whole = |mm: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "what is too far saturates, and the outline refuses it"
        )]
        let um = (mm * 1_000.0).round() as i64;
        um
    };
    let mut turned: Vec<lay::Point> = corners
        .iter()
        .map(|corner| {
            let corner = corner.to_vec2();
            lay::Point::new(whole(corner.dot(grain)), whole(grain.cross(corner)))
        })
        .collect();
    turned.dedup();
    if turned.first() == turned.last() {
        turned.pop();
    }
    turned
}
