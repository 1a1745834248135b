//! Fibre shares of a cloth.

use super::{ClothError, fibre};
use crate::quantity::PartsPerMillion;
use serde::{Deserialize, Serialize};

/// A fibre and its share of the cloth.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FibreShare {
    /// Name as it was typed, in small letters; one of [`fibre::FIBRES`].
    pub fibre: String,
    /// Share in parts per million of the mass.
    pub share_ppm: i64,
}

impl FibreShare {
    /// Takes a fibre name and a share; the name is kept as typed (linen stays linen).
    ///
    /// # Errors
    /// [`ClothError::UnknownFibre`] with the nearest spelling, [`ClothError::NoShare`] at zero or below.
    pub fn new(name: &str, share: PartsPerMillion) -> Result<Self, ClothError> {
        let (fibre, share_ppm) = (fibre::spelled(name), share.get());
        if fibre::find(&fibre).is_none() {
            return Err(fibre::unknown(name));
        }
        if share_ppm <= 0 {
            return Err(ClothError::NoShare { fibre, share });
        }
        Ok(Self { fibre, share_ppm })
    }

    /// The fibre's generic EU name; nothing when the name is not on the list.
    #[must_use]
    pub fn generic(&self) -> Option<&'static str> {
        fibre::find(&self.fibre).map(|fibre| fibre.name)
    }
}

/// Checks a whole composition: names known, shares above zero, no fibre twice, the sum 100 % exactly. In this order.
///
/// # Errors
/// [`ClothError`], the first that holds.
pub fn check_shares(shares: &[FibreShare]) -> Result<(), ClothError> {
    let mut seen: Vec<&'static str> = Vec::new();
    let mut sum = 0_i64;
    for FibreShare { fibre, share_ppm } in shares {
        let share = PartsPerMillion::new(*share_ppm)?;
        FibreShare::new(fibre, share)?;
        let generic = fibre::find(fibre).map_or("", |fibre| fibre.name);
        if seen.contains(&generic) {
            return Err(ClothError::RepeatedFibre { fibre: generic });
        }
        seen.push(generic);
        sum = sum.saturating_add(*share_ppm);
    }
    if shares.is_empty() {
        return Err(ClothError::NoFibres);
    }
    let sum = PartsPerMillion::new(sum)?;
    if sum == PartsPerMillion::WHOLE {
        Ok(())
    } else {
        Err(ClothError::SharesNotWhole { sum })
    }
}

/// Reads a composition: `cotton`, `cotton 97%, elastane 3%`, `97% cotton + 3% elastane`. A fibre alone is 100 %.
///
/// # Errors
/// As [`check_shares`], and [`ClothError::MissingShare`].
pub fn parse_shares(text: &str) -> Result<Vec<FibreShare>, ClothError> {
    let parts: Vec<&str> = split(text)
        .into_iter()
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let mut shares = Vec::new();
    for part in &parts {
        let (name, share) = match part.find(|c: char| c.is_ascii_digit() || "-−.".contains(c)) {
            None if parts.len() == 1 => (*part, PartsPerMillion::WHOLE),
            None => {
                return Err(ClothError::MissingShare {
                    text: (*part).to_owned(),
                });
            }
            Some(0) => {
                let (share, name) = part.split_once('%').ok_or_else(|| missing(part))?;
                (name, format!("{share}%").parse()?)
            }
            Some(at) => {
                let (name, share) = part.split_at(at);
                (name, share.parse()?)
            }
        };
        shares.push(FibreShare::new(name, share)?);
    }
    check_shares(&shares)?;
    Ok(shares)
}

fn missing(part: &str) -> ClothError {
    ClothError::MissingShare {
        text: part.to_owned(),
    }
}

/// At `+`, `;`, and at a comma that is not a decimal sign.
fn split(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut rest = text;
    let cut = |rest: &str| {
        rest.char_indices().find_map(|(at, c)| {
            let (before, after) = rest.split_at(at);
            let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
            let decimal = digit(before.chars().next_back()) && digit(after.chars().nth(1));
            ("+;".contains(c) || (c == ',' && !decimal)).then_some(at)
        })
    };
    while let Some(at) = cut(rest) {
        let (part, after) = rest.split_at(at);
        parts.push(part);
        rest = after.get(1..).unwrap_or_default();
    }
    parts.push(rest);
    parts
}
