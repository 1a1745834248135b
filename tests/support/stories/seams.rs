//! A shirt with its seams.

use crate::Workshop;
use serde_json::Value;

/// A shirt after e-11 of the reference: 12 m of 301 in eight seams (computed).
pub const SHIRT: &str = "garment plan shirt --seam 'name=side seam,length=1.5m,count=8,stitch=301' \
    --need 'role=thread,kind=thread,seams=yes'";

pub fn length(workshop: &Workshop, garment: &str, role: &str) -> Value {
    let shown = workshop.json(&format!("garment show {garment}"));
    let needs = shown["needs"].as_array().unwrap();
    needs
        .iter()
        .find(|need| need["role"] == role)
        .map_or(Value::Null, |need| need["length_m"].clone())
}
