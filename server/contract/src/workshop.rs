//! The workshop's settings and rates.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Metres, Micro, Typed, access::conceals, act::act, quotations::Sender, words::Words};
use chrono::NaiveDate;
use ellwand_domain::{
    quantity::Micrometres,
    setting::{
        DateOrder, OffcutValue, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem, WorkKind,
    },
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

mod price_rule;
pub use price_rule::{HousePriceRule, SetPriceRule};

/// Returns the settings.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetWorkshop {}
act!(read GetWorkshop => Workshop, "get_workshop", "/v1/workshop", "Returns the workshop's settings and rates."; conceals; versioned);

/// Change settings; what is not given stays as it is.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetWorkshop {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Currency of the books, ISO 4217; fixed by the first purchase or quotation.
    #[cfg_attr(feature = "clap", arg(long, value_name = "CODE", value_parser = typed::currency))]
    pub currency: Option<String>,
    /// Time zone, IANA: Europe/Vienna.
    #[cfg_attr(feature = "clap", arg(long, value_name = "ZONE"))]
    pub zone: Option<String>,
    /// Units to show: metric or imperial.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub units: Option<UnitSystem>,
    /// What comes first in a date with slashes: day-first (3/10/2026 is 3 October) or month-first.
    #[cfg_attr(feature = "clap", arg(long, value_name = "ORDER"))]
    pub date_order: Option<DateOrder>,
    /// Cutting step that lengths are rounded up to: 5cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub cutting_step: Option<Typed<Micrometres>>,
    /// Allowance added to each length for squaring and ply ends: 4cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub end_allowance: Option<Typed<Micrometres>>,
    /// Least length of an offcut worth keeping: 30cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub offcut_length: Option<Typed<Micrometres>>,
    /// Least width of an offcut worth keeping: 20cm.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "WIDTH"))]
    pub offcut_width: Option<Typed<Micrometres>>,
    /// Value of a side strip that is kept: area (its share) or zero.
    #[cfg_attr(feature = "clap", arg(long, value_name = "WORTH"))]
    pub strip_value: Option<OffcutValue>,
    /// How thread and trims are valued: fifo or average; fixed by the first receipt.
    #[cfg_attr(feature = "clap", arg(long, value_name = "METHOD"))]
    pub pooled_method: Option<PooledMethod>,
    /// Prices on quotations: without-tax or with-tax.
    #[cfg_attr(feature = "clap", arg(long = "prices", value_name = "SHOWN"))]
    pub prices_shown: Option<PricesShown>,
    /// How tax is rounded: half-up, half-down, half-even, down.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MODE"))]
    pub tax_rounding: Option<Rounding>,
    /// Where tax is rounded: line, rate, invoice.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PLACE"))]
    pub tax_place: Option<TaxPlace>,
    /// Smallest step of cash, such as 0.05 for CHF and CAD or 0.50 for DKK; none where cash is paid to the minor unit.
    #[cfg_attr(feature = "clap", arg(long, value_name = "AMOUNT"))]
    pub cash_step: Option<String>,
    /// Workshop's name at the head of quotations; '' removes it.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub name: Option<String>,
    /// Line of its address; repeat for all lines. '' removes the address.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LINE"))]
    pub address: Option<Vec<String>>,
    /// Its telephone on quotations and receipts; '' removes it.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub telephone: Option<String>,
    /// Its number with the tax office, on quotations and receipts; '' removes it.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub tax_number: Option<String>,
    /// Account that customers pay to, on quotations; '' removes it.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub account: Option<String>,
    /// Logo on quotations and receipts: a PNG or an SVG in base64, of at most 150 kB; '' removes it.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub logo: Option<String>,
    /// Change them only if they are still at this version, as --json shows it.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NUMBER"))]
    pub if_version: Option<i64>,
}
act!(patch SetWorkshop => Workshop, "set_workshop", "/v1/workshop", "Changes the workshop's settings.", needs Settings; conceals; versioned);

