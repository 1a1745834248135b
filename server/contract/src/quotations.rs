//! Quotations: what a garment will cost a customer, frozen when it is made.

mod sheets;
#[cfg(feature = "clap")]
pub(crate) mod stage;

#[cfg(feature = "clap")]
use crate::typed;
pub use sheets::{
    CustomerSheet, InternalSheet, MadeOf, PricePart, QuotedBatch, QuotedCash, QuotedCost,
    QuotedLine, QuotedRate, QuotedStage, Sender, Supplement,
};

use crate::{
    access::conceals,
    act::act,
    options::{OptionCloth, OptionFigures, OptionInput, QuotedOption},
    reservations::Reservation,
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, CustomerCode, GarmentCode, QuotationCode},
    setting::{MaterialsAt, PriceFrom, QuotationState},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// How a price is made. Give one of markup, margin, hourly and price; with none it is the cost of the garment, and no offer.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct PriceInput {
    /// Share of the cost to add: 35%; on work alone where materials have their own.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)
    )]
    pub markup: Option<String>,
    /// Share of the price left over the cost, below 100 %: 35%.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)
    )]
    pub margin: Option<String>,
    /// Amount that every own hour should earn, billable or not: 30.00.
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            value_name = "AMOUNT",
            group = "rule",
            allow_hyphen_values = true
        )
    )]
    pub hourly: Option<String>,
    /// Fixed price: 450.00, tax included where prices are shown with tax; what the hours earn follows from it.
    #[cfg_attr(
        feature = "clap",
        arg(
            long,
            value_name = "AMOUNT",
            group = "rule",
            allow_hyphen_values = true
        )
    )]
    pub price: Option<String>,
    /// Share to add to materials, apart from work: 15%.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE"))]
    pub material_markup: Option<String>,
    /// Discount: 10%; several apply one after another.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE"))]
    pub discount: Vec<String>,
    /// Round what the customer sees up to the next: 5, 10, x.95.
    #[cfg_attr(feature = "clap", arg(long, value_name = "STEP"))]
    pub round_up: Option<String>,
    /// Price materials at what their lot cost, or at what it costs to replace them: cost, replacement.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WHERE"))]
    pub materials_at: Option<MaterialsAt>,
    /// Price for all the material of a need, for the whole batch: shell=40.00.
    #[cfg_attr(feature = "clap", arg(long, value_name = "ROLE=AMOUNT"))]
    pub material_price: Vec<String>,
    /// Charge for handling the customer's own material, tax included where prices are shown with tax.
    #[cfg_attr(feature = "clap", arg(long, value_name = "AMOUNT"))]
    pub handling: Option<String>,
    /// Name of the tax rate: VAT; default the workshop's first.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub tax: Option<String>,
    /// Different tax rate for materials, labour or handling: materials=reduced.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PART=NAME"))]
    pub tax_on: Vec<String>,
}

/// A stage of payment: `deposit = 40% of gross`, `cloth = 100% of materials + 50% of labour`, `last`.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StageInput {
    /// Its name: `deposit`, `first fitting`.
    pub name: String,
    /// `40% of gross`, `50% of labour + 100% of materials`, `materials with tax`, `120.00`; absent on the last, which takes the
    /// rest. Labour and materials are the lines as shown, before discounts; with tax they are what is paid for them.
    pub amount: Option<String>,
    /// Day on which it is due; absent: when reached.
    pub due: Option<NaiveDate>,
}

