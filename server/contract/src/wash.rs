//! Wash tests, and pieces that were washed or steamed.

pub use crate::shrinkage::{KnownShrinkage, Shrinkage};
#[cfg(feature = "clap")]
use crate::typed;

use crate::{
    Metres, Typed,
    access::conceals,
    act::act,
    lots::{LotChanged, PieceChanged},
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{LotCode, PieceCode},
    quantity::Micrometres,
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Records the readings of a swatch that was washed or steamed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TestWash {
    /// Request id.
    pub id: Uuid,
    /// Lot code, such as L1.
    pub lot: LotCode,
    /// Preparation: `washed` or `steamed`.
    pub preparation: Preparation,
    /// Distances between the marks before, lengthwise, one to three.
    #[cfg_attr(feature = "openapi", schema(value_type = Vec<String>))]
    pub length_before: Vec<Typed<Micrometres>>,
    /// The same marks after each cycle.
    #[cfg_attr(feature = "openapi", schema(value_type = Vec<Vec<String>>))]
    pub length_after: Vec<Vec<Typed<Micrometres>>>,
    /// Distances before, crosswise; empty: not tested.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "openapi", schema(value_type = Vec<String>))]
    pub width_before: Vec<Typed<Micrometres>>,
    /// The same marks after each cycle.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "openapi", schema(value_type = Vec<Vec<String>>))]
    pub width_after: Vec<Vec<Typed<Micrometres>>>,
    /// A swatch cut for it, `50cm x 50cm`: its length comes off the piece, its value stays there; the strip beside it is kept if it is
    /// big enough.
    pub swatch: Option<SwatchInput>,
    /// How it was done: cycle, temperature, drying, by whom.
    pub note: Option<String>,
    /// Confirms growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise.
    #[serde(default)]
    pub really: bool,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post TestWash => LotChanged, "test_wash", "/v1/lots/{lot}/wash-tests", "Records a wash test.", needs Daily; conceals);

/// A swatch taken off a piece across its full width; the strip beside it is kept as a piece by the workshop's rule, as beside a
/// panel, else it is waste.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SwatchInput {
    /// Piece that it comes from, such as L1.1.
    pub piece: PieceCode,
    /// Length taken.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
    /// Width of the swatch.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub width: Typed<Micrometres>,
    /// True: only a corner is cut. A piece is a rectangle, so that the rest of the strip becomes a piece of its own, however small.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub corner: bool,
}

/// Record that a piece was washed or steamed, and what it measures now.
///
/// Its value stays; its promises are checked again, and those that no longer fit are listed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct FinishWash {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Preparation: washed, "washed x3" or steamed.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "WHAT", default_value = "washed")
    )]
    pub preparation: Preparation,
    /// Length now: 3.80m.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub length: Typed<Micrometres>,
    /// Full width now: 147cm [default: estimated from the shrinkage].
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH"))]
    pub width: Option<Typed<Micrometres>>,
    /// Confirm unusual figures: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above its lot's, where no more was expected.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post FinishWash => PieceChanged, "finish_wash", "/v1/pieces/{piece}/prepare", "Says that a piece was washed or steamed.", needs Daily; conceals);

/// A piece with what it measures after a wash: `L1.1=3.80m`, or with its width `L1.1=3.80mx147cm`.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Washed {
    /// Piece code, such as L1.1.
    pub piece: PieceCode,
    /// Length now.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
    /// Full width now; without it, estimated from the shrinkage.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
}

/// Records that several pieces were washed or steamed alike, all or none; each is a booking of its own.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FinishWashes {
    /// Request id.
    pub id: Uuid,
    /// Which, with what each measures now.
    pub pieces: Vec<Washed>,
    /// Preparation: washed, "washed x3" or steamed.
    pub preparation: Preparation,
    /// Confirms unusual figures, as for one piece.
    #[serde(default)]
    pub really: bool,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post FinishWashes => PiecesChanged, "finish_washes", "/v1/washes", "Says that several pieces were washed or steamed, all or none.", needs Daily; conceals);

/// What a wash of several pieces changed.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PiecesChanged {
    /// In the order of the request.
    pub pieces: Vec<PieceChanged>,
}
conceals!(PiecesChanged, parts { pieces });

/// A wash test as recorded.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WashTestRecord {
    /// Number in the lot, from 1.
    pub number: i64,
    /// Day.
    pub date: NaiveDate,
    /// What was done.
    pub preparation: Preparation,
    /// Readings lengthwise before.
    pub length_before_m: Vec<Metres>,
    /// Readings lengthwise after each cycle.
    pub length_after_m: Vec<Vec<Metres>>,
    /// Readings crosswise before.
    pub width_before_m: Vec<Metres>,
    /// Readings crosswise after each cycle.
    pub width_after_m: Vec<Vec<Metres>>,
    /// ISO 5077 change lengthwise after each cycle, to 0.1 %, signed: `-4.6 %`.
    pub length_change: Vec<String>,
    /// The same crosswise.
    pub width_change: Vec<String>,
    /// Shrinkage lengthwise after the last cycle: `4.57 %`.
    pub length_shrinkage: String,
    /// Shrinkage crosswise after the last cycle.
    pub width_shrinkage: Option<String>,
    /// Note.
    pub note: Option<String>,
}
