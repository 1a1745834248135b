//! The cost sheet of a garment: planned beside booked.

use super::{
    BridgeItem, CostError, CostItem, LineKind, LossReason, Step, VarianceKind, compare::break_down,
    shown_steps,
};
use crate::quantity::{Millionths, QuantityError};

/// A line of several columns; at least one of them is there.
pub type CostRow<const N: usize> = [Option<CostItem>; N];

/// The first of a line's columns that is there.
#[must_use]
pub fn head<const N: usize>(row: &CostRow<N>) -> Option<&CostItem> {
    row.iter().flatten().next()
}

/// An amount, exact and as it is printed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Total {
    /// Exact.
    pub value: Millionths,
    /// Minor units.
    pub printed: i64,
}

impl Total {
    /// Of costs that are printed.
    ///
    /// # Errors
    /// Overflow.
    pub fn of<'a>(items: impl IntoIterator<Item = &'a CostItem>) -> Result<Self, QuantityError> {
        items.into_iter().try_fold(Self::default(), |sum, item| {
            Ok(Self {
                value: sum.value.plus(item.value)?,
                printed: sum.printed.saturating_add(item.printed),
            })
        })
    }

    /// Both together.
    ///
    /// # Errors
    /// Overflow.
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        Ok(Self {
            value: self.value.plus(other.value)?,
            printed: self.printed.saturating_add(other.printed),
        })
    }
}

/// Planned and booked cost of a garment or batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostSheet {
    /// Materials, operations, overhead, planned and booked: printed, they add up to `planned` and `job`.
    pub lines: Vec<CostRow<2>>,
    /// Losses and customer's changes, apart.
    pub apart: Vec<CostItem>,
    /// Planned cost.
    pub planned: Total,
    /// Cost of the good garments: normal waste included, what is apart not.
    pub job: Total,
    /// Job and everything apart.
    pub all_in: Total,
    /// From planned to all-in, in print and exactly; the steps explain the difference and add nothing to it.
    pub bridge: Vec<Step<BridgeItem>>,
}

impl CostSheet {
    /// Folds what is planned and what is booked into lines, and prints them.
    ///
    /// - Materials have a line for each lot, work one for each operation, regardless of who did it.
    /// - Rounding: the plan, the job with the customer's changes, and the loss half up; lines under them by largest remainder.
    /// - Mistakes count in the bridge (as quantity or time), because all-in holds them; they never ride on the job.
    ///
    /// # Errors
    /// [`CostError::NegativeLine`], overflow.
    pub fn of(plan: &[CostItem], booked: &[CostItem], digits: u32) -> Result<Self, CostError> {
        let below = |item: &&CostItem| {
            item.value.get() < 0 || item.extent.is_some_and(|extent| extent.number() < 0)
        };
        if let Some(item) = plan.iter().chain(booked).find(below) {
            return Err(CostError::NegativeLine {
                name: item.name.clone(),
            });
        }
        let own = booked.iter().filter(|item| item.loss.is_none());
        let mut lines = rows(plan.iter(), own)?;
        let apart = booked
            .iter()
            .filter(|item| item.loss.is_some() && item.billable);
        let mut apart = CostItem::together(apart.cloned(), |one, other| {
            let of = |item: &CostItem| (item.loss, item.lots.clone(), work_lost(item));
            one.is_same(other) && of(one) == of(other)
        })?;
        CostItem::print(
            lines.iter_mut().filter_map(|[planned, _]| planned.as_mut()),
            digits,
        )?;
        let own = lines.iter_mut().filter_map(|[_, own]| own.as_mut());
        CostItem::print_booked(own.chain(&mut apart), digits)?;
        let planned = Total::of(lines.iter().filter_map(|[planned, _]| planned.as_ref()))?;
        let job = Total::of(lines.iter().filter_map(|[_, own]| own.as_ref()))?;
        let all_in = job.plus(Total::of(&apart)?)?;
        let difference = all_in.printed.saturating_sub(planned.printed);
        let bridge = shown_steps(bridge(plan, booked)?, difference, digits)?;
        Ok(Self {
            lines,
            apart,
            planned,
            job,
            all_in,
            bridge,
        })
    }

    /// What went apart for these reasons.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn apart(&self, reason: impl Fn(LossReason) -> bool) -> Result<Total, QuantityError> {
        Total::of(
            self.apart
                .iter()
                .filter(|item| item.loss.is_some_and(&reason)),
        )
    }
}

