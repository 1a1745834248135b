//! A year's figures of the workshop, and what an hour must bring by them.

use crate::{Micro, Typed, act::act};
use chrono::NaiveDate;
use ellwand_domain::quantity::{Minutes, PartsPerMillion};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Sets the year's figures from a date on, replacing those of the same day. The overhead rate of that day is set with
/// them.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetFigures {
    /// Request id.
    pub id: Uuid,
    /// Own pay wanted for the year, before own taxes, in the workshop's currency.
    pub pay: String,
    /// Running expenses of the year.
    pub overhead: String,
    /// Weeks worked in the year, 1 to 53.
    pub weeks: i64,
    /// Time worked in a week: `40h`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub hours: Typed<Minutes>,
    /// Share of that time that customers pay for: `60%`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub billable: Typed<PartsPerMillion>,
    /// From this day on; default today, for the first ones from the beginning, though not into closed books.
    pub from: Option<NaiveDate>,
    /// True: allow it to change the cost of finished garments.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub really: bool,
}
act!(post SetFigures => Figures, "set_figures", "/v1/workshop/figures", "Sets the year's figures, and the overhead rate, from a date on.", needs PayRates);

/// Returns the year's figures of a day.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetFigures {
    /// Day on which they count; default today.
    pub on: Option<NaiveDate>,
}
act!(read GetFigures => Figures, "get_figures", "/v1/workshop/figures", "Returns the year's figures and what an hour must bring.", needs SeePayRates);

/// The year's figures of a day.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Figures {
    /// The figures; null when none count on that day.
    pub figures: Option<YearlyFigures>,
    /// Days from which figures count, newest first; 0001-01-01: from the beginning.
    pub days: Vec<NaiveDate>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// What the year must bring, and every step to what an hour must bring.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct YearlyFigures {
    /// From this day on.
    pub from: NaiveDate,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// Own pay wanted.
    pub pay: Micro,
    /// Running expenses.
    pub overhead: Micro,
    /// Both together.
    pub together: Micro,
    /// Weeks worked in the year.
    pub weeks: i64,
    /// Minutes worked in a week.
    pub week_minutes: i64,
    /// Share of them that customers pay for, in percent: `60`.
    pub billable_percent: String,
    /// Minutes worked in the year.
    pub worked_minutes: i64,
    /// Of those, billable, rounded down. The rates are `pay` and `overhead` over these, kept as ratios.
    pub billable_minutes: i64,
    /// Pay in a billable hour, to the nearest millionth.
    pub labour_per_hour: Micro,
    /// Overhead in a billable hour.
    pub overhead_per_hour: Micro,
    /// What a billable hour must bring.
    pub per_hour: Micro,
    /// What it would be if every hour were billable: too little.
    pub per_hour_if_all_billable: Micro,
    /// The pay in minor units; with the overhead it adds up to the hour.
    pub labour_printed: String,
    /// The overhead in minor units.
    pub overhead_printed: String,
    /// The hour in minor units.
    pub per_hour_printed: String,
}
