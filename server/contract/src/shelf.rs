//! What is left on the shelf.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Gsm, Meta, Metres, Micro, access::conceals, act::act};
use ellwand_domain::{
    code::{CustomerCode, PieceCode},
    setting::Kind,
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Show what is left on the shelf, in lengths that can really be cut.
///
/// What lies inside a flaw or is promised is not free. "longest" is the longest free length in one stretch: what a single cut
/// can still take. It is shown where flaws or promises make it shorter than what is free. A length that was worked out from a
/// mass is called estimated. The mass per area is shown when a least or a most is asked for; the lot has all of its sheet.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetShelf {
    /// Only this kind: cloth, interlining, thread or trim.
    #[cfg_attr(feature = "clap", arg(long, value_name = "KIND"))]
    pub kind: Option<Kind>,
    /// Only what contains this fibre.
    #[cfg_attr(feature = "clap", arg(long, value_name = "FIBRE"))]
    pub fibre: Option<String>,
    /// Only names that contain this.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub name: Option<String>,
    /// Only colours that contain this.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub colour: Option<String>,
    /// Only what lies here.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PLACE"))]
    pub place: Option<String>,
    /// Only this mass per area or more: 200gsm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass_per_area))]
    pub mass_min: Option<String>,
    /// Only this mass per area or less.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass_per_area))]
    pub mass_max: Option<String>,
    /// Only this usable width or more: 140cm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH", value_parser = typed::length))]
    pub width_min: Option<String>,
    /// Only pieces with a free stretch this long or longer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH", value_parser = typed::length))]
    pub free_min: Option<String>,
    /// Go on after this mark, which the page before names.
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
    /// By code.
    pub pieces: Vec<ShelfPiece>,
    /// Next page.
    pub meta: Meta,
}
conceals!(Shelf, parts { pieces });

/// A piece in the list.
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
    /// On hand.
    pub on_hand: Amount,
    /// Promised.
    pub reserved: Amount,
    /// Free in all stretches together: on hand less flaws and promises.
    pub free: Amount,
    /// Longest free length in one stretch.
    pub longest_free: Amount,
    /// Usable width.
    pub usable_width_m: Option<Metres>,
    /// Mass per area.
    pub mass_gsm: Option<Gsm>,
    /// What was done to it; absent: raw.
    pub preparation: Option<Preparation>,
    /// True for what a cut left.
    pub offcut: bool,
    /// True while its length was worked out from a mass: an estimate.
    pub estimated: bool,
    /// Where it lies.
    pub place: Option<String>,
    /// The customer who owns it.
    pub owner: Option<CustomerCode>,
    /// Stock value; absent for thread and trims, whose layers carry it (see the list of materials), and for customers' own.
    pub value: Option<Micro>,
}
conceals!(ShelfPiece, prices { value });
