//! Files of each kind, worked out by hand.

use crate::{DrawnPart, EXAMPLE, Known, PatternError, Unit, read};
use ellwand_domain::{lay::Point, quantity::Micrometres, setting::Grain};

fn parts(text: &str) -> Vec<DrawnPart> {
    read(text.as_bytes(), None).unwrap().parts
}

fn refused(text: &str, unit: Option<Unit>) -> String {
    read(text.as_bytes(), unit).unwrap_err().to_string()
}

/// Length and width in micrometres, and area in square millimetres.
fn measures(part: &DrawnPart) -> (i64, i64, f64) {
    let (length, width) = part.size();
    #[expect(clippy::cast_precision_loss, reason = "compared with a tolerance")]
    let area = part.outline.twice_area_um2() as f64 / 2e6;
    (length.get(), width.get(), area)
}

#[test]
fn the_example_reads_as_it_stands() {
    let parts = parts(EXAMPLE);
    let names: Vec<_> = parts
        .iter()
        .map(|part| (part.name.as_str(), part.count, part.pairs))
        .collect();
    assert_eq!(
        names,
        [
            ("front", 2, true),
            ("neck facing", 1, false),
            ("welt", 4, false)
        ]
    );
    assert_eq!(measures(&parts[2]), (130_000, 60_000, 7_800.0));
    // Half drawn, its fold along the grain: unfolded it is twice as wide, to 11 cm on each side.
    assert_eq!(parts[1].size().1, Micrometres::from_mm(220));
}

/// A quarter of a circle of 10 cm read off by five points: an area of π ÷ 4 × 100 cm² = 7 853.98 mm², here within 0.2 %, and none
/// of the circle farther than 0.7 mm from the line, as for an armhole of 28 cm.
#[test]
fn a_curve_goes_through_its_points() {
    let at = |degrees: f64| {
        let (across, along) = (degrees.to_radians() * 1.0).sin_cos();
        format!("~{:.3},{:.3}", along * 10.0, across * 10.0)
    };
    let curve: Vec<String> = [15.0, 30.0, 45.0, 60.0, 75.0].map(at).to_vec();
    let text = format!(
        "unit = \"cm\"\n[[part]]\nname = \"quarter\"\noutline = \"0,0 10,0 {} 0,10\"",
        curve.join(" ")
    );
    let quarter = &parts(&text)[0];
    let (length, width, area) = measures(quarter);
    assert!((length - 100_000).abs() < 200 && (width - 100_000).abs() < 200);
    assert!((area - 7_853.98).abs() < 15.0, "{area}");
    for corner in quarter
        .outline
        .corners()
        .iter()
        .filter(|corner| corner.along > 0 && corner.across > 0)
    {
        #[expect(clippy::cast_precision_loss, reason = "micrometres of 10 cm")]
        let radius = (corner.along as f64).hypot(corner.across as f64);
        assert!((radius - 100_000.0).abs() < 700.0, "{corner:?}");
    }
}

/// A page of 210 mm by 297 mm whose unit is a millimetre: a circle of 5 cm has 1 963.50 mm² within 0.1 mm of its outline.
#[test]
fn svg_is_read_to_scale() {
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='210mm' height='297mm' viewBox='0 0 210 297'>\
        <rect id='back' x='10' y='20' width='52' height='72'/>\
        <g id='pocket' transform='translate(100 100)'><desc>Count: 2\nGrain: crosswise\nNeed: Lining</desc>\
        <circle r='25'/><circle r='3'/></g><path d='M0 0h5v5z'/></svg>";
    let drawn = read(text.as_bytes(), None).unwrap();
    assert_eq!(
        drawn.notes,
        [
            "the grain of each part is taken to run up the page",
            "1 shape without a name is left out"
        ]
    );
    let (length, width, _) = measures(&drawn.parts[0]);
    assert!((length - 72_000).abs() <= 1 && (width - 52_000).abs() <= 1);
    let pocket = &drawn.parts[1];
    assert_eq!(
        (pocket.count, pocket.grain, pocket.need.as_deref()),
        (2, Grain::Crosswise, Some("lining"))
    );
    let (length, _, area) = measures(pocket);
    assert!((length - 50_000).abs() < 10, "{length}");
    assert!((area - 1_963.50).abs() < 157.0 * 0.1, "{area}");
    // Up the page is along the grain, and nothing is mirrored: the corner that is cut off stays at the upper right.
    let text = "<svg xmlns='http://www.w3.org/2000/svg' width='10mm' height='10mm' viewBox='0 0 10 10'>\
        <path id='a' d='M0 10 L0 0 L8 0 L10 2 L10 10 Z'/></svg>";
    let corners = parts(text)[0].outline.corners().to_vec();
    let has = |along: i64, across: i64| {
        corners
            .iter()
            .any(|at: &Point| (at.along - along).abs() < 3 && (at.across - across).abs() < 3)
    };
    assert!(
        has(0, 0) && has(-2_000, -10_000) && has(0, -8_000),
        "{corners:?}"
    );
}

/// The page says how large it is, whatever unit is given beside; where it does not, the unit counts.
#[test]
fn the_unit_of_a_page_goes_before_the_one_that_is_given() {
    let page = |size: &str| {
        let text = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' {size} viewBox='0 0 20 20'><rect id='a' width='4' height='6'/></svg>"
        );
        let drawn = read(text.as_bytes(), Some(Unit::Cm)).unwrap();
        drawn.parts[0].size().0.get()
    };
    assert!((page("width='20mm' height='20mm'") - 6_000).abs() <= 1);
    assert!((page("width='20' height='20'") - 60_000).abs() <= 1);
}

