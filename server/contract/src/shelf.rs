//! What is left on the shelf.

use crate::{Amount, Gsm, Meta, Metres, Micro, access::conceals, act::act};
use ellwand_domain::{
    code::{CustomerCode, PieceCode},
    setting::Kind,
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Asks for the pieces on the shelf, in order of their codes.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetShelf {
    /// Only this kind.
    pub kind: Option<Kind>,
    /// Only what contains this fibre.
    pub fibre: Option<String>,
    /// Only names that contain this.
    pub name: Option<String>,
    /// Only colours that contain this.
    pub colour: Option<String>,
    /// Only what lies here.
    pub place: Option<String>,
    /// Only this mass per area or more: `200gsm`.
    pub mass_min: Option<String>,
    /// Only this mass per area or less.
    pub mass_max: Option<String>,
    /// Only this usable width or more: `140cm`.
    pub width_min: Option<String>,
    /// Only pieces with a free stretch this long or longer.
    pub free_min: Option<String>,
    /// Go on after this cursor.
    pub after: Option<String>,
    /// Rows a page; default 100, at most 500.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 500))]
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
