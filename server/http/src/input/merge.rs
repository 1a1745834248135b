//! Path fields joined with the query or the body.

use super::{PathFields, fault, strict::Strict, unique::Unique};
use ellwand_contract::{Act, Problem, ProblemType};
use serde_json::{Map, Value};

/// An act from path fields and a query.
pub(super) fn from_query<A: Act>(path: &PathFields, query: &str) -> Result<A, Box<Problem>> {
    let mut fields: Vec<(String, String)> = form_urlencoded::parse(query.as_bytes())
        .into_owned()
        .collect();
    for (name, value) in path {
        if let Some((_, other)) = fields
            .iter()
            .find(|(field, other)| field == name && !same(value, other))
        {
            return Err(conflict("query", name, value, other));
        }
        fields.retain(|(field, _)| field != name);
        fields.push((name.clone(), value.clone()));
    }
    let all = form_urlencoded::Serializer::new(String::new())
        .extend_pairs(&fields)
        .finish();
    let reader = serde_urlencoded::Deserializer::new(form_urlencoded::parse(all.as_bytes()));
    serde_path_to_error::deserialize(reader).map_err(|error| fault::of_query(path, &error))
}

/// An act from path fields and a JSON body.
pub(super) fn from_body<A: Act>(
    path: &PathFields,
    version: Option<Value>,
    body: &[u8],
) -> Result<A, Box<Problem>> {
    let refused = |detail: String| Problem::new(ProblemType::InvalidRequest, detail);
    let Unique(value) = serde_json::from_slice(body).map_err(|error| {
        let fault = if error.is_data() {
            "the body cannot be read"
        } else {
            "the body is not JSON"
        };
        refused(format!("{fault}: {error}")).hint("send one JSON object with the fields of the act")
    })?;
    let Value::Object(mut fields) = value else {
        return Err(refused("the body is JSON, but not an object".to_owned())
            .hint("send one JSON object with the fields of the act")
            .into());
    };
    join(path, &mut fields)?;
    if let Some(version) = version {
        if let Some(other) = fields.get("if_version").filter(|other| **other != version) {
            let detail = format!("If-Match is {version}, but the body's if_version is {other}");
            return Err(refused(detail)
                .field("if_version")
                .hint("leave one of them out")
                .into());
        }
        fields.insert("if_version".to_owned(), version);
    }
    serde_path_to_error::deserialize(Strict(Value::Object(fields)))
        .map_err(|error| fault::of_body(&error))
}

fn join(path: &PathFields, fields: &mut Map<String, Value>) -> Result<(), Box<Problem>> {
    for (name, value) in path {
        match fields.get(name) {
            Some(Value::String(other)) if same(value, other) => {}
            Some(other) => return Err(conflict("body", name, value, &other.to_string())),
            None => {}
        }
        fields.insert(name.clone(), Value::String(value.clone()));
    }
    Ok(())
}

/// Codes are the same in either case.
fn same(one: &str, other: &str) -> bool {
    one.eq_ignore_ascii_case(other)
}

fn conflict(place: &str, name: &str, in_path: &str, other: &str) -> Box<Problem> {
    let detail = format!("{name} is {in_path} in the path, but {other} in the {place}");
    Problem::new(ProblemType::InvalidRequest, detail)
        .field(name)
        .hint(format!("leave {name} out of the {place}"))
        .into()
}
