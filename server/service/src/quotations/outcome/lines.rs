//! Lines by group and name, each as planned, quoted and booked.

use super::super::internal;
use crate::{context::Context, failure::Done, shelved::amount};
use ellwand_contract::{Amount, quotations::QuotedCost};
use ellwand_domain::{
    costing::{ComparedLine, LineKind, Measured},
    ledger::Quantity,
    pricing::PriceGroup,
    quantity::{Micrometres, Millionths, Minutes},
};

/// Which of the three columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Planned,
    Quoted,
    Actual,
}

/// A quantity in the unit of its line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Exact {
    Length(i64),
    Count(i64),
    Minutes(i64),
}

impl Exact {
    pub(super) const fn number(self) -> i64 {
        match self {
            Self::Length(number) | Self::Count(number) | Self::Minutes(number) => number,
        }
    }

    const fn negated(self) -> Self {
        match self {
            Self::Length(number) => Self::Length(number.saturating_neg()),
            Self::Count(number) => Self::Count(number.saturating_neg()),
            Self::Minutes(number) => Self::Minutes(number.saturating_neg()),
        }
    }

    /// Both together; `None` for two units.
    const fn and(self, other: Self) -> Option<Self> {
        let sum = self.number().saturating_add(other.number());
        match (self, other) {
            (Self::Length(_), Self::Length(_)) => Some(Self::Length(sum)),
            (Self::Count(_), Self::Count(_)) => Some(Self::Count(sum)),
            (Self::Minutes(_), Self::Minutes(_)) => Some(Self::Minutes(sum)),
            _ => None,
        }
    }

    /// For people: `2.60 m`, `6 pcs`, `9 h`; nothing for none.
    pub(super) fn text(self, context: &Context<'_>) -> Done<Option<String>> {
        Ok(match self {
            _ if self.number() == 0 => None,
            Self::Length(length) => Some(Micrometres::new(length)?.show(context.units())),
            Self::Count(count) => Some(format!("{count} pcs")),
            Self::Minutes(minutes) => Some(Minutes::new(minutes)?.to_string()),
        })
    }
}

impl Exact {
    /// A quantity of a material as it travels; nothing for none, for time and for what is taken off.
    pub(super) fn amount(self) -> Done<Option<Amount>> {
        let counted = match self {
            _ if self.number() <= 0 => return Ok(None),
            Self::Minutes(_) => return Ok(None),
            Self::Length(_) => false,
            Self::Count(_) => true,
        };
        Ok(Some(amount(counted, Quantity::new(self.number())?)))
    }
}

/// A cost of one column.
#[derive(Debug, Clone, Default)]
pub(super) struct Part {
    /// `None` where it is not known exactly, or in several units.
    pub(super) exact: Option<Exact>,
    /// What is allowed instead, where the cloth became shorter since.
    pub(super) standard: Option<Exact>,
    /// The quantity for people where it is not known exactly.
    pub(super) told: Option<String>,
    pub(super) value: Millionths,
    /// In minor units, where that was settled when it was frozen.
    pub(super) minor: i64,
    /// Lots or people.
    pub(super) details: Vec<String>,
    pub(super) lots: Vec<i64>,
}

impl Part {
    fn add(&mut self, first: bool, other: Self) -> Done<()> {
        self.exact = match (self.exact, other.exact) {
            (None, exact) if first => exact,
            (Some(one), Some(other)) => one.and(other),
            _ => None,
        };
        self.told = if first { other.told } else { None };
        self.value = self.value.plus(other.value)?;
        self.minor = self.minor.saturating_add(other.minor);
        for detail in other.details {
            if !detail.is_empty() && !self.details.contains(&detail) {
                self.details.push(detail);
            }
        }
        for lot in other.lots {
            if !self.lots.contains(&lot) {
                self.lots.push(lot);
            }
        }
        Ok(())
    }

    pub(super) fn quantity(&self, context: &Context<'_>) -> Done<Option<String>> {
        match self.exact {
            Some(exact) => exact.text(context),
            None => Ok(self.told.clone()),
        }
    }

    fn measured(&self) -> Measured {
        Measured {
            quantity: self.standard.or(self.exact).map(Exact::number),
            value: self.value,
        }
    }
}

/// A line, three times.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) group: PriceGroup,
    pub(super) name: String,
    pub(super) planned: Option<Part>,
    pub(super) quoted: Option<Part>,
    pub(super) actual: Option<Part>,
    /// Quantities of both sides are of one kind of cloth in one state.
    pub(super) comparable: bool,
}

