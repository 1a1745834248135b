//! What a month brought.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{
    Amount, Micro,
    access::conceals,
    act::act,
    wire::{decimal, units},
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, MaterialCode, QuotationCode},
    ledger::AccountKind,
    setting::{Kind, TrimUnit, WorkKind},
};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use serde_with::skip_serializing_none;

/// Show what a month brought: goods, garments, money and hours.
///
/// All by business day, in the workshop's zone; without a month, the current one. Goods are what the ledger moved: bought with
/// charges and less credits, used in garments, lost or adjusted, and on the shelf at the end; what was undone later comes off on
/// the day it was undone. Cloth that customers own is not counted. Garments, quotations, payments and hours are those that
/// stand. Still owed is what accepted quotations have open at the end of the period.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetMonth {
    /// Month: 2026-11 [default: the current one].
    #[cfg_attr(feature = "clap", arg(value_name = "MONTH", conflicts_with_all = ["from", "to"]))]
    pub month: Option<String>,
    /// First day of another period.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
    /// Its last day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date, requires = "from"))]
    pub to: Option<NaiveDate>,
}
act!(read GetMonth => Month, "get_month", "/v1/month", "Returns what a month or another period brought."; conceals);

/// A period: what was bought, used and made, what was quoted and paid, and who worked.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Month {
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// True while the period lasts.
    pub so_far: bool,
    /// ISO 4217 code of all amounts.
    pub currency: String,
    /// By kind of material; trims by length and by number apart.
    pub goods: Vec<MonthGoods>,
    /// Stock value of all goods at the end; null where prices are hidden.
    pub shelf_value: Option<Micro>,
    /// Late charges and credits on what is used up already: they went to garments and adjustments, and belong to no kind.
    pub late_charges: Option<Micro>,
    /// Cost of the goods in garments that are not delivered, at the end.
    pub in_garments: Option<Micro>,
    /// Garments that were finished or delivered.
    pub garments: Vec<MonthGarment>,
    /// Quotations and payments; null where prices are hidden.
    pub money: Option<MonthMoney>,
    /// Minutes by person and kind of work.
    pub hours: Vec<MonthHours>,
    /// What an own hour really earned, in the garments finished in the period that were sold by a quotation; null where there are
    /// none, or pay rates are hidden.
    pub hour_earned: Option<HourEarned>,
    /// Materials with less on the shelf than their least level, at the end.
    pub below_least: Vec<BelowLeast>,
    /// Remarks.
    pub notes: Vec<String>,
}
conceals!(
    Month,
    prices {
        shelf_value,
        late_charges,
        in_garments,
        money,
        hour_earned
    },
    pay_rates { hour_earned },
    parts { goods, garments }
);

/// What became of a kind of material. By value, at_start + came_in − used − elsewhere = at_end.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MonthGoods {
    /// Kind.
    pub kind: Kind,
    /// Whether it is kept by number or by length.
    pub unit: TrimUnit,
    /// On the shelf before the first day.
    pub at_start: NetMoved,
    /// What was there when the book began.
    pub opening: NetMoved,
    /// Bought, with charges and less credits.
    pub bought: NetMoved,
    /// Both of these.
    pub came_in: NetMoved,
    /// Used in garments, less what came back.
    pub used: NetMoved,
    /// Where the rest went: losses, adjustments, shrinkage, sales.
    pub went: Vec<WentTo>,
    /// All of that.
    pub elsewhere: NetMoved,
    /// Length of the strips that cuts left beside panels: they are counted at the end, and narrower than what they were cut from.
    pub strips: NetAmount,
    /// On the shelf after the last day.
    pub at_end: NetMoved,
}
conceals!(
    MonthGoods,
    parts {
        at_start,
        opening,
        bought,
        came_in,
        used,
        went,
        elsewhere,
        at_end
    }
);

/// What went somewhere else than into garments.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WentTo {
    /// Place in the ledger: `own-mistake`, `normal-loss`, `adjustment`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub place: AccountKind,
    /// How much.
    #[serde(flatten)]
    pub moved: NetMoved,
}
conceals!(WentTo, parts { moved });

