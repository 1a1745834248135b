//! What a version of a quotation froze: the customer's sheet and the workshop's.

use crate::{Amount, Micro, options::AddedByDetail, words::Words};
use chrono::NaiveDate;
use ellwand_domain::{
    certainty::Certainty,
    code::{LotCode, QuotationCode},
    pricing::PriceGroup,
    setting::{MaterialsAt, PriceFrom, PricesShown},
};
use serde::{Deserialize, Serialize};

/// What the customer sees. Amounts are decimal texts in the currency's digits; lines, rates and stages add up to the total.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CustomerSheet {
    /// Who it is from; null where the workshop has said nothing of itself.
    pub sender: Option<Sender>,
    /// What it is for: the garment's name, and how many.
    pub title: String,
    /// Pieces that are made.
    pub count: i64,
    /// What it is to be, in the workshop's words.
    pub description: Option<String>,
    /// What each part is made of; empty on a supplement.
    pub made_of: Vec<MadeOf>,
    /// Day on which it is to be delivered.
    pub delivery: Option<NaiveDate>,
    /// Its day.
    pub date: NaiveDate,
    /// Last day on which it can be accepted.
    pub valid_until: NaiveDate,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// Whether line amounts include tax.
    pub shown: PricesShown,
    /// Materials, labour, handling, discounts, rounding.
    pub lines: Vec<QuotedLine>,
    /// Tax by rate.
    pub rates: Vec<QuotedRate>,
    /// Without tax.
    pub net: String,
    /// The tax.
    pub tax: String,
    /// With tax: what is to be paid; of what is priced so far where something is `to_be_priced`.
    pub gross: String,
    /// What is paid in cash; null without a cash step.
    pub cash: Option<QuotedCash>,
    /// When what is to be paid; at least one, but none where something is `to_be_priced`.
    pub stages: Vec<QuotedStage>,
    /// What must be priced before it is an offer: roles, operations, `the price` where no rule makes one. Until then nothing is to
    /// be paid, and it is not accepted. Empty on an offer.
    pub to_be_priced: Vec<String>,
    /// Terms.
    pub terms: Option<String>,
    /// What it supplements; null on a quotation of its own.
    pub supplement: Option<Supplement>,
    /// The workshop's own words of that day, by the keys of their labels.
    pub words: Words,
}

/// What a part of the garment is made of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MadeOf {
    /// What the part is called: `shell`.
    pub role: String,
    /// Name of the material; null: it is still to be chosen.
    pub material: Option<String>,
}

/// What a supplementary quotation comes on top of. Amounts with tax, in the currency's digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Supplement {
    /// Accepted quotation whose change it prices.
    pub to: QuotationCode,
    /// Agreed so far, with earlier supplements.
    pub agreed: String,
    /// Agreed with this one.
    pub together: String,
}

/// Who a sheet is from.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Sender {
    /// The workshop's name.
    pub name: Option<String>,
    /// Its address, line by line.
    pub address: Vec<String>,
    /// Its telephone.
    pub telephone: Option<String>,
    /// Its number with the tax office.
    pub tax_number: Option<String>,
    /// The account that is paid to.
    pub account: Option<String>,
    /// Number of its logo; the picture is at `/v1/logos/{logo}`.
    pub logo: Option<i64>,
}

/// What is paid in cash.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedCash {
    /// The step: `0.05`. Amounts go to the nearest, the half up.
    pub step: String,
    /// All that is to be paid, where it is paid at once.
    pub gross: String,
}

/// A line of the customer's sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedLine {
    /// Text of the line.
    pub text: String,
    /// Amount by `shown`: net, or with its tax; with a minus for a discount.
    pub amount: String,
    /// Name of its tax rate.
    pub rate: Option<String>,
}

/// What a tax rate comes to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedRate {
    /// Its name.
    pub name: String,
    /// In percent: `20`.
    pub percent: String,
    /// Without tax.
    pub net: String,
    /// The tax.
    pub tax: String,
    /// With tax.
    pub gross: String,
}

