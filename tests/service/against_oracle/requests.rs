//! The requests that acts become, and what stands in them.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::oracle::{Act, ActId, Key, Kind, Line, PieceId};

/// Names of the materials, by the oracle's number.
pub const MATERIALS: [(&str, &str); 4] = [
    ("cloth", "linen"),
    ("cloth", "wool"),
    ("trim", "buttons"),
    ("thread", "silk"),
];

/// A length or count as a person types it.
pub fn typed(material: usize, quantity: i128) -> String {
    if material == 2 {
        format!("{quantity} pcs")
    } else {
        format!("{}.{:06}m", quantity / 1_000_000, quantity % 1_000_000)
    }
}

/// An amount with two digits.
pub fn money(minor: i128) -> String {
    format!(
        "{}{}.{:02}",
        if minor < 0 { "-" } else { "" },
        minor.abs() / 100,
        minor.abs() % 100
    )
}

/// A day of October 2026 by its number; 0 is the last of September.
pub fn date(day: i32) -> String {
    if day > 0 {
        format!("2026-10-{day:02}")
    } else {
        format!("2026-09-{:02}", 30 + day)
    }
}

/// The role that a material plays in every garment here.
pub fn role(material: usize) -> &'static str {
    ["shell", "shell", "buttons", "thread"][material]
}

/// What the shell of a garment needs: with the end allowance of 4 cm a whole number of cutting steps, kept apart by the garment.
pub fn shell_length(plan: ActId) -> i128 {
    460_000 + 50_000 * i128::try_from(plan % 7).unwrap()
}

/// What every garment here needs.
pub fn needs(id: ActId) -> Value {
    json!([
        {"role": "shell", "kind": "cloth", "length": typed(0, shell_length(id)), "width": "100cm", "preparation": "none", "mixing": true},
        {"role": "buttons", "kind": "trim", "count": 6, "mixing": true},
        {"role": "thread", "kind": "thread", "length": "40m", "mixing": true},
    ])
}

/// The key of a charge.
pub fn share(key: Key, lines: &[Line]) -> &'static str {
    match key {
        Key::Value => "value",
        Key::Quantity if lines[0].material == 2 => "count",
        Key::Quantity => "length",
    }
}

/// A purchase.
pub fn buy(lines: &[Line], charge: Option<(Key, i128)>) -> Value {
    let line = |line: &Line| {
        let (kind, name) = MATERIALS[line.material];
        let mut material = json!({"kind": kind, "name": name});
        match (line.kind, line.material) {
            (Kind::Cloth, _) => material["full_width"] = json!("150cm"),
            (Kind::Pooled, 2) => material["unit"] = json!("count"),
            (Kind::Pooled, _) => material["yarn_count"] = json!("30tex"),
        }
        json!({"material": material, "paid": typed(line.material, line.quantity), "price": money(line.price)})
    };
    let charges: Vec<Value> = charge
        .map(|(key, amount)| json!({"kind": if amount < 0 { "discount" } else { "freight" }, "amount": money(amount), "share": share(key, lines)}))
        .into_iter()
        .collect();
    json!({"supplier": "Stall", "date": date(1), "line": lines.iter().map(line).collect::<Vec<_>>(), "charge": charges})
}

/// The lot of a piece's code.
pub fn lot_of(piece: &str) -> String {
    piece.split('.').next().unwrap_or(piece).to_owned()
}

/// The material of a piece, by the line that its lot was bought on.
pub fn material(acts: &[Act], piece: PieceId, codes: &BTreeMap<PieceId, String>) -> usize {
    let lot = lot_of(&codes[&piece]);
    let first = codes
        .iter()
        .find(|(_, code)| **code == format!("{lot}.1"))
        .map(|(first, _)| *first);
    match first.map(|PieceId(act, line)| (&acts[act], line)) {
        Some((Act::Buy { lines, .. }, line)) => lines[line].material,
        _ => unreachable!("every lot's first piece was bought"),
    }
}
