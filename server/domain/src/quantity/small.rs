//! Counts of trims and minutes of work.

use super::QuantityError;
use serde::{Deserialize, Serialize};

macro_rules! whole {
    ($(#[$doc:meta])* $name:ident, $unit:expr, $max:expr, $limit:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "i64", into = "i64")]
        pub struct $name(i64);

        impl $name {
            /// None.
            pub const ZERO: Self = Self(0);
            /// The largest the book holds.
            pub const MAX: Self = Self($max);

            /// Takes a whole number.
            ///
            /// # Errors
            /// [`QuantityError::Negative`] below 0, [`QuantityError::TooLarge`] above [`Self::MAX`].
            pub fn new(n: i64) -> Result<Self, QuantityError> {
                if n < 0 {
                    return Err(QuantityError::Negative { text: format!("{n} {}", $unit) });
                }
                if n > $max {
                    return Err(QuantityError::TooLarge { text: format!("{n} {}", $unit), limit: $limit });
                }
                Ok(Self(n))
            }

            /// The whole number.
            #[must_use]
            pub const fn get(self) -> i64 {
                self.0
            }
        }

        impl TryFrom<i64> for $name {
            type Error = QuantityError;
            fn try_from(n: i64) -> Result<Self, QuantityError> {
                Self::new(n)
            }
        }

        impl From<$name> for i64 {
            fn from(n: $name) -> Self {
                n.0
            }
        }
    };
}

whole!(
    /// A number of counted trims (buttons, zips, hooks), from 0 to a thousand million.
    Count,
    "pieces",
    1_000_000_000,
    "1 000 000 000"
);
whole!(
    /// Minutes of work, from 0 to ten million (about 5 000 working years of one person's days).
    Minutes,
    "min",
    10_000_000,
    "10 000 000 min"
);
