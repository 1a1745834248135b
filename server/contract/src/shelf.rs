//! What is left on the shelf.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Gsm, Meta, Metres, Micro, access::conceals, act::act, month::NetAmount};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{CustomerCode, PieceCode},
    setting::{Kind, TrimUnit},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Show what is left on the shelf, in lengths that can really be cut.
///
/// Flaws and promised lengths are not free. "longest" is the longest free length in one stretch, the most that a single cut
/// can still take; it is shown where flaws or promises make it shorter than the free total. A length worked out from a mass
/// is marked estimated. The mass per area is shown when you filter by it; `ellwand lot show` has the whole sheet.
///
/// Cloth carries its own value. Thread and trims are worth what is left of their receipts, laid beside the pieces lot by lot, so
/// that all pieces of a material together are worth what the books say. With a day, the shelf is shown as it stood at the end of
/// it: lengths and values by the day of each booking, as in `ellwand month`, without promises and flaws; where a piece lay then and
/// how it was prepared is not kept.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetShelf {
    /// Show only this kind: cloth, lining, interlining, thread or trim.
    #[cfg_attr(feature = "clap", arg(long, value_name = "KIND"))]
    pub kind: Option<Kind>,
    /// Show only what contains this fibre: linen.
    #[cfg_attr(feature = "clap", arg(long, value_name = "FIBRE"))]
    pub fibre: Option<String>,
    /// Show only names that contain this: wool.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub name: Option<String>,
    /// Show only colours that contain this: navy.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub colour: Option<String>,
    /// Show only what is in this place: A2.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PLACE"))]
    pub place: Option<String>,
    /// Show only this mass per area or more: 200gsm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass_per_area))]
    pub mass_min: Option<String>,
    /// Show only this mass per area or less: 300gsm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass_per_area))]
    pub mass_max: Option<String>,
    /// Show only this usable width or more: 140cm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH", value_parser = typed::length))]
    pub width_min: Option<String>,
    /// Show only pieces with a free stretch of this length or more: 1.20m.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH", value_parser = typed::length))]
    pub free_min: Option<String>,
    /// Show it as it stood at the end of this day, without promises.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date,
        conflicts_with_all = ["place", "mass_min", "mass_max", "width_min", "free_min"]))]
    pub on: Option<NaiveDate>,
    /// Also add up how much there is of all and what it is worth, by kind: of the whole shelf, or of the kind that is asked for.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub totals: bool,
    /// Continue after this mark from the previous page.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MARK"))]
    pub after: Option<String>,
    /// Rows to show, at most 500.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 500))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NUMBER"))]
    pub limit: Option<u32>,
}
act!(read GetShelf => Shelf, "get_shelf", "/v1/shelf", "Lists the pieces on the shelf."; conceals);

/// A page of the shelf.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Shelf {
    /// The day at whose end it stood like this; absent: now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<NaiveDate>,
    /// By code.
    pub pieces: Vec<ShelfPiece>,
    /// What lies on the shelf in all, by kind, where that was asked for; else empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub totals: Vec<KindTotal>,
    /// What they are worth together, where that was asked for; null where prices are hidden.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_all: Option<Micro>,
    /// Next page.
    pub meta: Meta,
}
conceals!(Shelf, prices { in_all }, parts { pieces, totals });

/// What lies on the shelf of a kind, trims by length and by number apart, whatever the other filters.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KindTotal {
    /// Kind.
    pub kind: Kind,
    /// Whether it is kept by number or by length.
    pub unit: TrimUnit,
    /// On hand, without what customers own.
    pub on_hand: NetAmount,
    /// Pieces of lots whose price is not known, which count as nothing in the value; absent for an earlier day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unpriced: Option<i64>,
    /// Stock value: of cloth its pieces', of thread and trims what is in their layers. Null where prices are hidden.
    pub value: Option<Micro>,
}
conceals!(KindTotal, prices { value });

/// A piece in the list. What is not kept of an earlier day is absent there.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ShelfPiece {
    /// Code.
    pub piece: PieceCode,
    /// Kind.
    pub kind: Kind,
    /// Material's name.
    pub name: String,
    /// Colour.
    pub colour: Option<String>,
    /// Its fibres by their generic names, in the order of the sheet.
    pub fibres: Vec<String>,
    /// On hand.
    pub on_hand: Amount,
    /// Promised.
    pub reserved: Option<Amount>,
    /// Free in all stretches together: on hand less flaws and promises.
    pub free: Option<Amount>,
    /// Longest free length in one stretch.
    pub longest_free: Option<Amount>,
    /// Usable width.
    pub usable_width_m: Option<Metres>,
    /// Mass per area.
    pub mass_gsm: Option<Gsm>,
    /// Preparation that it has had; absent: raw.
    pub preparation: Option<Preparation>,
    /// True for what a cut left.
    pub offcut: bool,
    /// True while its length was worked out from a mass: an estimate.
    pub estimated: bool,
    /// Place.
    pub place: Option<String>,
    /// The customer who owns it.
    pub owner: Option<CustomerCode>,
    /// True while its lot has no price: it counts as nothing in the value.
    pub unpriced: bool,
    /// True where what its lot cost was estimated when the book began.
    pub value_estimated: bool,
    /// Stock value: of thread and trims its share of what is left of their receipts. Absent for customers' own.
    pub value: Option<Micro>,
}
conceals!(ShelfPiece, prices { value });