/// Set a tax rate by its name, or forget it; quotations keep theirs.
///
/// A quotation that names no rate uses the first. `ellwand workshop set` chooses how tax is rounded and shown.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetTaxRate {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Name on invoices: VAT.
    pub name: String,
    /// Share of the net amount: 20%; leave out to forget the rate.
    #[cfg_attr(
        feature = "clap",
        arg(value_name = "RATE", allow_negative_numbers = true)
    )]
    pub rate: Option<String>,
    /// Confirm a rate above 50 %.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post SetTaxRate => Workshop, "set_tax_rate", "/v1/workshop/tax-rates", "Sets or forgets a tax rate.", needs Settings; conceals);

/// Set from which date on the tax on purchases is reclaimed: yes or no.
///
/// A tax that you get back is no cost: it is recorded with the purchase, not in the lots. A purchase follows the setting on its
/// own day, unless its charge has reclaim=yes or reclaim=no; before the first day, and where nothing is set, tax is a cost.
/// Purchases already logged keep theirs. Local law decides who may reclaim, and when.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetTaxReclaim {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// yes: you get it back, so it is no cost; no: it is a cost; leave out to forget the setting of just that day.
    #[cfg_attr(feature = "clap", arg(value_name = "YES_OR_NO", value_parser = typed::yes_or_no()))]
    pub reclaim: Option<bool>,
    /// First day of purchases that it applies to: 2026-04-01; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
}
act!(post SetTaxReclaim => Workshop, "set_tax_reclaim", "/v1/workshop/tax-reclaims", "Says from which date on the tax on purchases is reclaimed.", needs Settings; conceals);

/// Set what an hour of a person costs, from a date on.
///
/// Wages of a paid person count in the stock value of garments; own hours count in prices, never in stock. Own hours of someone
/// without a rate use the owner's. A new name adds a person: own, or paid with --paid.
///
/// A rate for one kind of work overrides the person's rate for all work, whichever is newer. To make both the same again, set
/// it to the same figure from a later day on. Quotations from the plan price own hours by the year's figures, then by the
/// owner's rate; an owner's rate for a kind of work overrides both.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetPayRate {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Person: owner, or a name such as anna.
    pub person: String,
    /// Make this a paid person; a paid person stays paid without it.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub paid: bool,
    /// Set it for this kind of work only: machine, hand, cutting, fitting, pressing, admin.
    #[cfg_attr(feature = "clap", arg(long, value_name = "KIND"))]
    pub kind: Option<WorkKind>,
    /// Per hour, in the workshop's currency, up to 4 digits after the point; leave out to forget the rate.
    #[cfg_attr(feature = "clap", arg(value_name = "PER_HOUR", value_parser = typed::per_hour))]
    pub per_hour: Option<String>,
    /// From this day on [default: today; for a first rate from the beginning, though not into closed books].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
    /// Allow it to change the cost of finished garments.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post SetPayRate => Workshop, "set_pay_rate", "/v1/workshop/pay-rates", "Sets an hourly pay rate from a date on, or forgets it.", needs PayRates);

/// Sets the overhead rate from a date on: typed per hour, or as an amount over billable hours (kept as a ratio).
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetOverheadRate {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Per billable hour, or the overhead of a period when its hours are given.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub amount: String,
    /// Billable hours of that period: 1104h.
    #[cfg_attr(feature = "clap", arg(long, value_name = "HOURS", value_parser = typed::time))]
    pub hours: Option<String>,
    /// From this day on [default: today; for a first rate from the beginning, though not into closed books].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
    /// Allow it to change the cost of finished garments.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
}
act!(post SetOverheadRate => Workshop, "set_overhead_rate", "/v1/workshop/overhead-rates", "Sets the overhead rate from a date on.", needs PayRates);

