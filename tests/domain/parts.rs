//! Parts by the measures of their shell parts: what they are cut to, and the rows they lie in.

use ellwand_domain::{
    ledger::Rectangle,
    need::{
        ClothDemand, ClothFacts, CuttingRule, Lengths, MOST_PARTS, Misfit, Part, PartError, Parts,
        PartsError, RowsError, ShellMeasures, WidthLength, fit_cloth,
    },
    quantity::{Micrometres, QuantityError, Units, decimal_m2, show_area},
    setting::{Grain, Measured, PartCut},
    shrinkage::{Candidates, Chosen, Preparation, Stated, choose},
};
use proptest::prelude::*;

fn um(length: i64) -> Micrometres {
    Micrometres::new(length).unwrap()
}

const fn mm(length: i64) -> Micrometres {
    Micrometres::from_mm(length)
}

fn shell(
    length: Micrometres,
    width: Micrometres,
    measured: Measured,
    allowance: Option<i64>,
) -> ShellMeasures {
    ShellMeasures {
        length,
        width,
        measured,
        allowance: allowance.map(mm),
    }
}

/// A part that is cut by its measures as they are.
fn plain(name: &str, count: i64, length: Micrometres, width: Micrometres, grain: Grain) -> Part {
    Part::new(
        name,
        count,
        shell(length, width, Measured::With, None),
        PartCut::With,
        grain,
    )
    .unwrap()
}

/// Four ways to measure and cut; by hand. That canvas lies inside the seams is common practice.
#[test]
fn an_allowance_is_taken_off_or_put_on_all_round() {
    let cases = [
        (
            Measured::With,
            PartCut::Inside,
            (440, 100),
            "46 × 12 cm less 1 cm all round = 44 × 10 cm",
        ),
        (Measured::With, PartCut::With, (460, 120), "46 × 12 cm"),
        (Measured::Without, PartCut::Inside, (460, 120), "46 × 12 cm"),
        (
            Measured::Without,
            PartCut::With,
            (480, 140),
            "46 × 12 cm and 1 cm all round = 48 × 14 cm",
        ),
    ];
    for (measured, cut, (length, width), report) in cases {
        let measures = shell(mm(460), mm(120), measured, Some(10));
        let part = Part::new("collar", 2, measures, cut, Grain::Bias).unwrap();
        assert_eq!(
            (part.length(), part.width()),
            (mm(length), mm(width)),
            "{report}"
        );
        assert_eq!(part.measures_text(Units::Metric), report);
    }
}

#[test]
fn a_part_of_which_nothing_is_left_is_refused_with_the_figures() {
    let part = |length, width, measured, allowance, cut| {
        Part::new(
            "tab",
            1,
            shell(length, width, measured, allowance),
            cut,
            Grain::Lengthwise,
        )
    };
    let narrow = part(mm(460), mm(120), Measured::With, Some(60), PartCut::Inside).unwrap_err();
    assert_eq!(
        narrow,
        PartError::NothingLeft {
            name: "tab".to_owned(),
            measure: mm(120),
            allowance: mm(60)
        }
    );
    assert_eq!(
        narrow.to_string(),
        "the part tab: 12 cm less 2 × 6 cm of seam allowance leaves nothing"
    );
    // A micrometre is left of it, and it is cut.
    assert!(
        part(
            mm(460),
            um(120_001),
            Measured::With,
            Some(60),
            PartCut::Inside
        )
        .is_ok()
    );
    for (measured, cut) in [
        (Measured::With, PartCut::Inside),
        (Measured::Without, PartCut::With),
    ] {
        let unsaid = part(mm(460), mm(120), measured, None, cut);
        assert_eq!(
            unsaid,
            Err(PartError::AllowanceUnknown {
                name: "tab".to_owned(),
                cut
            })
        );
    }
    let nothing = part(mm(0), mm(120), Measured::With, Some(10), PartCut::With);
    assert!(
        matches!(
            nothing,
            Err(PartError::Quantity(QuantityError::NotPositive { .. }))
        ),
        "{nothing:?}"
    );
    let none = Part::new(
        "tab",
        0,
        shell(mm(9), mm(9), Measured::With, None),
        PartCut::With,
        Grain::Bias,
    );
    assert!(
        matches!(
            none,
            Err(PartError::Quantity(QuantityError::NotPositive { .. }))
        ),
        "{none:?}"
    );
}