/// A half with a notch in its fold would be a whole with a hole: half of it must not get lost.
#[test]
fn a_half_that_comes_to_its_fold_twice_is_refused() {
    let half = |outline: &str| {
        format!("unit = \"cm\"\n[[part]]\nname = \"yoke\"\nfold = true\noutline = \"{outline}\"")
    };
    let whole = parts(&half("0,0 0,5 9,5 9,0"));
    assert_eq!(measures(&whole[0]), (90_000, 100_000, 9_000.0));
    let said = refused(&half("0,0 0,5 4,5 4,0 6,0 6,5 9,5 9,0"), None);
    assert!(said.contains("in one stretch"), "{said}");
}

const DXF: &str = include_str!("../../../tests/data/half_back.dxf");

/// Half a back of 72 cm × 26 cm with its mirror line: unfolded 52 cm wide; the grain line runs along y.
#[test]
fn dxf_layers_are_read() {
    let drawn = read(DXF.as_bytes(), None).unwrap();
    assert_eq!(drawn.parts.len(), 2, "{:?}", drawn.parts);
    let back = &drawn.parts[0];
    assert_eq!((back.name.as_str(), back.count), ("Back", 1));
    assert_eq!(measures(back), (720_000, 520_000, 374_400.0));
    // A bulge of 1 is half a circle: 10 cm × 4 cm and half a circle of 2 cm radius.
    let tab = &drawn.parts[1];
    assert_eq!((tab.name.as_str(), tab.count, tab.pairs), ("tab", 2, true));
    let (length, width, area) = measures(tab);
    assert!(
        (length - 120_000).abs() < 60 && width == 40_000,
        "{length} {width}"
    );
    assert!((area - 4_628.32).abs() < 6.0, "{area}");
    assert_eq!(
        drawn.notes,
        [
            "tab: no grain line, so it is taken to run along x",
            "what is on layer 4 is left out"
        ]
    );
}

#[test]
fn what_was_traced_is_scaled() {
    let known = |length: &str, width: &str| Known {
        part: "welt".to_owned(),
        length: length.parse().unwrap(),
        width: width.parse().unwrap(),
    };
    let drawn = read(EXAMPLE.as_bytes(), None).unwrap();
    let scaled = drawn.scaled(&known("15.6cm", "7.2cm")).unwrap();
    assert_eq!(measures(&scaled.parts[2]), (156_000, 72_000, 11_232.0));
    assert_eq!(
        drawn
            .scaled(&known("15.6cm", "6cm"))
            .unwrap_err()
            .to_string(),
        "welt is drawn 13 cm × 6 cm and known to be 15.6 cm × 6 cm: its shape is another, not its scale"
    );
}

#[test]
fn bad_files_are_refused_with_what_to_do() {
    let paper =
        |outline: &str| format!("unit = \"cm\"\n[[part]]\nname = \"a\"\noutline = \"{outline}\"");
    let svg = |size: &str, inner: &str| {
        format!("<svg xmlns='http://www.w3.org/2000/svg' {size}>{inner}</svg>")
    };
    for (text, holds) in [
        (String::new(), "begin it with unit = \"cm\""),
        ("unit = \"ell\"".to_owned(), "use mm, cm or in"),
        ("unit = \"cm\"".to_owned(), "holds no closed outline"),
        (paper("0,0 5,0"), "at least 3 corners"),
        (paper("0,0 5,0 0,5 5,5"), "edges 2 and 4 meet"),
        (paper("0,0 5,0 x,5"), "write each point as 74,31.5"),
        (paper("0,0 5,0 1e30,5"), "lies beyond"),
        (paper("0,0 5,0 nan,5"), "write each point"),
        (
            format!(
                "{}\n[[part]]\nname = \"a\"\noutline = \"0,0 1,0 1,1\"",
                paper("0,0 5,0 5,5")
            ),
            "two parts are called a",
        ),
        (
            svg(
                "width='10' height='10'",
                "<rect id='a' width='3' height='4'/>",
            ),
            "--unit mm",
        ),
        (
            svg("width='10mm' height='10mm'", "<rect width='3' height='4'/>"),
            "a name (its id)",
        ),
        (
            svg(
                "width='10mm' height='10mm' viewBox='0 0 10 10'",
                "<path id='a' d='M0 0 H9 V9 H4'/>",
            ),
            "its ends are",
        ),
        ("<!DOCTYPE x [<!ENTITY a 'b'>]><svg/>".to_owned(), "no SVG"),
        (
            "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n".to_owned(),
            "--unit mm, cm or in",
        ),
    ] {
        let said = refused(&text, None);
        assert!(said.contains(holds), "{text}: {said}");
    }
    assert!(matches!(
        read(&vec![b' '; crate::MOST_BYTES + 1], None),
        Err(PatternError::TooLarge)
    ));
    assert!(refused("0\nEOF\n", Some(Unit::Mm)).contains("none is drawn on layer 1"));
}

proptest::proptest! {
    /// Whatever is read is refused or has outlines; nothing panics.
    #[test]
    fn nothing_panics(bytes in proptest::collection::vec(proptest::prelude::any::<u8>(), 0..300), at in 0_usize..2_000, kind in 0_usize..3) {
        let whole = [EXAMPLE, DXF, "<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'><path id='a' d='M0 0 C1 2 3 4 5 6 Q7 8 9 1 A2 3 0 1 0 4 4 Z'/></svg>"][kind];
        let mut mutated = whole.as_bytes().to_vec();
        let at = at % mutated.len();
        mutated.splice(at..(at + bytes.len() / 2).min(mutated.len()), bytes.iter().copied());
        let _ = read(&bytes, Some(Unit::Mm));
        let _ = read(&mutated, Some(Unit::Mm));
    }
}
