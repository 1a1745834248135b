//! Lots and their pieces on the shelf.

use crate::{
    Amount, Metres, Micro, Typed,
    access::conceals,
    act::act,
    reservations::Reservation,
    sheets::{Sheet, SheetInput, Stock},
    wash::WashTestRecord,
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, CustomerCode, LotCode, MaterialCode, PieceCode, PurchaseCode},
    quantity::Micrometres,
    setting::{End, Kind, MeasuredAfter},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Asks for one lot with its pieces, tests and where its value went.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetLot {
    /// Which.
    pub lot: LotCode,
}
act!(read GetLot => Lot, "get_lot", "/v1/lots/{lot}", "Returns a lot with its pieces and tests."; conceals; versioned);

/// Changes what a lot's sheet says; what is absent stays. What was worked out from a figure is worked out anew, and promises that
/// rest on it are looked at again.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EditLot {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub lot: LotCode,
    /// What changes in the sheet.
    #[serde(default)]
    pub sheet: SheetInput,
    /// Dye lot or roll number.
    pub dye_lot: Option<String>,
    /// Where its pieces lie.
    pub place: Option<String>,
    /// Number of the wash test that counts from now on, instead of the latest one; 0: the latest again.
    pub wash_test: Option<i64>,
    /// Growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise, is meant.
    #[serde(default)]
    pub really: bool,
    /// Version that the change was made for; refused when the record changed since.
    pub if_version: Option<BookingCode>,
}
act!(patch EditLot => LotChanged, "edit_lot", "/v1/lots/{lot}", "Changes a lot's sheet.");

/// Moves a piece to another place.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PlacePiece {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Where it lies now.
    pub place: String,
}
act!(post PlacePiece => PieceChanged, "place_piece", "/v1/pieces/{piece}/place", "Says where a piece lies.");

/// Marks a flaw across the width; it divides the piece into stretches.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MarkFlaw {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Where it begins, from the outer end.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub at: Typed<Micrometres>,
    /// How far it reaches along the piece; absent: a line.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub length: Option<Typed<Micrometres>>,
    /// What it is.
    #[serde(default)]
    pub note: String,
}
act!(post MarkFlaw => PieceChanged, "mark_flaw", "/v1/pieces/{piece}/flaws", "Marks a flaw in a piece.");

/// Takes a flaw mark away (mended, or marked by mistake).
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct RemoveFlaw {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Number of the flaw from the outer end, from 1.
    pub flaw: usize,
}
act!(post RemoveFlaw => PieceChanged, "remove_flaw", "/v1/pieces/{piece}/flaws/remove", "Takes a flaw mark away.");

/// Cuts a piece in two; nothing is used.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SplitPiece {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Length (or count) that becomes the new piece.
    pub take: String,
    /// From which end; default outer.
    #[serde(default)]
    pub end: End,
    /// Where the new piece lies.
    pub place: Option<String>,
}
act!(post SplitPiece => PieceChanged, "split_piece", "/v1/pieces/{piece}/split", "Makes two pieces of one.");

/// Measures a piece again; its value stays.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MeasurePiece {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Length (or count) found.
    pub found: String,
    /// Full width found.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
    /// After what; cloth that is measured after washing was washed once, as by `prepare`.
    #[serde(default)]
    pub after: MeasuredAfter,
    /// Unusual figures are meant: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above the lot's.
    #[serde(default)]
    pub really: bool,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post MeasurePiece => PieceChanged, "measure_piece", "/v1/pieces/{piece}/measure", "Measures a piece again.");

/// Weighs a piece: a reel of thread by its tare and count, a cloth by its mass per area.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WeighPiece {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub piece: PieceCode,
    /// Gross mass, the reel or core included.
    pub gross: String,
    /// Mass of the empty reel or core, kept for this piece; default what was said for it before, else the sheet's, else 0. A reel
    /// that weighs just that is used up.
    pub tare: Option<String>,
    /// Unusual figures are meant: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above the lot's.
    #[serde(default)]
    pub really: bool,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post WeighPiece => PieceChanged, "weigh_piece", "/v1/pieces/{piece}/weigh", "Weighs a piece to learn its length.");

