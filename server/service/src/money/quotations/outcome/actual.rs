//! What was booked on the garment: cloth at its lots' cost, hours at the rates that a price counts them by.

use super::lines::{Lines, Side};
use crate::{desk::failure::Done, money::costs::Costs};
use ellwand_domain::{
    costing::{CostItem, LineKind},
    pricing::PriceGroup,
    quantity::{Millionths, Minutes},
};

/// What was booked, beside the lines.
#[derive(Debug)]
pub(super) struct Actual {
    /// Losses, then what the customer wanted.
    pub(super) apart: Vec<CostItem>,
    /// All own minutes, billable or not, mistakes with them.
    pub(super) own_minutes: Minutes,
    /// Everything, losses and changes with it.
    pub(super) total: Millionths,
    /// Not all hours have a rate, so that there is no total.
    pub(super) unpriced: bool,
    /// Some of those are paid ones, so that it is not known either what is left for the own.
    pub(super) wages_unknown: bool,
}

impl Actual {
    /// Puts what was booked into its lines, and the rest apart; prints both.
    pub(super) fn read(
        costs: Costs,
        lines: &mut Lines,
        notes: &mut Vec<String>,
        digits: u32,
    ) -> Done<Self> {
        notes.extend(
            costs
                .missing
                .iter()
                .map(crate::money::costs::Missing::worked),
        );
        let minutes = |of: fn(&CostItem) -> bool| {
            let own = costs.items.iter().filter(|item| of(item));
            Minutes::new(own.fold(0, |sum: i64, item| sum.saturating_add(item.minutes())))
        };
        let own_minutes = minutes(|item| item.group == PriceGroup::OwnLabour)?;
        let unbillable = minutes(|item| !item.billable)?;
        if unbillable > Minutes::ZERO {
            notes.push(format!(
                "{unbillable} are not billable: they carry no cost, and count among the own hours where they are own"
            ));
        }
        let total = CostItem::sum(&costs.items)?;
        let unpriced = |of: fn(PriceGroup) -> bool| {
            costs
                .items
                .iter()
                .any(|item| !item.priced && of(item.group))
        };
        let wages_unknown = unpriced(|group| group == PriceGroup::PaidLabour);
        let unpriced = unpriced(|_| true);
        let billable = costs.items.into_iter().filter(|item| item.billable);
        let (apart, job): (Vec<_>, Vec<_>) = billable.partition(|item| item.loss.is_some());
        lines.add(Side::Actual, job)?;
        let mut apart = CostItem::together(apart, |one, other| {
            let of = |item: &CostItem| (item.group, item.loss, item.lots.clone());
            let on = |item: &CostItem| (item.kind() == LineKind::Overhead).then(|| item.of.clone());
            of(one) == of(other) && one.name == other.name && on(one) == on(other)
        })?;
        apart.sort_by_key(|item| (item.loss, item.group));
        CostItem::print_booked(lines.booked_mut().chain(&mut apart), digits)
            .map_err(super::super::internal)?;
        Ok(Self {
            apart,
            own_minutes,
            total,
            unpriced,
            wages_unknown,
        })
    }
}
