//! What a deserialiser found wrong, as a problem that names the field.

use super::PathFields;
use ellwand_contract::{Problem, ProblemType};
use std::fmt::Display;

/// How serde's own messages about the shape of a request begin; all others are about a value.
const SHAPE: [&str; 5] = [
    "unknown field `",
    "missing field `",
    "duplicate field `",
    "invalid type: ",
    "invalid length ",
];

/// A fault in a JSON body.
pub(super) fn of_body(error: &serde_path_to_error::Error<serde_json::Error>) -> Box<Problem> {
    let message = error.inner().to_string();
    let kind = if is_shape(&message) {
        ProblemType::InvalidRequest
    } else {
        ProblemType::InvalidValue
    };
    problem(kind, error.path(), message)
}

/// A fault in a query, or in the path when it lies in one of its fields.
pub(super) fn of_query(
    path: &PathFields,
    error: &serde_path_to_error::Error<impl Display>,
) -> Box<Problem> {
    let message = match error.inner().to_string() {
        // The error of the number's own parser for a sign or a letter.
        message if message.starts_with("invalid digit") => "it is not a whole number".to_owned(),
        message => message,
    };
    let in_path = path.contains_key(&error.path().to_string());
    let kind = if in_path {
        ProblemType::InvalidValue
    } else {
        ProblemType::InvalidQuery
    };
    problem(kind, error.path(), message)
}

/// True for a fault in the request's shape; a type that reads its table by hand puts the field's name before it.
fn is_shape(message: &str) -> bool {
    let inner = message.split_once(": ").map_or("", |(_, inner)| inner);
    SHAPE
        .iter()
        .any(|start| message.starts_with(start) || inner.starts_with(start))
}

fn problem(kind: ProblemType, path: &serde_path_to_error::Path, message: String) -> Box<Problem> {
    let mut field = path.to_string();
    if field == "." {
        field.clear();
    }
    // A field that is missing or doubled has no place of its own: the path ends at the table around it.
    let around = ["missing field `", "duplicate field `"];
    let named = around
        .iter()
        .find_map(|start| message.strip_prefix(start)?.split('`').next());
    if let Some(named) = named {
        field = if field.is_empty() {
            named.to_owned()
        } else {
            format!("{field}.{named}")
        };
    }
    let problem = Problem::new(kind, message);
    Box::new(if field.is_empty() {
        problem
    } else {
        problem.field(field)
    })
}
