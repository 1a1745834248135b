//! Machine stitches: published examples, printed formulas and the table of ratios, with ends and waste.

use super::{hundredths, inches, plain, plan, ratio, um};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Micrometres, Units},
    thread::{
        Allowance, Density, Measures, Method, Printed, Sample, Seam, Split, machine_stitches,
    },
};

#[test]
fn printed_formulas_give_their_printed_results() {
    // e-1, e-2, textilecalculations.com.
    assert_eq!(ratio(&inches("101", 9, "0.005in")), hundredths(309));
    assert_eq!(ratio(&inches("301", 10, "0.01in")), hundredths(220));
    // e-3, a thread maker's bulletin (web archive, 16 Feb 2008), chart.
    for (thickness, expected) in [("0.060in", 496), ("0.065in", 504), ("0.070in", 512)] {
        assert_eq!(
            ratio(&inches("401", 8, thickness)),
            hundredths(expected),
            "{thickness}"
        );
    }
    // e-4, textilecalculation.blogspot.com Jul 2015: 4.5, and 3240 in = 82.30 m on 20 yd.
    let mut seam = inches("401", 10, "0.025in");
    assert_eq!(ratio(&seam), hundredths(450));
    seam.measures.length = Some(um("20yd"));
    assert_eq!(seam.thread().unwrap().total, um("3240in"));
    assert_eq!(um("3240in").get(), 82_296_000);
}

#[test]
fn a_ratio_is_shared_by_needle_and_bobbin() {
    // e-5, melgeecrafts.com: 220 cm at 2.5 are 550 cm, half and half.
    let mut seam = plain("301");
    seam.measures.length = Some(um("220cm"));
    let thread = seam.thread().unwrap();
    assert_eq!(
        (thread.needle, thread.under, thread.total),
        (um("275cm"), um("275cm"), um("550cm"))
    );
    assert_eq!(
        (thread.method, thread.method.certainty()),
        (Method::Ratio, Certainty::Estimated)
    );
}

#[test]
fn a_sample_comes_before_formula_and_ratio() {
    // e-6, scribd 75439238: 3 in gave 9 in of needle and 8 in of looper thread; 1.17 yd, 15 % waste.
    let mut seam = inches("401", 8, "0.06in");
    seam.measures.length = Some(um("1.17yd"));
    seam.sample = Some(Sample::new(um("3in"), um("9in"), um("8in")).unwrap());
    let thread = seam.thread().unwrap();
    assert_eq!(
        (thread.needle, thread.under, thread.total),
        (um("3.51yd"), um("3.12yd"), um("6.63yd"))
    );
    assert_eq!(
        (thread.method.certainty(), thread.split),
        (Certainty::Measured, Split::Measured)
    );
    let plan = plan(
        thread,
        Allowance {
            ends: Micrometres::ZERO,
            ..Allowance::USUAL
        },
    );
    // 7.6245 yd, printed as 7.62.
    assert_eq!(plan.sum("thread").unwrap().unwrap().total, um("7.6245yd"));
    // e-9, stitchinglife2.wordpress.com 2010-10-04: 15 in for 11.25 in of running stitch, and for 12.5 in of a laid thread.
    for (line, expected) in [("11.25in", "1.333"), ("12.5in", "1.2")] {
        let sample = Some(Sample::new(um(line), um("15in"), Micrometres::ZERO).unwrap());
        let measured = Seam {
            sample,
            ..plain("running")
        };
        assert_eq!(measured.thread().unwrap().ratio.unwrap().show(), expected);
    }
}

#[test]
fn metric_measures_give_the_computed_examples() {
    let metric = |per_cm: &str, thickness: &str| {
        let density = Some(Density::parse_per_cm(per_cm).unwrap());
        let measures = Measures {
            density,
            thickness: Some(um(thickness)),
            ..plain("301").measures
        };
        Seam {
            measures,
            ..plain("301")
        }
        .thread()
        .unwrap()
        .total
    };
    // e-7, e-8, computed from the formula of 301.
    assert_eq!(metric("4", "0.4mm"), um("2.32m"));
    assert_eq!(
        (metric("4", "1mm"), metric("6", "1mm")),
        (um("2.8m"), um("3.2m"))
    );
    // The length of a stitch says the same.
    assert_eq!(
        Density::of_step(um("2.5mm")).unwrap(),
        Density::parse_per_cm("4").unwrap()
    );
}

