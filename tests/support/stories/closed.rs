//! Books that are closed.

use crate::Workshop;

pub fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-09-10 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan vest --need 'role=shell,kind=cloth,length=1m,width=1m,preparation=none'",
    ]);
    workshop
}

/// Overhead that the work of a period carried, in minutes and in money.
pub fn carried(workshop: &Workshop, from: &str, to: &str) -> (i64, String) {
    let period = workshop.json(&format!("workshop spent --from {from} --to {to}"));
    (
        period["billable_minutes"].as_i64().unwrap(),
        period["applied_printed"].as_str().unwrap().to_owned(),
    )
}
