//! Do outlines overlap, and how near are they? Exactly: signs of whole products.

use super::{
    Bounds, Outline, Point,
    point::{cross, dot},
};

/// From one corner to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    pub(super) from: Point,
    pub(super) to: Point,
}

impl Edge {
    pub(super) fn bounds(&self) -> Bounds {
        Bounds::around([self.from, self.to])
    }

    /// True for a point between its ends, or at one.
    fn holds(&self, point: Point) -> bool {
        cross(self.from, self.to, point) == 0 && dot(point, self.from, self.to) <= 0
    }

    /// True for a point between its ends, and at neither.
    fn passes(&self, point: Point) -> bool {
        cross(self.from, self.to, point) == 0 && dot(point, self.from, self.to) < 0
    }

    /// True where each passes between the ends of the other.
    fn crosses(&self, other: &Self) -> bool {
        let sides = |edge: &Self, of: &Self| {
            let from = cross(edge.from, edge.to, of.from).signum();
            from * cross(edge.from, edge.to, of.to).signum()
        };
        sides(self, other) < 0 && sides(other, self) < 0
    }
}

/// True where two edges have a point in common.
pub(super) fn edges_meet(one: &Edge, other: &Edge) -> bool {
    one.crosses(other)
        || one.holds(other.from)
        || one.holds(other.to)
        || other.holds(one.from)
        || other.holds(one.to)
}

/// An edge, and where corners of the other outline lie on it.
struct Touched {
    edge: Edge,
    bounds: Bounds,
    /// Corners of the other outline between its ends.
    cuts: Vec<Point>,
    /// True where it has any point in common with the other outline.
    touches: bool,
}

impl Touched {
    fn near(outline: &Outline, other: &Outline) -> Vec<Self> {
        let edges = outline.edges().map(|edge| Self {
            edge,
            bounds: edge.bounds(),
            cuts: Vec::new(),
            touches: false,
        });
        edges
            .filter(|touched| touched.bounds.is_near(&other.bounds(), 0))
            .collect()
    }

    fn cut(&mut self, corner: Point) {
        if self.edge.passes(corner) {
            self.cuts.push(corner);
        }
    }

    /// True where a stretch of it between two cuts runs inside the other outline, or along its edge in the same sense, so that both
    /// have their inside on the same side of it.
    fn runs_within(&mut self, other: &Outline) -> bool {
        let Edge { from, to } = self.edge;
        self.cuts.sort_by_key(|cut| dot(from, to, *cut));
        let ends = self.cuts.iter().copied().chain([to]);
        let mut begin = from;
        for end in ends {
            // Twice the middle, so that it is whole.
            match place(other, begin.plus(end)) {
                Place::Inside => return true,
                Place::On(edge)
                    if dot(edge.from, edge.to, edge.from.plus(end.minus(begin))) > 0 =>
                {
                    return true;
                }
                Place::On(_) | Place::Outside => {}
            }
            begin = end;
        }
        false
    }
}

/// Where a point lies.
enum Place {
    Inside,
    Outside,
    On(Edge),
}

/// Where half of `twice` lies.
fn place(outline: &Outline, twice: Point) -> Place {
    let double = |point: Point| point.plus(point);
    let mut is_inside = false;
    for edge in outline.edges() {
        let doubled = Edge {
            from: double(edge.from),
            to: double(edge.to),
        };
        if doubled.holds(twice) {
            return Place::On(edge);
        }
        // A ray along the warp: each edge holds its lower end, not its upper one.
        let is_above = |point: Point| point.across > twice.across;
        if is_above(doubled.from) != is_above(doubled.to) {
            let side = cross(doubled.from, doubled.to, twice);
            if (side > 0) == is_above(doubled.to) {
                is_inside = !is_inside;
            }
        }
    }
    if is_inside {
        Place::Inside
    } else {
        Place::Outside
    }
}

/// True where two outlines have more in common than their edges.
///
/// Where no two edges cross, every stretch between contacts lies wholly inside, outside or on the other outline, and its middle says
/// which. An overlap has an edge somewhere: inside the other outline, or along its edge with the inside on the same side.
pub(super) fn overlap(one: &Outline, other: &Outline) -> bool {
    if !one.bounds().is_near(&other.bounds(), -1) {
        return false;
    }
    let mut first = Touched::near(one, other);
    let mut second = Touched::near(other, one);
    for touched in &mut first {
        for against in &mut second {
            if !touched.bounds.is_near(&against.bounds, 0) {
                continue;
            }
            if touched.edge.crosses(&against.edge) {
                return true;
            }
            let (edge, beside) = (touched.edge, against.edge);
            touched.cut(beside.from);
            touched.cut(beside.to);
            against.cut(edge.from);
            against.cut(edge.to);
            if edges_meet(&edge, &beside) {
                touched.touches = true;
                against.touches = true;
            }
        }
    }
    let touches = first.iter().any(|edge| edge.touches) || second.iter().any(|edge| edge.touches);
    if !touches {
        let holds = |outer: &Outline, inner: &Outline| {
            let corner = inner.corners().first().copied().unwrap_or_default();
            matches!(place(outer, corner.plus(corner)), Place::Inside)
        };
        return holds(one, other) || holds(other, one);
    }
    let within = |edges: &mut Vec<Touched>, outline: &Outline| {
        edges
            .iter_mut()
            .any(|edge| edge.touches && edge.runs_within(outline))
    };
    within(&mut first, other) || within(&mut second, one)
}

/// True where two outlines that do not overlap are nearer than `gap`, which is more than nothing.
pub(super) fn nearer(one: &Outline, other: &Outline, gap: i64) -> bool {
    let around = other.bounds();
    let edges: Vec<Edge> = other.edges().collect();
    let near = one
        .edges()
        .filter(|edge| edge.bounds().is_near(&around, gap));
    let mut near = near.flat_map(|edge| edges.iter().map(move |other| (edge, *other)));
    near.any(|(edge, other)| {
        edge.bounds().is_near(&other.bounds(), gap)
            && (edge.is_nearer(other.from, gap)
                || edge.is_nearer(other.to, gap)
                || other.is_nearer(edge.from, gap)
                || other.is_nearer(edge.to, gap))
    })
}

impl Edge {
    fn is_nearer(&self, point: Point, gap: i64) -> bool {
        let square = i128::from(gap) * i128::from(gap);
        let along = dot(self.from, self.to, point);
        let length = dot(self.from, self.to, self.to);
        if along <= 0 {
            return dot(self.from, point, point) < square;
        }
        if along >= length {
            return dot(self.to, point, point) < square;
        }
        let off = cross(self.from, self.to, point);
        off * off < square * length
    }
}
