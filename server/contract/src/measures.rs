//! Customers' measurements: named lengths of a day.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Metres, Typed, access::conceals, act::act};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, CustomerCode},
    quantity::Micrometres,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::str::FromStr;
use uuid::Uuid;

/// A named measure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NamedMeasure {
    /// Name, whatever its capitals: chest.
    pub name: String,
    /// Length: 104cm.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
}

impl FromStr for NamedMeasure {
    type Err = String;
    /// Reads `chest=104cm`.
    fn from_str(text: &str) -> Result<Self, String> {
        let (name, length) = text
            .split_once('=')
            .ok_or_else(|| format!("\"{}\" is no measure, for example chest=104cm", text.trim()))?;
        Ok(Self {
            name: name.trim().to_owned(),
            length: length
                .trim()
                .parse::<Typed<Micrometres>>()
                .map_err(|error| format!("{}: {error}", name.trim()))?,
        })
    }
}

/// Log a customer's measurements; older ones are kept.
///
/// A garment for them shows those of the day it was planned. Undo takes them back; erasing the customer erases them for good.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct MeasureCustomer {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// The customer, by name or code: Ada, C4.
    #[cfg_attr(feature = "clap", arg(value_name = "CUSTOMER"))]
    pub customer: String,
    /// Measures with their lengths: chest=104cm,collar=41cm.
    #[cfg_attr(
        feature = "clap",
        arg(value_name = "NAME=LENGTH", value_delimiter = ',', required = true)
    )]
    pub measures: Vec<NamedMeasure>,
    /// Confirm a measure below 1 cm or above 3 m.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post MeasureCustomer => CustomerShown, "measure_customer", "/v1/customers/{customer}/measures", "Logs a customer's measurements."; conceals);

/// Show a customer with their measurements.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetCustomer {
    /// The customer, by name or code: Ada, C4.
    #[cfg_attr(feature = "clap", arg(value_name = "CUSTOMER"))]
    pub customer: String,
    /// Show measurements that newer ones replaced, too.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub all: bool,
}
act!(read GetCustomer => CustomerShown, "get_customer", "/v1/customers/{customer}", "Returns a customer with their measurements."; conceals);

/// A customer with their measurements.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CustomerShown {
    /// Code.
    pub customer: CustomerCode,
    /// Name.
    pub name: String,
    /// Note.
    pub note: String,
    /// Measurements by name; empty for those who only read.
    pub measures: Vec<Measure>,
    /// Booking of the act that this answers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booking: Option<BookingCode>,
}
conceals!(CustomerShown, measures { measures });

/// A measurement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Measure {
    /// Name.
    pub name: String,
    /// Length, as it was typed.
    pub length: String,
    /// The same in metres.
    pub length_m: Metres,
    /// Day it was taken.
    pub on_date: NaiveDate,
    /// A newer one of this name exists.
    pub newer: bool,
}
