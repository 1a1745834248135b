//! JSON by one reader and one writer: a type that is read from text, bytes and values is compiled three times.

use serde::{Serialize, de::DeserializeOwned};
use serde_json::{Error, Value};

/// A value as JSON, on one line.
///
/// # Errors
/// What JSON cannot hold.
pub fn write(value: &impl Serialize) -> Result<String, Error> {
    serde_json::to_string(value)
}

/// The same as a tree.
///
/// # Errors
/// As [`write()`].
pub fn tree(value: &impl Serialize) -> Result<Value, Error> {
    read(&write(value)?)
}

/// The same for people: one field a line.
///
/// # Errors
/// As [`write()`].
pub fn write_lines(value: &impl Serialize) -> Result<String, Error> {
    serde_json::to_string_pretty(&tree(value)?)
}

/// Reads a value from JSON.
///
/// # Errors
/// What is not JSON, or not such a value.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, Error> {
    serde_json::from_str(text)
}
