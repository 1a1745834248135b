//! Pairs of a change: only what differs, and keys without a value, which clear.

use super::{Pairs, PairsError, keys};
use crate::{
    garments::{Change, Changeable},
    json,
};
use clap::Arg;
use serde::Serialize;
use serde_json::{Map, Value};

/// Reads `role=shell,material=M9,width=`: the name, what differs, and what is cleared.
///
/// # Errors
/// As [`super::parse_args`]; only the name must be there.
pub fn parse_change<T: Changeable + clap::Args>(text: &str) -> Result<Change<T>, PairsError> {
    changed_fields::<T>(text, &[T::NAME]).map(Change::new)
}

/// The fields of `A` that the pairs give, as a request writes them; a key without a value is null. `names` are the keys that must
/// be there.
///
/// # Errors
/// As [`parse_change`].
pub fn changed_fields<A: clap::Args + Serialize>(
    text: &str,
    names: &[&str],
) -> Result<Map<String, Value>, PairsError> {
    let mut pairs = Pairs::parse(text, &keys::<A>());
    let (no_name, cleared) = std::mem::take(&mut pairs.empty)
        .into_iter()
        .partition(|key| names.contains(&key.as_str()));
    pairs.empty = no_name;
    pairs.refuse_empty();
    let cleared: Vec<String> = cleared;
    let given: Vec<String> = pairs.pairs.iter().map(|(key, _)| key.clone()).collect();
    // A key that may be missing is read from the example that its help shows.
    let example = |arg: &Arg| {
        let key = arg.get_long()?;
        let example = arg.get_value_names()?.first()?;
        (!names.contains(&key)).then(|| example.to_string())
    };
    let read: A = pairs.read_with(example)?;
    let mut fields = json::tree(&read).map_err(|error| PairsError::new(error.to_string()))?;
    let mut field = |key: &str| {
        let name = key.replace('-', "_");
        let value = fields.get_mut(&name).map_or(Value::Null, Value::take);
        (name, value)
    };
    let given: Vec<(String, Value)> = given.iter().map(|key| field(key)).collect();
    let cleared = cleared
        .iter()
        .map(|key| (key.replace('-', "_"), Value::Null));
    let fields: Map<String, Value> = given.into_iter().chain(cleared).collect();
    match fields.len() > names.len() {
        true => Ok(fields),
        false => Err(PairsError::new(format!(
            "\"{text}\" names it, but nothing of it differs"
        ))),
    }
}
