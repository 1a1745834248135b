//! What a lot whose price is not known would cost to buy again.

use super::{Paid, Price, PriceError};
use crate::quantity::{Millionths, QuantityError, exact};

/// What so much of a lot would cost to buy again: an estimate, for quoting alone. It is no stock value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Replacement {
    /// Millionths of the workshop's currency; more than zero.
    pub value: Millionths,
    /// Micrometres or pieces that it is the price of; more than zero.
    pub per: i64,
}

impl Replacement {
    /// Reads a price of a length or a piece, or of all that came (`whole`, micrometres or pieces). `counted`: the lot is counted.
    ///
    /// # Errors
    /// [`PriceError::OtherMeasure`] for a price of something else, [`PriceError::Quantity`] for nothing.
    pub fn new(price: Price, counted: bool, whole: i64) -> Result<Self, PriceError> {
        let per = match price.per() {
            None => whole,
            Some(Paid::Count(count)) if counted => count.get(),
            Some(Paid::Length(length)) if !counted => length.get(),
            Some(other) => {
                let (per, paid) = (
                    other.measure(),
                    if counted {
                        "number of pieces"
                    } else {
                        "length"
                    },
                );
                return Err(PriceError::OtherMeasure { per, paid });
            }
        };
        let value = price.money().to_millionths()?;
        if value.is_zero() || per < 1 {
            let text = price.money().to_string();
            return Err(QuantityError::NotPositive { text }.into());
        }
        Ok(Self { value, per })
    }

    /// What `quantity` of it would cost, to the nearest millionth.
    ///
    /// ```
    /// use ellwand_domain::{purchase::{Price, Replacement}, quantity::Millionths};
    /// // 2.40 m at 12.50 a metre: 30.00 (derived).
    /// let price = Price::parse("12.50/m", Some("EUR".parse().unwrap())).unwrap();
    /// let replacement = Replacement::new(price, false, 4_000_000).unwrap();
    /// assert_eq!(replacement.of(2_400_000), Ok(Millionths::new(30_000_000).unwrap()));
    /// ```
    ///
    /// # Errors
    /// A value beyond the book.
    pub fn of(&self, quantity: i64) -> Result<Millionths, QuantityError> {
        Millionths::new(exact::mul_div_nearest(
            self.value.get(),
            quantity,
            self.per,
        )?)
    }
}
