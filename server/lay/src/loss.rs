//! How much two outlines overlap, as a number that falls as they part: by circles inside of them.

use jagua_rs::geometry::primitives::SPolygon;

/// Share of the larger diameter below which circles count as near.
const NEAR: f32 = 0.01;

/// The loss of two shapes that overlap; above 0 even where they hardly touch, so that a search sees which way leads out.
///
/// - Formula: over all pairs of circles inside of both, the depth d to which they reach into one another × the smaller radius, where d
///   below ε, 1 % of the larger diameter, decays as ε² / (2ε − d); the root of the sum × the root of the geometric mean of both hulls' sides (a side: the root of the area).
/// - Source: Gardeyn, Vanden Berghe, Wauters, arXiv:2509.13329, algorithms 3 and 4.
pub(crate) fn of_pair(one: &SPolygon, other: &SPolygon) -> f32 {
    let near = one.diameter().max(other.diameter()) * NEAR;
    let (first, second) = (one.surrogate(), other.surrogate());
    let mut sum = 0.0;
    for circle in &first.poles {
        for across in &second.poles {
            let (x, y) = (
                circle.center.0 - across.center.0,
                circle.center.1 - across.center.1,
            );
            let depth = circle.radius + across.radius - (x * x + y * y).sqrt();
            let decayed = match depth >= near {
                true => depth,
                false => near * near / (2.0 * near - depth),
            };
            sum += decayed * circle.radius.min(across.radius);
        }
    }
    let hulls = first.convex_hull_area * second.convex_hull_area;
    sum.sqrt() * hulls.sqrt().sqrt()
}
