//! The workshop's settings and rates.

use crate::{Metres, Micro, Typed, access::conceals, act::act};
use chrono::NaiveDate;
use ellwand_domain::{
    quantity::Micrometres,
    setting::{OffcutValue, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem, WorkKind},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Asks for the settings.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetWorkshop {}
act!(read GetWorkshop => Workshop, "get_workshop", "/v1/workshop", "Returns the workshop's settings and rates."; conceals; versioned);

/// Changes settings; what is absent stays.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetWorkshop {
    /// Request id.
    pub id: Uuid,
    /// ISO 4217 code; fixed by the first purchase.
    pub currency: Option<String>,
    /// IANA time zone, for example `Europe/Vienna`.
    pub zone: Option<String>,
    /// Units people read.
    pub units: Option<UnitSystem>,
    /// Lengths are rounded up to it.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub cutting_step: Option<Typed<Micrometres>>,
    /// Added to each length.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub end_allowance: Option<Typed<Micrometres>>,
    /// Offcuts shorter than this are waste.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub offcut_length: Option<Typed<Micrometres>>,
    /// Offcuts narrower than this are waste.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub offcut_width: Option<Typed<Micrometres>>,
    /// What a kept side strip is worth.
    pub strip_value: Option<OffcutValue>,
    /// How thread and trims are valued; fixed by the first receipt.
    pub pooled_method: Option<PooledMethod>,
    /// What prices on a quotation hold.
    pub prices_shown: Option<PricesShown>,
    /// How tax is rounded.
    pub tax_rounding: Option<Rounding>,
    /// Where tax is rounded.
    pub tax_place: Option<TaxPlace>,
    /// Smallest step of cash, in the workshop's currency: `0.05`; `none`: cash is paid to the minor unit.
    pub cash_step: Option<String>,
    /// The workshop's own name at the head of quotations; an empty text takes it out.
    pub name: Option<String>,
    /// Its address under the name, line by line, all of it; no line takes it out.
    pub address: Option<Vec<String>>,
    /// Version that the change was made for; refused when the record changed since.
    pub if_version: Option<i64>,
}
act!(patch SetWorkshop => Workshop, "set_workshop", "/v1/workshop", "Changes the workshop's settings.", needs Settings; conceals; versioned);

/// Adds a tax rate, changes the one of the same name, or forgets it. Quotations keep what they have.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetTaxRate {
    /// Request id.
    pub id: Uuid,
    /// As invoices call it: `VAT`.
    pub name: String,
    /// Share of the net amount: `20%`; absent: the rate is forgotten.
    pub rate: Option<String>,
}
act!(post SetTaxRate => Workshop, "set_tax_rate", "/v1/workshop/tax-rates", "Sets or forgets a tax rate.", needs Settings; conceals);

/// Says from which date on the tax on purchases is reclaimed, or is not; without `reclaim` what was said of just that day is
/// forgotten. Purchases that are logged already keep what they have.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetTaxReclaim {
    /// Request id.
    pub id: Uuid,
    /// True when the workshop gets it back, so that it is no cost.
    pub reclaim: Option<bool>,
    /// From this day on; default today.
    pub from: Option<NaiveDate>,
}
act!(post SetTaxReclaim => Workshop, "set_tax_reclaim", "/v1/workshop/tax-reclaims", "Says from which date on the tax on purchases is reclaimed.", needs Settings; conceals);

/// Sets what an hour of a person costs, from a date on: for all their work, or for one kind of it, which goes before. Without an
/// amount the rate that counts from just that day is forgotten.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetPayRate {
    /// Request id.
    pub id: Uuid,
    /// Who: `owner`, or a person's name; a new one makes a person.
    pub person: String,
    /// True for a paid person: wages enter stock value, own hours never do. A person who is paid stays so without it; a new
    /// one is then own.
    #[serde(default)]
    pub paid: bool,
    /// Only for this kind of work; absent: for all of it.
    pub kind: Option<WorkKind>,
    /// Per hour, in the workshop's currency, at most 4 digits after the point; absent: the rate is forgotten.
    pub per_hour: Option<String>,
    /// From this day on; default today, for a first rate from the beginning, though not into closed books.
    pub from: Option<NaiveDate>,
    /// True: the cost of finished garments may change by it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub really: bool,
}
act!(post SetPayRate => Workshop, "set_pay_rate", "/v1/workshop/pay-rates", "Sets an hourly pay rate from a date on, or forgets it.", needs PayRates);

/// Sets the overhead rate from a date on: typed per hour, or as an amount over billable hours (kept as a ratio).
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetOverheadRate {
    /// Request id.
    pub id: Uuid,
    /// Per billable hour, or the overhead of a period when `hours` is given.
    pub amount: String,
    /// Billable hours of that period (`1104h`); absent: the amount is per hour.
    pub hours: Option<String>,
    /// From this day on; default today, for a first rate from the beginning, though not into closed books.
    pub from: Option<NaiveDate>,
    /// True: the cost of finished garments may change by it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub really: bool,
}
act!(post SetOverheadRate => Workshop, "set_overhead_rate", "/v1/workshop/overhead-rates", "Sets the overhead rate from a date on.", needs PayRates);

/// Closes the books up to a day: nothing is booked on it or before it any more. A later day closes more; to open days
/// again the closing is taken back with `undo`.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CloseBooks {
    /// Request id.
    pub id: Uuid,
    /// Last day that is closed; before today.
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
    /// Lengths are rounded up to it.
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
    /// The workshop's own name at the head of quotations.
    pub name: Option<String>,
    /// Its address under the name.
    pub address: Vec<String>,
    /// Tax rates in the order they were added; the first is taken where none is named.
    pub tax_rates: Vec<TaxRate>,
    /// Whether the tax on purchases is reclaimed, newest first; before the first day it is a cost.
    pub tax_reclaims: Vec<TaxReclaim>,
    /// Pay rates, newest first.
    pub pay_rates: Vec<PayRate>,
    /// Overhead rates, newest first.
    pub overhead_rates: Vec<OverheadRate>,
    /// False where rates are not told: both lists are empty then.
    pub rates_told: bool,
    /// Day up to which the books are closed.
    pub closed_to: Option<NaiveDate>,
    /// Counts the changes of settings and rates.
    pub version: i64,
}
conceals!(
    Workshop,
    pay_rates {
        pay_rates,
        overhead_rates,
        rates_told
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
    /// Who.
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
