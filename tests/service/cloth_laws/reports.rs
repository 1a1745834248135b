//! Every report of a book at once, to be held against those of another or of another day.

use crate::book::TestBook;
use ellwand_contract::{
    audit::RunAudit,
    costs::GetCost,
    garments::{GetCandidates, GetGarment, ListGarments},
    lots::GetLot,
    parties::{ListCustomers, ListSuppliers},
    purchases::{GetPurchase, ListPurchases},
    sheets::ListMaterials,
    shelf::GetShelf,
};
use serde_json::{Map, Value, json};

/// Codes that are counted on with each act, and texts that name them.
const COUNTED_ON: [&str; 4] = ["version", "booking", "reservation", "more_ended"];

/// The reports by name, without bookings, what ended, and pieces of which nothing is left: the history has those.
pub fn reports(book: &TestBook) -> Map<String, Value> {
    let mut all = Map::new();
    let mut add = |name: String, report: Value| all.insert(name, report);
    add(
        "shelf".into(),
        json!(book.ask::<GetShelf>(json!({"limit": 500})).unwrap()),
    );
    add(
        "materials".into(),
        json!(book.ask::<ListMaterials>(json!({})).unwrap()),
    );
    add(
        "suppliers".into(),
        json!(book.ask::<ListSuppliers>(json!({})).unwrap()),
    );
    add(
        "customers".into(),
        json!(book.ask::<ListCustomers>(json!({})).unwrap()),
    );
    add(
        "garments".into(),
        json!(book.ask::<ListGarments>(json!({})).unwrap()),
    );
    add(
        "purchases".into(),
        json!(book.ask::<ListPurchases>(json!({})).unwrap()),
    );
    let codes = |letter: char| (1..).map(move |number| format!("{letter}{number}"));
    for lot in codes('L') {
        let Ok(report) = book.ask::<GetLot>(json!({"lot": lot})) else {
            break;
        };
        add(lot, json!(report));
    }
    for purchase in codes('P') {
        let Ok(report) = book.ask::<GetPurchase>(json!({"purchase": purchase})) else {
            break;
        };
        add(purchase, json!(report));
    }
    for garment in codes('G') {
        let asked = json!({"garment": garment});
        let Ok(report) = book.ask::<GetGarment>(asked.clone()) else {
            break;
        };
        add(
            format!("cost of {garment}"),
            json!(book.ask::<GetCost>(asked.clone()).unwrap()),
        );
        if let Ok(candidates) = book.ask::<GetCandidates>(asked) {
            add(format!("candidates of {garment}"), json!(candidates));
        }
        add(garment, json!(report));
    }
    all.values_mut().for_each(clean);
    let audit = book.ask::<RunAudit>(json!({})).unwrap();
    all.insert("audit".into(), json!(audit.findings));
    all
}

fn clean(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.retain(|name, _| !COUNTED_ON.contains(&name.as_str()));
            if let Some(Value::Array(promises)) = fields.get_mut("reservations") {
                promises.retain(|promise| promise["state"] == "active");
            }
            if let Some(Value::Array(pieces)) = fields.get_mut("pieces") {
                // The codes alone hold those, too.
                pieces.retain(|piece| piece.is_object() && piece["on_hand"]["length_m"] != "0");
            }
            fields.values_mut().for_each(clean);
            if let Some(Value::Array(promises)) = fields.get_mut("reservations") {
                promises.sort_by_key(ToString::to_string);
            }
        }
        Value::Array(list) => list.iter_mut().for_each(clean),
        _ => {}
    }
}

/// Takes fields of these names out, wherever they are.
pub fn without(value: &mut Value, names: &[&str]) {
    match value {
        Value::Object(fields) => {
            fields.retain(|name, _| !names.contains(&name.as_str()));
            fields.values_mut().for_each(|value| without(value, names));
        }
        Value::Array(list) => list.iter_mut().for_each(|value| without(value, names)),
        _ => {}
    }
}

/// Where two reports differ, and how.
pub fn differences(path: &str, one: &Value, other: &Value) -> Vec<String> {
    match (one, other) {
        (Value::Object(left), Value::Object(right)) => {
            let mut names: Vec<&String> = left.keys().chain(right.keys()).collect();
            names.sort_unstable();
            names.dedup();
            let field = |fields: &Map<String, Value>, name: &str| {
                fields.get(name).cloned().unwrap_or_default()
            };
            names
                .iter()
                .flat_map(|name| {
                    differences(
                        &format!("{path}/{name}"),
                        &field(left, name),
                        &field(right, name),
                    )
                })
                .collect()
        }
        (Value::Array(left), Value::Array(right)) if left.len() == right.len() => {
            let both = left.iter().zip(right).enumerate();
            both.flat_map(|(at, (one, other))| differences(&format!("{path}/{at}"), one, other))
                .collect()
        }
        _ if one == other => Vec::new(),
        _ => vec![format!("{path}: {one} became {other}")],
    }
}
