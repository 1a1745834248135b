//! Shrinkage: ISO 5077's change, the length before from the length after, wash tests, and which source counts.

mod ratio;
mod sources;
mod typical;
mod wash_tests;

use ellwand_domain::{
    cloth::FibreShare,
    quantity::Micrometres,
    shrinkage::{Candidates, Marks, Preparation, Ratio, Stated, WashTest},
};

fn mm(mm: i64) -> Micrometres {
    Micrometres::from_mm(mm)
}

fn percent(text: &str) -> Ratio {
    Ratio::from_ppm(text.parse().unwrap()).unwrap()
}

/// To a tenth of a millimetre, as the examples print.
fn tenth_mm(length: Micrometres) -> i64 {
    (length.get() + 50) / 100
}

fn marks(lengthwise: &[i64], crosswise: &[i64]) -> Marks {
    let um = |readings: &[i64]| {
        readings
            .iter()
            .map(|mm| Micrometres::from_mm(*mm))
            .collect()
    };
    Marks {
        lengthwise: um(lengthwise),
        crosswise: um(crosswise),
    }
}

const WASHED: Preparation = Preparation::Washed { times: 1 };

fn workshop_test() -> WashTest {
    // The worked test, computed from the definition in ISO 5077: 350 → 334/335/333 and 345/346/344 mm.
    let after = marks(&[334, 335, 333], &[345, 346, 344]);
    WashTest::new(WASHED, marks(&[350; 3], &[350; 3]), vec![after]).unwrap()
}

fn cloth(fibres: &[FibreShare]) -> Candidates<'_> {
    let stated = Stated::default();
    Candidates {
        preparation: WASHED,
        tests: &[],
        pinned: None,
        stated,
        fibres,
        construction: None,
    }
}

fn readings(times: u8, lengthwise: &[i64], crosswise: &[i64]) -> WashTest {
    let one = |mm: Option<&i64>| {
        mm.map(|um| Micrometres::new(*um).unwrap())
            .into_iter()
            .collect()
    };
    let at = |index: usize| Marks {
        lengthwise: one(lengthwise.get(index)),
        crosswise: one(crosswise.get(index)),
    };
    let most = lengthwise.len().max(crosswise.len());
    WashTest::new(
        Preparation::Washed { times },
        at(0),
        (1..most).map(at).collect(),
    )
    .unwrap()
}
