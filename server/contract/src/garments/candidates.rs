//! Which pieces can serve a garment.

use super::NeedChange;
use crate::{Amount, Micro, access::conceals, act::act, reservations::Pick, shrinkage::Shrinkage};
use ellwand_domain::{
    certainty::Certainty,
    code::{GarmentCode, LayCode, LotCode, PieceCode},
    setting::{LengthBy, WhyNot},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Show which pieces can make a garment, and why the others cannot.
///
/// The best three come first, with what each would take, leave and cost, and how well that is known. Of the others a line for each
/// kind of reason says why they do not suit; a missing figure is a reason, too.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetCandidates {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Show only the need of this role: shell.
    #[cfg_attr(feature = "clap", arg(long, value_name = "ROLE"))]
    pub need: Option<String>,
}
act!(read GetCandidates => Candidates, "get_candidates", "/v1/garments/{garment}/candidates", "Lists which pieces can serve each need, and why the others cannot."; conceals);

/// Candidates for every open need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidates {
    /// Garment.
    pub garment: GarmentCode,
    /// One entry per need.
    pub needs: Vec<NeedCandidates>,
}
conceals!(Candidates, parts { needs });

/// Candidates for one need.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NeedCandidates {
    /// Role.
    pub role: String,
    /// How much one garment needs, for people.
    pub amount: String,
    /// Units still to be promised.
    pub units_open: i64,
    /// Pieces that serve, best first.
    pub serve: Vec<Candidate>,
    /// Pieces of the same kind that do not, each with its reason.
    pub cannot: Vec<CannotServe>,
    /// True when the shelf holds too many pieces of the kind to look at each: only those of the lots or the material that
    /// the need names were looked at, or those nearest to the length.
    pub nearest_only: bool,
    /// Remarks: a set that is incomplete, a lot that is used up; of reels that run at once, the lots that come nearest; of needs that
    /// share pieces, how they were chosen together.
    pub notes: Vec<String>,
    /// What to do when the open units cannot all be promised, for people.
    pub advice: Option<String>,
    /// What must be decided first, for people: thread is never taken in a colour that nobody named.
    pub undecided: Option<String>,
    /// What `reserve --all` would take, when the open units can all be promised and nothing is undecided.
    pub picks: Vec<Pick>,
    /// Counted trims: what each lot that meets the conditions has for the open units; those that have enough first, then the
    /// nearest.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lots: Vec<SetLot>,
    /// Trims, when no lot serves: lots that are nearly right, the nearest in size first, and the need that would take each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub near: Vec<NearLot>,
}
conceals!(NeedCandidates, parts { serve });

/// What a lot has of a counted trim.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetLot {
    /// Lot.
    pub lot: LotCode,
    /// Material's name.
    pub name: String,
    /// Free on all its pieces.
    pub free: i64,
    /// How many it lacks; 0 when it can fill them.
    pub missing: i64,
    /// Pieces with any free.
    pub pieces: i64,
}

/// A lot that is nearly what a need asks for. Nothing of it is promised until the need is changed.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NearLot {
    /// Lot.
    pub lot: LotCode,
    /// Material's name.
    pub name: String,
    /// Size, both ways.
    pub size: Option<String>,
    /// Colour.
    pub colour: Option<String>,
    /// Free on all its pieces.
    pub free: Amount,
    /// What would be left of it.
    pub left: Amount,
    /// How it differs, for people.
    pub because: String,
    /// What would differ of the need to take this lot: for `edit_garment`.
    pub need: NeedChange,
}

/// A piece that serves a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidate {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Place.
    pub place: Option<String>,
    /// Units it can take.
    pub units: i64,
    /// Length (or count) one unit takes off it.
    pub takes: Amount,
    /// What the length of parts comes from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_by: Option<LengthBy>,
    /// The kept lay that it is the length of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lay: Option<LayCode>,
    /// What is free now.
    pub free: Amount,
    /// What would be left free.
    pub left: Amount,
    /// What taking `units` would cost; null where prices are hidden, and where its lot has none.
    pub cost: Option<Micro>,
    /// How well the cost is known: measured by the book, estimated from what the lot would cost to buy again, or unknown.
    pub cost_certainty: Certainty,
    /// How well what it takes is known.
    pub certainty: Certainty,
    /// Shrinkage used, for people: `4.57 % lengthwise, measured, wash test 1`.
    pub shrinkage: Option<String>,
    /// The same, each direction with its certainty and source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub directions: Option<Shrinkage>,
    /// The working, step by step.
    pub steps: Vec<String>,
    /// Remarks: estimated figures, stiffness along the part, shrinkage that differs from the shell's.
    pub notes: Vec<String>,
}
conceals!(Candidate, prices { cost });

/// A piece that does not serve a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CannotServe {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Reason in one word.
    pub why: WhyNot,
    /// Reason, for people.
    pub reason: String,
}
