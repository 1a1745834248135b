//! How parts lie on cloth.

use crate::{Amount, Metres, Typed, act::act};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LayCode, PieceCode},
    lay::Ways,
    quantity::Micrometres,
    setting::{Grain, LengthBy},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Show how the parts of a need lie on a piece, or at a width.
///
/// The width is that of the cloth when it is cut: of a piece it is worked out with the preparation. Where neither is given it is that
/// of the piece that is promised, else the one that the plan is reckoned at. A kept lay that the width is enough for is shown before
/// others. Nothing is booked.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetLay {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need, such as shell; null: the only one that has parts.
    pub need: Option<String>,
    /// Piece to lie on, such as L17.2.
    pub piece: Option<PieceCode>,
    /// Usable width, between the selvedges: 142cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
    /// Lay it anew, whatever is kept, and answer with what keeping it takes: `draft`, for `keep_lay`.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub draft: bool,
}
act!(read GetLay => Lay, "get_lay", "/v1/garments/{garment}/lay", "Returns how the parts of a need lie on cloth.");

/// Parts as they lie: every place is exact, and was checked.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Lay {
    /// Garment.
    pub garment: GarmentCode,
    /// What the garment is.
    pub name: String,
    /// Role of the need.
    pub need: String,
    /// The kept lay that it is.
    pub lay: Option<LayCode>,
    /// Of a kept lay: the widths that it is for, the widest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rungs: Vec<LayRung>,
    /// Of a kept lay: true once the need has other parts, or it was taken back, so that it counts for nothing.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub outdated: bool,
    /// Piece that it was laid on.
    pub piece: Option<PieceCode>,
    /// Usable width.
    pub usable_m: Metres,
    /// Width that the parts take of it.
    pub width_m: Metres,
    /// Length from the first part to the last, without end allowance.
    pub length_m: Metres,
    /// What it is: a kept lay, a lay, or rows.
    pub length_by: LengthBy,
    /// Share of the cloth of this length and the usable width that the parts use, in percent to one decimal, rounded down.
    pub used_percent: String,
    /// Of the piece: what a promise would hold of it now.
    pub takes: Option<Amount>,
    /// The parts in the order in which their places begin.
    pub parts: Vec<LaidPart>,
    /// What keeping it takes, where that was asked for.
    pub draft: Option<LayDraft>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A width that a kept lay is for.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LayRung {
    /// Least usable width.
    pub usable_m: Metres,
    /// Length on it.
    pub length_m: Metres,
}

/// A lay to be kept: parts, and where they lie at each of some widths. Lengths are whole micrometres.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LayDraft {
    /// Number of this form: 1.
    pub format: u32,
    /// Whether parts may lie upside down.
    pub ways: Ways,
    /// Least gap between parts.
    pub spacing_um: i64,
    /// The parts of the need in their order, as they were laid.
    pub parts: Vec<DraftPart>,
    /// At most 8 widths: one for each that the cloth may come out at.
    pub rungs: Vec<DraftRung>,
}

/// A part of a lay to be kept.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DraftPart {
    /// What it is called.
    pub name: String,
    /// How often it lies there.
    pub count: i64,
    /// How its length lies on the cloth.
    pub grain: Grain,
    /// True where it may lie face down.
    pub may_flip: bool,
    /// Its corners: along its grain, across it.
    pub corners_um: Vec<[i64; 2]>,
}

/// Where the parts lie from a usable width on.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DraftRung {
    /// Least usable width.
    pub usable_um: i64,
    /// Each part as often as it lies there.
    pub placements: Vec<DraftPlacement>,
}

/// Where a part lies.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DraftPlacement {
    /// Which of the parts, from 0.
    pub part: usize,
    /// Degrees that it is turned by, against the clock, once it was turned over.
    pub turn: u16,
    /// True where it lies face down.
    pub flipped: bool,
    /// The least corner of the box around it: from the cut end, from the edge of the usable width.
    pub at_um: [i64; 2],
}

/// Keep a lay of a need's parts, so that promises and plans go by it.
///
/// The book checks it: each part as often as it is cut, with its grain, inside the width and over no other. Promises that were made
/// before keep their length.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KeepLay {
    /// Request id.
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need, such as shell; null: the only one that has parts.
    pub need: Option<String>,
    /// Where its parts lie, as `get_lay` answered or as they were laid elsewhere.
    pub draft: LayDraft,
    /// What to remember of it.
    pub note: Option<String>,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post KeepLay => LayKept, "keep_lay", "/v1/garments/{garment}/lays", "Keeps a lay of a need's parts.", needs Daily);

/// A lay as it was kept.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LayKept {
    /// The booking.
    pub booking: BookingCode,
    /// Its code.
    pub lay: LayCode,
    /// Garment.
    pub garment: GarmentCode,
    /// Role of the need.
    pub need: String,
    /// The widths that it is for, the widest first.
    pub rungs: Vec<LayRung>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// Show a kept lay.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetKeptLay {
    /// Its code, such as Y7.
    pub lay: LayCode,
    /// Usable width that it is shown at; the widest that it is for, where none is given.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
}
act!(read GetKeptLay => Lay, "get_kept_lay", "/v1/lays/{lay}", "Returns a kept lay.");

/// A part in its place. Along: from the end that the lay begins at; across: from the edge of the usable width.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LaidPart {
    /// What it is called.
    pub part: String,
    /// Which of its like, from 1.
    pub number: i64,
    /// How many of its like lie there.
    pub of: i64,
    /// Along its grain.
    pub length_m: Metres,
    /// Across it.
    pub width_m: Metres,
    /// How its length lies on the cloth.
    pub grain: Grain,
    /// Degrees that it is turned by, against the clock.
    pub turn: u16,
    /// Its corners, against the clock.
    pub corners: Vec<LayPoint>,
    /// Both ends of the line along its middle, with its grain.
    pub grain_line: [LayPoint; 2],
}

/// A place on the cloth.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LayPoint {
    /// From the end that the lay begins at.
    pub along_m: Metres,
    /// From the edge of the usable width.
    pub across_m: Metres,
}
