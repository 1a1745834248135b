//! Quotations: what a garment will cost a customer, frozen when it is made.

mod sheets;
#[cfg(feature = "clap")]
mod stage;

#[cfg(feature = "clap")]
use crate::typed;
pub use sheets::{
    CustomerSheet, InternalSheet, PricePart, QuotedBatch, QuotedCash, QuotedCost, QuotedLine,
    QuotedRate, QuotedStage, Sender, Supplement,
};

use crate::{
    access::conceals,
    act::act,
    options::{OptionFigures, OptionInput, QuotedOption},
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

/// How a price is made. One of markup, margin, hourly and price is said; with none it is what the garment costs, and no offer.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct PriceInput {
    /// Share of the cost that is added: 35%; on work alone where a share for materials is said.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)
    )]
    pub markup: Option<String>,
    /// Share of the price that is left over the cost, below 100 %: 35%.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)
    )]
    pub margin: Option<String>,
    /// What every own hour shall earn, billable or not: 30.00.
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
    /// A price that is given: 450.00, with its tax where prices are shown with tax; what the hours earn is worked backwards.
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
    /// Share that is added to materials, apart from work.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE"))]
    pub material_markup: Option<String>,
    /// A discount; several are taken one after another.
    #[cfg_attr(feature = "clap", arg(long, value_name = "SHARE"))]
    pub discount: Vec<String>,
    /// Round what the customer sees up to the next: 5, 10, x.95.
    #[cfg_attr(feature = "clap", arg(long, value_name = "STEP"))]
    pub round_up: Option<String>,
    /// Price materials at what their lot cost, or at what replacing them costs: cost, replacement.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WHERE"))]
    pub materials_at: Option<MaterialsAt>,
    /// A typed price for all the material of a need, for the whole batch: shell=40.00.
    #[cfg_attr(feature = "clap", arg(long, value_name = "ROLE=AMOUNT"))]
    pub material_price: Vec<String>,
    /// Charge for handling the customer's own material, with its tax where prices are shown with tax.
    #[cfg_attr(feature = "clap", arg(long, value_name = "AMOUNT"))]
    pub handling: Option<String>,
    /// Name of the tax rate; default the workshop's first.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub tax: Option<String>,
    /// Another tax rate for materials, labour or handling: materials=reduced.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PART=NAME"))]
    pub tax_on: Vec<String>,
}

/// A stage of payment: `deposit = 40% of gross`, `cloth = 100% of materials + 50% of labour`, `last`.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StageInput {
    /// What it is called: `deposit`, `first fitting`.
    pub name: String,
    /// `40% of gross`, `50% of labour + 100% of materials`, `120.00`; absent on the last, which takes the rest. Labour and
    /// materials are the lines as they are shown, before discounts.
    pub amount: Option<String>,
    /// Day on which it is due; absent: when it is reached.
    pub due: Option<NaiveDate>,
}

/// Makes a quotation for a garment; nothing that is booked later changes it.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct MakeQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// For which garment.
    pub garment: GarmentCode,
    /// The accepted quotation whose later change this one prices: what the plan now has more or less of, and nothing else.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "QUOTATION", conflicts_with = "from")
    )]
    pub supplement_to: Option<QuotationCode>,
    /// From the plan, or from what it did cost: plan, actual; default the plan.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WHAT"))]
    pub from: Option<PriceFrom>,
    /// How the price is made.
    #[serde(default)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub price: PriceInput,
    /// A stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest.
    /// Labour and materials are the lines as they are shown, before discounts. A new version names all of them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME=AMOUNT", value_parser = stage::stage))]
    pub stage: Vec<StageInput>,
    /// Its date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Last day on which it may be accepted; default 30 days later (common practice).
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub valid_until: Option<NaiveDate>,
    /// Terms that the customer reads.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub terms: Option<String>,
    /// Options beside the plan, each with what differs from it; none: the plan alone.
    #[serde(rename = "option", default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub options: Vec<OptionInput>,
    /// What the plan is called beside the options; default `as planned`.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub plan_is: Option<String>,
    /// Promise the best pieces to every open need in the same step, until its last day, or nothing happens.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
}
act!(post MakeQuotation => Quotation, "make_quotation", "/v1/quotations", "Makes a quotation for a garment.", needs PayRates; conceals);

/// Make a new version of an open quotation, at today's figures.
///
/// What is not said stays as it was asked, options too; anything said of the price, or any option, says it anew as a whole. The
/// version before can no longer be accepted. What changed is shown line by line. What is promised with the quotation is held
/// until the new last day.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct Requote {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Which quotation.
    pub quotation: QuotationCode,
    /// Another way to make the price; it replaces the former as a whole.
    #[cfg_attr(feature = "clap", command(flatten))]
    pub price: Option<PriceInput>,
    /// A stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest.
    /// Labour and materials are the lines as they are shown, before discounts. A new version names all of them.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME=AMOUNT", value_parser = stage::stage))]
    pub stage: Option<Vec<StageInput>>,
    /// Its date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Last day on which it may be accepted; default as long as the one before was valid.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub valid_until: Option<NaiveDate>,
    /// Terms that the customer reads.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub terms: Option<String>,
    /// Other options, all of them; an empty list: the plan alone.
    #[serde(rename = "option")]
    #[cfg_attr(feature = "clap", arg(skip))]
    pub options: Option<Vec<OptionInput>>,
    /// What the plan is called beside the options; default as before.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub plan_is: Option<String>,
    /// Promise the best pieces to every need that is still open, until its last day, or nothing happens.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
}
act!(post Requote => Quotation, "requote", "/v1/quotations/{quotation}/versions", "Makes a new version of an open quotation.", needs PayRates; conceals);

