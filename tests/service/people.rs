//! What the hours of people cost, by who they are.

use crate::Workshop;
use serde_json::json;

/// Own hours by the year's figures are on the cost sheet, too: 9 h at 30 000.00 / 1 104 h (costing.md, d-7) are 244.57.
#[test]
fn the_cost_sheet_counts_own_hours_by_the_years_figures_where_there_is_no_rate() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop figures --pay 30000 --overhead 0 --weeks 46 --hours 40h --billable 60%",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=9h'",
        "work G1 sewing 9h --date 2026-10-01",
    ]);
    let sheet = workshop.json("cost G1");
    assert_eq!(
        (
            &sheet["all"]["planned_printed"],
            &sheet["all"]["actual_printed"]
        ),
        (&json!("244.57"), &json!("244.57"))
    );
    assert_eq!(
        workshop.json("quote make G1 --markup 0%")["sheet"]["net"],
        "244.57"
    );
}

/// What was own and is to be wages, or the other way round, changes what finished garments cost: it is asked about.
#[test]
fn the_mark_of_a_person_leaves_final_costs_alone() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24",
        "person set anna --own",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=1h'",
        "work G1 sewing 1h --person anna",
        "garment finish G1",
    ]);
    for line in [
        "person set anna --paid",
        "workshop pay-rate anna 15 --paid --from 2026-10-12",
    ] {
        workshop
            .run(line)
            .refused(1, &["G1 is finished, and its cost is final", "--really"]);
        assert_eq!(workshop.json("person show anna")["paid"], false, "{line}");
    }
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "24.00");
    workshop.all(&["workshop pay-rate anna 15 --paid --really"]);
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "15.00");
}
