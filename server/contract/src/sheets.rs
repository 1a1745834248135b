//! Materials and their technical sheets.

#[cfg(feature = "clap")]
mod read;

#[cfg(feature = "clap")]
pub use read::{fibres, shrinkage};

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Gsm, Metres, Micro, access::conceals, act::act, stiffness::GrainStiffness};
use ellwand_domain::{
    certainty::Certainty,
    code::MaterialCode,
    quantity::Tex,
    setting::{Kind, TrimUnit},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Technical data as typed; what is absent is unknown (on an edit: stays). Quantities carry their unit.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(
    feature = "clap",
    derive(clap::Args),
    command(next_help_heading = "Technical sheet"),
    group(skip)
)]
pub struct SheetInput {
    /// Fibre shares that add up to 100 %: "linen 55% + cotton 45%".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARES", value_parser = fibres, default_value = "", hide_default_value = true))]
    pub fibres: std::vec::Vec<FibreInput>,
    /// Construction, in the trade's words: plain, twill, denim.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WORD"))]
    pub construction: Option<String>,
    /// Colour.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WORD"))]
    pub colour: Option<String>,
    /// Mass per area: 270gsm, 8oz/yd2; per running length with the full width known: 14oz/yd.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS"))]
    pub mass: Option<String>,
    /// Width from selvedge to selvedge.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH", value_parser = typed::length))]
    pub full_width: Option<String>,
    /// Both selvedges together: full width less usable width.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH", value_parser = typed::length))]
    pub selvedges: Option<String>,
    /// Shrinkage stated by the seller, lengthwise/crosswise: "5%/2%", "3%/1% steamed".
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARES", value_parser = shrinkage, allow_hyphen_values = true))]
    pub shrinkage: Option<ShrinkageInput>,
    /// Nap, pile or a one-way print: yes or no.
    #[cfg_attr(feature = "clap", arg(long, value_name = "YES_OR_NO", hide_possible_values = true, value_parser = typed::yes_or_no()))]
    pub one_way: Option<bool>,
    /// Repeat lengthwise: 68.58cm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH", value_parser = typed::length))]
    pub repeat: Option<String>,
    /// Stretch crosswise: 20%.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE", value_parser = typed::share))]
    pub stretch: Option<String>,
    /// Interlining: yes for fusible, no for sewn-in.
    #[cfg_attr(feature = "clap", arg(long, value_name = "YES_OR_NO", hide_possible_values = true, value_parser = typed::yes_or_no()))]
    pub fusible: Option<bool>,
    /// Interlining: stiffness along each grain.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub stiffness: Option<StiffnessInput>,
    /// Thread: 30tex, "Nm 50/2", "Ne 40/2".
    #[cfg_attr(feature = "clap", arg(long, value_name = "COUNT", value_parser = typed::yarn_count))]
    pub yarn_count: Option<String>,
    /// Thread: length on a full reel.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH", value_parser = typed::length))]
    pub reel_length: Option<String>,
    /// Mass of the empty reel of thread, or of the core that cloth is rolled on.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MASS", value_parser = typed::mass))]
    pub tare: Option<String>,
    /// Trim: size, 18L (ligne) or 12mm.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SIZE"))]
    pub size: Option<String>,
    /// Trim: kept by count or by length.
    #[cfg_attr(feature = "clap", arg(long, value_name = "UNIT"))]
    pub unit: Option<TrimUnit>,
    /// How well mass and widths are known: measured, stated, estimated or unknown; default stated.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WORD", value_parser = typed::certainty))]
    pub certainty: Option<Certainty>,
    /// Anything else worth noting.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub note: Option<String>,
}

/// One fibre and its share.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FibreInput {
    /// Generic fibre name.
    pub fibre: String,
    /// Share by mass, `55%`.
    pub share: String,
}

/// Shrinkage stated by the seller: shares of the raw length, positive = shrinks.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ShrinkageInput {
    /// Lengthwise, `5%`.
    pub length: String,
    /// Crosswise, `2%`; absent = unknown.
    pub width: Option<String>,
    /// Preparation: `washed`, `washed x3`, `steamed`; default `washed`.
    pub preparation: Option<String>,
}

/// Stiffness along each grain: rigidity (`11.4uNm`, `160mgcm`, `22uJ/m` by ASTM D1388, `0.1gfcm2/cm`) or bending length
/// (`20mm`); absent = unknown, never assumed.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct StiffnessInput {
    /// Interlining: rigidity (11.4uNm) or bending length (20mm) lengthwise.
    #[cfg_attr(
        feature = "clap",
        arg(long = "stiffness-lengthwise", value_name = "STIFFNESS")
    )]
    pub lengthwise: Option<String>,
    /// Interlining: rigidity or bending length crosswise.
    #[cfg_attr(
        feature = "clap",
        arg(long = "stiffness-crosswise", value_name = "STIFFNESS")
    )]
    pub crosswise: Option<String>,
    /// Interlining: rigidity or bending length on the bias.
    #[cfg_attr(
        feature = "clap",
        arg(long = "stiffness-bias", value_name = "STIFFNESS")
    )]
    pub bias: Option<String>,
    /// Interlining: how well the stiffness is known: measured, stated, estimated or unknown; default stated.
    #[cfg_attr(feature = "clap", arg(id = "stiffness_certainty", long = "stiffness-certainty", value_name = "WORD", value_parser = typed::certainty))]
    pub certainty: Option<Certainty>,
}