/// A quantity and its value; below zero where more came back than went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NetMoved {
    /// Length or number.
    pub amount: NetAmount,
    /// Exact; null where prices are hidden.
    pub value: Option<Micro>,
}
conceals!(NetMoved, prices { value });

/// A length or a number that may be below zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum NetAmount {
    /// Metres.
    LengthM(NetMetres),
    /// Whole pieces.
    Count(i64),
}

/// Micrometres that may be below zero; they travel as metres, a decimal string with at most 6 digits after the point.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "openapi", schema(value_type = String, example = "-2.6", pattern = r"^-?\d{1,19}(\.\d{1,6})?$"))]
pub struct NetMetres(pub i64);

impl Serialize for NetMetres {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&decimal(self.0, 6))
    }
}

impl<'de> Deserialize<'de> for NetMetres {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        units(&text, 6).map(Self).map_err(D::Error::custom)
    }
}

/// A garment that was finished or delivered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MonthGarment {
    /// Garment.
    pub garment: GarmentCode,
    /// Name.
    pub name: String,
    /// Customer.
    pub customer: Option<CustomerCode>,
    /// The customer's name.
    pub customer_name: Option<String>,
    /// Garments of the batch that were started.
    pub count: i64,
    /// Good ones.
    pub good: Option<i64>,
    /// Day it was finished, where that is in the period.
    pub finished: Option<NaiveDate>,
    /// Day it was delivered, where that is in the period.
    pub delivered: Option<NaiveDate>,
    /// What an own hour on it earned, where it was finished and sold by a quotation.
    pub hour_earned: Option<Micro>,
}
conceals!(
    MonthGarment,
    prices { hour_earned },
    pay_rates { hour_earned }
);

/// Quotations and payments. Amounts with tax, in the currency's digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MonthMoney {
    /// Quotations with a version dated in the period: of several the newest.
    pub quoted: MonthSum,
    /// Quotations that were accepted in the period.
    pub accepted: MonthSum,
    /// Payments, less what went back to customers.
    pub paid: MonthSum,
    /// Goods of the shelf that were sold as they are.
    pub goods_sold: GoodsSold,
    /// What is owed at the end, by quotation.
    pub owed: Vec<Owed>,
    /// Sum of it.
    pub owed_in_all: String,
}

/// How many, and what they come to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MonthSum {
    /// Number.
    pub count: i64,
    /// Sum.
    pub amount: String,
}

/// Goods of the shelf that were sold as they are, those that were taken back left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GoodsSold {
    /// Number of sales.
    pub count: i64,
    /// What they were sold for.
    pub amount: String,
    /// Prices without tax less what the goods cost, of those whose cost was known; below zero for a loss.
    pub gain: String,
    /// Number of the others.
    pub unpriced: i64,
}

/// What is still to be paid on an accepted quotation and its supplements.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Owed {
    /// Quotation.
    pub quotation: QuotationCode,
    /// Garment.
    pub garment: GarmentCode,
    /// Its name.
    pub name: String,
    /// Customer.
    pub customer: Option<CustomerCode>,
    /// The customer's name.
    pub customer_name: Option<String>,
    /// Amount.
    pub amount: String,
}

/// Minutes of a person at one kind of work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MonthHours {
    /// Person.
    pub person: String,
    /// Kind of work.
    pub kind: WorkKind,
    /// Minutes.
    pub minutes: i64,
    /// Of those, billable.
    pub billable_minutes: i64,
}

/// What an own hour earned.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct HourEarned {
    /// For an hour: all that the garments left for own hours ÷ those hours, to the nearest millionth.
    pub per_hour: Micro,
    /// Own minutes.
    pub own_minutes: i64,
    /// Garments that are counted.
    pub garments: i64,
}

/// A material with less on the shelf than its least level.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BelowLeast {
    /// Material.
    pub material: MaterialCode,
    /// Kind.
    pub kind: Kind,
    /// Name.
    pub name: String,
    /// On the shelf at the end.
    pub on_hand: NetAmount,
    /// Least level.
    pub least: Amount,
    /// True where it fell below that level in the period.
    pub fell: bool,
}