/// (440 + 100) mm ÷ √2 = 381.8377 mm, rounded up (geometry; computed by hand).
#[test]
fn a_part_stands_on_the_cloth_as_its_grain_runs() {
    for (grain, along, across) in [
        (Grain::Lengthwise, 440_000, 100_000),
        (Grain::Crosswise, 100_000, 440_000),
        (Grain::Bias, 381_838, 381_838),
    ] {
        let extent = plain("collar", 1, mm(440), mm(100), grain)
            .extent()
            .unwrap();
        assert_eq!(
            (extent.along, extent.across),
            (um(along), um(across)),
            "{grain}"
        );
    }
}

/// By hand: 2 × 44 × 10 cm are 0.088 m²; on the bias two stand side by side at 90 cm and one at 76 cm. Among one another: the stand
/// of 5 cm beside both squares, 44 cm on 81.37 cm; at 76 cm both as one strip of 20 cm in a square of 64 ÷ √2 = 45.26 cm; across the
/// cloth both one behind the other beside the stand, 44 cm on 49 cm.
#[test]
fn like_parts_lie_in_rows_across_the_width() {
    let parts = |grain| {
        let stand = plain("stand", 1, mm(440), mm(50), Grain::Lengthwise);
        Parts::new(vec![plain("collar", 2, mm(440), mm(100), grain), stand], 1).unwrap()
    };
    let laid = parts(Grain::Bias).laid(mm(900)).unwrap();
    assert_eq!(
        (laid.rows, laid.length, laid.width),
        (um(381_838 + 440_000), mm(440), um(2 * 381_838 + 50_000))
    );
    // 0.088 m² + 0.022 m² = 0.11 m², over 0.9 m: 0.122223 m at least.
    assert_eq!((laid.area_um2, laid.least), (110_000_000_000, um(122_223)));
    assert_eq!(
        laid.steps(Units::Metric),
        [
            "2 × collar, 44 × 10 cm, on the bias 38.18 cm each way: 2 to a row at 90 cm, 1 row of 38.18 cm",
            "1 × stand, 44 × 5 cm: 1 to a row at 90 cm, 1 row of 44 cm",
            "rows together 0.822 m at 90 cm; the parts' area, 0.11 m², is 14.8 % of that: no lay is shorter than 0.123 m",
            "laid among one another they take 0.44 m and 81.37 cm of the width, 27.7 % used: that counts instead of the rows",
        ]
    );
    let narrower = parts(Grain::Bias).laid(mm(760)).unwrap();
    assert_eq!(narrower.rows, um(2 * 381_838 + 440_000));
    // 64 cm ÷ √2 = 452 548.3 µm, and some for corners that are rounded.
    assert!((452_549..452_560).contains(&narrower.length.get()));
    let across = parts(Grain::Crosswise).laid(mm(900)).unwrap();
    assert_eq!((across.rows, across.length), (mm(100 + 440), mm(440)));
    assert_eq!(across.width, mm(490));
    let narrow = parts(Grain::Crosswise).laid(mm(439));
    assert_eq!(
        narrow,
        Err(RowsError::TooWide {
            name: "collar".to_owned(),
            across: mm(440)
        })
    );
}

/// Utilisation = area ÷ (usable width × lay length) by definition (garmentprocess.com): 1.45 m² on 1.25 × 1.42 m use 81.69 %.
#[test]
fn the_share_of_the_cloth_is_reported() {
    let parts = Parts::new(
        vec![plain("back", 1, mm(1_250), mm(1_160), Grain::Lengthwise)],
        1,
    )
    .unwrap();
    let laid = parts.laid(mm(1_420)).unwrap();
    assert_eq!(
        (laid.length, laid.used(laid.rows).thousandths()),
        (mm(1_250), 816)
    );
}

