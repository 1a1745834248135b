//! What a need is estimated to cost: `150.40`, or `150.40 for 2.35m` of cloth that is not bought yet.

use crate::quantity::{Micrometres, QuantityError};

/// An estimate as typed, of one garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Estimate<'a> {
    /// The money as typed.
    pub money: &'a str,
    /// The length that each unit would take of what is bought; none: what the need asks for.
    pub takes: Option<Micrometres>,
}

impl<'a> Estimate<'a> {
    /// Reads `150.40` or `150.40 for 2.35m`; the money is read where the currency is known.
    ///
    /// # Errors
    /// What follows `for` is no length.
    pub fn parse(text: &'a str) -> Result<Self, QuantityError> {
        let (money, takes) = match text.split_once(" for ") {
            Some((money, length)) => (money, Some(length.trim().parse()?)),
            None => (text, None),
        };
        Ok(Self {
            money: money.trim(),
            takes,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Estimate, Micrometres};

    #[test]
    fn a_length_may_stand_behind_the_money() {
        let read = |text| Estimate::parse(text).map(|one| (one.money, one.takes));
        assert_eq!(read("12.50"), Ok(("12.50", None)));
        let length = Micrometres::from_mm(2_350);
        assert_eq!(
            read("EUR 150.40 for 2.35m"),
            Ok(("EUR 150.40", Some(length)))
        );
        assert!(read("150.40 for 2.35").is_err(), "of no unit");
    }
}