/// On what lost work overhead is: nothing else tells it apart.
fn work_lost(item: &CostItem) -> Option<Vec<String>> {
    (item.kind() == LineKind::Overhead).then(|| item.of.clone())
}

/// Planned beside booked: in the order of the plan, then of the bookings; materials, work, overhead.
fn rows<'a>(
    plan: impl Iterator<Item = &'a CostItem>,
    booked: impl Iterator<Item = &'a CostItem>,
) -> Result<Vec<CostRow<2>>, QuantityError> {
    let (plan, booked): (Vec<_>, Vec<_>) = (plan.collect(), booked.collect());
    let mut names: Vec<(LineKind, &str)> = Vec::new();
    for item in plan.iter().chain(&booked) {
        if !names.contains(&(item.kind(), &item.name)) {
            names.push((item.kind(), &item.name));
        }
    }
    names.sort_by_key(|(kind, _)| *kind);
    let mut rows: Vec<CostRow<2>> = Vec::new();
    for name in names {
        let start = rows.len();
        // Lots that were cut stand first, so that a plan without a lot goes with what was cut for it.
        for (column, items) in [(1, &booked), (0, &plan)] {
            for item in items
                .iter()
                .filter(|item| (item.kind(), item.name.as_str()) == name)
            {
                add(&mut rows, start, column, item)?;
            }
        }
    }
    Ok(rows)
}

/// Adds a cost to its line: that of its lots, or of its operation. What has no lot goes with a line that has none of its column.
fn add(
    rows: &mut Vec<CostRow<2>>,
    start: usize,
    column: usize,
    item: &CostItem,
) -> Result<(), QuantityError> {
    let of_lots = item.kind() == LineKind::Material;
    let is_own = |row: &CostRow<2>| match row.get(column) {
        Some(Some(own)) => !of_lots || (!item.lots.is_empty() && own.lots == item.lots),
        _ => !of_lots || item.lots.is_empty() || head(row).is_some_and(|own| own.lots == item.lots),
    };
    let known = rows.iter().skip(start).position(is_own);
    let at = known.map_or(rows.len(), |at| at.saturating_add(start));
    if known.is_none() {
        rows.push([None, None]);
    }
    let cell = rows.get_mut(at).and_then(|row| row.get_mut(column));
    match cell {
        Some(Some(own)) => own.absorb(item.clone()),
        Some(empty) => {
            *empty = Some(item.clone());
            Ok(())
        }
        None => Ok(()),
    }
}

/// What the steps of the bridge come to; their sum is exactly all-in less planned.
fn bridge(
    plan: &[CostItem],
    booked: &[CostItem],
) -> Result<Vec<(BridgeItem, Millionths)>, QuantityError> {
    let plan = plan.iter().filter(|item| item.billable && item.priced);
    let booked: Vec<CostItem> = booked
        .iter()
        .filter(|item| item.billable)
        .map(|item| CostItem {
            loss: None,
            ..item.clone()
        })
        .collect();
    let mut sums = [Millionths::ZERO; BridgeItem::ALL.len()];
    for row in rows(plan, booked.iter())? {
        let Some(kind) = head(&row).map(CostItem::kind) else {
            continue;
        };
        let [planned, actual] = &row;
        let allowed = planned.as_ref().map(|planned| planned.value);
        for (variance, value) in break_down(planned.as_ref(), actual.as_ref(), allowed, true)? {
            let step = step_of(variance, kind);
            for (item, sum) in BridgeItem::ALL.iter().zip(&mut sums) {
                if *item == step {
                    *sum = sum.plus(value)?;
                }
            }
        }
    }
    Ok(BridgeItem::ALL.into_iter().zip(sums).collect())
}

/// The step that a difference of a line belongs to.
const fn step_of(variance: VarianceKind, kind: LineKind) -> BridgeItem {
    match (variance, kind) {
        (VarianceKind::MaterialQuantity, _) => BridgeItem::Quantity,
        (VarianceKind::LabourTime, _) => BridgeItem::Time,
        (VarianceKind::OverheadOnExtraHours, _) | (VarianceKind::NotQuoted, LineKind::Overhead) => {
            BridgeItem::OverheadOnExtraHours
        }
        (VarianceKind::NotQuoted, _) => BridgeItem::Unplanned,
        (_, LineKind::Material) => BridgeItem::Price,
        (_, LineKind::Labour | LineKind::Overhead) => BridgeItem::Rate,
    }
}