#[test]
fn a_row_is_full_to_the_micrometre() {
    let parts = Parts::new(
        vec![plain("cuff", 4, mm(100), mm(450), Grain::Lengthwise)],
        1,
    )
    .unwrap();
    assert_eq!(parts.laid(mm(900)).unwrap().length, mm(200));
    assert_eq!(parts.laid(um(899_999)).unwrap().length, mm(400));
    // A batch shares its rows: 3 garments have 12 cuffs, 6 rows and not 3 × 2 at 90 cm.
    let three = Parts::new(parts.list().to_vec(), 3).unwrap();
    assert_eq!(three.laid(mm(900)).unwrap().length, mm(600));
    assert_eq!(three.laid(mm(1_800)).unwrap().length, mm(300));
    assert_eq!(three.pieces(), 12);
}

#[test]
fn a_list_of_parts_is_kept_apart() {
    let part = |name: &str| plain(name, 1, mm(100), mm(100), Grain::Lengthwise);
    assert_eq!(Parts::new(Vec::new(), 1), Err(PartsError::HowMany(0)));
    let many = (0..=MOST_PARTS)
        .map(|number| part(&number.to_string()))
        .collect();
    assert_eq!(
        Parts::new(many, 1),
        Err(PartsError::HowMany(MOST_PARTS + 1))
    );
    assert_eq!(
        Parts::new(vec![part("Cuff"), part("cuff")], 1),
        Err(PartsError::SameName("Cuff".to_owned()))
    );
    assert!(matches!(
        Parts::new(vec![part("cuff")], 0),
        Err(PartsError::Quantity(_))
    ));
}

/// By hand: rows of 44, 30 and 30 cm find a place in 60 and 44 cm, not in 54 and 50 cm, though that is as much.
#[test]
fn rows_go_whole_into_the_lengths_that_are_there() {
    let parts = vec![
        plain("front", 2, mm(300), mm(500), Grain::Lengthwise),
        plain("back", 1, mm(440), mm(800), Grain::Lengthwise),
    ];
    let parts = Parts::new(parts, 1).unwrap();
    let missing = |lengths: &[i64]| {
        let lengths: Vec<_> = lengths.iter().copied().map(mm).collect();
        parts.missing(1, mm(900), &lengths).unwrap()
    };
    assert_eq!(missing(&[600, 440]), mm(0));
    assert_eq!(missing(&[540, 500]), mm(300));
    assert_eq!(missing(&[440]), mm(600));
    assert_eq!(missing(&[]), mm(1_040));
}

#[test]
fn an_area_is_reported_in_both_systems() {
    // 1 yd² = 0.836 127 36 m² by definition of the yard.
    for (area, metric, imperial, wire) in [
        (88_000_000_000, "0.088 m²", "0.1052 yd²", "0.088"),
        (836_127_360_000, "0.8361 m²", "1.00 yd²", "0.836127"),
        (0, "0.00 m²", "0.00 yd²", "0.00"),
    ] {
        assert_eq!(show_area(area, Units::Metric), metric);
        assert_eq!(show_area(area, Units::Imperial), imperial);
        assert_eq!(decimal_m2(area), wire);
    }
}

fn shrinkage(length: &str, width: &str) -> Chosen {
    let stated = Stated {
        length: length.parse().ok(),
        width: width.parse().ok(),
    };
    choose(&Candidates {
        preparation: Preparation::Washed { times: 1 },
        tests: &[],
        pinned: None,
        stated,
        fibres: &[],
        construction: None,
    })
    .unwrap()
}

fn fit(parts: Parts, full: Micrometres, most: Option<Micrometres>) -> Result<Vec<String>, Misfit> {
    let preparation = Some(Preparation::Washed { times: 1 });
    let demand = ClothDemand {
        lengths: Lengths::Parts(parts),
        most,
        preparation,
    };
    let rectangle = Rectangle {
        full,
        selvedges: Micrometres::ZERO,
    };
    let facts = ClothFacts {
        rectangle,
        preparation: None,
        shrinkage: Ok(shrinkage("4%", "2%")),
    };
    let rule = CuttingRule {
        step: mm(10),
        end_allowance: Micrometres::ZERO,
    };
    fit_cloth(&demand, &facts, rule).map(|fit| {
        let mut report = vec![fit.takes.show(Units::Metric)];
        report.extend(fit.steps(Units::Metric));
        report.extend(fit.rounding(Units::Metric));
        report
    })
}