/// Makes a quotation for a garment; nothing booked later changes it.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct MakeQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Accepted quotation, such as Q1, whose later changes this one prices: what the plan now has more or less of.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "QUOTATION", conflicts_with = "from")
    )]
    pub supplement_to: Option<QuotationCode>,
    /// Price from the plan, or from the actual cost: plan, actual; default plan.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WHAT"))]
    pub from: Option<PriceFrom>,
    /// How the price is made.
    #[serde(default)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub price: PriceInput,
    /// Stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest.
    /// Labour and materials are the lines as shown, before discounts; 'cloth=materials with tax' is what is paid for them. A new
    /// version needs all stages again.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME=AMOUNT", value_parser = stage::stage))]
    pub stage: Vec<StageInput>,
    /// Date of the quotation; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Last day on which it can be accepted; default 30 days later (common practice).
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub valid_until: Option<NaiveDate>,
    /// Terms for the customer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub terms: Option<String>,
    /// What it is to be, for the customer: 'long coat, two pockets'.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub description: Option<String>,
    /// Day on which it is to be delivered, for the customer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub delivery: Option<NaiveDate>,
    /// Options beside the plan, each with what differs from it; none: the plan alone.
    #[serde(rename = "option", default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub options: Vec<OptionInput>,
    /// Cloths to choose from, each an option of its own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub with: Vec<OptionCloth>,
    /// Name of the plan beside the options; default `as planned`.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub plan_is: Option<String>,
    /// Promise the best pieces to every open need as well, until its last day, or do nothing.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
    /// Only say what it would come to: nothing is booked, kept or promised.
    #[serde(rename = "try", default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long = "try", conflicts_with = "reserve"))]
    pub check: bool,
}
act!(post MakeQuotation => Quotation, "make_quotation", "/v1/quotations", "Makes a quotation for a garment, or only says what it would come to.", needs PayRates; conceals; tries);

/// Make a new version of an open quotation, at today's figures.
///
/// What is not given stays as before, options included; give any part of the price, or any option, and it replaces them as a
/// whole. The version before can no longer be accepted. Changes are shown line by line. What is promised with the quotation
/// is held until the new last day.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct Requote {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
    /// New pricing, which replaces the old one as a whole.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub price: Option<PriceInput>,
    /// Stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest.
    /// Labour and materials are the lines as shown, before discounts; 'cloth=materials with tax' is what is paid for them. A new
    /// version needs all stages again.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME=AMOUNT", value_parser = stage::stage))]
    pub stage: Option<Vec<StageInput>>,
    /// Date of the quotation; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Last day on which it can be accepted; default as many days as the version before.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub valid_until: Option<NaiveDate>,
    /// Terms for the customer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub terms: Option<String>,
    /// What it is to be, for the customer: 'long coat, two pockets'.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub description: Option<String>,
    /// Day on which it is to be delivered, for the customer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub delivery: Option<NaiveDate>,
    /// Other options, all of them; an empty list: the plan alone.
    #[serde(rename = "option")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub options: Option<Vec<OptionInput>>,
    /// Name of the plan beside the options; default as before.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub plan_is: Option<String>,
    /// Promise the best pieces to every need still open as well, until its last day, or do nothing.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
    /// Only say what it would come to: nothing is booked, kept or promised.
    #[serde(rename = "try", default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long = "try", conflicts_with = "reserve"))]
    pub check: bool,
}
act!(post Requote => Quotation, "requote", "/v1/quotations/{quotation}/versions", "Makes a new version of an open quotation, or only says what it would come to.", needs PayRates; conceals; tries);

/// Accept a quotation for the customer, and promise the materials if asked.
///
/// Only the newest version can be accepted, until its last day. What was promised with it stays promised, without an end
/// date. With `reserve` the best pieces are promised to every open need in the same step, or nothing happens at all.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct AcceptQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
    /// Version that the customer agreed to; absent: the newest is asked about, once all else is in order.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub version: Option<i64>,
    /// Option that the customer chose, if there are several; the plan becomes what was agreed.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub option: Option<String>,
    /// Promise the materials in the same step.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
    /// Date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post AcceptQuotation => Quotation, "accept_quotation", "/v1/quotations/{quotation}/accept", "Accepts a version of a quotation; it may promise the materials in the same step."; conceals);

/// Close a quotation that came to nothing, or cancel an accepted one.
///
/// What was promised with an open one is released; promises of an accepted one stay with the garment until that is cancelled.
/// Cancel supplements first, each with what is kept of its own payments. Undo opens it again.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct CloseQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
    /// Share of the payments to keep, if it was accepted: 100% of materials + 50% of labour. Labour and materials are what was to
    /// be paid for them, after discounts and with tax.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TERMS"))]
    pub keep: Option<String>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post CloseQuotation => Quotation, "close_quotation", "/v1/quotations/{quotation}/close", "Closes a quotation that comes to nothing, or cancels an accepted one.", needs PayRates; conceals);

