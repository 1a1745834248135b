//! Bars on instances from garment making (`tests/data/esicup`).

use super::{budget, esicup, searched};
use ellwand_domain::lay::{Lay, LayCloth};
use ellwand_lay::first;

/// Area of the parts × 100 / (width × length).
fn utilisation(lay: &Lay, cloth: LayCloth) -> f64 {
    let square = cloth.usable.get() as f64 * lay.length().get() as f64;
    lay.area_um2() as f64 * 100.0 / square
}

/// A left-bottom-fill of another program reaches 78.0–78.3 and 60.2–63.5 % (measured).
#[test]
fn the_first_answer_is_a_good_start() {
    for (instance, bar) in [
        (esicup::SHIRTS, 76.0),
        (esicup::SWIM, 58.0),
        (esicup::ALBANO, 72.0),
    ] {
        let (parts, cloth) = instance.parts();
        let share = utilisation(&first(&parts, cloth).unwrap(), cloth);
        assert!(share >= bar, "{}: {share}", instance.name);
    }
}

/// Far below what 5 seconds reach, and above every first answer.
#[test]
fn a_short_search_is_better_than_the_first_answer() {
    for (instance, bar) in [(esicup::SHIRTS, 79.4), (esicup::ALBANO, 80.0)] {
        let (parts, cloth) = instance.parts();
        let lay = searched(&parts, cloth, budget(200_000, 1), None).lay;
        let share = utilisation(&lay, cloth);
        assert!(share >= bar, "{}: {share}", instance.name);
    }
}

/// Table of `tests/data/esicup/README.md`: areas 2160 and 42656785 in squares of their units; albano's is on a grid of 0.3 mm.
#[test]
fn instances_are_read_whole() {
    let area = |instance: esicup::Instance, unit: f64| {
        let (parts, cloth) = instance.parts();
        first(&parts, cloth).unwrap().area_um2() as f64 / unit / unit
    };
    assert!((area(esicup::SHIRTS, 40_000.0) - 2160.0).abs() < 0.01);
    assert!((area(esicup::ALBANO, 300.0) - 42_656_785.0).abs() < 1.0);
}
