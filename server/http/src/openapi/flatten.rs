//! Structs that hold another one's fields as their own.

use std::collections::BTreeMap;
use utoipa::openapi::{Object, RefOr, Schema};

/// Turns each `allOf` of objects into one object. Two halves that each refuse unknown fields would refuse each other's.
pub(super) fn flatten(schemas: &mut BTreeMap<String, RefOr<Schema>>) {
    let merged: Vec<_> = schemas
        .iter()
        .filter_map(|(name, schema)| Some((name.clone(), merge(schema, schemas)?)))
        .collect();
    schemas.extend(merged);
}

/// An `allOf` of objects as one object; nothing for another schema.
pub(super) fn merge(
    schema: &RefOr<Schema>,
    all: &BTreeMap<String, RefOr<Schema>>,
) -> Option<RefOr<Schema>> {
    let RefOr::T(Schema::AllOf(all_of)) = schema else {
        return None;
    };
    let parts: Option<Vec<&Object>> = all_of.items.iter().map(|item| object(item, all)).collect();
    let mut whole = Object::default();
    whole.description.clone_from(&all_of.description);
    for part in parts? {
        whole.properties.extend(part.properties.clone());
        whole.required.extend(part.required.iter().cloned());
        if part.additional_properties.is_some() {
            whole
                .additional_properties
                .clone_from(&part.additional_properties);
        }
    }
    Some(RefOr::T(Schema::Object(whole)))
}

fn object<'a>(
    item: &'a RefOr<Schema>,
    all: &'a BTreeMap<String, RefOr<Schema>>,
) -> Option<&'a Object> {
    match item {
        RefOr::T(Schema::Object(object)) => Some(object),
        RefOr::Ref(reference) => match all.get(reference.ref_location.rsplit('/').next()?)? {
            RefOr::T(Schema::Object(object)) => Some(object),
            _ => None,
        },
        RefOr::T(_) => None,
    }
}
