//! A sheet from the pairs of a purchase's line.

use super::{fibres, shrinkage};
use crate::pairs::{Pairs, PairsError};
use ellwand_contract::sheets::{SheetInput, StiffnessInput};
use ellwand_domain::certainty::Certainty;

/// Keys of a sheet.
pub const KEYS: &[&str] = &[
    "fibres",
    "construction",
    "colour",
    "mass",
    "full-width",
    "selvedges",
    "shrinkage",
    "one-way",
    "repeat",
    "stretch",
    "fusible",
    "stiffness-lengthwise",
    "stiffness-crosswise",
    "stiffness-bias",
    "stiffness-certainty",
    "yarn-count",
    "reel-length",
    "tare",
    "size",
    "unit",
    "certainty",
    "note",
];

/// Takes the keys of a sheet out of the pairs.
///
/// # Errors
/// A value that cannot be read, with its key.
pub fn from_pairs(pairs: &mut Pairs) -> Result<SheetInput, PairsError> {
    let named = |key: &str, error: String| PairsError::new(format!("{key}: {error}"));
    let fibres = pairs
        .take("fibres")
        .map(|text| fibres(&text))
        .transpose()
        .map_err(|e| named("fibres", e))?;
    let shrinkage = pairs
        .take("shrinkage")
        .map(|text| shrinkage(&text))
        .transpose();
    Ok(SheetInput {
        fibres: fibres.unwrap_or_default(),
        construction: pairs.take("construction"),
        colour: pairs.take("colour"),
        mass: pairs.take("mass"),
        full_width: pairs.take("full-width"),
        selvedges: pairs.take("selvedges"),
        shrinkage: shrinkage.map_err(|error| named("shrinkage", error))?,
        one_way: pairs.take_bool("one-way")?,
        repeat: pairs.take("repeat"),
        stretch: pairs.take("stretch"),
        fusible: pairs.take_bool("fusible")?,
        stiffness: stiffness(pairs)?,
        yarn_count: pairs.take("yarn-count"),
        reel_length: pairs.take("reel-length"),
        tare: pairs.take("tare"),
        size: pairs.take("size"),
        unit: pairs.take_as("unit")?,
        certainty: certainty(pairs, "certainty")?,
        note: pairs.take("note"),
    })
}

fn stiffness(pairs: &mut Pairs) -> Result<Option<StiffnessInput>, PairsError> {
    let stiffness = StiffnessInput {
        lengthwise: pairs.take("stiffness-lengthwise"),
        crosswise: pairs.take("stiffness-crosswise"),
        bias: pairs.take("stiffness-bias"),
        certainty: certainty(pairs, "stiffness-certainty")?,
    };
    Ok(Some(stiffness).filter(|stiffness| *stiffness != StiffnessInput::default()))
}

fn certainty(pairs: &mut Pairs, key: &str) -> Result<Option<Certainty>, PairsError> {
    pairs
        .take(key)
        .map(|text| read_certainty(&text))
        .transpose()
        .map_err(|e| PairsError::new(format!("{key}: {e}")))
}

/// Reads how well a number is known.
///
/// # Errors
/// Another word than the four.
pub(crate) fn read_certainty(text: &str) -> Result<Certainty, String> {
    use Certainty::{Estimated, Measured, Stated, Unknown};
    let word = text.trim().to_lowercase();
    [Measured, Stated, Estimated, Unknown]
        .into_iter()
        .find(|certainty| certainty.as_str() == word)
        .ok_or_else(|| {
            format!(
                "\"{text}\" is not a certainty; it is one of measured, stated, estimated, unknown"
            )
        })
}
