//! Outcome of a quotation: planned, quoted and actual cost, and what the hours really earned.

use crate::{Amount, Micro, act::act};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    costing::{LossReason, VarianceKind},
    pricing::PriceGroup,
    setting::GarmentState,
};
use serde::{Deserialize, Serialize};

/// Returns the outcome of an accepted quotation.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetOutcome {
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
}
act!(read GetOutcome => Outcome, "get_outcome", "/v1/quotations/{quotation}/outcome", "Returns what an accepted quotation came to: planned, quoted and actual cost, and what the hours earned.", needs SeePayRates);

/// Returns the same for a garment with one accepted quotation.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetGarmentOutcome {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
}
act!(read GetGarmentOutcome => Outcome, "get_garment_outcome", "/v1/garments/{garment}/outcome", "Returns what the accepted quotation of a garment came to.", needs SeePayRates);

/// Planned, quoted and actual cost. Every printed column adds up to its printed total.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Outcome {
    /// Quotation.
    pub quotation: QuotationCode,
    /// The version that was accepted.
    pub version: i64,
    /// Garment.
    pub garment: GarmentCode,
    /// Name of the garment.
    pub name: String,
    /// State.
    pub state: GarmentState,
    /// True while it is not finished: more may be spent.
    pub so_far: bool,
    /// Garments that the quoted costs are for.
    pub quoted_for: i64,
    /// Good ones; while it is not finished, those that were started.
    pub made: i64,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// Materials by role, work by operation, overhead; losses and customer's changes are separate.
    pub lines: Vec<OutcomeLine>,
    /// Sums of `lines` by group, in their order.
    pub groups: Vec<OutcomeGroup>,
    /// Own mistakes, faulty cloth, customer's changes.
    pub apart: Vec<OutcomeApart>,
    /// All of `lines` and `apart`.
    pub total: OutcomeCosts,
    /// From quoted to actual: adds up to the actual total less the quoted one.
    pub variances: Vec<OutcomeVariance>,
    /// The price beside the actual cost.
    pub price: OutcomePrice,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A cost in the plan as it is now, in the accepted quotation, and as booked; null where there is none.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomeCosts {
    /// Planned now, exact.
    pub planned: Option<Micro>,
    /// Quoted, exact.
    pub quoted: Option<Micro>,
    /// Booked, exact.
    pub actual: Option<Micro>,
    /// Planned in minor units.
    pub planned_printed: Option<String>,
    /// Quoted in minor units, as the quotation has it.
    pub quoted_printed: Option<String>,
    /// Booked in minor units.
    pub actual_printed: Option<String>,
}

/// A line, as planned, quoted and booked.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomeLine {
    /// What it is for.
    pub group: PriceGroup,
    /// `shell`, `sewing`.
    pub name: String,
    /// Lot or person: as booked, else as quoted, else as planned.
    pub detail: String,
    /// Planned quantity for people: `2.60 m`, `9 h`.
    pub planned_quantity: Option<String>,
    /// Quoted quantity.
    pub quoted_quantity: Option<String>,
    /// Booked quantity.
    pub actual_quantity: Option<String>,
    /// Shape: planned, quoted and booked quantity of a material, where they are known exactly.
    pub amounts: [Option<Amount>; 3],
    /// Amounts.
    pub cost: OutcomeCosts,
}

/// Sum of a group.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomeGroup {
    /// What it adds up.
    pub group: PriceGroup,
    /// Sums of its printed lines.
    pub cost: OutcomeCosts,
}

/// A loss or a customer's change.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomeApart {
    /// Reason for it.
    pub reason: LossReason,
    /// What it was for.
    pub group: PriceGroup,
    /// Role or operation.
    pub name: String,
    /// How much, for people.
    pub quantity: Option<String>,
    /// How much of a material.
    pub amount: Option<Amount>,
    /// Exact.
    pub cost: Micro,
    /// In minor units.
    pub printed: String,
}

/// Whether a difference was good for the maker.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum Verdict {
    /// Less than quoted.
    Favourable,
    /// More than quoted.
    Unfavourable,
    /// What rounding the totals leaves.
    Rounding,
}

/// A step from quoted to actual.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomeVariance {
    /// What it comes from; null for rounding.
    pub kind: Option<VarianceKind>,
    /// Role or operation; empty for the number made and for rounding.
    pub name: String,
    /// By sign: positive costs more.
    pub verdict: Verdict,
    /// Exact.
    pub amount: Micro,
    /// In minor units.
    pub printed: String,
}

/// The price beside the actual cost.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OutcomePrice {
    /// Net price that was agreed.
    pub net: Micro,
    /// What of it the good ones earn: the net price × good ÷ quoted for, in the currency's digits; all of it until the garment
    /// is finished.
    pub earned: Micro,
    /// Paid so far, tax included, in the currency's digits.
    pub paid: String,
    /// Still to be paid, tax included.
    pub left: String,
    /// What spoiled ones still fetch.
    pub salvage: Micro,
    /// Actual cost as it is printed, less salvage; own hours at the pay wanted. Null where not all hours have a rate.
    pub cost: Option<Micro>,
    /// What the good ones earn less cost.
    pub profit: Option<Micro>,
    /// Share of the cost, in percent; null without a cost.
    pub markup_percent: Option<String>,
    /// Share of the price, in percent; null without a price.
    pub margin_percent: Option<String>,
    /// The profit that was quoted.
    pub quoted_profit: Micro,
    /// Its share of the cost, in percent.
    pub quoted_markup_percent: Option<String>,
    /// Its share of the price, in percent.
    pub quoted_margin_percent: Option<String>,
    /// Own minutes behind the quoted price.
    pub quoted_own_minutes: i64,
    /// All own minutes booked, billable or not, mistakes with them.
    pub own_minutes: i64,
    /// What an own hour was to earn.
    pub hour_quoted: Option<Micro>,
    /// What it earned, where all paid hours have a rate: (what the good ones earn + salvage − materials − overhead − paid labour − losses) ÷ all own hours.
    pub hour_earned: Option<Micro>,
}
