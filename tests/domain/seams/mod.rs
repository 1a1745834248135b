//! The thread of seams: published examples, the tables of ratios and hand stitches, and what must hold of any seam.

mod hand;
mod machine;
mod refused;

use ellwand_domain::{
    quantity::Micrometres,
    thread::{Allowance, Density, Measures, Roles, Seam, SeamPlan, SeamThread, Stitch},
};

fn um(text: &str) -> Micrometres {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// A seam of a metre, with nothing measured.
fn plain(stitch: &str) -> Seam {
    Seam {
        stitch: Stitch::parse(stitch).unwrap(),
        count: 1,
        measures: Measures {
            length: Some(Micrometres::METRE),
            ..Measures::default()
        },
        sample: None,
        each: None,
        needle_share: None,
    }
}

/// `per` stitches in an inch through a thickness.
fn inches(stitch: &str, per: i64, thickness: &str) -> Seam {
    let density = Density::per_inch(per).unwrap();
    let measures = Measures {
        density: Some(density),
        thickness: Some(um(thickness)),
        ..plain(stitch).measures
    };
    Seam {
        measures,
        ..plain(stitch)
    }
}

fn ratio(seam: &Seam) -> (i128, i128) {
    seam.thread().unwrap().ratio.unwrap().parts()
}

/// Hundredths as a reduced fraction.
fn hundredths(n: i128) -> (i128, i128) {
    let ratio = ellwand_domain::thread::ThreadRatio::new(n, 100).unwrap();
    ratio.parts()
}

fn plan(thread: SeamThread, allowance: Allowance) -> SeamPlan {
    SeamPlan {
        seams: vec![Roles {
            needle: "thread".into(),
            under: "Thread".into(),
            thread,
        }],
        allowance,
    }
}
