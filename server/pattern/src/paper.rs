//! Corners as they were read off paper on a gridded mat, in TOML.

use crate::{
    curve,
    drawn::{Drawn, Sketch},
    error::PatternError,
    keys::Keys,
    unit::Unit,
};
use ellwand_domain::setting::Grain;
use kurbo::{BezPath, Point};
use serde::Deserialize;

/// A file that reads as it stands.
pub const EXAMPLE: &str = "\
# A waistcoat's front and back neck facing, read off paper that lies on a gridded mat.
# Along the grain first, then across it: 74,0 is 74 cm along. Begin at any corner and go round.
# ~ marks a point on a curve: a smooth line goes through it and its neighbours, up to the next corner.
unit = \"cm\"

[[part]]
name = \"front\"
need = \"shell\"
count = 2
pairs = true            # left and right: every second one is turned over
outline = \"0,0 58,0 ~61,4 ~63,10 66,16 62,24 ~50,21 ~43,24 40,30 0,28\"

[[part]]
name = \"neck facing\"
need = \"shell\"
fold = true             # half drawn: the last corner and the first lie on the fold
outline = \"0,0 ~0.8,5 3,9 8,11 ~6.5,5 6,0\"

[[part]]
name = \"welt\"
need = \"shell\"
count = 4
outline = \"0,0 13,0 13,6 0,6\"
";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    unit: Option<String>,
    #[serde(default)]
    part: Vec<Part>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    name: String,
    need: Option<String>,
    count: Option<i64>,
    #[serde(default)]
    pairs: bool,
    #[serde(default)]
    fold: bool,
    grain: Option<Grain>,
    outline: String,
}

pub(crate) fn read(text: &str, unit: Option<Unit>) -> Result<Drawn, PatternError> {
    let file: File = toml::from_str(text).map_err(|error| PatternError::Unreadable {
        kind: "TOML",
        why: error.to_string().trim_end().to_owned(),
    })?;
    let unit = match (file.unit.as_deref(), unit) {
        (Some(word), _) => word.parse().map_err(|_| PatternError::Word {
            part: "the file".to_owned(),
            key: "unit",
            value: word.to_owned(),
            expected: "use mm, cm or in",
        })?,
        (None, Some(unit)) => unit,
        (None, None) => return Err(PatternError::NoUnit("begin it with unit = \"cm\"")),
    };
    let sketches = file.part.into_iter().map(|part| part.sketch(unit));
    Drawn::of(sketches.collect::<Result<_, _>>()?, Vec::new())
}

/// A point with whether it lies on a curve.
type Read = (Point, bool);

impl Part {
    fn sketch(self, unit: Unit) -> Result<Sketch, PatternError> {
        let points: Vec<Read> = self
            .outline
            .split_whitespace()
            .map(|typed| self.point(typed, unit))
            .collect::<Result<_, _>>()?;
        let corners: Vec<Point> = points
            .iter()
            .filter(|(_, on)| !on)
            .map(|(at, _)| *at)
            .collect();
        let fold = match (self.fold, points.first(), points.last()) {
            (true, Some((first, false)), Some((last, _))) => Some((*first, *last)),
            (true, ..) => return Err(PatternError::Fold(self.name)),
            _ => None,
        };
        if corners.len() < 2 {
            return Err(self.wrong(&self.outline, "it has at least two corners without ~"));
        }
        let mut keys = Keys {
            need: self.need.map(|need| need.to_lowercase()),
            grain: self.grain,
            pairs: self.pairs,
            ..Keys::default()
        };
        if let Some(count) = self.count {
            keys.line(&self.name, &format!("count: {count}"))?;
        }
        Ok(Sketch {
            name: self.name,
            path: smooth(points, self.fold),
            grain: (1.0, 0.0),
            fold,
            keys,
        })
    }

    fn point(&self, typed: &str, unit: Unit) -> Result<Read, PatternError> {
        let (numbers, is_on_curve) = match typed.strip_prefix('~') {
            Some(rest) => (rest, true),
            None => (typed, false),
        };
        let number = |text: &str| text.parse().ok().filter(|number: &f64| number.is_finite());
        let read = numbers.split_once(',').and_then(|(along, across)| {
            let (along, across): (f64, f64) = (number(along)?, number(across)?);
            Some(Point::new(along * unit.mm(), across * unit.mm()))
        });
        match read {
            Some(point) => Ok((point, is_on_curve)),
            None => Err(self.wrong(typed, "write each point as 74,31.5, or ~74,31.5 on a curve")),
        }
    }

    fn wrong(&self, value: &str, expected: &'static str) -> PatternError {
        PatternError::Word {
            part: self.name.clone(),
            key: "outline",
            value: value.chars().take(40).collect(),
            expected,
        }
    }
}

/// Straight lines between corners, smooth ones through what lies between them. On a fold it ends with its last point.
fn smooth(mut points: Vec<Read>, is_half: bool) -> BezPath {
    // It begins at a corner, and comes back to it.
    let first = points.iter().position(|(_, on)| !on).unwrap_or(0);
    points.rotate_left(first);
    match points.first().copied() {
        Some(begin) if !is_half => points.push(begin),
        // The end of a half is a corner, whatever lies there.
        _ => {
            if let Some((_, is_on_curve)) = points.last_mut() {
                *is_on_curve = false;
            }
        }
    }
    let mut path = BezPath::new();
    let mut run: Vec<Point> = Vec::new();
    for (point, is_on_curve) in points {
        if run.is_empty() {
            path.move_to(point);
            run.push(point);
            continue;
        }
        run.push(point);
        if !is_on_curve {
            path.extend(curve::through(&run));
            run = vec![point];
        }
    }
    path.close_path();
    path
}
