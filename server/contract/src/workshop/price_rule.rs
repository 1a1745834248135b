//! The rule by which prices are made where nothing is said.

use super::Workshop;
#[cfg(feature = "clap")]
use crate::quotations::stage;
use crate::{
    act::act,
    quotations::{PriceInput, StageInput},
};
use ellwand_domain::setting::MaterialsAt;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Set how prices are made where a quotation does not say it: the house rule.
///
/// A quotation that names a rule of its own (markup, margin, hourly, price) or stages of its own uses those instead; whatever else
/// it leaves open is filled in. Quotations already made keep theirs, and supplements keep to what was agreed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetPriceRule {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Share of the cost to add: 35%; on work alone where materials have their own.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE", group = "rule"))]
    pub markup: Option<String>,
    /// Share of the price left over the cost, below 100 %: 35%.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE", group = "rule"))]
    pub margin: Option<String>,
    /// Amount that every own hour should earn, billable or not: 30.00.
    #[cfg_attr(feature = "clap", arg(long, value_name = "AMOUNT", group = "rule"))]
    pub hourly: Option<String>,
    /// Share to add to materials, apart from work: 15%.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE"))]
    pub material_markup: Option<String>,
    /// Round what the customer sees up to the next: 5, 10, x.95.
    #[cfg_attr(feature = "clap", arg(long, value_name = "STEP"))]
    pub round_up: Option<String>,
    /// Price materials at what their lot cost, or at what it costs to replace them: cost, replacement.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WHERE"))]
    pub materials_at: Option<MaterialsAt>,
    /// Stage of payment: 'deposit=40% of gross'; the last, with its name alone, takes the rest. Repeat for each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME=AMOUNT", value_parser = stage::stage))]
    pub stage: Vec<StageInput>,
}
act!(post SetPriceRule => Workshop, "set_price_rule", "/v1/workshop/price-rule", "Sets how prices are made where nothing is said; without any field, forgets it.", needs Settings; conceals);

/// The house rule.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct HousePriceRule {
    /// For people: `a margin of 35 %, rounded up to 5`.
    pub words: String,
    /// The rule as typed.
    pub price: PriceInput,
    /// Stages of payment; none: all of it on delivery.
    pub stage: Vec<StageInput>,
}
