//! `ellwand buy charge`: charges that come after the goods.

use crate::Workshop;

/// Tax that is reclaimed is reported whether it came with the invoice or after it.
#[test]
fn late_tax_that_is_reclaimed_is_reported() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop tax-reclaim yes --from 2026-01-01",
        "buy --line 'material=wool,kind=cloth,paid=10m,price=100.00,full-width=150cm' --charge 'tax=20.00,by=taxed'",
        "buy charge P1 'tax=3.00,by=taxed'",
    ]);
    assert_eq!(workshop.json("buy show P1")["reclaimed_total"], "23.00");
    let shown = workshop.run("buy show P1").done().out;
    assert!(
        shown.contains("23.00 of tax, which is reclaimed"),
        "{shown}"
    );
}