/// Log what a customer paid, or with a minus what you paid back.
///
/// It is recorded; nothing is collected. What was paid before delivery is owed to the customer until then. If the workshop
/// had a cash step when the quotation was made, the quotation lists what each stage is in cash.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct LogPayment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
    /// Amount in the quotation's currency: 120.00.
    #[cfg_attr(feature = "clap", arg(allow_negative_numbers = true))]
    pub amount: String,
    /// Paid in cash: the rounded amount of a stage settles it, and the rounding difference is recorded.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub cash: bool,
    /// Date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Note: bank transfer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub note: Option<String>,
    /// Confirm that more was paid than the whole, or the same amount twice within a day.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post LogPayment => Quotation, "log_payment", "/v1/quotations/{quotation}/payments", "Logs a payment."; conceals);

/// Show a quotation as the customer sees it, and what is paid.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetQuotation {
    /// Quotation code, such as Q1.
    pub quotation: QuotationCode,
    /// Version; default the newest.
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub version: Option<i64>,
}
act!(read GetQuotation => Quotation, "get_quotation", "/v1/quotations/{quotation}", "Returns a quotation.", needs Prices; conceals);

/// List quotations, newest first.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListQuotations {
    /// Show only this state: open, accepted, closed, cancelled.
    #[cfg_attr(feature = "clap", arg(long))]
    pub state: Option<QuotationState>,
    /// Show only those of this garment.
    #[cfg_attr(feature = "clap", arg(long))]
    pub garment: Option<GarmentCode>,
    /// Show those before this one: Q40.
    #[cfg_attr(feature = "clap", arg(long, value_name = "QUOTATION"))]
    pub before: Option<QuotationCode>,
    /// Rows per page [default: 50; at most 200].
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 200))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub limit: Option<u32>,
}
act!(read ListQuotations => Quotations, "list_quotations", "/v1/quotations", "Lists quotations, newest first.", needs Prices);

/// A page of quotations.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Quotations {
    /// Newest first.
    pub quotations: Vec<QuotationHead>,
    /// True when there are older ones.
    pub more: bool,
}

/// A quotation in a list.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotationHead {
    /// Its number.
    pub quotation: QuotationCode,
    /// Its newest version.
    pub version: i64,
    /// State.
    pub state: QuotationState,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Name of the garment.
    pub name: String,
    /// Customer.
    pub customer: Option<CustomerCode>,
    /// The customer's name.
    pub customer_name: Option<String>,
    /// Day of the newest version.
    pub date: NaiveDate,
    /// Last day of the newest version.
    pub valid_until: NaiveDate,
    /// ISO 4217 code.
    pub currency: String,
    /// What the customer pays, tax included, in the currency's digits.
    pub gross: String,
    /// False where something has still to be priced: `gross` is what is priced so far, and nothing is to be paid.
    pub is_offer: bool,
    /// What was paid on it, in the currency's digits.
    pub paid: String,
    /// What is still owed on it with its supplements: zero until it is accepted, once it is cancelled, and on a supplement.
    pub owed: String,
    /// Accepted quotation whose change it prices.
    pub supplement_to: Option<QuotationCode>,
}

