//! Lots and their pieces on the shelf.

#[cfg(feature = "clap")]
use crate::typed;
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

/// Show a lot: its sheet, pieces, flaws and wash tests, and where its value went.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetLot {
    /// Lot code, such as L1.
    pub lot: LotCode,
}
act!(read GetLot => Lot, "get_lot", "/v1/lots/{lot}", "Returns a lot with its pieces and tests."; conceals; versioned);

/// Change a lot's sheet; promises that depend on it are checked again.
///
/// Figures that follow from it are worked out again: widths of pieces that were not measured, rigidities from the mass per
/// area, lengths by weight of pieces that were not cut since.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EditLot {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Lot code, such as L1.
    pub lot: LotCode,
    /// Changes to the sheet.
    #[serde(default)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub sheet: SheetInput,
    /// Dye lot or roll number.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub dye_lot: Option<String>,
    /// Place of its pieces: A2.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PLACE"))]
    pub place: Option<String>,
    /// Wash test to use from now on, by its number; 'latest' (0 in JSON) for the latest again.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NUMBER", value_parser = typed::wash_test))]
    pub wash_test: Option<i64>,
    /// Confirm a shrinkage with growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Change it only if it is still at this version: the "version" of the lot.
    #[cfg_attr(feature = "clap", arg(long, value_name = "BOOKING"))]
    pub if_version: Option<BookingCode>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(patch EditLot => LotChanged, "edit_lot", "/v1/lots/{lot}", "Changes a lot's sheet.");

/// Put a piece in its place on the shelf.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct PlacePiece {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Its place: A2.
    pub place: String,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post PlacePiece => PieceChanged, "place_piece", "/v1/pieces/{piece}/place", "Puts a piece in its place.", needs Daily; conceals);

/// Mark a flaw across the width; it divides the piece into stretches.
///
/// Positions run from the outer end. Promises that no longer fit are listed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct MarkFlaw {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Where it begins, from the outer end: 1.20m.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub at: Typed<Micrometres>,
    /// How far it reaches along the piece: 3cm; default a line.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub length: Option<Typed<Micrometres>>,
    /// Kind of flaw: slub, hole, stain.
    #[serde(default)]
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            value_name = "TEXT",
            default_value = "",
            hide_default_value = true
        )
    )]
    pub note: String,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post MarkFlaw => PieceChanged, "mark_flaw", "/v1/pieces/{piece}/flaws", "Marks a flaw in a piece.", needs Daily; conceals);

/// Remove a flaw mark: mended, or marked by mistake.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct RemoveFlaw {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Number of the flaw from the outer end, from 1, as the lot lists it.
    #[cfg_attr(feature = "clap", arg(value_name = "NUMBER"))]
    pub flaw: usize,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post RemoveFlaw => PieceChanged, "remove_flaw", "/v1/pieces/{piece}/flaws/remove", "Removes a flaw mark.", needs Daily; conceals);

/// Split a piece in two; nothing is used, the value is shared by length.
///
/// Lets you cut a length off raw, wash it on its own, and cut it later.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SplitPiece {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Length (or count) that becomes the new piece.
    #[cfg_attr(feature = "clap", arg(value_name = "AMOUNT", value_parser = typed::length_or_count))]
    pub take: String,
    /// From which end: outer or inner; default outer.
    #[serde(default)]
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "END", default_value_t, hide_default_value = true)
    )]
    pub end: End,
    /// Place of the new piece: A3.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PLACE"))]
    pub place: Option<String>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post SplitPiece => PieceChanged, "split_piece", "/v1/pieces/{piece}/split", "Splits a piece in two.", needs Daily; conceals);

/// Measure a piece again; its value stays.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct MeasurePiece {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Length (or count) found: 3.95m.
    #[cfg_attr(feature = "clap", arg(value_name = "AMOUNT", value_parser = typed::length_or_count))]
    pub found: String,
    /// Full width found: 147cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH"))]
    pub width: Option<Typed<Micrometres>>,
    /// What came before: arrival, washing (for cloth, the same as `wash done`), pressing, resting or counting.
    #[serde(default)]
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "WHAT", default_value_t, hide_default_value = true)
    )]
    pub after: MeasuredAfter,
    /// Confirm unusual figures: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above its lot's.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post MeasurePiece => PieceChanged, "measure_piece", "/v1/pieces/{piece}/measure", "Measures a piece again.", needs Daily; conceals);

/// Weigh a piece to learn its length: a reel by its tare and yarn count, cloth by its mass per area.
///
/// A reel of thread that weighs no more than its tare is used up: if nothing else of the lot is left, the rest of its cost is
/// a normal loss.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct WeighPiece {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Gross mass, including the reel or core: 212g.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub gross: String,
    /// Mass of the empty reel or core, kept for this piece [default: as kept before, else from the sheet, else zero].
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass))]
    pub tare: Option<String>,
    /// Confirm an unusual length: more than 5 % above the old one, or of cloth more than 20 % below it.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post WeighPiece => PieceChanged, "weigh_piece", "/v1/pieces/{piece}/weigh", "Weighs a piece to learn its length.", needs Daily; conceals);

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
conceals!(
    PieceChanged,
    parts {
        piece,
        made,
        changed,
        broken
    }
);

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
conceals!(
    LotChanged,
    parts {
        lot,
        changed,
        broken
    }
);

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
    /// True when that purchase was undone: nothing of the lot is there.
    pub taken_back: bool,
    /// Day it came in.
    pub received: NaiveDate,
    /// Supplier's name.
    pub supplier: Option<String>,
    /// The customer who owns it.
    pub owner: Option<CustomerCode>,
    /// Dye lot or roll number.
    pub dye_lot: Option<String>,
    /// Quantity paid for, as typed.
    pub paid: Option<String>,
    /// Technical data.
    pub sheet: Sheet,
    /// Pieces, used-up ones included.
    pub pieces: Vec<Piece>,
    /// Wash tests, newest first.
    pub wash_tests: Vec<WashTestRecord>,
    /// How turning a part would change its stiffness, for each known grain.
    pub turning: Vec<String>,
    /// Where the lot's value went; adds up to `landed`. Empty for pooled materials and customers' cloth.
    pub value_went: Vec<ValueShare>,
    /// Thread and trims: what is left of the lot's cost layer, or of the pool of its material.
    pub stock: Option<Stock>,
    /// True until the price is known of what came without one: it counts as nothing in the value.
    pub unpriced: bool,
    /// True where what it cost was estimated when the book began.
    pub value_estimated: bool,
    /// What it would cost to buy again, for quoting while its price is not known: `12.50 for 1.00 m`; null where prices are hidden.
    pub replacement: Option<String>,
    /// Landed cost, late charges included; null where prices are hidden.
    pub landed: Option<Micro>,
    /// `landed` in minor units, as printed; null where prices are hidden.
    pub landed_printed: Option<String>,
    /// Version: the last booking that touched it.
    pub version: BookingCode,
}
conceals!(
    Lot,
    prices {
        value_went,
        replacement,
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

/// A piece on the shelf.
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
    /// Preparation that it has had; absent: raw.
    pub preparation: Option<Preparation>,
    /// True for what a cut left.
    pub offcut: bool,
    /// Mass of the empty reel or core in grams, decimal string, where it was recorded for this piece.
    pub tare_g: Option<String>,
    /// True while its length was worked out from a mass: an estimate.
    pub estimated: bool,
    /// Place.
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
    /// Kind of flaw: slub, hole, stain.
    pub note: String,
}
