//! Options of a quotation side by side, and what each detail adds to a price.

use crate::{
    Micro, Typed,
    access::conceals,
    garments::{NeedChange, OperationChange},
    quotations::{CustomerSheet, InternalSheet, PriceInput, QuotedChange},
    sheets::ShrinkageInput,
};
use ellwand_domain::{code::LotCode, quantity::Micrometres};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// Columns that stand side by side at most, the plan among them: what fits on a page.
pub const OPTIONS_MAX: usize = 4;

/// Name of the plan beside its options, unless another is given.
pub const AS_PLANNED: &str = "as planned";

/// An option: what differs from the garment's plan. A file for `ellwand quote make --options` holds these in TOML.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OptionInput {
    /// Heading of its column: `hand hem`.
    pub name: String,
    /// What differs of needs, by their roles; new ones are whole.
    #[serde(rename = "need", skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<NeedChange>,
    /// What differs of operations, by their names; new ones are whole.
    #[serde(rename = "operation", skip_serializing_if = "Vec::is_empty")]
    pub operations: Vec<OperationChange>,
    /// What is left out: a detail with all that belongs to it, the role of a need, the name of an operation; where a name is
    /// ambiguous, `detail:hem`, `need:hem` or `operation:hem`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<String>,
    /// Its own pricing, as a whole; default the quotation's.
    pub price: Option<PriceInput>,
}

/// A cloth in the place of what a need of the plan would take: an option that is called after the cloth. Length, parts and
/// preparation stay as planned; what it takes follows from this cloth's own width and shrinkage.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OptionCloth {
    /// Role of the need: `shell`.
    pub role: String,
    /// The lot that it is of.
    pub lot: Option<LotCode>,
    /// Or the material, by code or name, of any lot.
    pub material: Option<String>,
    /// Or what a length of cloth costs that is not bought yet, before tax that is reclaimed: `64.00/m`.
    pub price: Option<String>,
    /// Full width of cloth that is not bought yet.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
    /// How that shrinks, as the seller says.
    pub shrinkage: Option<ShrinkageInput>,
    /// What it is called beside the plan; default its material's name and lot.
    pub called: Option<String>,
}

/// An option as it was frozen, beside the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedOption {
    /// Its name.
    pub name: String,
    /// What differs from the plan, each in a few words.
    pub differs: Vec<String>,
    /// The customer's sheet; frozen.
    pub sheet: CustomerSheet,
    /// The workshop's sheet; frozen. Null where pay rates are hidden.
    pub inside: Option<InternalSheet>,
    /// From the version before, line by line; empty when it was not offered then.
    pub changes: Vec<QuotedChange>,
}
conceals!(QuotedOption, pay_rates { inside });

/// Figures of an option, to compare it with the others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OptionFigures {
    /// Its name.
    pub name: String,
    /// Materials, labour and overhead.
    pub cost: Micro,
    /// All own minutes.
    pub own_minutes: i64,
    /// Minutes of people who are paid.
    pub paid_minutes: i64,
    /// Net price.
    pub net: Micro,
    /// With tax.
    pub gross: Micro,
    /// Price less cost.
    pub profit: Micro,
    /// Share of the cost, in percent.
    pub markup_percent: Option<String>,
    /// Share of the price, in percent.
    pub margin_percent: Option<String>,
    /// What an own hour earns.
    pub hour_earns: Option<Micro>,
    /// What has no price or quantity and is therefore in none of these figures.
    pub not_priced: Vec<String>,
    /// How it differs from the first, below zero for less; null on the first.
    pub more: Option<OptionDifference>,
}

/// How an option differs from the first; below zero for less.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OptionDifference {
    /// Of the cost.
    pub cost: Micro,
    /// Own minutes.
    pub own_minutes: i64,
    /// Paid minutes.
    pub paid_minutes: i64,
    /// Of the net price.
    pub net: Micro,
    /// Of the price with tax.
    pub gross: Micro,
    /// Of the profit.
    pub profit: Micro,
    /// Of what an own hour earns; null where one of the two has no own hours.
    pub hour_earns: Option<Micro>,
}

/// What a detail adds to a price: the price as it stands less the price without what belongs to the detail.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct AddedByDetail {
    /// Its name.
    pub detail: String,
    /// All its minutes, own and paid.
    pub minutes: i64,
    /// Its materials.
    pub materials: Micro,
    /// Its labour, own and paid.
    pub labour: Micro,
    /// Overhead, by its share of the billable minutes.
    pub overhead: Micro,
    /// These three together.
    pub cost: Micro,
    /// What it adds to the net price.
    pub net: Micro,
    /// What it adds to the price with tax.
    pub gross: Micro,
    /// What an own hour would earn without it; null without own hours.
    pub hour_without: Option<Micro>,
    /// What of it has no price and is therefore in none of these figures.
    pub not_priced: Vec<String>,
    /// A caution about these figures; null: none.
    pub note: Option<String>,
}
