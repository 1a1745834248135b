//! Landed cost: an invoice's lines, the charges on it, and what each line is worth in the workshop's currency.
//!
//! Carriage in, duty and taxes that cannot be reclaimed join the cost of the goods; trade discounts lower it (IAS 2
//! paras 10–11). A tax that is reclaimed is shared and shown, but costs nothing. No key for sharing carriage is prescribed, so each charge names its own. The invoice is added up in
//! its own currency, converted once, and the result is split over the lines, so that the sum is what was paid.

mod conversion;
mod doubt;
mod error;
mod land;
mod late;
mod price;
mod replacement;
mod share;

pub use crate::allocation::split_value;
pub use crate::setting::ChargeKind;
pub use conversion::{Conversion, MAX_RATE_DECIMALS, millionths_from_minor};
pub use doubt::{RateDoubt, rate_doubt, rate_of_amounts};
pub use error::LandError;
pub use land::{Landed, LandedLine, land};
pub use late::{Spread, late_share, spread_late};
pub use price::{Paid, Price, PriceError, about};
pub use replacement::Replacement;

use serde::{Deserialize, Serialize};

/// One line of an invoice, with the keys by which charges may be shared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Price of the whole line in minor units of the invoice currency; 0 for a gift, `None` while it is not known.
    pub price: Option<i64>,
    /// Length paid for in micrometres, where the line has one.
    pub length_um: Option<i64>,
    /// Mass in milligrams, where it is known.
    pub mass_mg: Option<i64>,
    /// Number of things on the line (1 for a length of cloth).
    pub count: i64,
}

/// The key by which a charge is shared.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum Share {
    /// By the lines' prices.
    Value,
    /// By the lines' lengths.
    Length,
    /// By the lines' masses.
    Mass,
    /// By the lines' counts.
    Count,
    /// By what was taxed: a line's price plus its share of the named earlier charges.
    TaxedAmount {
        /// Positions of earlier charges, from 0.
        charges: Vec<usize>,
    },
}

/// A charge on the invoice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Charge {
    /// What it is for.
    pub kind: ChargeKind,
    /// Minor units of the invoice currency; a discount is negative.
    pub amount: i64,
    /// How it is shared.
    pub share: Share,
    /// Positions of the only lines it belongs to, from 0; `None` for all.
    pub lines: Option<Vec<usize>>,
    /// True for a tax that the workshop gets back; it says nothing of other charges.
    pub reclaimed: bool,
}

impl Charge {
    /// True when it joins the cost of the goods: all charges but a tax that is reclaimed (IAS 2 para 11).
    #[must_use]
    pub fn is_cost(&self) -> bool {
        !(self.reclaimed && self.kind == ChargeKind::Tax)
    }
}
