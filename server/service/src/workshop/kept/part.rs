//! One thing that is set by itself: a column of the settings, a rate, a usual operation.

use super::super::{fault, since};
use crate::desk::failure::Done;
use chrono::NaiveDate;
use ellwand_contract::{access::Access, json};
use ellwand_domain::{costing::BEGINNING, setting::WorkKind};
use ellwand_storage::{
    KindPayRate, OverheadRate, OverheadSpent, PayRate, TaxRate, TaxReclaim, Trace, Tx,
    UsualOperation, YearlyFigures,
};
use serde::{Deserialize, Serialize, de::DeserializeOwned};
use serde_json::Value;

/// As JSON it is the part of a trace.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Part {
    Column(String),
    /// A person's mark as own or paid.
    Person(i64),
    PayRate(i64, Option<WorkKind>, NaiveDate),
    Overhead(NaiveDate),
    Figures(NaiveDate),
    Spent(NaiveDate, NaiveDate),
    Tax(String),
    Reclaim(NaiveDate),
    Operation(String),
}

/// Writes a row as it was, or takes out what was not there.
macro_rules! back {
    ($was:ident: $row:ty, $tx:ident.$save:ident, $deleted:expr) => {
        match row::<$row>($was)? {
            Some(row) => $tx.$save(&row)?,
            None => drop($deleted?),
        }
    };
}

impl Part {
    /// What a trace is of.
    pub(crate) fn of(trace: &Trace) -> Done<Self> {
        json::read(&trace.part).map_err(fault)
    }

    pub(super) fn text(&self) -> Done<String> {
        json::write(self).map_err(fault)
    }

    /// What setting it needs, and so taking it back.
    pub(super) const fn needs(&self) -> Access {
        match self {
            Self::Column(_) | Self::Tax(_) | Self::Reclaim(_) => Access::Settings,
            Self::Operation(_) => Access::Trade,
            Self::Person(_)
            | Self::PayRate(..)
            | Self::Overhead(_)
            | Self::Figures(_)
            | Self::Spent(..) => Access::PayRates,
        }
    }

    /// The day for which it counts, or from which on; closed books over it keep it.
    pub(super) const fn day(&self) -> Option<NaiveDate> {
        match self {
            Self::PayRate(_, _, day)
            | Self::Overhead(day)
            | Self::Figures(day)
            | Self::Spent(_, day)
            | Self::Reclaim(day) => Some(*day),
            Self::Column(_) | Self::Person(_) | Self::Tax(_) | Self::Operation(_) => None,
        }
    }

    /// The day from which hours cost something else by it.
    pub(super) const fn costs_from(&self) -> Option<NaiveDate> {
        match self {
            Self::Person(_) => Some(BEGINNING),
            Self::PayRate(_, _, day) | Self::Overhead(day) | Self::Figures(day) => Some(*day),
            _ => None,
        }
    }

    /// For people, without any amount: `pay rate of anna for hand work from 2026-01-01`.
    pub(crate) fn label(&self, tx: &mut Tx<'_>) -> Done<String> {
        let mut name = |id: i64| -> Done<String> {
            Ok(tx.person(id)?.map(|row| row.name).unwrap_or_default())
        };
        Ok(match self {
            Self::Column(column) => label(column),
            Self::Person(id) => format!("mark of {} as own or paid", name(*id)?),
            Self::PayRate(id, kind, day) => {
                let kind = kind.map_or_else(String::new, |kind| format!(" for {kind} work"));
                format!("pay rate of {}{kind} from {}", name(*id)?, since(*day))
            }
            Self::Overhead(day) => format!("overhead rate from {}", since(*day)),
            Self::Figures(day) => format!("year's figures from {}", since(*day)),
            Self::Spent(from, to) => format!("overhead spent from {from} to {to}"),
            Self::Tax(name) => format!("tax {name}"),
            Self::Reclaim(day) => format!("reclaiming of tax from {}", since(*day)),
            Self::Operation(name) => format!("usual operation {name}"),
        })
    }

    /// Makes it what it was; none: it was not there.
    pub(super) fn put(&self, tx: &mut Tx<'_>, was: Option<Value>) -> Done<()> {
        match self {
            // All columns are one row, and a person stays.
            Self::Column(_) => {}
            Self::Person(id) => {
                if let Some(paid) = row(was)? {
                    tx.mark_person(*id, paid)?;
                }
            }
            Self::PayRate(person, None, day) => {
                back!(was: PayRate, tx.save_pay_rate, tx.delete_pay_rate(*person, *day))
            }
            Self::PayRate(person, Some(kind), day) => back!(
                was: KindPayRate,
                tx.save_kind_pay_rate,
                tx.delete_kind_pay_rate(*person, *kind, *day)
            ),
            Self::Overhead(day) => {
                back!(was: OverheadRate, tx.save_overhead_rate, tx.delete_overhead_rate(*day))
            }
            Self::Figures(day) => {
                back!(was: YearlyFigures, tx.save_yearly_figures, tx.delete_yearly_figures(*day))
            }
            Self::Spent(from, to) => {
                back!(was: OverheadSpent, tx.save_overhead_spent, tx.delete_overhead_spent(*from, *to))
            }
            Self::Tax(name) => back!(was: TaxRate, tx.save_tax_rate, tx.delete_tax_rate(name)),
            Self::Reclaim(day) => {
                back!(was: TaxReclaim, tx.save_tax_reclaim, tx.delete_tax_reclaim(*day))
            }
            Self::Operation(name) => {
                back!(was: UsualOperation, tx.save_usual_operation, tx.delete_usual_operation(name))
            }
        }
        Ok(())
    }
}

fn row<T: DeserializeOwned>(was: Option<Value>) -> Done<Option<T>> {
    let text = was.map(|was| was.to_string());
    text.as_deref().map(json::read).transpose().map_err(fault)
}

/// A column's name for people, without its unit.
pub(super) fn label(column: &str) -> String {
    let bare = column.strip_suffix("_um").unwrap_or(column);
    match column {
        "zone" => "time zone".to_owned(),
        "date_order" => "order of dates".to_owned(),
        "offcut_length_um" => "length of offcuts".to_owned(),
        "offcut_width_um" => "width of offcuts".to_owned(),
        "head" => "head of sheets".to_owned(),
        "words" => "words of sheets".to_owned(),
        "cash_step_minor" => "step of cash".to_owned(),
        "strip_value" => "worth of side strips".to_owned(),
        "pooled_method" => "valuation of thread and trims".to_owned(),
        "tax_rounding" => "rounding of tax".to_owned(),
        "tax_place" => "place where tax is rounded".to_owned(),
        _ => bare.replace('_', " "),
    }
}
