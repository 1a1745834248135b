//! The closed lists of the book: kinds, reasons, states, choices.

mod book;
mod garment;
mod making;
mod money;
mod shelf;

pub use book::{BookingKind, DateOrder, Facet, Grant, PictureKind, Role, Subject, UnitSystem};
pub use garment::{
    Basis, EstimateBasis, GarmentState, Grain, LengthBy, Measured, PartCut, ReservationState,
    Spoilage, WhyNot,
};
pub use making::{CutReason, WorkKind, WorkReason};
pub use money::{
    ChargeKind, MaterialsAt, PriceFrom, PricesShown, QuotationState, ReclaimBy, Rounding, ShareOf,
    TaxPlace,
};
pub use shelf::{
    End, Kind, MeasuredAfter, OffcutValue, PooledMethod, StiffnessMethod, StiffnessWay, TrimUnit,
};

/// A word that is not in a closed list.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" is not {what}; choose from {known}")]
pub struct WordError {
    /// What was typed.
    pub text: String,
    /// What the list is, with its article.
    pub what: &'static str,
    /// The list.
    pub known: &'static str,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident, $what:literal, { $($(#[$vdoc:meta])* $variant:ident = $word:tt),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
        #[cfg_attr(feature = "diesel", derive(diesel::expression::AsExpression, diesel::deserialize::FromSqlRow))]
        #[cfg_attr(feature = "diesel", diesel(sql_type = diesel::sql_types::Text))]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// All, in the order of the list.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as typed, stored and sent.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::setting::WordError;
            fn from_str(text: &str) -> Result<Self, $crate::setting::WordError> {
                match text.trim().to_lowercase().replace([' ', '_'], "-").as_str() {
                    $($word => Ok(Self::$variant),)+
                    _ => Err($crate::setting::WordError {
                        text: text.to_owned(),
                        what: $what,
                        known: concat!($($word, ", "),+).trim_end_matches(", "),
                    }),
                }
            }
        }

        #[cfg(feature = "diesel")]
        $crate::column::text!($name);
    };
}

use words;