/// Accept a quotation for the customer, and promise the materials if asked.
///
/// Only the newest version can be accepted, until its last day. What was promised with it stays promised, without an end. The
/// best pieces are promised to every open need in the same step, or nothing happens at all.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct AcceptQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Which quotation.
    pub quotation: QuotationCode,
    /// The version that the customer agreed to.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub version: i64,
    /// Which of its options, where there are several; the plan becomes what was agreed to.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub option: Option<String>,
    /// Promise the materials in the same step.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub reserve: bool,
    /// Day; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post AcceptQuotation => Quotation, "accept_quotation", "/v1/quotations/{quotation}/accept", "Accepts a version of a quotation; it may promise the materials in the same step."; conceals);

/// Close a quotation that comes to nothing, or cancel one that was accepted.
///
/// What was promised with an open one is given back; promises of one that was accepted stay with the garment and are released
/// by cancelling that. A quotation with supplements is cancelled after them, each with what is kept of its own payments.
/// Undo opens it again.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct CloseQuotation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Which quotation.
    pub quotation: QuotationCode,
    /// What is kept of what was paid, when it had been accepted: 100% of materials + 50% of labour. Labour and materials are what
    /// was to be paid for them, after discounts and with tax.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TERMS"))]
    pub keep: Option<String>,
}
act!(post CloseQuotation => Quotation, "close_quotation", "/v1/quotations/{quotation}/close", "Closes a quotation that comes to nothing, or cancels an accepted one.", needs PayRates; conceals);

/// Log what a customer paid, or with a minus what was paid back.
///
/// It is written down; nothing is collected. What was paid before delivery is owed to the customer until then. Where the
/// quotation was made while cash came in steps, the quotation says what each stage is in cash.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct LogPayment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// For which quotation.
    pub quotation: QuotationCode,
    /// Amount in the quotation's currency: 120.00.
    #[cfg_attr(feature = "clap", arg(allow_negative_numbers = true))]
    pub amount: String,
    /// It was paid in cash: what a stage comes to in cash settles it, and the difference of rounding is noted.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub cash: bool,
    /// Day; default today.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// Remark: bank transfer.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub note: Option<String>,
    /// More was paid than is to be paid, and it is so.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post LogPayment => Quotation, "log_payment", "/v1/quotations/{quotation}/payments", "Logs a payment."; conceals);

/// Show a quotation as the customer reads it, and what is paid.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetQuotation {
    /// Which quotation.
    pub quotation: QuotationCode,
    /// Which version; default the newest.
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
    /// Only in this state: open, accepted, closed, cancelled.
    #[cfg_attr(feature = "clap", arg(long))]
    pub state: Option<QuotationState>,
    /// Only for this garment.
    #[cfg_attr(feature = "clap", arg(long))]
    pub garment: Option<GarmentCode>,
    /// Those before this one.
    #[cfg_attr(feature = "clap", arg(long, value_name = "QUOTATION"))]
    pub before: Option<QuotationCode>,
    /// Rows a page [default: 50; at most 200].
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
    /// Where it is in its life.
    pub state: QuotationState,
    /// For which garment.
    pub garment: GarmentCode,
    /// What it is.
    pub name: String,
    /// For whom.
    pub customer: Option<CustomerCode>,
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
    /// The accepted quotation whose change it prices.
    pub supplement_to: Option<QuotationCode>,
}

/// A quotation: one of its versions, and what became of it.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Quotation {
    /// Its number.
    pub quotation: QuotationCode,
    /// Where it is in its life.
    pub state: QuotationState,
    /// For which garment.
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
    /// Those that price later changes of it, oldest first.
    pub supplements: Vec<QuotationHead>,
    /// It and its accepted supplements in all; null where it has none.
    pub together: Option<Together>,
    /// What the customer reads, of the plan where there are options; frozen.
    pub sheet: CustomerSheet,
    /// What the workshop reads; frozen. Null where pay rates are not told.
    pub inside: Option<InternalSheet>,
    /// What the plan is called where there are options; null: there are none.
    pub plan_is: Option<String>,
    /// Options beside the plan; frozen.
    pub options: Vec<QuotedOption>,
    /// The plan and its options side by side; frozen. Empty without options. Null where pay rates are not told.
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
    /// Last day on which it may be accepted.
    pub valid_until: NaiveDate,
    /// What the customer pays.
    pub gross: String,
    /// It was taken back, so that the one before it counts.
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
    /// All of them, as they came.
    pub paid: String,
    /// What payments in cash settle beyond that, or with a minus less, because cash comes in steps; null where nothing is.
    pub rounding: Option<String>,
    /// Of stages with a day that has come, less what was paid.
    pub due_now: String,
    /// What is due now, where it is paid in cash; null where cash has no step of its own.
    pub due_now_cash: Option<String>,
    /// Still to be paid of the whole; nothing of what is closed, cancelled or no offer yet.
    pub left: String,
    /// The same where it is paid in cash; null where cash has no step of its own.
    pub left_cash: Option<String>,
    /// Paid beyond the whole.
    pub over: String,
    /// Owed to the customer: what was paid before delivery; nothing after it.
    pub owed: String,
    /// Kept after a cancellation; null before one.
    pub kept: Option<String>,
    /// What the terms of the cancellation keep beyond what was paid; null before one.
    pub not_covered: Option<String>,
    /// Goes back to the customer after a cancellation.
    pub returned: Option<String>,
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
    /// What it settles beyond its amount, or with a minus less; null where it is what it is.
    pub rounding: Option<String>,
    /// Remark.
    pub note: Option<String>,
    /// Booking.
    pub booking: BookingCode,
}
