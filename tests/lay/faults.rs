//! What cannot be laid is refused by name.

use super::{budget, cloth, rectangle};
use ellwand_domain::{lay::LayCloth, quantity::Micrometres, setting::Grain};
use ellwand_lay::{LayFault, first, search};
use std::sync::atomic::AtomicBool;

#[test]
fn nothing_and_too_much_are_refused() {
    assert_eq!(first(&[], cloth(1_400, 0)), Err(LayFault::Nothing));
    assert_eq!(
        first(&[rectangle(0, 10, 10)], cloth(1_400, 0)),
        Err(LayFault::Nothing)
    );
    let many = [rectangle(400, 10, 10), rectangle(1, 20, 10)];
    assert_eq!(first(&many, cloth(1_400, 0)), Err(LayFault::TooMany(401)));
    assert_eq!(
        LayFault::TooMany(401).to_string(),
        "401 parts are more than are laid together: at most 400"
    );
}

#[test]
fn a_part_that_is_wider_than_the_cloth_is_named() {
    let mut wide = rectangle(1, 500, 1_500);
    let parts = |wide| [rectangle(1, 200, 200), wide];
    let fault = first(&parts(wide.clone()), cloth(1_400, 0)).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "500 × 1500 is 150 cm wide, and the cloth 140 cm"
    );
    // Across the cloth it is 50 cm wide.
    wide.grain = Grain::Crosswise;
    assert!(first(&parts(wide.clone()), cloth(1_400, 0)).is_ok());
    // On the bias (500 + 1500) / √2 = 1414.2 mm.
    wide.grain = Grain::Bias;
    let fault = first(&parts(wide), cloth(1_400, 0)).unwrap_err();
    assert!(
        matches!(fault, LayFault::TooWide { width, .. } if width.get() / 100 == 14_142),
        "{fault}"
    );
}

/// Two of 30 × 20 cm on 20 cm of cloth take 60 cm.
#[test]
fn cloth_that_ends_too_soon_is_refused() {
    let on = |mm| LayCloth {
        length: Some(Micrometres::from_mm(mm)),
        ..cloth(200, 0)
    };
    let parts = [rectangle(2, 300, 200)];
    assert_eq!(first(&parts, on(600)).unwrap().cloth(), on(600));
    let short = LayFault::TooShort {
        needed: Micrometres::from_mm(600),
        length: Micrometres::from_mm(599),
    };
    assert_eq!(first(&parts, on(599)), Err(short.clone()));
    let cancel = AtomicBool::new(false);
    let found = search(
        &parts,
        on(599),
        budget(1_000, 1),
        None,
        &mut |_| {},
        &cancel,
    );
    assert_eq!(found, Err(short));
}