/// Close the books up to a day: nothing more can be booked on or before it.
///
/// A later day closes more. Later corrections go into the open days. To open days again, undo the closing.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct CloseBooks {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Last day that is closed; before today.
    #[cfg_attr(feature = "clap", arg(value_name = "DATE", value_parser = typed::date))]
    pub to: NaiveDate,
}
act!(post CloseBooks => Workshop, "close_books", "/v1/workshop/closings", "Closes the books up to a day.", needs CloseBooks; conceals);

/// The settings as they are.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Workshop {
    /// ISO 4217 code.
    pub currency: String,
    /// True once a purchase has been booked or a quotation made.
    pub currency_fixed: bool,
    /// IANA time zone.
    pub zone: String,
    /// Units people read.
    pub units: UnitSystem,
    /// What comes first in a date with slashes; null: such dates are refused.
    pub date_order: Option<DateOrder>,
    /// Cutting step that lengths are rounded up to: 5cm.
    pub cutting_step_m: Metres,
    /// Added to each length.
    pub end_allowance_m: Metres,
    /// Shortest offcut kept.
    pub offcut_length_m: Metres,
    /// Narrowest offcut kept.
    pub offcut_width_m: Metres,
    /// What a kept side strip is worth.
    pub strip_value: OffcutValue,
    /// How thread and trims are valued.
    pub pooled_method: PooledMethod,
    /// What prices on a quotation hold.
    pub prices_shown: PricesShown,
    /// How tax is rounded.
    pub tax_rounding: Rounding,
    /// Where tax is rounded.
    pub tax_place: TaxPlace,
    /// Smallest step of cash; null: cash is paid to the minor unit.
    pub cash_step: Option<String>,
    /// What stands at the head of quotations and receipts.
    pub sender: Sender,
    /// Its own words of what customers read, by the keys of their labels; a label that is not among them has its usual words.
    pub words: Words,
    /// How prices are made where nothing is said; null: there is no such rule, or it is hidden.
    pub price_rule: Option<HousePriceRule>,
    /// Tax rates in the order they were added; the first is taken where none is named.
    pub tax_rates: Vec<TaxRate>,
    /// Whether the tax on purchases is reclaimed, newest first; before the first day it is a cost.
    pub tax_reclaims: Vec<TaxReclaim>,
    /// Pay rates, newest first.
    pub pay_rates: Vec<PayRate>,
    /// Overhead rates, newest first.
    pub overhead_rates: Vec<OverheadRate>,
    /// False where rates are hidden: both lists are empty then, and the price rule is null.
    pub rates_shown: bool,
    /// Day up to which the books are closed.
    pub closed_to: Option<NaiveDate>,
    /// Counts the changes of settings and rates.
    pub version: i64,
}
conceals!(
    Workshop,
    pay_rates {
        price_rule,
        pay_rates,
        overhead_rates,
        rates_shown
    }
);

/// A tax rate.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TaxRate {
    /// As invoices call it.
    pub name: String,
    /// Share of the net amount, in percent: `20`.
    pub percent: String,
}

/// Whether the tax on purchases is reclaimed.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct TaxReclaim {
    /// True when the workshop gets it back.
    pub reclaimed: bool,
    /// For purchases from this day on.
    pub from: NaiveDate,
}

/// What an hour of a person costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PayRate {
    /// Person or owner.
    pub person: String,
    /// The kind of work it is for; null: all of it.
    pub kind: Option<WorkKind>,
    /// True for a paid person.
    pub paid: bool,
    /// Decimal string, up to 4 digits after the point.
    pub per_hour: String,
    /// From this day on; 0001-01-01: from the beginning.
    pub from: NaiveDate,
}

/// Overhead over billable time, kept as a ratio.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OverheadRate {
    /// Overhead of the period.
    pub amount: Micro,
    /// Billable minutes of the period.
    pub minutes: i64,
    /// From this day on; 0001-01-01: from the beginning.
    pub from: NaiveDate,
}
