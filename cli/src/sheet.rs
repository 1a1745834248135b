//! Technical sheets on the command line: read with the book's own readers before they are sent.

use crate::{command_error::CommandError, pairs, slips::refusal};
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

/// Values that cannot be read, in the order found.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Faults(pub Vec<Fault>);

impl Faults {
    /// Reads a value, or adds why it cannot be read.
    pub fn read<T>(
        &mut self,
        field: &str,
        value: Option<&str>,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        match read(value?) {
            Ok(read) => Some(read),
            Err(message) => {
                self.add(field, message);
                None
            }
        }
    }

    /// Adds a fault.
    pub fn add(&mut self, field: &str, message: String) {
        let field = field.to_owned();
        self.0.push(Fault { field, message });
    }

    /// Adds those of a part of the request.
    pub fn within(&mut self, outer: &str, inner: Self) {
        let inner = inner.0.into_iter().map(|fault| Fault {
            field: format!("{outer}.{}", fault.field),
            message: fault.message,
        });
        self.0.extend(inner);
    }

    /// Nothing, or all of them as one refusal.
    ///
    /// # Errors
    /// Exit 2.
    pub fn none(self, hint: &str) -> Result<(), CommandError> {
        if self.0.is_empty() {
            return Ok(());
        }
        let slips = self.0.iter();
        let slips: Vec<String> = slips
            .map(|Fault { field, message }| format!("{field}: {message}"))
            .collect();
        Err(refusal(&slips, hint))
    }
}

fn reader<T: FromStr<Err: Display>>(text: &str) -> Result<T, String> {
    text.parse().map_err(|error: T::Err| error.to_string())
}

/// Every quantity that cannot be read without the book.
#[must_use]
pub fn check(sheet: &SheetInput) -> Faults {
    let mut faults = Faults::default();
    for (place, share) in sheet.fibres.iter().enumerate() {
        let field = format!("fibres[{place}].share");
        faults.read(&field, Some(&share.share), reader::<PartsPerMillion>);
    }
    for (field, message) in pairs::check::<SheetInput>(sheet) {
        faults.add(&field, message);
    }
    let width = sheet.full_width.as_deref().map(reader::<Micrometres>);
    let width = width.and_then(Result::ok);
    let mass = |mass: &str| {
        // Mass per running length needs a width, which the material's own sheet may know.
        let metre = Micrometres::new(1_000_000).ok().filter(|_| width.is_none());
        parse_mass_per_area(mass, width)
            .or_else(|error| parse_mass_per_area(mass, metre).map_err(|_| error))
            .map_err(|error| error.to_string())
    };
    faults.read("mass", sheet.mass.as_deref(), mass);
    if let Some(shrinkage) = &sheet.shrinkage {
        let (length, width) = (Some(shrinkage.length.as_str()), shrinkage.width.as_deref());
        let preparation = shrinkage.preparation.as_deref();
        faults.read("shrinkage.length", length, reader::<PartsPerMillion>);
        faults.read("shrinkage.width", width, reader::<PartsPerMillion>);
        faults.read("shrinkage.preparation", preparation, reader::<Preparation>);
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(sheet: &SheetInput) -> Option<String> {
        check(sheet).0.into_iter().next().map(|fault| fault.field)
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
        assert_eq!(check(&sheet), Faults::default());
        let sheet = SheetInput {
            mass: Some("1.2kg".to_owned()),
            ..SheetInput::default()
        };
        assert_eq!(field(&sheet), Some("mass".to_owned()));
    }
}
