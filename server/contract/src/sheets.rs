//! Materials and their technical sheets.

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
pub struct SheetInput {
    /// Fibre shares; they add up to 100 %.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub fibres: Vec<FibreInput>,
    /// `plain`, `twill`, `denim` … in the trade's words.
    pub construction: Option<String>,
    /// Colour.
    pub colour: Option<String>,
    /// Mass per area: `270gsm`, `8oz/yd2`, or per running length with the full width known: `14oz/yd`.
    pub mass: Option<String>,
    /// Selvedge to selvedge.
    pub full_width: Option<String>,
    /// Both selvedges together: full width less usable width.
    pub selvedges: Option<String>,
    /// Shrinkage stated by the seller.
    pub shrinkage: Option<ShrinkageInput>,
    /// True for nap, pile or a one-way print.
    pub one_way: Option<bool>,
    /// Repeat lengthwise.
    pub repeat: Option<String>,
    /// Stretch crosswise, for example `20%`.
    pub stretch: Option<String>,
    /// Interlining: true for fusible, false for sewn-in.
    pub fusible: Option<bool>,
    /// Interlining: stiffness along each grain.
    pub stiffness: Option<StiffnessInput>,
    /// Thread: `30tex`, `Nm 50/2`, `Ne 40/2` …
    pub yarn_count: Option<String>,
    /// Thread: length on a full reel.
    pub reel_length: Option<String>,
    /// Mass of the empty reel of thread, or of the core that cloth is rolled on.
    pub tare: Option<String>,
    /// Trim: `18L` (ligne), `12mm` …
    pub size: Option<String>,
    /// Trim: counted or measured.
    pub unit: Option<TrimUnit>,
    /// How well mass and widths are known; default `stated`.
    pub certainty: Option<Certainty>,
    /// Anything else.
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
    /// What was done: `washed`, `washed x3`, `steamed`; default `washed`.
    pub preparation: Option<String>,
}

/// Stiffness along each grain: rigidity (`11.4uNm`, `160mgcm`, `22uJ/m` by ASTM D1388, `0.1gfcm2/cm`) or bending length
/// (`20mm`); absent = unknown, never assumed.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StiffnessInput {
    /// Lengthwise.
    pub lengthwise: Option<String>,
    /// Crosswise.
    pub crosswise: Option<String>,
    /// At 45° to both.
    pub bias: Option<String>,
    /// How well it is known; default `stated`.
    pub certainty: Option<Certainty>,
}

/// Technical data as the book holds it.
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
    /// Repeat lengthwise.
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

/// Asks for materials.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListMaterials {
    /// Only this kind.
    pub kind: Option<Kind>,
}
act!(read ListMaterials => Materials, "list_materials", "/v1/materials", "Lists materials by kind and name."; conceals);

/// Changes a material's record: its name, and the sheet that its next lots start from.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EditMaterial {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub material: MaterialCode,
    /// New name.
    pub name: Option<String>,
    /// What changes in the sheet.
    #[serde(default)]
    pub sheet: SheetInput,
    /// Growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise, is meant.
    #[serde(default)]
    pub really: bool,
}
act!(patch EditMaterial => Material, "edit_material", "/v1/materials/{material}", "Changes a material's record.");

/// What a thing is.
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
    /// Thread and trims: what is left in their cost layers.
    pub stock: Option<Stock>,
}
conceals!(Material, parts { stock });

/// What is left of thread or trims, and what it cost.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Stock {
    /// Length or count.
    pub quantity: Amount,
    /// Exact; null where prices are not told.
    pub value: Option<Micro>,
    /// In minor units, half up; null where prices are not told.
    pub printed: Option<String>,
    /// True for the pool of a moving average, which is of all lots together.
    pub pooled: bool,
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