/// A stage of payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedStage {
    /// Its name.
    pub name: String,
    /// As it was agreed: `40% of gross`, `the rest`.
    pub terms: String,
    /// What the lines that it is a share of are before: `before discount and tax`; null where they are what is paid, and for other
    /// stages.
    pub counted: Option<String>,
    /// Day on which it is due; null: when reached.
    pub due: Option<NaiveDate>,
    /// What is to be paid.
    pub amount: String,
    /// The tax inside.
    pub tax: String,
    /// What is paid in cash; null without a cash step.
    pub cash: Option<String>,
}

/// What only the workshop sees.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct InternalSheet {
    /// Priced from the plan, or from the actual cost.
    pub from: PriceFrom,
    /// Where materials are priced.
    pub materials_at: MaterialsAt,
    /// Materials, labour and overhead behind the price.
    pub costs: Vec<QuotedCost>,
    /// What it leaves out because a price or quantity is missing; never taken as zero.
    pub not_priced: Vec<String>,
    /// The net price, exact.
    pub net: Micro,
    /// Where the net price comes from; the parts add up to it. For the bar.
    pub parts: Vec<PricePart>,
    /// Materials at their cost or at what it costs to replace them, whichever is more; paid labour, overhead, own hours at the
    /// pay wanted.
    pub floor: Micro,
    /// How far the price lies below the floor.
    pub below_floor: Option<Micro>,
    /// Price less cost.
    pub profit: Micro,
    /// Share of the cost, in percent.
    pub markup_percent: Option<String>,
    /// Share of the price, in percent.
    pub margin_percent: Option<String>,
    /// All own minutes.
    pub own_minutes: i64,
    /// What an own hour earns at this price.
    pub hour_earns: Option<Micro>,
    /// The pay that is wanted for it, over all own hours.
    pub hour_wanted: Option<Micro>,
    /// What each detail adds to the price.
    pub details: Vec<AddedByDetail>,
    /// How the price was made, in words.
    pub rule: String,
    /// A finished batch that is priced from its actual cost, for each good garment; null else.
    pub batch: Option<QuotedBatch>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// A finished batch behind a price.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedBatch {
    /// Garments that were started.
    pub started: i64,
    /// Good ones: those that are sold.
    pub good: i64,
    /// Spoiled ones.
    pub spoiled: i64,
    /// What a good one costs, to the nearest millionth.
    pub cost_each: Micro,
    /// In the currency's digits.
    pub cost_each_printed: String,
    /// What a good one is sold for without tax.
    pub net_each: Micro,
    /// In the currency's digits.
    pub net_each_printed: String,
    /// The spoiled ones' share after an own mistake, less what they still fetch; not in the price.
    pub loss: Micro,
    /// In the currency's digits.
    pub loss_printed: String,
}

/// A cost behind the price. In a supplement it is a difference; with a cost below zero it goes off what was agreed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedCost {
    /// What it is for.
    pub group: PriceGroup,
    /// `shell`, `sewing`.
    pub name: String,
    /// Lot and what it was priced at, or who.
    pub detail: String,
    /// Quantity for people: `2.60 m`, `9 h`.
    pub quantity: Option<String>,
    /// The same quantity of a material, exact; null where it is not known.
    pub amount: Option<Amount>,
    /// Minutes of labour and overhead; null on materials.
    pub minutes: Option<i64>,
    /// The lot of a material, where it is known.
    pub lot: Option<LotCode>,
    /// The garment's detail that it belongs to.
    pub of_detail: Option<String>,
    /// Shortest and longest time, for people, where past garments tell them: `8 h to 10 h 30`.
    pub range: Option<String>,
    /// How well it is known.
    pub certainty: Certainty,
    /// Exact.
    pub cost: Micro,
    /// In the currency's digits.
    pub printed: String,
}

/// A part of the net price.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PricePart {
    /// `materials`, `paid labour`, `own labour`, `overhead`, `profit`.
    pub name: String,
    /// Below zero for a loss.
    pub amount: Micro,
    /// In the currency's digits.
    pub printed: String,
}
