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
use serde::Serialize;
use serde_json::{Map, Value, json};

/// Codes that are counted on with each act, and texts that name them.
const COUNTED_ON: [&str; 4] = ["version", "booking", "reservation", "more_ended"];

/// The reports by name, without bookings, what ended, and pieces of which nothing is left: the history has those.
pub fn reports(book: &TestBook) -> Map<String, Value> {
    let mut all = Map::new();
    let mut add = |name: String, report: Value| all.insert(name, report);
    add("shelf".into(), json!(book.ask::<GetShelf>(json!({"limit": 500})).unwrap()));
    add("materials".into(), json!(book.ask::<ListMaterials>(json!({})).unwrap()));
    add("suppliers".into(), json!(book.ask::<ListSuppliers>(json!({})).unwrap()));
    add("customers".into(), json!(book.ask::<ListCustomers>(json!({})).unwrap()));
    add("garments".into(), json!(book.ask::<ListGarments>(json!({})).unwrap()));
    add("purchases".into(), json!(book.ask::<ListPurchases>(json!({})).unwrap()));
    for number in 1..30 {
        let (lot, purchase) = (format!("L{number}"), format!("P{number}"));
        add_answer(&mut add, &lot, book.ask::<GetLot>(json!({"lot": lot})));
        add_answer(&mut add, &purchase, book.ask::<GetPurchase>(json!({"purchase": purchase})));
        let garment = json!({"garment": format!("G{number}")});
        add_answer(&mut add, &format!("G{number}"), book.ask::<GetGarment>(garment.clone()));
        add_answer(&mut add, &format!("cost of G{number}"), book.ask::<GetCost>(garment.clone()));
        add_answer(&mut add, &format!("candidates of G{number}"), book.ask::<GetCandidates>(garment));
    }
    all.values_mut().for_each(clean);
    let audit = book.ask::<RunAudit>(json!({})).unwrap();
    all.insert("audit".into(), json!(audit.findings));
    all
}

fn add_answer<T: Serialize, E>(
    add: &mut impl FnMut(String, Value) -> Option<Value>,
    name: &str,
    answer: Result<T, E>,
) {
    if let Ok(answer) = answer {
        add(name.to_owned(), json!(answer));
    }
}

fn clean(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.retain(|name, _| !COUNTED_ON.contains(&name.as_str()));
            if let Some(Value::Array(promises)) = fields.get_mut("reservations") {
                promises.retain(|promise| promise["state"] == "active");
                promises.sort_by_key(ToString::to_string);
            }
            if let Some(Value::Array(pieces)) = fields.get_mut("pieces") {
                pieces.retain(|piece| piece["on_hand"]["length_m"] != "0");
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
            let field =
                |fields: &Map<String, Value>, name: &str| fields.get(name).cloned().unwrap_or_default();
            names
                .iter()
                .flat_map(|name| {
                    differences(&format!("{path}/{name}"), &field(left, name), &field(right, name))
                })
                .collect()
        }
        (Value::Array(left), Value::Array(right)) if left.len() == right.len() => {
            let both = left.iter().zip(right).enumerate();
            both.flat_map(|(at, (one, other))| differences(&format!("{path}/{at}"), one, other)).collect()
        }
        _ if one == other => Vec::new(),
        _ => vec![format!("{path}: {one} became {other}")],
    }
}
