//! Quantities with the text that said them.

use serde::{Deserialize, Serialize};
use std::str::FromStr;

/// A quantity beside what was typed, which screens show in the unit that people chose.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AsTyped<T> {
    /// The quantity.
    pub value: T,
    /// What was typed.
    pub text: String,
}

impl<T: FromStr> FromStr for AsTyped<T> {
    type Err = T::Err;
    fn from_str(text: &str) -> Result<Self, T::Err> {
        Ok(Self {
            value: text.parse()?,
            text: text.to_owned(),
        })
    }
}
