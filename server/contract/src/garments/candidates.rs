//! Which pieces can serve a garment.

use crate::{Amount, Micro, Typed, act::act};
use ellwand_domain::{
    code::{GarmentCode, PieceCode},
    quantity::Micrometres,
};
use serde::{Deserialize, Serialize};

/// Asks which pieces can serve a garment's needs and why each other cannot.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetCandidates {
    /// Which.
    pub garment: GarmentCode,
    /// Only this role.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub need: Option<String>,
}
act!(read GetCandidates => Candidates, "get_candidates", "/v1/garments/{garment}/candidates", "Lists which pieces can serve each need, and why each other cannot."; conceals);

/// Candidates for every open need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidates {
    /// Garment.
    pub garment: GarmentCode,
    /// One entry a need.
    pub needs: Vec<NeedCandidates>,
}

/// Candidates for one need.
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
    #[serde(default)]
    pub nearest_only: bool,
    /// Remarks: of reels that run at once, which lots come nearest where none has enough.
    #[serde(default)]
    pub notes: Vec<String>,
    /// What `reserve --all` would take, when the open units can all be promised.
    pub picks: Vec<Pick>,
}

/// A piece and the units to take from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Pick {
    /// Role of the need.
    pub need: String,
    /// From this piece.
    pub piece: PieceCode,
    /// Lengths (or trims) to promise; absent: all that are open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub units: Option<i64>,
    /// Part of a need: this washed length per unit; the need's longest part must fit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub washed_length: Option<Typed<Micrometres>>,
}

/// A piece that serves a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidate {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Where it lies.
    pub place: Option<String>,
    /// Units it can take.
    pub units: i64,
    /// Length (or count) one unit takes off it.
    pub takes: Amount,
    /// What is free now.
    pub free: Amount,
    /// What would be left free.
    pub left: Amount,
    /// What taking `units` would cost; null where prices are not told.
    pub cost: Option<Micro>,
    /// Shrinkage used, for people: `4.57 % lengthwise, measured, wash test 1`.
    pub shrinkage: Option<String>,
    /// The sum, step by step.
    pub steps: Vec<String>,
    /// Remarks: estimated figures, stiffness along the part, shrinkage that differs from the shell's.
    pub notes: Vec<String>,
}

/// A piece that does not serve a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CannotServe {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Why, for people.
    pub reason: String,
}
