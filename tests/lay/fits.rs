//! Parts that fit with nothing to spare, and parts that lie in the corners of one another.

use super::{budget, cloth, part, rectangle, searched};
use ellwand_domain::{
    lay::{Ladder, LayPart, Outline, Rectangles},
    quantity::Micrometres,
    setting::Grain,
};
use ellwand_lay::first;

const fn mm(length: i64) -> Micrometres {
    Micrometres::from_mm(length)
}

/// Known optima, from their areas: 12 × 10² / 30 = 40, 8 × 20 × 15 / 30 = 80, (3 × 20 × 10 + 2 × 20 × 15) / 30 = 40 cm.
#[test]
fn rectangles_that_fit_exactly_lie_exactly() {
    for (parts, length) in [
        (vec![rectangle(12, 100, 100)], 400),
        (vec![rectangle(8, 200, 150)], 800),
        (vec![rectangle(3, 200, 100), rectangle(2, 200, 150)], 400),
    ] {
        assert_eq!(first(&parts, cloth(300, 0)).unwrap().length(), mm(length));
        let found = searched(&parts, cloth(300, 0), budget(1_000, 1), None);
        assert_eq!(found.lay.length(), mm(length));
        assert_eq!(found.positions, 0, "nothing is shorter than the area");
    }
}

/// With a gap of 3 mm four rows of 100 mm take 409 mm, on cloth that is 306 mm wide.
#[test]
fn rectangles_keep_their_gap() {
    let parts = [rectangle(12, 100, 100)];
    assert_eq!(first(&parts, cloth(306, 3)).unwrap().length(), mm(409));
    // One millimetre less, and two lie beside one another: 6 × 100 + 5 × 3.
    assert_eq!(first(&parts, cloth(305, 3)).unwrap().length(), mm(615));
}

/// The parts of a jacket on 134 cm: 134 cm by hand (tests of the domain's ladder), and what the ladder answers.
#[test]
fn rectangles_lie_as_the_domain_packs_them() {
    let sides = [(1, 720, 520), (2, 720, 300), (2, 620, 420), (2, 460, 120)];
    let parts: Vec<LayPart> = sides
        .iter()
        .map(|(count, length, width)| rectangle(*count, *length, *width))
        .collect();
    let rectangles = sides.map(|(count, length, width)| Rectangles {
        length: mm(length),
        width: mm(width),
        grain: Grain::Lengthwise,
        extent: (mm(length), mm(width)),
        count,
    });
    let ladder = Ladder::new(rectangles.to_vec());
    let lay = first(&parts, cloth(1_340, 0)).unwrap();
    assert_eq!(lay.length(), ladder.at(mm(1_340)).unwrap().length);
    assert_eq!(lay.length(), mm(1_340));
}

/// Strips of 50 × 10 cm on the bias: the box around one is (50 + 10) / √2 = 42.43 cm square, and on cloth of 43 cm they follow one another
/// 10 × √2 = 14.14 cm apart: 42.43 + 2 × 14.14 = 70.71 cm for three.
#[test]
fn strips_on_the_bias_lie_within_one_another() {
    let mut strip = rectangle(3, 500, 100);
    strip.grain = Grain::Bias;
    let length = |spacing| {
        let lay = first(&[strip.clone()], cloth(430, spacing)).unwrap();
        lay.length().get()
    };
    assert!((707_100..707_130).contains(&length(0)), "{}", length(0));
    // Two gaps of 3 mm, measured along the warp: 2 × 3 × √2 = 8.5 mm.
    assert!((715_580..715_620).contains(&length(3)), "{}", length(3));
}

/// Two right triangles of 60 × 30 cm make a rectangle of 60 cm on 31 cm of cloth; behind one another they would take 120 cm. By hand: of
/// the 1 cm to spare a gap of a few micrometres is needed along their long sides.
#[test]
fn triangles_make_a_rectangle() {
    let triangle = part("triangle", 2, &[(0, 0), (600, 0), (0, 300)]);
    let found = searched(&[triangle], cloth(310, 0), budget(60_000, 1), None);
    let length = found.lay.length();
    assert!(length <= mm(606), "{length:?}");
}

/// Outlines with many corners, which are thinned for the engine and checked whole. By hand: in rows of their boxes 2 × 303 + 2 × 223 + 400
/// = 1452 mm; by area π × (150 × 90 + 110 × 110 + 200 × 60) × 4 / 700 = 675 mm. Halfway between them is not enough.
#[test]
fn curves_lie_among_one_another() {
    let oval = |along: f64, across: f64| {
        let corners = (0..90).map(|at| {
            let angle = f64::from(at) * std::f64::consts::TAU / 90.0;
            let um = |reach: f64, share: f64| (reach * 1000.0 * share).round() as i64;
            (um(along, angle.cos()), um(across, angle.sin())).into()
        });
        LayPart {
            outline: Outline::new(corners.collect()).unwrap(),
            ..rectangle(4, along as i64, across as i64)
        }
    };
    let parts = [oval(150.0, 90.0), oval(110.0, 110.0), oval(200.0, 60.0)];
    let lay = searched(&parts, cloth(700, 3), budget(60_000, 1), None).lay;
    assert!(lay.length() < mm(1_063), "{:?}", lay.length());
}

/// What is a few micrometres wide is laid like everything else.
#[test]
fn slivers_are_laid() {
    let mut thread = rectangle(2, 900, 1);
    let sides = [(0, 0), (900_000, 0), (900_000, 10), (0, 10)];
    thread.outline = Outline::new(sides.map(Into::into).to_vec()).unwrap();
    let mut crumb = rectangle(3, 1, 1);
    crumb.outline = Outline::new([(0, 0), (3, 0), (0, 2)].map(Into::into).to_vec()).unwrap();
    let found = searched(&[thread, crumb], cloth(100, 3), budget(2_000, 1), None);
    assert!(found.lay.length() < mm(904));
}
