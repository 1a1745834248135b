//! What a later change of an agreed plan costs: the plan now against what was agreed, line by line.

use super::{PriceBase, PricingError, check::overflow};
use crate::{
    costing::{CostItem, Extent},
    quantity::{Currency, Millionths, Minutes, QuantityError},
};

/// A cost of a plan, and how it was agreed. Several of one name count together, whatever lot or person they are of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanLine {
    /// What it is, and how much of it.
    pub item: CostItem,
    /// The cost is that of the change itself, as it was given.
    pub given: bool,
    /// With which quotation it was agreed, counted from the first; of a line of the plan now: the one that prices it.
    pub layer: usize,
}

impl PlanLine {
    /// The same thing, of another extent and cost.
    fn with(&self, extent: Option<Extent>, value: Millionths) -> Self {
        Self {
            item: CostItem {
                extent,
                value,
                ..self.item.clone()
            },
            ..*self
        }
    }
}

/// How a line differs from what was agreed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Difference {
    /// It is new: whole, at today's cost.
    New,
    /// There is more of it: the difference, at today's cost.
    More,
    /// There is less of it: the difference off, at the cost that was agreed, what was agreed last before the rest.
    Less,
    /// It is gone: all of it off, at the cost that was agreed.
    Gone,
    /// Its cost was given.
    Given,
}

/// A line that the change prices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedLine {
    /// How it differs.
    pub difference: Difference,
    /// Group, name, extent of the difference (never below zero), cost of the difference (below zero for what goes off).
    pub line: PlanLine,
}

/// A change of an agreed plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanChange {
    /// What it prices, in the order of the plan, what is gone last; nothing for a line that is as it was agreed.
    pub lines: Vec<ChangedLine>,
    /// What is agreed once the change is accepted: of one name a line for each quotation that it was agreed with.
    pub agreed: Vec<PlanLine>,
    /// Names of lines whose extents cannot be compared: they are taken as they were agreed.
    pub unclear: Vec<String>,
}

impl PlanChange {
    /// What the change costs; below zero when more goes off than comes on.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn cost(&self) -> Result<Millionths, QuantityError> {
        Millionths::sum(self.lines.iter().map(|changed| changed.line.item.value))
    }
}

/// One line for each of what `is_one` takes together: extents and costs added up.
fn together(
    lines: &[PlanLine],
    is_one: impl Fn(&PlanLine, &PlanLine) -> bool,
) -> Result<Vec<PlanLine>, PricingError> {
    let mut all: Vec<PlanLine> = Vec::with_capacity(lines.len());
    for line in lines {
        match all.iter_mut().find(|known| is_one(known, line)) {
            None => all.push(line.clone()),
            Some(known) => {
                known.given |= line.given;
                let of_one = known.item.material == line.item.material;
                known.item.absorb(line.item.clone())?;
                known.item.material = known.item.material.filter(|_| of_one);
            }
        }
    }
    Ok(all)
}

fn same(one: &PlanLine, other: &PlanLine) -> bool {
    one.item.is_same(&other.item)
}

impl PriceBase {
    /// The costs of a plan as they are printed, of one name and group once, in the order of the plan.
    ///
    /// # Errors
    /// As [`Self::printed`].
    pub fn of_plan(
        lines: &[PlanLine],
        own_minutes: Minutes,
        currency: Currency,
    ) -> Result<Self, PricingError> {
        let items = lines.iter().map(|line| line.item.clone());
        let mut items = CostItem::together(items, |one, two| {
            one.group == two.group && one.name == two.name
        })?;
        Ok(Self {
            own_minutes,
            ..Self::printed(&mut items, &[], currency)?
        })
    }
}

/// Extents of several lines added up, where all are known and of one unit.
fn extent_of(lines: &[PlanLine]) -> Result<Option<Extent>, QuantityError> {
    let mut extents = lines.iter().map(|line| line.item.extent);
    let first = extents.next().flatten();
    extents.try_fold(first, |sum, own| match sum.zip(own) {
        Some((sum, own)) => sum.plus(own),
        None => Ok(None),
    })
}

/// What an agreed plan lacks of the plan now, or has too much.
///
/// - A new line counts whole, and so does one of another material, whose former one goes off; of a larger one the difference in extent at today's cost; a line of the same extent nothing,
///   whatever it costs today, since an accepted quotation fixes its prices; a smaller one, or one that is gone, goes off at
///   the cost that was agreed. A line whose extent is not known is taken as agreed, unless its cost is given.
/// - What was agreed last goes off first, so that what is ordered more and then not wanted after all comes to nothing.
/// - Formula: more: cost now × (now − agreed) ÷ now; less: −cost agreed × (agreed − now) ÷ agreed.
/// - Rounding: each difference once to the nearest millionth.
/// - Source: "accepted quote fixes its prices; later cloth prices change the next quote only" (common practice).
///
/// # Errors
/// Overflow.
pub fn plan_change(agreed: &[PlanLine], now: &[PlanLine]) -> Result<PlanChange, PricingError> {
    let of_layer = |one: &PlanLine, two: &PlanLine| {
        one.layer == two.layer && one.item.group == two.item.group && same(one, two)
    };
    let (mut agreed, now) = (together(agreed, of_layer)?, together(now, same)?);
    let mut change = PlanChange {
        lines: Vec::new(),
        agreed: Vec::new(),
        unclear: Vec::new(),
    };
    for line in &now {
        let (former, others) = agreed.into_iter().partition(|known| same(known, line));
        agreed = others;
        change.line(former, line)?;
    }
    change.gone(agreed);
    Ok(change)
}

