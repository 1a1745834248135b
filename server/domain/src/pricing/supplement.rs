//! What a later change of an agreed plan costs: the plan now against what was agreed, line by line.

use super::{PriceBase, PriceGroup, PricingError, check::overflow};
use crate::quantity::{Currency, Millionths, Minutes, QuantityError};

/// How much of something, in units that can be set against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// Micrometres.
    Length(i64),
    /// Pieces.
    Count(i64),
    /// Minutes.
    Minutes(i64),
}

impl Extent {
    /// Both numbers, where the units are the same.
    const fn beside(self, other: Self) -> Option<(i64, i64)> {
        match (self, other) {
            (Self::Length(one), Self::Length(two))
            | (Self::Count(one), Self::Count(two))
            | (Self::Minutes(one), Self::Minutes(two)) => Some((one, two)),
            _ => None,
        }
    }

    /// So many of the same unit.
    #[must_use]
    pub const fn of_same(self, number: i64) -> Self {
        match self {
            Self::Length(_) => Self::Length(number),
            Self::Count(_) => Self::Count(number),
            Self::Minutes(_) => Self::Minutes(number),
        }
    }

    fn plus(self, other: Self) -> Result<Option<Self>, PricingError> {
        let Some((one, two)) = self.beside(other) else {
            return Ok(None);
        };
        Ok(Some(
            self.of_same(one.checked_add(two).ok_or_else(overflow)?),
        ))
    }
}

/// A cost of a plan, by what it is for. Several of one name count together, whatever lot or person they are of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanLine {
    /// What it is for; own and paid labour of one name are the same work.
    pub group: PriceGroup,
    /// Role or operation.
    pub name: String,
    /// How much; `None` where it is not known.
    pub extent: Option<Extent>,
    /// Number of the material it is made of; `None` for work, for several, and where it is not known.
    pub material: Option<i64>,
    /// Its cost.
    pub cost: Millionths,
    /// The cost is that of the change itself, as it was given.
    pub given: bool,
    /// With which quotation it was agreed, counted from the first; of a line of the plan now: the one that prices it.
    pub layer: usize,
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
        Millionths::sum(self.lines.iter().map(|changed| changed.line.cost))
    }
}

/// True for two lines that are of the same thing.
fn same(one: &PlanLine, other: &PlanLine) -> bool {
    let of = |group| match group {
        PriceGroup::Materials => 0,
        PriceGroup::PaidLabour | PriceGroup::OwnLabour => 1,
        PriceGroup::Overhead => 2,
    };
    of(one.group) == of(other.group) && one.name == other.name
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
                known.extent = match known.extent.zip(line.extent) {
                    Some((one, two)) => one.plus(two)?,
                    None => None,
                };
                known.material = known
                    .material
                    .filter(|material| line.material == Some(*material));
                known.cost = known.cost.plus(line.cost)?;
                known.given |= line.given;
            }
        }
    }
    Ok(all)
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
        let lines = together(lines, |one, two| {
            one.group == two.group && one.name == two.name
        })?;
        let costs: Vec<_> = lines.iter().map(|line| (line.group, line.cost)).collect();
        Ok(Self {
            own_minutes,
            ..Self::printed(&costs, &[], currency)?.0
        })
    }
}

/// Extents of several lines added up, where all are known and of one unit.
fn extent_of(lines: &[PlanLine]) -> Result<Option<Extent>, PricingError> {
    let Some((first, more)) = lines.split_first() else {
        return Ok(None);
    };
    let mut sum = first.extent;
    for line in more {
        sum = match sum.zip(line.extent) {
            Some((one, two)) => one.plus(two)?,
            None => None,
        };
    }
    Ok(sum)
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
        one.layer == two.layer && one.group == two.group && same(one, two)
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
        let gone = lines.into_iter().map(|gone| {
            let line = PlanLine {
                cost: gone.cost.negated(),
                given: false,
                ..gone
            };
            ChangedLine {
                difference: Difference::Gone,
                line,
            }
        });
        self.lines.extend(gone);
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
        let material = former.iter().rev().find_map(|line| line.material);
        let is_other = material
            .zip(now.material)
            .is_some_and(|(agreed, now)| agreed != now);
        if is_other && !now.given {
            self.add(Difference::New, now.clone());
            self.gone(former);
            return Ok(());
        }
        let material = now.material.or(material);
        let agreed = extent_of(&former)?;
        let numbers = agreed
            .zip(now.extent)
            .and_then(|(agreed, now)| agreed.beside(now));
        let added = match numbers {
            _ if now.given => {
                let extent = given_beside(&mut former, numbers, now.extent);
                Some((
                    Difference::Given,
                    PlanLine {
                        extent,
                        ..now.clone()
                    },
                ))
            }
            None => {
                if Millionths::sum(former.iter().map(|line| line.cost))? != now.cost {
                    self.unclear.push(now.name.clone());
                }
                None
            }
            Some((agreed, wanted)) if wanted > agreed => {
                let more = wanted.checked_sub(agreed).ok_or_else(overflow)?;
                let extent = now.extent.map(|extent| extent.of_same(more));
                let cost = now.cost.share(more, wanted)?;
                Some((
                    Difference::More,
                    PlanLine {
                        extent,
                        cost,
                        ..now.clone()
                    },
                ))
            }
            Some((agreed, wanted)) => {
                let less = agreed.checked_sub(wanted).ok_or_else(overflow)?;
                self.lines.extend(taken_off(&mut former, less)?);
                None
            }
        };
        for line in &mut former {
            line.material = material.or(line.material);
        }
        self.agreed.append(&mut former);
        if let Some((difference, line)) = added {
            self.add(difference, PlanLine { material, ..line });
        }
        Ok(())
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
            .for_each(|line| line.extent = Some(now.of_same(0)));
        return Some(now);
    };
    let mut less = agreed.saturating_sub(wanted).max(0);
    for line in former.iter_mut().rev() {
        if let Some((own, _)) = line.extent.and_then(|own| own.beside(now)) {
            let off = own.min(less);
            less = less.saturating_sub(off);
            line.extent = Some(now.of_same(own.saturating_sub(off)));
        }
    }
    Some(now.of_same(wanted.saturating_sub(agreed).max(0)))
}

/// Takes so much off lines of one thing, the newest first; what goes off, at the cost that was agreed, whoever does it now.
fn taken_off(former: &mut Vec<PlanLine>, mut less: i64) -> Result<Vec<ChangedLine>, PricingError> {
    let mut off = Vec::new();
    for line in former.iter_mut().rev() {
        let Some((extent, own)) = line.extent.and_then(|own| Some((own, own.beside(own)?.0)))
        else {
            continue;
        };
        let taken = own.min(less);
        if taken == 0 {
            continue;
        }
        less = less.saturating_sub(taken);
        let cost = line.cost.share(taken, own)?;
        line.cost = line.cost.minus(cost)?;
        line.extent = Some(extent.of_same(own.saturating_sub(taken)));
        let gone = PlanLine {
            extent: Some(extent.of_same(taken)),
            cost: cost.negated(),
            given: false,
            ..line.clone()
        };
        off.push(ChangedLine {
            difference: Difference::Less,
            line: gone,
        });
    }
    former
        .retain(|line| !line.cost.is_zero() || line.extent.is_none_or(|own| own.of_same(0) != own));
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