/// A quotation: one of its versions, and how it stands.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Quotation {
    /// Its number; of a trial the one that it would have got.
    pub quotation: QuotationCode,
    /// True for a trial: nothing was booked, and there is no such quotation.
    pub is_trial: bool,
    /// State.
    pub state: QuotationState,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// The customer's record.
    pub customer: Option<CustomerCode>,
    /// The customer's name now; it is in no frozen part.
    pub customer_name: Option<String>,
    /// The version that is shown.
    pub version: i64,
    /// All of them, oldest first.
    pub versions: Vec<VersionHead>,
    /// The version that was accepted.
    pub accepted: Option<i64>,
    /// Which of its options was accepted; null where it had none.
    pub accepted_option: Option<String>,
    /// The accepted quotation whose later change it prices.
    pub supplement_to: Option<QuotationCode>,
    /// Supplements that price later changes of it, oldest first.
    pub supplements: Vec<QuotationHead>,
    /// Totals with its accepted supplements; null where it has none.
    pub together: Option<Together>,
    /// The customer's sheet, for the plan where there are options; frozen.
    pub sheet: CustomerSheet,
    /// The workshop's sheet; frozen. Null where pay rates are hidden.
    pub inside: Option<InternalSheet>,
    /// Name of the plan where there are options; null: there are none.
    pub plan_is: Option<String>,
    /// Options beside the plan; frozen.
    pub options: Vec<QuotedOption>,
    /// The plan and its options side by side; frozen. Empty without options. Null where pay rates are hidden.
    pub comparison: Option<Vec<OptionFigures>>,
    /// From the version before, line by line; empty on the first.
    pub changes: Vec<QuotedChange>,
    /// What is due and paid.
    pub standing: Payments,
    /// Promises made with it: until its last day, and without an end once it is accepted.
    pub reservations: Vec<Reservation>,
    /// The booking of the act, where it made one.
    pub booking: Option<BookingCode>,
    /// Remarks.
    pub notes: Vec<String>,
}
conceals!(
    Quotation,
    pay_rates { inside, comparison },
    parts {
        reservations,
        options
    }
);

/// A quotation and its accepted supplements in all, tax included, in the currency's digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Together {
    /// What was agreed.
    pub agreed: String,
    /// What was paid.
    pub paid: String,
    /// What is still to be paid.
    pub left: String,
}

/// A version in the list.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct VersionHead {
    /// From 1.
    pub version: i64,
    /// Its day.
    pub date: NaiveDate,
    /// Last day on which it can be accepted.
    pub valid_until: NaiveDate,
    /// What the customer pays.
    pub gross: String,
    /// True if it was undone, so that the version before counts.
    pub taken_back: bool,
}

/// What a new version changes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct QuotedChange {
    /// The line.
    pub text: String,
    /// In the version before; null: it is new.
    pub before: Option<String>,
    /// Now; null: it is gone.
    pub now: Option<String>,
}

/// What is due and paid.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Payments {
    /// As they came.
    pub payments: Vec<Payment>,
    /// Stages of the accepted version, and what is paid of each: payments fill them in order. Empty before, and after a
    /// cancellation.
    pub stages: Vec<PaidStage>,
    /// All of them, as they came.
    pub paid: String,
    /// What cash payments settle beyond their amount (negative: less) because of the cash step; null without cash payments.
    pub rounding: Option<String>,
    /// Of stages with a day that has come, less what was paid.
    pub due_now: String,
    /// What is due now in cash; null without a cash step.
    pub due_now_cash: Option<String>,
    /// Still to be paid of the whole; zero for what is closed, cancelled or no offer yet.
    pub left: String,
    /// The same in cash; null without a cash step.
    pub left_cash: Option<String>,
    /// Paid beyond the whole.
    pub over: String,
    /// Owed to the customer: what was paid before delivery; nothing after it.
    pub owed: String,
    /// Kept after a cancellation; null before one.
    pub kept: Option<String>,
    /// What the terms of the cancellation keep beyond what was paid; null before one.
    pub not_covered: Option<String>,
    /// What the customer gets back after a cancellation.
    pub returned: Option<String>,
}

/// How far a stage is paid.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PaidStage {
    /// Its name.
    pub name: String,
    /// What is to be paid.
    pub amount: String,
    /// How much of it is paid.
    pub paid: String,
}

/// A payment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Payment {
    /// Day.
    pub date: NaiveDate,
    /// With a minus: back to the customer.
    pub amount: String,
    /// Paid in cash.
    pub cash: bool,
    /// What it settles beyond its amount (negative: less); null if just its amount.
    pub rounding: Option<String>,
    /// Remark.
    pub note: Option<String>,
    /// All that was paid with it.
    pub paid: String,
    /// What all of that settles beyond its amount because of the cash step (negative: less); null if just its amount.
    pub rounding_so_far: Option<String>,
    /// What was still to be paid after it; null for what is cancelled.
    pub left: Option<String>,
    /// Booking.
    pub booking: BookingCode,
}
