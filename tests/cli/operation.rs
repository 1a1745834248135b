//! `ellwand operation`: usual operations.

use crate::Workshop;
use serde_json::json;

#[test]
fn usual_operations_are_one_a_name_whatever_its_capitals() {
    let workshop = Workshop::new();
    assert!(
        workshop
            .run("operation list")
            .done()
            .err
            .contains("No usual operations yet.")
    );
    workshop.all(&[
        "operation set 'Set in  sleeves' --minutes 1h20 --kind machine",
        "operation set letters --minutes 15m --kind admin",
        "operation set hem --minutes 45m --unbillable",
    ]);
    let row = |name: &str, kind: &str, minutes: i64, billable: bool| json!({"name": name, "kind": kind, "minutes": minutes, "billable": billable});
    let hem = row("hem", "hand", 45, false);
    let all = json!([
        hem,
        row("letters", "admin", 15, false),
        row("Set in sleeves", "machine", 80, true)
    ]);
    assert_eq!(workshop.json("operation list")["operations"], all);
    // What is not given stays.
    assert_eq!(
        workshop.json("operation set HEM --minutes 50m"),
        row("HEM", "hand", 50, false)
    );
    assert_eq!(
        workshop.json("operation set hem --minutes 50m --billable"),
        row("hem", "hand", 50, true)
    );
    workshop.all(&["operation forget LETTERS"]);
    let shown = workshop.run("operation list").done().out;
    assert!(
        shown.contains("1 h 20 min") && !shown.contains("letters"),
        "{shown}"
    );
    workshop.all(&["undo --yes"]);
    assert_eq!(
        workshop.json("operation list")["operations"][1]["name"],
        "letters"
    );
}
