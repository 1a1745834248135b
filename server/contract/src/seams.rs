//! Seams of a garment, and the thread that they take.

mod estimate;
mod read;
mod refusal;

#[cfg(feature = "clap")]
use crate::{pairs, typed};
pub use estimate::estimate;
pub use refusal::refused;

use crate::{Metres, act::act};
use ellwand_domain::{
    certainty::Certainty,
    code::{BookingCode, GarmentCode},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// A seam of a garment's plan, or one whose thread is worked out without a garment.
///
/// Uses the first of these that is given: a sample that was unpicked, a figure for each, the measures that the formula
/// of the stitch needs, the published ratio. Otherwise the seam is refused.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct SeamInput {
    /// `side seam`, `hem` …; one of each on a garment.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, default_value = ""))]
    pub name: String,
    /// Stitch type of ISO 4915 (`301`), a hand stitch (`back`) or a counted item (`bar-tack`).
    #[cfg_attr(feature = "clap", arg(long, value_name = "301", value_parser = typed::stitch))]
    pub stitch: String,
    /// Length of one.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub length: Option<String>,
    /// How many; default 1.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count, default_value = "1"))]
    pub count: i64,
    /// Stitches in a centimetre: `4`.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::per_cm))]
    pub per_cm: Option<String>,
    /// Length of one stitch, instead of `per-cm`.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub step: Option<String>,
    /// Thickness of all layers together.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub thickness: Option<String>,
    /// Width of the seam, gauge of the needles, or width of an item; for a button the distance between two holes.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub width: Option<String>,
    /// Hand stitches: depth of the bite.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub bite: Option<String>,
    /// Pad stitches: how far one slants across.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub across: Option<String>,
    /// Blanket and buttonhole stitches: thread in a knot, about two diameters of the thread.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub knot: Option<String>,
    /// Buttons: height of the shank.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub shank: Option<String>,
    /// Bar tacks: stitches; buttons: passes of the thread.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count))]
    pub stitches: Option<i64>,
    /// Length of a sample that was sewn and unpicked.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub sample: Option<String>,
    /// Needle thread unpicked from the sample.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub sample_needle: Option<String>,
    /// Under thread unpicked from the sample.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub sample_under: Option<String>,
    /// Thread of one by your own figure, ends included.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub each: Option<String>,
    /// Role of the needle thread; default `thread`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub needle: Option<String>,
    /// Role of the bobbin or looper thread; default the needle's.
    #[cfg_attr(feature = "clap", arg(long))]
    pub under: Option<String>,
    /// Share of the needle thread, where none is known: `30%`.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::share))]
    pub needle_share: Option<String>,
    /// Detail that it belongs to: `hand-rolled hem`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub detail: Option<String>,
}
act!(read SeamInput => Seams, "estimate_seam", "/v1/seams/estimate", "Returns what thread a seam takes, without a garment.");

#[cfg(feature = "clap")]
/// Reads `name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm`; the name must be there.
///
/// # Errors
/// An unknown key, a value that cannot be read, no name or stitch.
pub fn parse_named_seam(text: &str) -> Result<SeamInput, pairs::PairsError> {
    let seam: SeamInput = pairs::parse_args(text)?;
    if seam.name.is_empty() {
        let message = "name is missing, for example name=side seam";
        return Err(pairs::PairsError::new(message));
    }
    Ok(seam)
}

const fn one() -> i64 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over so")]
const fn is_one(count: &i64) -> bool {
    *count == 1
}

/// Show a garment's seams and the thread they take.
///
/// Shows for one garment: thread in a metre of each seam, what it was worked out from and how well that is known, needle
/// and under thread; then the total of each thread with ends and waste.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetSeams {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
}
act!(read GetSeams => Seams, "get_seams", "/v1/garments/{garment}/seams", "Returns a garment's seams and the thread they take.");

/// Seams, and what each thread comes to for one garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Seams {
    /// The garment; null for a seam alone.
    pub garment: Option<GarmentCode>,
    /// What it is; null for a seam alone.
    pub name: Option<String>,
    /// In the order of the plan.
    pub seams: Vec<Seam>,
    /// What each thread comes to, in the order in which seams name it.
    pub threads: Vec<SeamsThread>,
    /// Tail of each thread at each start and finish.
    pub ends_m: Metres,
    /// Share of thread that is wasted, percent without its sign: `15`.
    pub waste_percent: String,
    /// Remarks.
    pub notes: Vec<String>,
    /// Version: the last booking that touched the garment; null for a seam alone.
    pub version: Option<BookingCode>,
}

/// A seam with its thread, all of the same seam together, for one garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Seam {
    /// The seam as requested.
    pub seam: SeamInput,
    /// Name of the stitch.
    pub stitch_name: String,
    /// Length of all of them together; null for counted items.
    pub length_m: Option<Metres>,
    /// Metres of thread in a metre, rounded up to the sixth decimal; null where there is no such figure.
    pub per_m: Option<String>,
    /// What it was worked out from: `sample`, `given`, `formula`, `ratio` or `geometry`.
    pub method: String,
    /// The formula with its figures.
    pub basis: String,
    /// How well it is known.
    pub certainty: Certainty,
    /// Role of the needle thread.
    pub needle: String,
    /// Role of the under thread; null for a stitch of one thread.
    pub under: Option<String>,
    /// Needle thread; null where only the whole is known.
    pub needle_m: Option<Metres>,
    /// Under thread; null where only the whole is known, or there is none.
    pub under_m: Option<Metres>,
    /// How it is shared, and how well that is known; null for a stitch of one thread.
    pub shared: Option<String>,
    /// Both.
    pub total_m: Metres,
    /// The working.
    pub step: String,
}

/// What one thread comes to for one garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SeamsThread {
    /// Role.
    pub role: String,
    /// Thread in the seams.
    pub seams_m: Metres,
    /// Tails.
    pub tails: i64,
    /// Their length together.
    pub ends_m: Metres,
    /// Waste on both.
    pub waste_m: Metres,
    /// All of it: the need's length.
    pub total_m: Metres,
    /// Total with a waste of 10 %, the least of the published shares.
    pub low_m: Metres,
    /// Total with a waste of 20 %, the most of them.
    pub high_m: Metres,
    /// The working, step by step.
    pub steps: Vec<String>,
}
