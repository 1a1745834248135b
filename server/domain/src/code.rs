//! The codes people type: `L17`, `L17.2`, `G5`, `B104`.

use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// A text that is not a code of the expected kind.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" {}", kind_of(text).map_or_else(
    || format!("is not the code of {expected}, for example {example}"),
    |noun| format!("is the code of {noun}, not of {expected}"),
))]
pub struct CodeError {
    /// What was typed.
    pub text: String,
    /// Kind of record, with its article.
    pub expected: &'static str,
    /// An accepted form.
    pub example: &'static str,
}

/// What a text is the code of, with its article: a quotation for `Q1`.
///
/// ```
/// use ellwand_domain::code::kind_of;
/// assert_eq!((kind_of("q1"), kind_of("L2"), kind_of("L2.1")), (Some("a quotation"), Some("a lot"), Some("a piece")));
/// assert_eq!((kind_of("Q"), kind_of("Q1.1"), kind_of("X1")), (None, None, None));
/// ```
#[must_use]
pub fn kind_of(text: &str) -> Option<&'static str> {
    let text = text.trim();
    if text.contains('.') {
        return text.parse::<PieceCode>().ok().map(|_| "a piece");
    }
    let letter = text.chars().next()?.to_ascii_uppercase();
    let (_, noun) = KINDS.iter().find(|(known, _)| *known == letter)?;
    text.get(1..).and_then(number).map(|_| *noun)
}

/// The letter of each kind of code, and what it names.
const KINDS: [(char, &str); 11] = [
    MaterialCode::KIND,
    LotCode::KIND,
    PurchaseCode::KIND,
    GarmentCode::KIND,
    ReservationCode::KIND,
    BookingCode::KIND,
    SupplierCode::KIND,
    CustomerCode::KIND,
    TokenCode::KIND,
    QuotationCode::KIND,
    LayCode::KIND,
];

fn number(text: &str) -> Option<i64> {
    let digits = text.trim_start_matches('0');
    let plain =
        digits.bytes().all(|b| b.is_ascii_digit()) && !digits.is_empty() && digits.len() <= 18;
    plain.then(|| digits.parse().ok()).flatten()
}

macro_rules! code {
    ($name:ident, $letter:literal, $noun:literal, $example:literal) => {
        #[doc = concat!("The code of ", $noun, ": `", $example, "`. Typed in either case; never used twice.")]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(i64);

        impl $name {
            const KIND: (char, &'static str) = ($letter, $noun);

            /// Takes the number behind the letter; the book hands numbers out from 1.
            #[must_use]
            pub const fn new(number: i64) -> Self {
                Self(number)
            }

            /// The number behind the letter.
            #[must_use]
            pub const fn get(self) -> i64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&format!("{}{}", $letter, self.0))
            }
        }

        impl FromStr for $name {
            type Err = CodeError;
            fn from_str(text: &str) -> Result<Self, CodeError> {
                text.trim()
                    .strip_prefix([$letter, $letter.to_ascii_lowercase()])
                    .and_then(number)
                    .map(Self)
                    .ok_or_else(|| CodeError { text: text.to_owned(), expected: $noun, example: $example })
            }
        }

        impl TryFrom<String> for $name {
            type Error = CodeError;
            fn try_from(text: String) -> Result<Self, CodeError> {
                text.parse()
            }
        }

        impl From<$name> for String {
            fn from(code: $name) -> Self {
                code.to_string()
            }
        }
    };
}

code!(MaterialCode, 'M', "a material", "M3");
code!(LotCode, 'L', "a lot", "L17");
code!(PurchaseCode, 'P', "a purchase", "P8");
code!(GarmentCode, 'G', "a garment", "G5");
code!(ReservationCode, 'R', "a promise", "R12");
code!(BookingCode, 'B', "a booking", "B104");
code!(SupplierCode, 'S', "a supplier", "S2");
code!(CustomerCode, 'C', "a customer", "C4");
code!(TokenCode, 'T', "a token", "T6");
code!(QuotationCode, 'Q', "a quotation", "Q3");
code!(LayCode, 'Y', "a lay", "Y7");

/// The code of a piece: its lot and its number in the lot, `L17.2`. Numbers of a lot are never used twice. A lot alone, `L17`,
/// stands for its only piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct PieceCode {
    /// The lot it belongs to.
    pub lot: LotCode,
    /// Its number in the lot, from 1; 0 for the only one.
    pub number: i64,
}

impl fmt::Display for PieceCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.number {
            0 => f.pad(&self.lot.to_string()),
            number => f.pad(&format!("{}.{number}", self.lot)),
        }
    }
}

impl FromStr for PieceCode {
    type Err = CodeError;
    fn from_str(text: &str) -> Result<Self, CodeError> {
        let error = || CodeError {
            text: text.to_owned(),
            expected: "a piece",
            example: "L17.2",
        };
        let number = |piece| number(piece).ok_or_else(error);
        let (lot, piece) = match text.trim().split_once('.') {
            Some((lot, piece)) => (lot, number(piece)?),
            None => (text, 0),
        };
        Ok(Self {
            lot: lot.parse().map_err(|_| error())?,
            number: piece,
        })
    }
}

impl TryFrom<String> for PieceCode {
    type Error = CodeError;
    fn try_from(text: String) -> Result<Self, CodeError> {
        text.parse()
    }
}

impl From<PieceCode> for String {
    fn from(code: PieceCode) -> Self {
        code.to_string()
    }
}
