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

/// 3/10/2026 is 3 October where the day comes first, and 10 March where the month does.
#[test]
fn dates_with_slashes_are_read_in_the_order_that_was_chosen() {
    let workshop = Workshop::new();
    let plan = "garment plan coat --due 3/12/2026";
    workshop
        .run(plan)
        .refused(2, &["3 December or 12 March", "2026-12-03 or 2026-03-12"]);
    for (order, due) in [("day-first", "2026-12-03"), ("month-first", "2026-03-12")] {
        let set = workshop.run(&format!("workshop set --date-order {order}"));
        assert!(set.done().out.contains(order));
        assert_eq!(workshop.json(plan)["due"], due, "{order}");
    }
    // No month has the number 28.
    workshop
        .run("garment plan coat --due 28/11/2026")
        .refused(2, &["type 2026-11-28"]);
}