/// By hand: 90 cm shrink to 88.2 cm, where two parts of 44 cm stand; 0.48 m ÷ 0.96 = 0.50 m (ISO 5077 for what 4 % is of).
#[test]
fn parts_are_laid_on_the_width_that_is_left_after_the_wash() {
    let parts = || {
        Parts::new(
            vec![plain("front", 2, mm(480), mm(440), Grain::Lengthwise)],
            1,
        )
        .unwrap()
    };
    let report = fit(parts(), mm(900), None).unwrap();
    assert_eq!(report[0], "0.50 m");
    assert_eq!(
        report[1],
        "2 × front, 48 × 44 cm: 2 to a row at 88.2 cm, 1 row of 48 cm"
    );
    // 89 cm shrink to 87.22 cm: one beside another no more.
    assert_eq!(fit(parts(), mm(890), None).unwrap()[0], "1.00 m");
    let split = fit(parts(), mm(890), Some(mm(480))).unwrap();
    assert_eq!(split[0], "0.50 m");
    assert!(
        split.contains(&"of this length 0.48 m are asked of this piece".to_owned()),
        "{split:?}"
    );
    let narrow = fit(parts(), mm(440), None).unwrap_err();
    assert_eq!(
        narrow.to_string(),
        "43.12 cm usable after preparation, the part front takes 44 cm"
    );
}

fn grains() -> impl Strategy<Value = Grain> {
    prop_oneof![
        Just(Grain::Lengthwise),
        Just(Grain::Crosswise),
        Just(Grain::Bias)
    ]
}

fn some_parts() -> impl Strategy<Value = Vec<Part>> {
    let part = (1_i64..40, 1_000_i64..700_000, 1_000_i64..700_000, grains());
    prop::collection::vec(part, 1..6).prop_map(|parts| {
        let named = parts.into_iter().enumerate();
        named
            .map(|(n, (count, l, w, grain))| plain(&n.to_string(), count, um(l), um(w), grain))
            .collect()
    })
}

proptest! {
    /// The rows are never shorter than the area allows, and wider cloth never needs more.
    #[test]
    fn rows_are_enough_and_wider_cloth_needs_no_more(
        parts in some_parts(), width in 1_000_000_i64..2_000_000, wider in 0_i64..1_000_000
    ) {
        let parts = Parts::new(parts, 1).unwrap();
        let laid = parts.laid(um(width)).unwrap();
        prop_assert!(laid.length >= laid.least && laid.width <= um(width));
        prop_assert!(i128::from(laid.length.get()) * i128::from(width) >= laid.area_um2);
        let wide = parts.laid(um(width + wider)).unwrap();
        prop_assert!(wide.length <= laid.length && wide.least <= laid.least);
        // At the width of its widest row nothing changes.
        prop_assert_eq!(parts.laid(laid.width).unwrap().length, laid.length);
        prop_assert!(parts.tallest().unwrap() <= laid.length && parts.widest().unwrap() <= laid.width);
    }

    /// Every part has a place in its rows, and no row is idle.
    #[test]
    fn rows_hold_every_part(parts in some_parts(), width in 1_000_000_i64..2_000_000, garments in 1_i64..9) {
        let laid = Parts::new(parts, garments).unwrap().laid(um(width)).unwrap();
        for rows in &laid.parts {
            let extent = rows.part.extent().unwrap();
            prop_assert_eq!(rows.count, rows.part.count() * garments);
            prop_assert!(rows.per_row * rows.rows >= rows.count && rows.per_row * (rows.rows - 1) < rows.count);
            prop_assert!(rows.per_row * extent.across.get() <= width);
        }
    }

    /// One part more never needs less in rows; garments laid together never need more than each alone.
    #[test]
    fn more_parts_never_need_less(parts in some_parts(), width in 1_000_000_i64..2_000_000, garments in 1_i64..9) {
        let all = Parts::new(parts.clone(), 1).unwrap();
        let length = |parts: &Parts| parts.laid(um(width)).unwrap().length.get();
        let together = length(&Parts::new(parts.clone(), garments).unwrap());
        prop_assert!(together <= length(&all) * garments);
        let rows = |parts: &Parts| parts.laid(um(width)).unwrap().rows;
        let fewer = &parts[..parts.len() - 1];
        if !fewer.is_empty() {
            prop_assert!(rows(&Parts::new(fewer.to_vec(), 1).unwrap()) <= rows(&all));
        }
    }

    /// The square around a part on the bias is the least whole one.
    #[test]
    fn a_bias_square_is_the_least(length in 1_i64..10_000_000, width in 1_i64..10_000_000) {
        let side = i128::from(plain("tab", 1, um(length), um(width), Grain::Bias).extent().unwrap().along.get());
        let square = i128::from(length + width).pow(2);
        prop_assert!(2 * side * side >= square && 2 * (side - 1) * (side - 1) < square);
    }

    /// Rows find a place in one length of their sum, and no more of them than the lengths hold.
    #[test]
    fn rows_take_no_more_than_is_there(
        parts in some_parts(), width in 1_000_000_i64..2_000_000, lengths in prop::collection::vec(0_i64..3_000_000, 0..5)
    ) {
        let parts = Parts::new(parts, 1).unwrap();
        let whole = parts.laid(um(width)).unwrap().length;
        let there: i64 = lengths.iter().sum();
        let lengths: Vec<_> = lengths.into_iter().map(um).collect();
        let missing = parts.missing(1, um(width), &lengths).unwrap();
        prop_assert!(missing <= whole && whole.get() - missing.get() <= there);
        prop_assert_eq!(parts.missing(1, um(width), &[whole]).unwrap(), Micrometres::ZERO);
        prop_assert_eq!(parts.missing(1, um(width), &[]).unwrap(), whole);
    }
}

