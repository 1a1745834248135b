//! What details of garments took, and what they were worth.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Micro, access::conceals, act::act};
use chrono::NaiveDate;
use ellwand_domain::code::{BookingCode, GarmentCode};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Rate what a detail was worth on a finished garment.
///
/// From 1, not worth the effort, to 5, worth every minute. Rating it again replaces the earlier rating; `ellwand details`
/// compares the ratings with what each detail took.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct RateDetail {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5; finished or delivered.
    pub garment: GarmentCode,
    /// Detail of the garment, such as 'hand-rolled hem'; capitals make no difference.
    pub detail: String,
    /// From 1 to 5.
    #[cfg_attr(feature = "clap", arg(allow_negative_numbers = true))]
    pub rating: i64,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post RateDetail => DetailRated, "rate_detail", "/v1/garments/{garment}/ratings", "Rates what a detail was worth on a finished garment.");

/// A detail as it was rated.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DetailRated {
    /// The booking.
    pub booking: BookingCode,
    /// Garment.
    pub garment: GarmentCode,
    /// Detail.
    pub detail: String,
    /// From 1 to 5.
    pub rating: i64,
    /// The rating before; null: it had none yet.
    pub before: Option<i64>,
}

/// Show what details take across finished garments, against what they were worth.
///
/// The detail that pays least for its effort comes first, by what a point of its rating costs. Time and money are for one
/// garment: the median, with the lowest and the highest; own mistakes and customers' changes are left out.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListDetails {
    /// Only this one.
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub detail: Option<String>,
    /// Look at this many of the newest garments [default: 200; at most 1 000].
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 1_000))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub limit: Option<u32>,
}
act!(read ListDetails => Details, "list_details", "/v1/details", "Returns what details took and were worth across finished garments."; conceals);

/// Details, the one that pays least for its effort first.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Details {
    /// By what a point of their rating costs, the dearest first; those that nobody rated last.
    pub details: Vec<DetailWorth>,
    /// Garments or batches that were looked at.
    pub garments: i64,
    /// True when older ones were not looked at.
    pub more: bool,
    /// ISO 4217 code of the amounts.
    pub currency: String,
}
conceals!(Details, parts { details });

/// What a detail took on one garment each, and what it was worth.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DetailWorth {
    /// Its name, as on the newest garment.
    pub detail: String,
    /// Garments or batches that it took time or material on.
    pub garments: i64,
    /// Minutes for one garment, as worked; own mistakes and customers' changes left out. Null: none were logged.
    pub minutes: Option<MinutesSpread>,
    /// Work at its rates with overhead, and materials, for one garment. Null where pay rates are hidden, and where minutes have
    /// no rate.
    pub cost: Option<CostSpread>,
    /// Minutes without a pay rate; there is no cost while there are any.
    pub unpriced_minutes: i64,
    /// Average of the ratings, to one decimal: `4.3`; null: nobody rated it.
    pub rated: Option<String>,
    /// How many rated it.
    pub ratings: i64,
}
// What hours cost is in the amounts, so they are shown to the same readers as the cost sheet.
conceals!(DetailWorth, prices { cost }, pay_rates { cost });

/// Minutes: lowest (down), median (nearest), highest (up).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MinutesSpread {
    /// Lowest.
    pub low: i64,
    /// Median.
    pub median: i64,
    /// Highest.
    pub high: i64,
}

/// Amounts: lowest (down), median (nearest), highest (up), to the millionth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CostSpread {
    /// Lowest.
    pub low: Micro,
    /// Median.
    pub median: Micro,
    /// Highest.
    pub high: Micro,
}
