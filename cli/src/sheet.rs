//! Technical sheets on the command line: read with the book's own readers before they are sent.

use crate::{command_error::CommandError, pairs};
use ellwand_contract::sheets::SheetInput;
use ellwand_domain::{
    quantity::{Micrometres, PartsPerMillion, parse::parse_mass_per_area},
    shrinkage::Preparation,
};
use std::{fmt::Display, str::FromStr};

/// A value that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Field of the request: `full_width`, `fibres[0].share`.
    pub field: String,
    /// What was typed, and what to type instead.
    pub message: String,
}

impl From<Fault> for CommandError {
    fn from(Fault { field, message }: Fault) -> Self {
        Self::usage(format!("{field}: {message}"))
    }
}

fn one<T: FromStr<Err: Display>>(field: &str, value: Option<&str>) -> Result<Option<T>, Fault> {
    let read = |text: &str| {
        text.parse().map_err(|error: T::Err| Fault {
            field: field.to_owned(),
            message: error.to_string(),
        })
    };
    value.map(read).transpose()
}

/// Checks every quantity that can be judged without the book.
///
/// # Errors
/// The first value that cannot be read.
pub fn check(sheet: &SheetInput) -> Result<(), Fault> {
    for (place, share) in sheet.fibres.iter().enumerate() {
        one::<PartsPerMillion>(&format!("fibres[{place}].share"), Some(&share.share))?;
    }
    pairs::check::<SheetInput>(sheet).map_err(|(field, message)| Fault { field, message })?;
    let width = one::<Micrometres>("full_width", sheet.full_width.as_deref())?;
    if let Some(mass) = &sheet.mass {
        // Mass per running length needs a width, which the material's own sheet may know.
        let metre = Micrometres::new(1_000_000).ok().filter(|_| width.is_none());
        parse_mass_per_area(mass, width)
            .or_else(|error| parse_mass_per_area(mass, metre).map_err(|_| error))
            .map_err(|error| Fault {
                field: "mass".to_owned(),
                message: error.to_string(),
            })?;
    }
    if let Some(shrinkage) = &sheet.shrinkage {
        one::<PartsPerMillion>("shrinkage.length", Some(&shrinkage.length))?;
        one::<PartsPerMillion>("shrinkage.width", shrinkage.width.as_deref())?;
        one::<Preparation>("shrinkage.preparation", shrinkage.preparation.as_deref())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(sheet: &SheetInput) -> Option<String> {
        check(sheet).err().map(|fault| fault.field)
    }

    #[test]
    fn a_number_without_a_unit_is_found_with_its_field() {
        let sheet = SheetInput {
            full_width: Some("150".to_owned()),
            ..SheetInput::default()
        };
        assert_eq!(field(&sheet), Some("full_width".to_owned()));
        let sheet = SheetInput {
            mass: Some("270".to_owned()),
            ..SheetInput::default()
        };
        assert_eq!(field(&sheet), Some("mass".to_owned()));
    }

    #[test]
    fn a_mass_per_running_length_waits_for_the_width_that_the_book_knows() {
        let sheet = SheetInput {
            mass: Some("14oz/yd".to_owned()),
            ..SheetInput::default()
        };
        assert_eq!(check(&sheet), Ok(()));
        let sheet = SheetInput {
            mass: Some("1.2kg".to_owned()),
            ..SheetInput::default()
        };
        assert_eq!(field(&sheet), Some("mass".to_owned()));
    }
}
