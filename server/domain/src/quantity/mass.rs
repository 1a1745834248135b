//! Masses in whole milligrams, alone and per square metre.

use super::QuantityError;
use serde::{Deserialize, Serialize};

macro_rules! mass {
    ($(#[$doc:meta])* $name:ident, $max:expr, $limit:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "i64", into = "i64")]
        pub struct $name(i64);

        impl $name {
            /// Nothing.
            pub const ZERO: Self = Self(0);
            /// The largest the book holds.
            pub const MAX: Self = Self($max);

            /// Takes a number of milligrams.
            ///
            /// # Errors
            /// [`QuantityError::Negative`] below 0, [`QuantityError::TooLarge`] above [`Self::MAX`].
            pub fn new(mg: i64) -> Result<Self, QuantityError> {
                if mg < 0 {
                    return Err(QuantityError::Negative { text: format!("{mg} mg") });
                }
                if mg > $max {
                    return Err(QuantityError::TooLarge { text: format!("{mg} mg"), limit: $limit });
                }
                Ok(Self(mg))
            }

            /// The number of milligrams.
            #[must_use]
            pub const fn get(self) -> i64 {
                self.0
            }
        }

        impl TryFrom<i64> for $name {
            type Error = QuantityError;
            fn try_from(mg: i64) -> Result<Self, QuantityError> {
                Self::new(mg)
            }
        }

        impl From<$name> for i64 {
            fn from(mass: $name) -> Self {
                mass.0
            }
        }
    };
}

mass!(
    /// A mass in whole milligrams, from 0 to 100 t.
    Milligrams,
    100_000_000_000,
    "100 t"
);
mass!(
    /// Mass per area in whole milligrams per square metre (1 g/m² = 1 000), from 0 to 100 kg/m².
    MilligramsPerM2,
    100_000_000,
    "100 kg/m²"
);
