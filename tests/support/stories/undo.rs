//! A shelf on which acts are taken back.

use crate::Workshop;
use serde_json::Value;

pub fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24",
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=5%/2%'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1.50m,width=140cm,preparation=none' \
             --operation 'name=sewing,kind=hand,planned=3h'",
    ]);
    workshop
}

/// A garment without its version, which goes on with every booking.
pub fn as_it_is(mut garment: Value) -> Value {
    garment.as_object_mut().unwrap().remove("version").unwrap();
    garment
}

pub fn promises(workshop: &Workshop) -> Vec<Value> {
    let shown = workshop.json("garment show G1")["needs"][0]["reservations"].clone();
    let active = |promise: &&Value| promise["state"] == "active";
    shown
        .as_array()
        .unwrap()
        .iter()
        .filter(active)
        .cloned()
        .collect()
}