/// All lines, in groups.
#[derive(Debug, Default)]
pub(super) struct Lines(pub(super) Vec<Line>);

impl Lines {
    /// Adds a cost to its line, which is made where there is none.
    pub(super) fn add(
        &mut self,
        side: Side,
        group: PriceGroup,
        name: &str,
        part: Part,
    ) -> Done<()> {
        let known = self
            .0
            .iter()
            .position(|line| line.group == group && line.name == name);
        let at = known.unwrap_or_else(|| {
            let end = self
                .0
                .iter()
                .position(|line| line.group > group)
                .unwrap_or(self.0.len());
            let (name, comparable) = (name.to_owned(), true);
            self.0.insert(
                end,
                Line {
                    group,
                    name,
                    planned: None,
                    quoted: None,
                    actual: None,
                    comparable,
                },
            );
            end
        });
        let Some(line) = self.0.get_mut(at) else {
            return Ok(());
        };
        let column = match side {
            Side::Planned => &mut line.planned,
            Side::Quoted => &mut line.quoted,
            Side::Actual => &mut line.actual,
        };
        let first = column.is_none();
        column.get_or_insert_default().add(first, part)
    }

    /// Adds costs as a price rests on them.
    pub(super) fn read<'a>(
        &mut self,
        context: &Context<'_>,
        side: Side,
        costs: impl IntoIterator<Item = &'a QuotedCost>,
    ) -> Done<()> {
        for cost in costs {
            let amount = cost.amount.map(|amount| match amount {
                Amount::LengthM(length) => Exact::Length(length.get()),
                Amount::Count(count) => Exact::Count(count),
            });
            // What is taken off tells how much without its sign.
            let exact = amount.or(cost.minutes.map(Exact::Minutes));
            let exact = if cost.cost.0.get() < 0 {
                exact.map(Exact::negated)
            } else {
                exact
            };
            let printed = Millionths::from_decimal(&cost.printed).map_err(internal)?;
            let part = Part {
                exact,
                told: cost.quantity.clone(),
                value: cost.cost.0,
                minor: printed.minor(context.currency.digits()),
                details: vec![cost.detail.clone()],
                standard: None,
                lots: cost.lot.iter().map(|lot| lot.get()).collect(),
            };
            self.add(side, cost.group, &cost.name, part)?;
        }
        Ok(())
    }

    /// Quoted beside actual. Work is held against the operation, whoever does it.
    pub(super) fn compared(&self) -> Vec<ComparedLine> {
        let mut all: Vec<(ComparedLine, bool)> = Vec::new();
        for line in &self.0 {
            let kind = match line.group {
                PriceGroup::Materials => LineKind::Material,
                PriceGroup::PaidLabour | PriceGroup::OwnLabour => LineKind::Labour,
                PriceGroup::Overhead => LineKind::Overhead,
            };
            let at = all
                .iter()
                .position(|(known, _)| known.kind == kind && known.name == line.name);
            let at = at.unwrap_or_else(|| {
                let compared = ComparedLine {
                    kind,
                    name: line.name.clone(),
                    quoted: None,
                    actual: None,
                };
                all.push((compared, true));
                all.len().saturating_sub(1)
            });
            if let Some((compared, comparable)) = all.get_mut(at) {
                merge(&mut compared.quoted, line.quoted.as_ref());
                merge(&mut compared.actual, line.actual.as_ref());
                *comparable &= line.comparable && same_unit(line);
            }
        }
        let settled = all.into_iter().map(|(mut line, comparable)| {
            if let Some(quoted) = line.quoted.as_mut().filter(|_| !comparable) {
                quoted.quantity = None;
            }
            line
        });
        settled.collect()
    }
}

fn merge(into: &mut Option<Measured>, part: Option<&Part>) {
    let Some(part) = part.map(Part::measured) else {
        return;
    };
    *into = Some(match *into {
        None => part,
        Some(known) => Measured {
            quantity: known
                .quantity
                .zip(part.quantity)
                .map(|(one, other)| one.saturating_add(other)),
            // Far within the range: each was added up before.
            value: known.value.plus(part.value).unwrap_or(Millionths::MAX),
        },
    });
}

fn same_unit(line: &Line) -> bool {
    let exact = |part: &Option<Part>| part.as_ref().and_then(|part| part.exact);
    match (exact(&line.quoted), exact(&line.actual)) {
        (Some(quoted), Some(actual)) => quoted.and(actual).is_some(),
        _ => true,
    }
}
