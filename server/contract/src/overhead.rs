//! The overhead of a period: what the work carried against what was spent.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Micro, act::act};
use chrono::NaiveDate;
use ellwand_domain::costing::Applied;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Records the overhead that was spent in a period, replacing the amount for the same days, or forgets it.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetOverheadSpent {
    /// Request id.
    pub id: Uuid,
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// What was spent, in the workshop's currency: `10200.00`; absent: forget the recorded amount.
    pub amount: Option<String>,
}
act!(post SetOverheadSpent => PeriodOverhead, "set_overhead_spent", "/v1/workshop/overhead-spent", "Records or forgets the overhead that was spent in a period.", needs PayRates);

/// Show the overhead that the work of a period carried, against what was spent.
///
/// Billable minutes carry the overhead rate of their days; what was really spent is entered once and kept. Under-applied:
/// more was spent than the garments' cost sheets say. Also shows what an hour should have carried, and the share of billable
/// hours against the year's figures. Work that was undone and work on cancelled garments is left out; where the books were
/// already closed it stays, and comes off on the day it was undone.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetOverheadSpent {
    /// First day; default the first of the last day's year.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
    /// Last day; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub to: Option<NaiveDate>,
}
act!(read GetOverheadSpent => PeriodOverhead, "get_overhead_spent", "/v1/workshop/overhead-spent", "Returns the overhead that the work of a period carried, against what was spent.", needs SeePayRates);

/// The overhead of a period, without work that was undone and work on cancelled garments.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PeriodOverhead {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// Minutes logged on garments, billable or not.
    pub logged_minutes: i64,
    /// Of those, billable.
    pub billable_minutes: i64,
    /// Logged on garments that were cancelled; in no other figure.
    pub cancelled_minutes: i64,
    /// Billable minutes by the rate of their days, oldest first.
    pub rates: Vec<RateApplied>,
    /// What the billable minutes carried.
    pub applied: Micro,
    /// In minor units; the printed parts of `rates` add up to it.
    pub applied_printed: String,
    /// What was spent and how it stands; null while nothing is kept for these days.
    pub spent: Option<Spent>,
    /// The share of billable hours against the year's figures; null where none count on the last day.
    pub reached: Option<BillableReached>,
    /// Periods for which an amount is kept, newest first.
    pub kept: Vec<KeptPeriod>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// Minutes of the days on which one overhead rate held.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct RateApplied {
    /// Day from which the rate counts; null: none held, and the minutes carry nothing.
    pub from: Option<NaiveDate>,
    /// Billable minutes.
    pub minutes: i64,
    /// Overhead in an hour, to the nearest millionth; the rate itself is a ratio.
    pub per_hour: Micro,
    /// What they carried.
    pub applied: Micro,
    /// In minor units.
    pub printed: String,
}

/// What was spent, and how it stands to what the work carried.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Spent {
    /// As it was kept.
    pub amount: Micro,
    /// Under- or over-applied.
    pub standing: Applied,
    /// Spent less applied: positive is under-applied.
    pub difference: Micro,
    /// In minor units: spent less the printed `applied`.
    pub difference_printed: String,
    /// What an hour should have carried, to the nearest millionth; null without billable work.
    pub rate_needed: Option<Micro>,
}

/// Billable hours against those that the year's figures count on.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BillableReached {
    /// Day from which the figures count.
    pub figures_from: NaiveDate,
    /// Days of the period.
    pub days: i64,
    /// Minutes that the figures have worked in so many days, every day alike.
    pub worked_minutes: i64,
    /// Of those, billable by the figures.
    pub billable_minutes: i64,
    /// Share of the figures, in percent: `60`.
    pub percent: String,
    /// Billable minutes logged, as a share of `worked_minutes`, in percent.
    pub reached_percent: Option<String>,
}

/// A period with what was spent in it.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KeptPeriod {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// What was spent.
    pub amount: Micro,
}
