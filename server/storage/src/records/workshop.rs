//! Rows of workshops, logos, tax_rates, tax_reclaims, pay_rates, pay_rates_by_kind, overhead_rates, yearly_figures, usual_operations.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{
    logos, overhead_rates, pay_rates, pay_rates_by_kind, tax_rates, tax_reclaims, usual_operations,
    workshops, yearly_figures,
};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::{
    DateOrder, OffcutValue, PictureKind, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem,
    WorkKind,
};
use serde::{Deserialize, Serialize};

/// The one row of settings.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = workshops)]
#[diesel(treat_none_as_null = true)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Workshop {
    pub id: i64,
    pub currency: String,
    pub currency_fixed: bool,
    pub zone: String,
    pub units: UnitSystem,
    pub date_order: Option<DateOrder>,
    pub cutting_step_um: i64,
    pub end_allowance_um: i64,
    pub offcut_length_um: i64,
    pub offcut_width_um: i64,
    pub strip_value: OffcutValue,
    pub pooled_method: PooledMethod,
    pub pooled_method_fixed: bool,
    pub closed_to: Option<NaiveDate>,
    pub version: i64,
    pub changed_by: Option<String>,
    pub changed_at: Option<NaiveDateTime>,
    pub changed_what: Option<String>,
    pub prices_shown: PricesShown,
    pub tax_rounding: Rounding,
    pub tax_place: TaxPlace,
    pub cash_step_minor: Option<i64>,
    pub head: String,
    pub price_rule: Option<String>,
    pub words: String,
}

/// A tax rate: a share of the net amount in millionths, under the name that invoices give it.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = tax_rates)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TaxRate {
    pub id: i64,
    pub name: String,
    pub ppm: i64,
}

/// What an hour of a person costs from a date on; ten-thousandths.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = pay_rates)]
#[diesel(treat_none_as_null = true)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PayRate {
    pub id: i64,
    pub person_id: i64,
    pub per_hour: i64,
    pub from_date: NaiveDate,
}

/// What an hour of a person costs at one kind of work from a date on; ten-thousandths.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = pay_rates_by_kind)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KindPayRate {
    pub id: i64,
    pub person_id: i64,
    pub kind: WorkKind,
    pub per_hour: i64,
    pub from_date: NaiveDate,
}

/// Whether tax on purchases is reclaimed from a date on.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = tax_reclaims)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TaxReclaim {
    pub id: i64,
    pub reclaimed: bool,
    pub from_date: NaiveDate,
}

/// Overhead over billable minutes from a date on; millionths.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = overhead_rates)]
#[diesel(treat_none_as_null = true)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OverheadRate {
    pub id: i64,
    pub amount: i64,
    pub minutes: i64,
    pub from_date: NaiveDate,
}

/// A year's figures from a date on; millionths.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = yearly_figures)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct YearlyFigures {
    pub id: i64,
    pub pay: i64,
    pub overhead: i64,
    pub weeks: i64,
    pub week_minutes: i64,
    pub billable_ppm: i64,
    pub from_date: NaiveDate,
}

/// An operation that the workshop does often, with the minutes it takes on one garment.
#[derive(Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = usual_operations)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UsualOperation {
    pub name: String,
    pub kind: WorkKind,
    pub minutes: i64,
    pub billable: bool,
}

/// A picture at the head of sheets, in base64.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = logos)]
pub struct Logo {
    pub id: i64,
    pub kind: PictureKind,
    pub picture: String,
}
