//! What was paid for, and prices as people type them: of the whole line, or of a unit.

use crate::quantity::{
    Count, Currency, Micrometres, Milligrams, Money, MoneyError, QuantityError, exact,
    parse::parse_length_down,
};

/// How much was paid for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paid {
    /// A length.
    Length(Micrometres),
    /// A mass.
    Mass(Milligrams),
    /// A number of things.
    Count(Count),
}

/// Why a price or a paid quantity was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    /// The amount.
    #[error(transparent)]
    Money(#[from] MoneyError),
    /// The quantity.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// A unit that nothing is sold by.
    #[error("\"{text}\" is not a price of a unit, for example 12.00/yd, 14.00/kg or 0.85/pc")]
    Unit {
        /// What was typed.
        text: String,
    },
    /// A unit price without a quantity.
    #[error("the price is per {per}, but what was paid for is not given")]
    NothingPaid {
        /// A length, a mass or a piece.
        per: &'static str,
    },
    /// A unit price of another measure.
    #[error("the price is per {per}, but what was paid for is a {paid}")]
    OtherMeasure {
        /// What the price is per.
        per: &'static str,
        /// What was paid for.
        paid: &'static str,
    },
}

/// What is not exactly known, `about 200 m` or `~ 30`, without that word; and whether it was there.
///
/// ```
/// use ellwand_domain::purchase::about;
/// assert_eq!(about("about 200 m"), ("200 m", true));
/// assert_eq!(about("~30"), ("30", true));
/// assert_eq!(about("200 m"), ("200 m", false));
/// ```
#[must_use]
pub fn about(text: &str) -> (&str, bool) {
    let text = text.trim();
    let word = text
        .get(..6)
        .filter(|word| word.eq_ignore_ascii_case("about "));
    let rest = word.and_then(|word| text.get(word.len()..));
    match rest.or_else(|| text.strip_prefix('~')) {
        Some(rest) => (rest.trim_start(), true),
        None => (text, false),
    }
}

impl Paid {
    /// Reads a length (down, for it is there), a mass or a number of pieces. A bare number counts only where things
    /// are counted; elsewhere it lacks its unit. `about` before it is passed over.
    ///
    /// # Errors
    /// [`QuantityError`], also for zero.
    pub fn parse(text: &str, counted: bool) -> Result<Self, QuantityError> {
        let (text, _) = about(text);
        let paid = if counted {
            text.parse()
                .map(Self::Count)
                .or_else(|error| text.parse().map(Self::Mass).map_err(|_| error))
        } else {
            match parse_length_down(text) {
                Ok(length) => Ok(Self::Length(length)),
                Err(error @ QuantityError::MissingUnit { .. }) => Err(error),
                Err(error) => text
                    .parse()
                    .map(Self::Mass)
                    .or_else(|_| text.parse().map(Self::Count))
                    .map_err(|_: QuantityError| error),
            }
        }?;
        if paid.get() == 0 {
            return Err(QuantityError::NotPositive {
                text: text.to_owned(),
            });
        }
        Ok(paid)
    }

    /// Micrometres, milligrams or pieces.
    #[must_use]
    pub const fn get(self) -> i64 {
        match self {
            Self::Length(length) => length.get(),
            Self::Mass(mass) => mass.get(),
            Self::Count(count) => count.get(),
        }
    }

    pub(super) const fn measure(self) -> &'static str {
        match self {
            Self::Length(_) => "length",
            Self::Mass(_) => "mass",
            Self::Count(_) => "number of pieces",
        }
    }
}

/// A price: of the whole line, or of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Price {
    money: Money,
    per: Option<Paid>,
}

impl Price {
    /// Reads a price, or that it is not known: `unknown`, `?` or nothing.
    ///
    /// # Errors
    /// Those of [`Self::parse`].
    pub fn parse_known(text: &str, default: Option<Currency>) -> Result<Option<Self>, PriceError> {
        match text.trim().to_lowercase().as_str() {
            "" | "?" | "unknown" => Ok(None),
            _ => Self::parse(text, default).map(Some),
        }
    }

    /// Reads `88.00`, `EUR 88.00`, `12.00/yd`, `14.00/kg`, `0.85/pc`, `4.50/5000m`; not negative.
    ///
    /// # Errors
    /// [`PriceError::Money`] and [`PriceError::Unit`].
    pub fn parse(text: &str, default: Option<Currency>) -> Result<Self, PriceError> {
        let Some((amount, unit)) = text.split_once('/') else {
            return Ok(Self {
                money: Money::parse(text, default)?,
                per: None,
            });
        };
        let error = || PriceError::Unit {
            text: text.to_owned(),
        };
        let unit = match unit.trim() {
            "" => return Err(error()),
            "each" | "ea" => "1 pc".to_owned(),
            unit if unit.starts_with(|c: char| c.is_alphabetic()) => format!("1 {unit}"),
            unit => unit.to_owned(),
        };
        let per = Paid::parse(&unit, false).map_err(|_| error())?;
        Ok(Self {
            money: Money::parse(amount, default)?,
            per: Some(per),
        })
    }

    /// Currency of the price.
    #[must_use]
    pub const fn currency(&self) -> Currency {
        self.money.currency
    }

    /// The money, of the line or of [`Self::per`].
    #[must_use]
    pub const fn money(&self) -> Money {
        self.money
    }

    /// The unit that it is a price of; `None`: of the whole line.
    #[must_use]
    pub const fn per(&self) -> Option<Paid> {
        self.per
    }

    /// True for nothing at all: a gift.
    #[must_use]
    pub const fn is_zero(&self) -> bool {
        self.money.minor == 0
    }

    /// Price of the line, in minor units: as typed, or the unit's price × what was paid for, halves up.
    ///
    /// ```
    /// use ellwand_domain::purchase::{Paid, Price};
    /// // 2.5 yd at 12.00 a yard: 30.00 (derived).
    /// let price = Price::parse("12.00/yd", Some("EUR".parse().unwrap())).unwrap();
    /// assert_eq!(price.of(Some(Paid::parse("2.5yd", false).unwrap())), Ok(3_000));
    /// ```
    ///
    /// # Errors
    /// [`PriceError::NothingPaid`], [`PriceError::OtherMeasure`], or a total beyond the book.
    pub fn of(&self, paid: Option<Paid>) -> Result<i64, PriceError> {
        let Some(per) = self.per else {
            return Ok(self.money.minor);
        };
        let paid = paid.ok_or(PriceError::NothingPaid { per: per.measure() })?;
        if std::mem::discriminant(&per) != std::mem::discriminant(&paid) {
            return Err(PriceError::OtherMeasure {
                per: per.measure(),
                paid: paid.measure(),
            });
        }
        let minor = exact::mul_div_nearest(self.money.minor, paid.get(), per.get())?;
        Money {
            minor,
            currency: self.money.currency,
        }
        .to_millionths()?;
        Ok(minor)
    }
}