/// Technical data as recorded.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Sheet {
    /// Fibre shares, for example `55 % linen, 45 % cotton`; empty = unknown.
    pub fibres: Vec<FibreInput>,
    /// Construction.
    pub construction: Option<String>,
    /// Colour.
    pub colour: Option<String>,
    /// Mass per area.
    pub mass_gsm: Option<Gsm>,
    /// Selvedge to selvedge, as bought.
    pub full_width_m: Option<Metres>,
    /// Both selvedges together.
    pub selvedges_m: Option<Metres>,
    /// Stated shrinkage, as typed.
    pub shrinkage: Option<ShrinkageInput>,
    /// Number of the wash test that counts instead of the latest one.
    pub wash_test: Option<i64>,
    /// Nap, pile or one-way print.
    pub one_way: Option<bool>,
    /// Repeat lengthwise: 68.58cm.
    pub repeat_m: Option<Metres>,
    /// Stretch crosswise, as typed.
    pub stretch: Option<String>,
    /// Fusible or sewn-in.
    pub fusible: Option<bool>,
    /// Rigidity lengthwise in µN·m, decimal string.
    pub rigidity_lengthwise_unm: Option<String>,
    /// Rigidity crosswise in µN·m, decimal string.
    pub rigidity_crosswise_unm: Option<String>,
    /// Rigidity on the bias in µN·m, decimal string; absent: never tested.
    pub rigidity_bias_unm: Option<String>,
    /// How each of these was found, lengthwise first.
    pub stiffness: Vec<GrainStiffness>,
    /// How well the least well known of them is known.
    pub stiffness_certainty: Option<Certainty>,
    /// Thread count as typed.
    pub yarn_count: Option<String>,
    /// Thread count in tex, decimal string to the nearest of 3 decimals; what was typed is what counts.
    pub tex: Option<String>,
    /// Length on a full reel.
    pub reel_length_m: Option<Metres>,
    /// Mass of the empty reel, or of the core that cloth is rolled on, in grams, decimal string.
    pub tare_g: Option<String>,
    /// Trim size as typed.
    pub size: Option<String>,
    /// Trim size across.
    pub size_m: Option<Metres>,
    /// Counted or measured.
    pub unit: Option<TrimUnit>,
    /// How well mass and widths are known.
    pub certainty: Option<Certainty>,
    /// Note.
    pub note: Option<String>,
}

impl Sheet {
    /// The exact thread count: as it was typed, else by the decimal tex.
    #[must_use]
    pub fn count(&self) -> Option<Tex> {
        let typed = self
            .yarn_count
            .as_deref()
            .and_then(|typed| typed.parse().ok());
        typed.or_else(|| {
            self.tex
                .as_deref()
                .and_then(|tex| Tex::from_decimal_tex(tex).ok())
        })
    }
}

/// List materials by kind and name.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListMaterials {
    /// Show only this kind: cloth, lining, interlining, thread or trim.
    #[cfg_attr(feature = "clap", arg(long, value_name = "KIND"))]
    pub kind: Option<Kind>,
}
act!(read ListMaterials => Materials, "list_materials", "/v1/materials", "Lists materials by kind and name."; conceals);

/// Change a material's name, or the sheet for its next lots.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EditMaterial {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// The material's code.
    #[cfg_attr(feature = "clap", arg(value_name = "CODE"))]
    pub material: MaterialCode,
    /// New name.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub name: Option<String>,
    /// Least level, to be told when less is on the shelf: 2m, for counted trims 20; none takes it away.
    #[cfg_attr(feature = "clap", arg(long, value_name = "AMOUNT"))]
    pub least: Option<String>,
    /// Changes to the sheet.
    #[serde(default)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub sheet: SheetInput,
    /// Confirm a shrinkage with growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(patch EditMaterial => Material, "edit_material", "/v1/materials/{material}", "Changes a material's record.");

/// A material.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Material {
    /// Code.
    pub material: MaterialCode,
    /// Cloth, interlining, thread or trim.
    pub kind: Kind,
    /// Name.
    pub name: String,
    /// Sheet that new lots start from.
    pub sheet: Sheet,
    /// Least level: when less is on the shelf, it is time to buy.
    pub least: Option<Amount>,
    /// Thread and trims: what is left in their cost layers.
    pub stock: Option<Stock>,
}
conceals!(Material, parts { stock });

/// What is left of thread or trims, with its cost.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Stock {
    /// Length or count.
    pub quantity: Amount,
    /// Exact; null where prices are hidden.
    pub value: Option<Micro>,
    /// In minor units, half up; null where prices are hidden.
    pub printed: Option<String>,
    /// True for the pool of a moving average, which is of all lots together.
    pub pooled: bool,
    /// True where a lot that has no price yet is among it, which counts as nothing.
    pub unpriced: bool,
}
conceals!(Stock, prices { value, printed });

/// All materials.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Materials {
    /// By kind and name.
    pub materials: Vec<Material>,
}
conceals!(Materials, parts { materials });
