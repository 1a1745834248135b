//! Goods that leave the shelf for no garment: given away, taken for own use, sold, discarded.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{
    Amount, Micro, Typed, access::conceals, act::act, cuts::FromLayer, lots::Piece,
    reservations::Reservation,
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, CustomerCode, GarmentCode, PieceCode},
    quantity::Micrometres,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// A piece of the shelf, or what of it leaves: from the outer end, across the full width, flaws and all.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct Goods {
    /// Piece code, such as L1.2.
    pub piece: PieceCode,
    /// Length or count, from the outer end: 60cm, 12 [default: all that is left].
    #[cfg_attr(feature = "clap", arg(value_parser = typed::length_or_count))]
    pub amount: Option<String>,
    /// Width of a panel: 45cm; the strip beside it is kept by the workshop's rule for offcuts [default: the full width].
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long = "panel", value_name = "WIDTH"))]
    pub panel_width: Option<Typed<Micrometres>>,
    /// Take what is promised to this garment; may be repeated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "break", value_name = "GARMENT"))]
    pub break_promises: Vec<GarmentCode>,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}

/// Give cloth, thread or trims away, or take them for own use.
///
/// Their cost leaves the stock for a place of its own, apart from losses.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GiveGoods {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// What leaves the shelf.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub goods: Goods,
    /// Take it for own use; it is no gift.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub own_use: bool,
    /// Reason: for the school fair.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub reason: Option<String>,
}
act!(post GiveGoods => GoodsGone, "give_goods", "/v1/goods/given", "Gives goods of the shelf away.", needs WriteOffs; conceals);

/// Sell cloth, thread or trims as they are.
///
/// Their cost leaves the stock; gain or loss is the price without tax less that cost. What is paid is not followed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SellGoods {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// What leaves the shelf.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub goods: Goods,
    /// Price of all of it, or of a unit: 18.00, 24.00/m; tax included where prices are shown with tax.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PRICE"))]
    pub price: String,
    /// Name of the tax rate: VAT; none for a sale without tax [default: the workshop's first].
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub tax: Option<String>,
    /// Customer who buys it: code or name.
    #[cfg_attr(feature = "clap", arg(long = "to", value_name = "CUSTOMER"))]
    pub customer: Option<String>,
    /// Reason: too stiff for shirts.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub reason: Option<String>,
}
act!(post SellGoods => GoodsGone, "sell_goods", "/v1/goods/sold", "Sells goods of the shelf.", needs WriteOffs; conceals);

/// Discard cloth, thread or trims: a loss with its reason.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct DiscardGoods {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// What leaves the shelf.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub goods: Goods,
    /// Reason: moth holes.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub reason: String,
}
act!(post DiscardGoods => GoodsGone, "discard_goods", "/v1/goods/discarded", "Discards goods of the shelf.", needs WriteOffs; conceals);

/// What left the shelf.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GoodsGone {
    /// The booking.
    pub booking: BookingCode,
    /// How much.
    pub taken: Amount,
    /// What it cost; null where prices are hidden.
    pub cost: Option<Micro>,
    /// `cost` in minor units, rounded half up.
    pub cost_printed: Option<String>,
    /// True where no price of its lot is known yet: then its cost is not known either.
    pub unpriced: bool,
    /// Thread and trims: the cost layers that the cost came from, in the order taken.
    pub from_layers: Vec<FromLayer>,
    /// The sale; null where prices are hidden.
    pub sale: Option<Sale>,
    /// The piece as it is now.
    pub piece: Piece,
    /// The strip beside a panel.
    pub made: Vec<Piece>,
    /// Promises that hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}
conceals!(
    GoodsGone,
    prices {
        cost,
        cost_printed,
        from_layers,
        sale
    },
    parts {
        piece,
        made,
        changed,
        broken
    }
);

/// A sale of goods as they are; amounts in minor units of the workshop's currency.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Sale {
    /// Customer's code.
    pub customer: Option<CustomerCode>,
    /// Customer's name.
    pub customer_name: Option<String>,
    /// Tax rate, as invoices name it: VAT 20 %.
    pub tax_rate: Option<String>,
    /// Price without tax.
    pub net: String,
    /// Tax.
    pub tax: String,
    /// Price with tax.
    pub gross: String,
    /// What it had cost; null where no price of its lot was known then.
    pub cost: Option<String>,
    /// Net less cost; below zero for a loss; null where the cost was not known.
    pub gain: Option<String>,
}
