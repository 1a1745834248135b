//! `ellwand workshop set`: it prints what it changed.

use crate::Workshop;

#[test]
fn only_what_changed_is_shown() {
    let workshop = Workshop::new();
    let set = workshop
        .run("workshop set --cutting-step 2cm --offcut-width 25cm")
        .done();
    assert_eq!(
        set.out,
        "\
setting            value
--------------------------------
cutting step       2 cm
offcuts kept from  30 cm x 25 cm
"
    );
    let one = workshop.run("workshop pay-rate owner 24.00").done();
    assert_eq!(one.out, "", "the sentence says it");
    let two = workshop
        .run("workshop pay-rate owner 26.00 --from 2026-11-01")
        .done();
    assert!(
        two.out.contains("24.00") && two.out.contains("26.00") && !two.out.contains("currency"),
        "{}",
        two.out
    );
    let tax = workshop.run("workshop tax VAT 20%").done();
    assert_eq!(tax.out, "");
    let overhead = workshop.run("workshop overhead 6.50").done();
    assert_eq!(overhead.out, "");
    assert!(workshop.run("workshop").done().out.contains("time zone"));
}
