//! Cloth whose sheet is corrected.

use crate::Workshop;
use serde_json::Value;

/// Linen with a piece of each kind: L1.1 raw, L1.2 washed, L1.3 measured again, L1.4 the strip beside a panel of L1.1, L1.5 cut
/// off L1.2 since.
pub fn cut_up() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=10m,price=100,full-width=150cm,shrinkage=4%/2%'",
        "garment plan shirt --need 'role=shell,kind=cloth,length=1.00m,width=50cm,preparation=none'",
        "lot split L1.1 2m",
        "lot split L1.1 2m",
        "wash done L1.2 --preparation washed --length 1.92m",
        "lot measure L1.3 1.99m --width 149cm",
        "cut G1 shell 1m --from L1.1 --panel 60cm --keep-strip",
        "lot split L1.2 0.50m",
    ]);
    workshop
}

pub fn widths(workshop: &Workshop) -> Vec<(String, String)> {
    let lot = workshop.json("lot show L1");
    let text = |piece: &Value, key: &str| piece[key].as_str().unwrap().to_owned();
    let pieces = lot["pieces"].as_array().unwrap();
    pieces
        .iter()
        .map(|piece| (text(piece, "full_width_m"), text(piece, "usable_width_m")))
        .collect()
}

pub fn notes(answer: &Value) -> String {
    answer["notes"].to_string()
}

pub fn lengths(workshop: &Workshop, lot: &str) -> Vec<String> {
    let lot = workshop.json(&format!("lot show {lot}"));
    let of = |piece: &Value| piece["on_hand"]["length_m"].as_str().unwrap().to_owned();
    lot["pieces"].as_array().unwrap().iter().map(of).collect()
}
