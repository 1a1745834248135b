//! Where value and quantity come from and go to.

use super::Quantity;
use crate::quantity::Millionths;
use crate::setting::WordError;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

macro_rules! account_kinds {
    ($($(#[$doc:meta])* $variant:ident = $word:literal, $text:literal;)+) => {
        /// Kind of place in the ledger.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "diesel", derive(diesel::expression::AsExpression, diesel::deserialize::FromSqlRow))]
        #[cfg_attr(feature = "diesel", diesel(sql_type = diesel::sql_types::Text))]
        pub enum AccountKind {
            $($(#[$doc])* #[serde(rename = $word)] $variant,)+
        }

        impl AccountKind {
            /// All kinds.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as stored.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// For people.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { $(Self::$variant => $text),+ }
            }
        }

        #[cfg(feature = "diesel")]
        crate::column::text!(AccountKind);

        impl FromStr for AccountKind {
            type Err = WordError;
            fn from_str(text: &str) -> Result<Self, WordError> {
                match text {
                    $($word => Ok(Self::$variant),)+
                    _ => Err(WordError { text: text.to_owned(), what: "a place in the ledger", known: "see the ledger's migration" }),
                }
            }
        }
    };
}

account_kinds! {
    /// Outside, on the buying side; the id is the purchase.
    Supplier = "supplier", "supplier";
    /// A piece on the shelf.
    Piece = "piece", "piece";
    /// A cost layer of thread or trims.
    Layer = "layer", "layer";
    /// A garment that is not delivered.
    Garment = "garment", "garment";
    /// A garment that was handed over.
    Delivered = "delivered", "delivered";
    /// Shrinkage, squaring, swatches: quantity without value.
    NormalLoss = "normal-loss", "normal loss";
    /// Lost by an own mistake; the id is the garment.
    OwnMistake = "own-mistake", "loss: own mistake";
    /// Lost by faulty cloth; the id is the garment.
    FaultyCloth = "faulty-cloth", "loss: faulty cloth";
    /// Spoiled garments; the id is the garment.
    Spoiled = "spoiled", "loss: spoiled garments";
    /// Material of a cancelled garment; the id is the garment.
    Abandoned = "abandoned", "loss: cancelled garment";
    /// Discarded from the shelf: worn, moth-eaten, gone.
    Discarded = "discarded", "loss: discarded";
    /// Given away, for nothing.
    Given = "given", "given away";
    /// Sold as it lay on the shelf.
    Sold = "sold", "sold";
    /// Sent back to the supplier, or to the customer who owns it.
    Returned = "returned", "returned";
    /// Taken for own use.
    OwnUse = "own-use", "own use";
    /// Written down.
    WriteDown = "write-down", "write-down";
    /// Found or missing, and late charges on what is gone.
    Adjustment = "adjustment", "adjustment";
}

impl fmt::Display for AccountKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl AccountKind {
    /// True for what is shown as a loss.
    #[must_use]
    pub const fn is_loss(self) -> bool {
        matches!(
            self,
            Self::OwnMistake
                | Self::FaultyCloth
                | Self::Spoiled
                | Self::Abandoned
                | Self::Discarded
        )
    }
}

/// A place in the ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Account {
    /// Kind.
    pub kind: AccountKind,
    /// Row of the piece, layer, garment or purchase; 0 where the kind needs none.
    pub id: i64,
}

impl Account {
    /// A place.
    #[must_use]
    pub const fn new(kind: AccountKind, id: i64) -> Self {
        Self { kind, id }
    }

    /// A piece on the shelf.
    #[must_use]
    pub const fn piece(id: i64) -> Self {
        Self::new(AccountKind::Piece, id)
    }

    /// A cost layer.
    #[must_use]
    pub const fn layer(id: i64) -> Self {
        Self::new(AccountKind::Layer, id)
    }

    /// A garment.
    #[must_use]
    pub const fn garment(id: i64) -> Self {
        Self::new(AccountKind::Garment, id)
    }
}

impl fmt::Display for Account {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.kind.word(), self.id)
    }
}

/// One line of the ledger: quantity and value leave one place and reach another.
///
/// The quantity may differ at both ends (a panel's strip is as long as the panel, but narrower;
/// shrinkage leaves a piece and reaches nothing); the value never does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Movement {
    /// Where it leaves.
    pub from: Account,
    /// Where it arrives.
    pub to: Account,
    /// Quantity that leaves `from`.
    pub quantity_out: Quantity,
    /// Quantity that reaches `to`.
    pub quantity_in: Quantity,
    /// Value that goes along; never negative.
    pub value: Millionths,
}

impl Movement {
    /// The same quantity at both ends.
    #[must_use]
    pub const fn new(from: Account, to: Account, quantity: Quantity, value: Millionths) -> Self {
        Self {
            from,
            to,
            quantity_out: quantity,
            quantity_in: quantity,
            value,
        }
    }

    /// True for a taking from `place`: what left it at a cost, for a use or a loss.
    ///
    /// A credit to the supplier takes nothing, and normal loss without value leaves the cost of the rest as it was: neither rests
    /// on what brought the goods in.
    #[must_use]
    pub fn takes_from(&self, place: Account) -> bool {
        let at_a_cost = !self.value.is_zero()
            || (!self.quantity_out.is_zero() && self.to.kind != AccountKind::NormalLoss);
        self.from == place && self.to.kind != AccountKind::Supplier && at_a_cost
    }

    /// The opposite movement, as undo books it.
    #[must_use]
    pub const fn reversed(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            quantity_out: self.quantity_in,
            quantity_in: self.quantity_out,
            value: self.value,
        }
    }
}
