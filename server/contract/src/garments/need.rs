//! What a garment needs: as requested, and as recorded.

use super::part::{NeedPart, PartInput};
#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Gsm, Metres, Typed, access::conceals, reservations::Reservation};
use ellwand_domain::{
    code::{GarmentCode, LotCode, PieceCode},
    quantity::Micrometres,
    setting::{Grain, Kind, LengthBy},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// One thing a garment needs, per garment.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct NeedInput {
    /// `shell`, `lining`, `buttons` …; one of each on a garment.
    #[cfg_attr(feature = "clap", arg(long, value_name = "shell"))]
    pub role: String,
    /// Kind of material.
    #[cfg_attr(feature = "clap", arg(long, value_name = "cloth"))]
    pub kind: Option<Kind>,
    /// Cloth and interlining: washed length. Thread and measured trims: length.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub length: Option<String>,
    /// Thread: true: the length comes from the seams that name this role, and is left out.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub seams: bool,
    /// Cloth and interlining: usable width after preparation that the length is for.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub width: Option<String>,
    /// Instead of one length: lengths by width.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_parser = super::widths::widths, default_value = ""))]
    pub widths: std::vec::Vec<WidthInput>,
    /// Parts, whose length follows from the width of each piece; a length beside them is a lay of your own, which counts instead from
    /// its width on.
    #[serde(rename = "part", skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub parts: Vec<PartInput>,
    /// Counted trims: how many.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count))]
    pub count: Option<i64>,
    /// Preparation that the cloth must have had when it is cut: `washed`, `steamed`; `none`: cut as it is; `raw`: it must never
    /// have been wet.
    #[cfg_attr(feature = "clap", arg(long))]
    pub preparation: Option<Preparation>,
    /// Only this material: code or name.
    #[cfg_attr(feature = "clap", arg(long))]
    pub material: Option<String>,
    /// Only this lot.
    #[cfg_attr(feature = "clap", arg(long))]
    pub lot: Option<LotCode>,
    /// Only lots that this garment was cut from (or is promised) in the same role.
    #[cfg_attr(feature = "clap", arg(long))]
    pub same_lot_as: Option<GarmentCode>,
    /// Only cloth that contains this fibre.
    #[cfg_attr(feature = "clap", arg(long))]
    pub fibre: Option<String>,
    /// Only cloth of this mass per area or more.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::mass_per_area))]
    pub mass_min: Option<String>,
    /// Only cloth of this mass per area or less.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::mass_per_area))]
    pub mass_max: Option<String>,
    /// Length of the longest part: a need may be split over pieces that each hold it.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub longest_part: Option<String>,
    /// True: may be made from several lots.
    #[cfg_attr(feature = "clap", arg(long))]
    pub mixing: bool,
    /// Thread: number of reels that run at once and share the length, each another piece.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count))]
    pub reels: Option<i64>,
    /// True: a batch's lengths are joined into one.
    #[cfg_attr(feature = "clap", arg(long))]
    pub one_length: bool,
    /// Grain that runs along the long side of the part.
    #[cfg_attr(feature = "clap", arg(long))]
    pub grain: Option<Grain>,
    /// Least rigidity along the long side: `10uNm`.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::stiffness))]
    pub stiffness_min: Option<String>,
    /// Greatest rigidity along the long side.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::stiffness))]
    pub stiffness_max: Option<String>,
    /// As stiff along the long side as this lot along this grain: `L7 crosswise`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub stiff_like: Option<String>,
    /// Interlining: only fusible (true), only sewn-in (false).
    #[cfg_attr(feature = "clap", arg(long))]
    pub fusible: Option<bool>,
    /// Trims: of this size, `24L`, `15mm`, a zip `55cm`.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::trim_size))]
    pub size: Option<String>,
    /// Thread and trims: of this colour.
    #[cfg_attr(feature = "clap", arg(long))]
    pub colour: Option<String>,
    /// Counted trims: true for a set that matches, promised from one lot, all of a garment's or nothing.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub matching: bool,
    /// Counted trims: spares with each garment.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count))]
    pub spares: Option<i64>,
    /// Cloth and interlining: true: the pattern must match, so that each length is whole repeats of its lot.
    #[serde(rename = "match", skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long = "match"))]
    pub match_repeat: bool,
    /// Planned cost for one garment, where no lot is promised yet: in the workshop's currency, with the length that it is for
    /// where that differs: `150.40 for 2.35m`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub estimate: Option<String>,
    /// Detail that it belongs to: `pad-stitched collar`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub detail: Option<String>,
}

/// A length for a width.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WidthInput {
    /// Usable width after preparation.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub width: Typed<Micrometres>,
    /// Washed length at that width.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
}

/// A need as recorded.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Need {
    /// Role.
    pub role: String,
    /// Kind of material.
    pub kind: Kind,
    /// How much one garment needs, for people: `2.60 m washed at 140 cm`.
    pub amount: String,
    /// Conditions, for people; empty: none.
    pub conditions: Vec<String>,
    /// Lengths (or trims, or one joined length) that the batch needs.
    pub units: i64,
    /// Of those, promised.
    pub units_reserved: i64,
    /// Of those, cut.
    pub units_cut: i64,
    /// Promises: the active ones, and the newest of those that ended.
    pub reservations: Vec<Reservation>,
    /// Cloth of these lots was cut for it.
    pub lots: Vec<LotCode>,
    /// Least mass per area.
    pub mass_min_gsm: Option<Gsm>,
    /// Greatest mass per area.
    pub mass_max_gsm: Option<Gsm>,
    /// Washed length per garment at `width_m`, when one was given; of parts, that of the own lay, of a lay of them or of their rows.
    pub length_m: Option<Metres>,
    /// Usable width after preparation.
    pub width_m: Option<Metres>,
    /// What the length of parts comes from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_by: Option<LengthBy>,
    /// Parts as they are cut; empty: it is needed by length.
    pub parts: Vec<NeedPart>,
    /// Area of one garment's parts in square metres.
    pub area_m2: Option<String>,
    /// Counted trims per garment, spares not included.
    pub count: Option<i64>,
    /// Spares with each garment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spares: Option<i64>,
    /// Size of a trim, both ways: `24 L = 15.24 mm`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Colour of thread or a trim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<String>,
    /// True for a set that matches.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub matching: bool,
    /// What went into it, lot by lot, and what is left of each: for repairs and repeats.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<UsedLot>,
    /// Preparation.
    pub preparation: Option<Preparation>,
    /// Grain along the part's long side.
    pub grain: Option<Grain>,
    /// Detail that it belongs to.
    pub detail: Option<String>,
}
conceals!(Need, parts { reservations });

/// A lot that went into a need, and what is left of it now.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct UsedLot {
    /// Lot.
    pub lot: LotCode,
    /// Pieces it came from.
    pub pieces: Vec<PieceCode>,
    /// Material's name.
    pub name: String,
    /// Colour.
    pub colour: Option<String>,
    /// Size of a trim, both ways.
    pub size: Option<String>,
    /// The dyer's number for the batch.
    pub dye_lot: Option<String>,
    /// From whom.
    pub supplier: Option<String>,
    /// Cut for this need.
    pub taken: Amount,
    /// Of the lot on the shelf now, strips apart.
    pub left: Amount,
    /// Pieces of it that are narrower by more than a fifth.
    pub strips: i64,
    /// Of that, promised to nobody.
    pub free: Amount,
    /// Of that, the most in one length: cloth is never cut from sums.
    pub longest_free: Option<Amount>,
}
