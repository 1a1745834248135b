//! How quantities travel: typed text in requests, decimal strings in answers.

use ellwand_domain::quantity::{AsTyped, Micrometres, MilligramsPerM2, Millionths};
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use serde_with::skip_serializing_none;
use std::{fmt, str::FromStr};

/// A quantity in a request, as people write it (`"2 3/4 yd"`); the text travels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed<T>(pub AsTyped<T>);

impl<T: Copy> Typed<T> {
    /// The quantity.
    pub fn value(&self) -> T {
        self.0.value
    }

    /// What was typed.
    pub fn text(&self) -> &str {
        &self.0.text
    }
}

impl<T: FromStr> FromStr for Typed<T> {
    type Err = T::Err;
    fn from_str(text: &str) -> Result<Self, T::Err> {
        let AsTyped { value, .. } = text.parse()?;
        let text = text.trim().to_owned();
        Ok(Self(AsTyped { value, text }))
    }
}

impl<T> Serialize for Typed<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0.text)
    }
}

impl<'de, T: FromStr<Err: fmt::Display>> Deserialize<'de> for Typed<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(D::Error::custom)
    }
}

/// Writes `units / 10^scale` exactly, without trailing zeros: 2_600_000 at 6 → "2.6".
pub(crate) fn decimal(units: i64, scale: u32) -> String {
    Decimal::new(units, scale).normalize().to_string()
}

/// Reads a plain decimal with at most `scale` digits after the point; more are refused, not rounded.
pub(crate) fn units(text: &str, scale: u32) -> Result<i64, String> {
    let wrong = || {
        format!("\"{text}\" is not a decimal number with at most {scale} digits after the point")
    };
    let plain = text
        .bytes()
        .all(|b| b.is_ascii_digit() || b == b'.' || b == b'-')
        && text.len() <= 28;
    let number = if plain {
        Decimal::from_str(text).map_err(|_| wrong())?
    } else {
        return Err(wrong());
    };
    if number.scale() > scale {
        return Err(wrong());
    }
    let factor = Decimal::from(10_i64.pow(scale));
    let scaled = number.checked_mul(factor).ok_or_else(wrong)?;
    i64::try_from(scaled.trunc().mantissa() / 10_i128.pow(scaled.trunc().scale()))
        .map_err(|_| wrong())
}

macro_rules! decimal_string {
    ($(#[$doc:meta])* $name:ident, $inner:ty, $scale:literal, $example:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
        #[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
        #[cfg_attr(feature = "openapi", schema(value_type = String, example = $example, pattern = r"^-?\d{1,19}(\.\d{1,6})?$"))]
        pub struct $name(pub $inner);

        impl $name {
            /// The integer quantity inside.
            #[must_use]
            pub fn get(self) -> i64 {
                self.0.get()
            }
        }

        impl From<$inner> for $name {
            fn from(inner: $inner) -> Self {
                Self(inner)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&decimal(self.0.get(), $scale))
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = String::deserialize(deserializer)?;
                let inner = units(&text, $scale).map_err(D::Error::custom)?;
                <$inner>::new(inner).map(Self).map_err(D::Error::custom)
            }
        }
    };
}

decimal_string!(
    /// A length in metres as a decimal string with at most 6 digits after the point.
    Metres, Micrometres, 6, "2.6"
);
decimal_string!(
    /// Mass per area in g/m² as a decimal string with at most 3 digits after the point.
    Gsm, MilligramsPerM2, 3, "270"
);
decimal_string!(
    /// Stock value or cost in the workshop's currency, exact to the millionth, as a decimal string.
    Micro, Millionths, 6, "85.943684"
);

/// How much of a piece: a length for cloth, lining, interlining, thread and measured trims, a count for counted ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum Amount {
    /// Metres.
    LengthM(Metres),
    /// Whole pieces.
    Count(i64),
}

impl Amount {
    /// Micrometres or pieces, as the book keeps it.
    #[must_use]
    pub fn get(self) -> i64 {
        match self {
            Self::LengthM(length) => length.get(),
            Self::Count(count) => count,
        }
    }
}

/// Where to go on reading a list.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Meta {
    /// Pass it as `after` for the next page; absent on the last one.
    pub next: Option<String>,
}