/// Two fronts of 48 × 44 cm: by hand one row of 48 cm at 90 cm, two at 50 cm; their area is 0.4224 m², 70.4 cm at 60 cm.
#[test]
fn an_own_lay_counts_from_its_width_on() {
    let fronts = |garments| {
        let front = plain("front", 2, mm(480), mm(440), Grain::Lengthwise);
        Parts::new(vec![front], garments).unwrap()
    };
    let own = |length, width: Option<i64>| WidthLength {
        length: mm(length),
        width: width.map(mm),
    };
    let parts = fronts(1).with_own(own(800, Some(600))).unwrap();
    for (usable, length, rows, width) in [
        (500, 960, 960, 440),
        (599, 960, 960, 440),
        (600, 800, 960, 600),
        (900, 800, 480, 600),
    ] {
        let laid = parts.laid(mm(usable)).unwrap();
        assert_eq!(
            (laid.length, laid.rows, laid.width),
            (mm(length), mm(rows), mm(width)),
            "{usable}"
        );
        assert_eq!(laid.own.is_some(), usable >= 600);
    }
    let steps = parts.laid(mm(900)).unwrap().steps(Units::Metric);
    assert!(
        steps[1].starts_with("rows together 0.48 m at 90 cm"),
        "{steps:?}"
    );
    assert_eq!(
        steps[2],
        "your own lay of 0.80 m at 60 cm counts instead of the rows"
    );
    // Those of a batch follow one another.
    let three = fronts(3).with_own(own(800, Some(600))).unwrap();
    assert_eq!(three.laid(mm(600)).unwrap().length, mm(2_400));
    // Without a width it is for any on which the parts have room: 0.4224 m² are 46.93 cm at 90 cm, but 93.87 cm at 45 cm, so
    // that the rows count there.
    let any = fronts(1).with_own(own(500, None)).unwrap();
    assert_eq!(any.laid(mm(900)).unwrap().length, mm(500));
    let narrow = any.laid(mm(450)).unwrap();
    assert_eq!((narrow.length, narrow.own), (narrow.rows, None));
    // Nothing lies on less than its area, nor on what is narrower than a part.
    for (length, width, why) in [
        (
            703,
            600,
            "0.703 m at 60 cm cannot hold the parts: their area alone takes 0.704 m",
        ),
        (
            800,
            430,
            "0.80 m at 43 cm cannot hold the parts: the part front is wider than the cloth",
        ),
    ] {
        let refused = fronts(1).with_own(own(length, Some(width))).unwrap_err();
        assert_eq!(refused.to_string(), why);
    }
    assert!(fronts(1).with_own(own(704, Some(600))).is_ok());
}
