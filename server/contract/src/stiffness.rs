//! How stiff a lot is along each grain: strip tests, and what follows from them in other directions.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Gsm, Metres, Typed, access::conceals, act::act, reservations::Reservation};
use chrono::NaiveDate;
use ellwand_domain::{
    certainty::Certainty,
    code::{BookingCode, LotCode},
    quantity::Micrometres,
    setting::{Grain, Kind, StiffnessMethod, StiffnessWay},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Records how stiff a lot is, from strips or a datasheet; a grain that is not given stays as it is.
///
/// A grain takes a list of strips, each the list of its readings: `[["62mm", "60mm"], ["61mm", "61mm"]]` are overhangs
/// of two strips, face up and face down. A bending length or a rigidity is given alone: `[["11.4uNm"]]`.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), command(group = clap::ArgGroup::new("readings").multiple(true).args(["lengthwise", "crosswise", "bias"])))]
pub struct TestStiffness {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Lot code, such as L1.
    pub lot: LotCode,
    /// Overhangs of strips along the warp, or one printed figure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "READINGS", value_parser = typed::strips, default_value = "", hide_default_value = true, allow_hyphen_values = true))]
    pub lengthwise: std::vec::Vec<Vec<String>>,
    /// Overhangs of strips along the weft, or one printed figure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "READINGS", value_parser = typed::strips, default_value = "", hide_default_value = true, allow_hyphen_values = true))]
    pub crosswise: std::vec::Vec<Vec<String>>,
    /// Overhangs of strips at 45 degrees, or one printed figure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "READINGS", value_parser = typed::strips, default_value = "", hide_default_value = true, allow_hyphen_values = true))]
    pub bias: std::vec::Vec<Vec<String>>,
    /// Formula behind the figures: half-overhang, bending-length, rigidity, iso-9073-7, astm-d1388 or kes; default by the
    /// unit.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "WORD", requires = "readings")
    )]
    pub formula: Option<StiffnessMethod>,
    /// Mass per area of the strips; default the lot's.
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            value_name = "MASS",
            requires = "readings",
            allow_hyphen_values = true
        )
    )]
    pub mass: Option<String>,
    /// Thickness of the strips.
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            value_name = "LENGTH",
            requires = "readings",
            allow_hyphen_values = true
        )
    )]
    pub thickness: Option<String>,
    /// Size of the strips, along the grain x across; default 200mmx25mm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTHxWIDTH", value_parser = strip, requires = "readings"))]
    pub strip: Option<StripInput>,
    /// How well it is known: measured, stated, estimated or unknown; default measured for overhangs, else stated.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WORD", value_parser = typed::certainty, requires = "readings"))]
    pub certainty: Option<Certainty>,
    /// How it was found: raw or washed, fused or not, by whom, from which datasheet.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "TEXT", requires = "readings")
    )]
    pub note: Option<String>,
    /// Confirm strips more than 20 % apart.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long, requires = "readings"))]
    pub really: bool,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date, requires = "readings"))]
    pub date: Option<NaiveDate>,
}
act!(post TestStiffness => StiffnessChanged, "test_stiffness", "/v1/lots/{lot}/stiffness", "Records how stiff a lot is along its grains.", needs Daily; conceals);

/// Size of a test strip.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StripInput {
    /// Along the grain that is tested.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
    /// Across it.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub width: Typed<Micrometres>,
}

#[cfg(feature = "clap")]
/// Reads the size of a strip: `200mmx25mm`.
fn strip(text: &str) -> Result<StripInput, String> {
    let (length, width) = typed::by_times(text)
        .ok_or_else(|| format!("\"{text}\" is not length x width, for example 200mmx25mm"))?;
    let read = |side: &str| {
        side.parse()
            .map_err(|error: ellwand_domain::quantity::QuantityError| error.to_string())
    };
    Ok(StripInput {
        length: read(length)?,
        width: read(width)?,
    })
}

/// Returns how stiff a lot is, along each grain and in the directions between.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetStiffness {
    /// Lot code, such as L7.
    pub lot: LotCode,
}
act!(read GetStiffness => Stiffness, "get_stiffness", "/v1/lots/{lot}/stiffness", "Returns how stiff a lot is by direction."; versioned);

/// A stiffness as it was recorded, and the booking.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StiffnessChanged {
    /// The booking.
    pub booking: BookingCode,
    /// The lot's stiffness as it is now.
    pub stiffness: Stiffness,
    /// Promises that hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}
conceals!(StiffnessChanged, parts { changed, broken });

/// How stiff a lot is.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Stiffness {
    /// Lot.
    pub lot: LotCode,
    /// Material's name.
    pub name: String,
    /// Kind.
    pub kind: Kind,
    /// Mass per area of the sheet.
    pub mass_gsm: Option<Gsm>,
    /// Along each grain that is known, lengthwise first.
    pub grains: Vec<GrainStiffness>,
    /// The working, step by step.
    pub steps: Vec<String>,
    /// Overall rigidity in µN·m, the root of lengthwise times crosswise; null unless both are known.
    pub overall_unm: Option<String>,
    /// Every 5° from lengthwise (0) to crosswise (90); empty unless both are known.
    pub directions: Vec<DirectedStiffness>,
    /// What turning a part would change, for each grain that may run along it.
    pub turning: Vec<String>,
    /// Remarks.
    pub notes: Vec<String>,
    /// Version: the last booking that touched the lot.
    pub version: BookingCode,
}

/// Rigidity along one grain, with what it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GrainStiffness {
    /// Along which grain.
    pub grain: Grain,
    /// Rigidity in µN·m, decimal string.
    pub rigidity_unm: String,
    /// How it was found; null: recorded before formulas were.
    pub method: Option<StiffnessMethod>,
    /// How well it is known.
    pub certainty: Certainty,
    /// Day of the test; null: from a sheet.
    pub date: Option<NaiveDate>,
    /// Strips and their readings as typed, or the one figure of a sheet.
    pub readings: Vec<Vec<String>>,
    /// Mean overhang.
    pub overhang_m: Option<Metres>,
    /// Bending length, where it was the way to the rigidity.
    pub bending_length_m: Option<Metres>,
    /// Mass per area that it was worked out with.
    pub mass_gsm: Option<Gsm>,
    /// Thickness.
    pub thickness_m: Option<Metres>,
    /// Length of the strips.
    pub strip_length_m: Option<Metres>,
    /// Width of the strips.
    pub strip_width_m: Option<Metres>,
    /// Note.
    pub note: Option<String>,
}

/// Rigidity in one direction.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DirectedStiffness {
    /// Degrees from the lengthwise grain.
    pub degrees: u8,
    /// Rigidity in µN·m, decimal string.
    pub rigidity_unm: String,
    /// In eight cloths of ten a strip shows between this and `high_unm`; null where a strip was tested.
    pub low_unm: Option<String>,
    /// The other end of it.
    pub high_unm: Option<String>,
    /// How it is known.
    pub way: StiffnessWay,
}
