//! Thread on reels.

use super::GREY;
use crate::Workshop;
use serde_json::Value;

pub fn with_reels(needs: &str, count: u8) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line '{GREY},paid=3 reels,reel-length=100m,price=9'"),
        &format!("buy --line '{GREY},paid=5 reels,reel-length=120m,price=15'"),
        &format!(
            "garment plan shirt --count {count} --need 'role=overlock thread,kind=thread,length=200m,{needs}'"
        ),
    ]);
    workshop
}

pub fn on_hand(lot: &Value) -> Vec<&str> {
    let pieces = lot["pieces"].as_array().unwrap();
    pieces
        .iter()
        .map(|piece| piece["on_hand"]["length_m"].as_str().unwrap())
        .collect()
}
