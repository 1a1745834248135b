//! How parts lie on cloth.

use crate::{Amount, Metres, Typed, act::act};
use ellwand_domain::{
    code::{GarmentCode, PieceCode},
    quantity::Micrometres,
    setting::{Grain, LengthBy},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Show how the parts of a need lie on a piece, or at a width.
///
/// The width is that of the cloth when it is cut: of a piece it is worked out with the preparation. Where neither is given it is that
/// of the piece that is promised, else the one that the plan is reckoned at. Nothing is booked.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetLay {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need, such as shell [default: the only one that has parts].
    #[cfg_attr(feature = "clap", arg(value_name = "ROLE"))]
    pub need: Option<String>,
    /// Piece to lie on, such as L17.2.
    #[cfg_attr(
        feature = "clap",
        arg(long = "from", value_name = "PIECE", conflicts_with = "width")
    )]
    pub piece: Option<PieceCode>,
    /// Usable width, between the selvedges: 142cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long))]
    pub width: Option<Typed<Micrometres>>,
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
    /// Piece that it was laid on.
    pub piece: Option<PieceCode>,
    /// Usable width.
    pub usable_m: Metres,
    /// Width that the parts take of it.
    pub width_m: Metres,
    /// Length from the first part to the last, without end allowance.
    pub length_m: Metres,
    /// What it is: a lay, or rows.
    pub length_by: LengthBy,
    /// Share of the cloth of this length and the usable width that the parts use, in percent to one decimal, rounded down.
    pub used_percent: String,
    /// Of the piece: what a promise would hold of it now.
    pub takes: Option<Amount>,
    /// The parts in the order in which their places begin.
    pub parts: Vec<LaidPart>,
    /// Remarks.
    pub notes: Vec<String>,
}

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
