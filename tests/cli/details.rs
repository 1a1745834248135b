//! `ellwand details`: what details took and were worth.

use crate::stories::options::{planned, quoted};
use serde_json::{Value, json};

#[test]
fn what_a_detail_was_worth_is_held_against_what_it_took() {
    let workshop = planned();
    assert_eq!(workshop.json("details")["details"], json!([]));
    assert!(
        workshop
            .run("details")
            .done()
            .err
            .contains("ellwand garment rate G1"),
        "and says what to do"
    );
    let _ = quoted(&workshop);
    workshop.all(&[
        "quote accept Q1 --version 1 --option 'hand hem' --reserve",
        "cut G1 shell",
        "cut G1 canvas",
        "work G1 sewing 5h",
        "work G1 'hand hem' 2h15",
        "work G1 'hand hem' 30min --reason own-mistake",
        "work G1 'pad stitching' 1h30",
        "work G1 'collar stand' 15min --kind hand --detail COLLAR",
    ]);
    workshop
        .run("work G1 'hand hem' 5min --detail cuff")
        .refused(1, &["is planned for the hem"]);
    workshop
        .run("garment rate G1 hem 4")
        .refused(1, &["G1 is cut-into", "finish it first"]);
    workshop.all(&["garment finish G1"]);
    for (line, words) in [
        ("garment rate G1 hem 0", "0 is not a rating"),
        ("garment rate G1 hem 6", "6 is not a rating"),
        ("garment rate G1 cuff 4", "G1 has no detail cuff"),
    ] {
        workshop.run(line).refused(1, &[words]);
    }
    workshop.all(&["garment rate G1 HEM 4", "garment rate G1 collar 5"]);
    assert_eq!(workshop.json("garment rate G1 hem 2")["before"], 4);
    let listed = workshop.json("details");
    // By hand: 2.25 h at 30.50 for 2 points; 1.75 h and 5.40 of canvas for 5.
    let row = |of: &Value| {
        (
            of["detail"].clone(),
            of["cost"]["median"].clone(),
            of["rated"].clone(),
        )
    };
    assert_eq!(
        row(&listed["details"][0]),
        (json!("hem"), json!("68.625"), json!("2.0"))
    );
    assert_eq!(
        row(&listed["details"][1]),
        (json!("Collar"), json!("58.775"), json!("5.0"))
    );
    assert_eq!(
        listed["details"][0]["minutes"],
        json!({"low": 135, "median": 135, "high": 135})
    );
    assert_eq!(
        workshop.json("details --detail COLLAR")["details"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    // The first rating is in the way of nothing; taking the last back brings it again, and taking that back leaves none.
    let rated = workshop.json("history")["bookings"]
        .as_array()
        .unwrap()
        .clone();
    let [last, collar, first] =
        [0, 1, 2].map(|place| rated[place]["booking"].as_str().unwrap().to_owned());
    workshop
        .run(&format!("undo {first} --yes"))
        .refused(1, &["has been rated again since"]);
    workshop
        .run("undo B15 --yes")
        .refused(1, &["booked on G1 since"]);
    workshop.all(&[&format!("undo {last} --yes")]);
    assert_eq!(
        workshop.json("details --detail hem")["details"][0]["rated"],
        "4.0"
    );
    workshop.all(&[
        &format!("undo {first} --yes"),
        &format!("undo {collar} --yes"),
    ]);
    assert_eq!(workshop.json("details")["details"][0]["rated"], Value::Null);
    workshop.audit();
}