impl PlanChange {
    fn gone(&mut self, lines: Vec<PlanLine>) {
        for mut line in lines {
            (line.item.value, line.given) = (line.item.value.negated(), false);
            let difference = Difference::Gone;
            self.lines.push(ChangedLine { difference, line });
        }
    }

    /// Sets a line of the plan against those that were agreed of it, the oldest first.
    fn line(&mut self, mut former: Vec<PlanLine>, now: &PlanLine) -> Result<(), PricingError> {
        if former.is_empty() {
            let difference = if now.given {
                Difference::Given
            } else {
                Difference::New
            };
            self.add(difference, now.clone());
            return Ok(());
        }
        let material = former.iter().rev().find_map(|line| line.item.material);
        let is_other = material
            .zip(now.item.material)
            .is_some_and(|(agreed, now)| agreed != now);
        if is_other && !now.given {
            self.add(Difference::New, now.clone());
            self.gone(former);
            return Ok(());
        }
        let material = now.item.material.or(material);
        let added = self.beyond(&mut former, now)?;
        for line in &mut former {
            line.item.material = material.or(line.item.material);
        }
        self.agreed.append(&mut former);
        if let Some((difference, mut line)) = added {
            line.item.material = material;
            self.add(difference, line);
        }
        Ok(())
    }

    /// What of a line is beyond what was agreed; where there is less of it, what goes off is listed.
    fn beyond(
        &mut self,
        former: &mut Vec<PlanLine>,
        now: &PlanLine,
    ) -> Result<Option<(Difference, PlanLine)>, PricingError> {
        let extent = now.item.extent;
        let numbers = extent_of(former)?.zip(extent);
        let numbers = numbers.and_then(|(agreed, now)| agreed.beside(now));
        if now.given {
            let more = given_beside(former, numbers, extent);
            return Ok(Some((Difference::Given, now.with(more, now.item.value))));
        }
        let Some((agreed, wanted)) = numbers else {
            if CostItem::sum(former.iter().map(|line| &line.item))? != now.item.value {
                self.unclear.push(now.item.name.clone());
            }
            return Ok(None);
        };
        let more = wanted.checked_sub(agreed).ok_or_else(overflow)?;
        if more <= 0 {
            self.lines.extend(taken_off(former, more.saturating_neg())?);
            return Ok(None);
        }
        let cost = now.item.value.share(more, wanted)?;
        let extent = extent.map(|extent| extent.of_same(more));
        Ok(Some((Difference::More, now.with(extent, cost))))
    }

    /// Adds a line that is agreed once the change is.
    fn add(&mut self, difference: Difference, line: PlanLine) {
        self.agreed.push(PlanLine {
            given: false,
            ..line.clone()
        });
        self.lines.push(ChangedLine { difference, line });
    }
}

/// How much of a line belongs to a change whose cost was given, so that it and what was agreed are as much as there is now. Of
/// less than was agreed nothing does: what was agreed last has become less for its cost.
fn given_beside(
    former: &mut [PlanLine],
    numbers: Option<(i64, i64)>,
    now: Option<Extent>,
) -> Option<Extent> {
    let now = now?;
    let Some((agreed, wanted)) = numbers else {
        former
            .iter_mut()
            .for_each(|line| line.item.extent = Some(now.of_same(0)));
        return Some(now);
    };
    let mut less = agreed.saturating_sub(wanted).max(0);
    for line in former.iter_mut().rev() {
        if let Some((own, _)) = line.item.extent.and_then(|own| own.beside(now)) {
            let off = own.min(less);
            less = less.saturating_sub(off);
            line.item.extent = Some(now.of_same(own.saturating_sub(off)));
        }
    }
    Some(now.of_same(wanted.saturating_sub(agreed).max(0)))
}

/// Takes this much off lines of one thing, the newest first, at the cost that was agreed, regardless of who does it now.
fn taken_off(former: &mut Vec<PlanLine>, mut less: i64) -> Result<Vec<ChangedLine>, PricingError> {
    let mut off = Vec::new();
    for line in former.iter_mut().rev() {
        let Some(extent) = line.item.extent else {
            continue;
        };
        let own = extent.number();
        let taken = own.min(less);
        if taken == 0 {
            continue;
        }
        less = less.saturating_sub(taken);
        let cost = line.item.value.share(taken, own)?;
        let mut gone = line.with(Some(extent.of_same(taken)), cost.negated());
        gone.given = false;
        line.item.value = line.item.value.minus(cost)?;
        line.item.extent = Some(extent.of_same(own.saturating_sub(taken)));
        off.push(ChangedLine {
            difference: Difference::Less,
            line: gone,
        });
    }
    former.retain(|line| {
        let some = |own: Extent| own.number() != 0;
        !line.item.value.is_zero() || line.item.extent.is_none_or(some)
    });
    Ok(off)
}

impl PriceBase {
    /// The same cost in all, without a part below zero: what goes off beyond a part is taken off the others, in the order
    /// materials, paid labour, overhead, own pay. As it is where all together is below zero.
    ///
    /// # Errors
    /// Overflow.
    pub fn netted(mut self) -> Result<Self, QuantityError> {
        let mut parts = [
            &mut self.materials,
            &mut self.paid_labour,
            &mut self.overhead,
            &mut self.own_pay,
        ];
        if Millionths::sum(parts.iter().map(|part| **part))?.get() < 0 {
            return Ok(self);
        }
        let mut missing = Millionths::ZERO;
        for part in parts.iter_mut().filter(|part| part.get() < 0) {
            missing = missing.plus(part.negated())?;
            **part = Millionths::ZERO;
        }
        for part in parts.iter_mut().filter(|part| part.get() > 0) {
            let taken = missing.min(**part);
            missing = missing.minus(taken)?;
            **part = part.minus(taken)?;
        }
        Ok(self)
    }
}
