//! Seams of a plan and the thread they take.

use crate::Workshop;
use crate::stories::seams::{SHIRT, length};

#[test]
fn a_copy_has_the_seams_of_its_model() {
    let workshop = Workshop::new();
    workshop.all(&[
        SHIRT,
        "garment edit G1 --seam-waste 20%",
        "garment copy G1 --count 3",
    ]);
    let of = |code: &str| {
        let seams = workshop.json(&format!("garment seams {code}"));
        (
            seams["seams"].clone(),
            seams["threads"].clone(),
            seams["waste_percent"].clone(),
        )
    };
    assert_eq!(of("G2"), of("G1"));
    assert_eq!(length(&workshop, "G2", "thread"), "36.96");
    // What becomes of the copy leaves the model alone.
    workshop.all(&["garment edit G2 --seam 'name=hem,length=1m,stitch=301'"]);
    assert_eq!(length(&workshop, "G2", "thread"), "40.08");
    assert_eq!(length(&workshop, "G1", "thread"), "36.96");
}

/// A plan may say the length itself; then the sum stands beside it.
#[test]
fn a_need_with_a_length_of_its_own_keeps_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan shirt --seam 'name=side seam,length=1.5m,count=8,stitch=301' \
         --need 'role=thread,kind=thread,length=100m'",
    ]);
    assert_eq!(length(&workshop, "G1", "thread"), "100");
    let notes = workshop.json("garment seams G1")["notes"].to_string();
    assert!(
        notes.contains("by its own length; with seams=yes it would be 35.42 m"),
        "{notes}"
    );
    workshop.all(&["garment edit G1 --need 'role=thread,kind=thread,seams=yes'"]);
    assert_eq!(length(&workshop, "G1", "thread"), "35.42");
}