#[test]
fn ends_and_waste_are_added_in_this_order() {
    // e-11, computed: (30 + 0.8) × 1.15.
    let mut seam = Seam {
        count: 8,
        ..plain("301")
    };
    seam.measures.length = Some(um("1.5m"));
    let plan = plan(seam.thread().unwrap(), Allowance::USUAL);
    let sum = plan.sum("thread").unwrap().unwrap();
    assert_eq!((sum.sum, sum.tails, sum.ends), (um("30m"), 32, um("0.8m")));
    assert_eq!((sum.waste, sum.total), (um("4.62m"), um("35.42m")));
    assert_eq!(
        sum.steps(plan.allowance, Units::Metric),
        [
            "30.00 m in the seams",
            "32 ends of 25 mm = 0.80 m, together 30.80 m",
            "30.80 m + 15 % for waste = 35.42 m"
        ]
    );
    assert_eq!(plan.roles(), ["thread"]);
    assert_eq!(plan.sum("bobbin").unwrap(), None);
}

/// `thread_ratio.csv`: scribd doc 194966618, a table credited to Carr & Latham; shares of 101 and 301 goldnfiber.com 2019, the
/// others from memory.
#[test]
fn every_row_of_the_table_of_ratios_stands() {
    let mut rows = 0;
    for line in include_str!("thread_ratio.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let class: u16 = cells[0].parse().unwrap();
        let stitch = machine_stitches()
            .iter()
            .find(|stitch| stitch.class == class)
            .unwrap();
        let tenths = cells[1].parse::<i128>().ok();
        assert_eq!(
            stitch.ratio().map(|ratio| ratio.parts()),
            tenths.map(|n| hundredths(n * 10)),
            "{line}"
        );
        assert_eq!(
            i64::from(stitch.needles),
            cells[2].parse::<i64>().unwrap(),
            "{line}"
        );
        assert_eq!(
            stitch.share.map(|share| share.needle_percent),
            cells[3].parse().ok(),
            "{line}"
        );
        let from_memory = stitch
            .share
            .is_some_and(|share| share.status == Printed::FromMemory);
        assert_eq!(
            from_memory,
            tenths.is_some() && ![101, 301].contains(&class),
            "{line}"
        );
        rows += 1;
    }
    assert_eq!(
        (rows, machine_stitches().len()),
        (12, 13),
        "and 103, of which there is no row"
    );
}

/// The formulas as printed (see `Formula`), worked out in tenths of a millimetre: T 0.8 mm, W 5 mm, 4 stitches on 10 mm.
#[test]
fn every_formula_is_the_printed_one() {
    let (t, w, s) = (8_i128, 50_i128, 4_i128);
    // Over 100 tenths of a millimetre.
    for (class, expected) in [
        ("101", 3 * 100 + 2 * t * s),
        ("209", 100 + t * s),
        ("301", 2 * 100 + 2 * t * s),
        ("401", 4 * 100 + 2 * t * s),
        ("406", 7 * 100 + 2 * s * (t + w)),
        ("504", 5 * 100 + 4 * s * (w + t)),
        ("514", 5 * 100 + 2 * s * (3 * t + 2 * w)),
        ("516", 9 * 100 + 2 * s * (2 * w + 3 * t)),
        ("602", 8 * 100 + s * (5 * w + 4 * t)),
        ("605", 10 * 100 + 2 * s * (2 * w + 3 * t)),
    ] {
        let measures = Measures {
            density: Some(Density::parse_per_cm("4").unwrap()),
            thickness: Some(um("0.8mm")),
            width: Some(um("5mm")),
            ..plain(class).measures
        };
        let seam = Seam {
            measures,
            ..plain(class)
        };
        assert_eq!(ratio(&seam), hundredths(expected), "{class}");
        let method = if class == "209" {
            Method::Geometry
        } else {
            Method::Formula
        };
        assert_eq!(seam.thread().unwrap().method, method, "{class}");
    }
    let printed: Vec<String> = machine_stitches()
        .iter()
        .filter_map(|stitch| Some(stitch.formula?.show()))
        .collect();
    assert_eq!(printed[2], "2 + 2·S·T");
    assert_eq!(printed[7], "9 + S·(6·T + 4·W)", "516, multiplied out");
    // 503 and 512 have a ratio only; its measures change nothing.
    for class in ["503", "512"] {
        assert_eq!(
            inches(class, 10, "1mm").thread().unwrap().method,
            Method::Ratio
        );
    }
}