/// A piece after a change, what else the change made, and promises it broke.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PieceChanged {
    /// The booking.
    pub booking: BookingCode,
    /// The piece as it is now.
    pub piece: Piece,
    /// New pieces.
    pub made: Vec<Piece>,
    /// Promises that are kept but hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A lot after a change, and promises it changed or broke.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LotChanged {
    /// The booking.
    pub booking: BookingCode,
    /// The lot as it is now.
    pub lot: Lot,
    /// Promises that are kept but hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A lot.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Lot {
    /// Code.
    pub lot: LotCode,
    /// Material's code.
    pub material: MaterialCode,
    /// Kind.
    pub kind: Kind,
    /// Material's name.
    pub name: String,
    /// The purchase it came with.
    pub purchase: PurchaseCode,
    /// Day it came in.
    pub received: NaiveDate,
    /// Supplier's name.
    pub supplier: Option<String>,
    /// The customer who owns it.
    pub owner: Option<CustomerCode>,
    /// Dye lot or roll number.
    pub dye_lot: Option<String>,
    /// What was paid for, as typed.
    pub paid: Option<String>,
    /// Technical data.
    pub sheet: Sheet,
    /// Pieces, used-up ones included.
    pub pieces: Vec<Piece>,
    /// Wash tests, newest first.
    pub wash_tests: Vec<WashTestRecord>,
    /// What turning a part would make of its stiffness, for each grain that is known.
    pub turning: Vec<String>,
    /// Where the lot's value went; adds up to `landed`. Empty for pooled materials and customers' cloth.
    pub value_went: Vec<ValueShare>,
    /// Thread and trims: what is left of the lot's cost layer, or of the pool of its material.
    pub stock: Option<Stock>,
    /// Landed cost, late charges included; null where prices are not told.
    pub landed: Option<Micro>,
    /// `landed` in minor units, as printed; null where prices are not told.
    pub landed_printed: Option<String>,
    /// Version: the last booking that touched it.
    pub version: BookingCode,
}
conceals!(
    Lot,
    prices {
        value_went,
        landed,
        landed_printed
    },
    parts { pieces, stock }
);

/// A share of a lot's value.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ValueShare {
    /// Where: `on the shelf`, `G5`, `loss: own mistake` …
    pub place: String,
    /// Exact.
    pub value: Micro,
    /// In minor units, made to add up to the printed total.
    pub printed: String,
}

/// A piece as it lies on the shelf.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Piece {
    /// Code.
    pub piece: PieceCode,
    /// On hand.
    pub on_hand: Amount,
    /// Promised.
    pub reserved: Amount,
    /// Free in all stretches together: on hand less flaws and promises.
    pub free: Amount,
    /// Longest free length in one stretch.
    pub longest_free: Amount,
    /// Full width; absent for thread and trims.
    pub full_width_m: Option<Metres>,
    /// Usable width.
    pub usable_width_m: Option<Metres>,
    /// What was done to it; absent: raw.
    pub preparation: Option<Preparation>,
    /// True for what a cut left.
    pub offcut: bool,
    /// Mass of the empty reel or core in grams, decimal string, once it was said for this piece.
    pub tare_g: Option<String>,
    /// True while its length was worked out from a mass: an estimate.
    pub estimated: bool,
    /// Where it lies.
    pub place: Option<String>,
    /// Stretches between flaws, from the outer end; one for a piece without flaws.
    pub stretches: Vec<Stretch>,
    /// Flaws from the outer end.
    pub flaws: Vec<Flaw>,
    /// Stock value; absent for thread and trims, whose layers carry it, and for customers' own.
    pub value: Option<Micro>,
}
conceals!(Piece, prices { value });

/// A length without a flaw.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Stretch {
    /// From the outer end.
    pub start_m: Metres,
    /// Length (for counted trims absent).
    pub length_m: Metres,
    /// Promised in it.
    pub reserved_m: Metres,
}

/// A flaw across the width.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Flaw {
    /// From the outer end.
    pub at_m: Metres,
    /// Reach along the piece; zero for a line.
    pub length_m: Metres,
    /// What it is.
    pub note: String,
}
