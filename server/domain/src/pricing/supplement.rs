//! What a later change of an agreed plan costs: the plan now against what was agreed, line by line.

use super::{PriceBase, PriceGroup, PricingError, check::overflow};
use crate::quantity::{Millionths, QuantityError};

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
        let Some((one, two)) = self.beside(other) else { return Ok(None) };
        Ok(Some(self.of_same(one.checked_add(two).ok_or_else(overflow)?)))
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
}

/// How a line differs from what was agreed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Difference {
    /// It is new: whole, at today's cost.
    New,
    /// There is more of it: the difference, at today's cost.
    More,
    /// There is less of it: the difference off, at the cost that was agreed.
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
    /// What is agreed once the change is accepted, one line a name.
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

/// One line a name: extents and costs added up.
fn together(lines: &[PlanLine]) -> Result<Vec<PlanLine>, PricingError> {
    let mut all: Vec<PlanLine> = Vec::with_capacity(lines.len());
    for line in lines {
        match all.iter_mut().find(|known| same(known, line)) {
            None => all.push(line.clone()),
            Some(known) => {
                known.extent = match known.extent.zip(line.extent) {
                    Some((one, two)) => one.plus(two)?,
                    None => None,
                };
                known.material = known.material.filter(|material| line.material == Some(*material));
                known.cost = known.cost.plus(line.cost)?;
                known.given |= line.given;
            }
        }
    }
    Ok(all)
}

/// What an agreed plan lacks of the plan now, or has too much.
///
/// - A new line counts whole, and so does one of another material, whose former one goes off; of a larger one the difference in extent at today's cost; a line of the same extent nothing,
///   whatever it costs today, since an accepted quotation fixes its prices; a smaller one, or one that is gone, goes off at
///   the cost that was agreed. A line whose extent is not known is taken as agreed, unless its cost is given.
/// - Formula: more: cost now × (now − agreed) ÷ now; less: −cost agreed × (agreed − now) ÷ agreed.
/// - Rounding: each difference once to the nearest millionth.
/// - Source: "accepted quote fixes its prices; later cloth prices change the next quote only" (common practice).
///
/// # Errors
/// Overflow.
pub fn plan_change(agreed: &[PlanLine], now: &[PlanLine]) -> Result<PlanChange, PricingError> {
    let (mut agreed, now) = (together(agreed)?, together(now)?);
    let mut change = PlanChange { lines: Vec::new(), agreed: Vec::new(), unclear: Vec::new() };
    for line in &now {
        let at = agreed.iter().position(|known| same(known, line));
        let former = at.map(|at| agreed.remove(at));
        change.line(former, line)?;
    }
    for gone in agreed {
        let cost = gone.cost.negated();
        let line = PlanLine { cost, given: false, ..gone };
        change.lines.push(ChangedLine { difference: Difference::Gone, line });
    }
    Ok(change)
}

impl PlanChange {
    fn line(&mut self, former: Option<PlanLine>, now: &PlanLine) -> Result<(), PricingError> {
        let Some(mut former) = former else {
            let difference = if now.given { Difference::Given } else { Difference::New };
            self.agreed.push(PlanLine { given: false, ..now.clone() });
            self.lines.push(ChangedLine { difference, line: now.clone() });
            return Ok(());
        };
        let other = former.material.zip(now.material).is_some_and(|(agreed, now)| agreed != now);
        if other && !now.given {
            self.agreed.push(now.clone());
            self.lines.push(ChangedLine { difference: Difference::New, line: now.clone() });
            let line = PlanLine { cost: former.cost.negated(), given: false, ..former };
            self.lines.push(ChangedLine { difference: Difference::Gone, line });
            return Ok(());
        }
        let numbers = former.extent.zip(now.extent).and_then(|(agreed, now)| agreed.beside(now));
        let (difference, extent, cost) = match numbers {
            _ if now.given => (Difference::Given, None, now.cost),
            None => {
                if former.cost != now.cost {
                    self.unclear.push(now.name.clone());
                }
                self.agreed.push(former);
                return Ok(());
            }
            Some((agreed, wanted)) if wanted > agreed => {
                let more = wanted.checked_sub(agreed).ok_or_else(overflow)?;
                (Difference::More, Some(more), now.cost.share(more, wanted)?)
            }
            Some((agreed, wanted)) if wanted < agreed => {
                let less = agreed.checked_sub(wanted).ok_or_else(overflow)?;
                (Difference::Less, Some(less), former.cost.share(less, agreed)?.negated())
            }
            Some(_) => {
                self.agreed.push(former);
                return Ok(());
            }
        };
        let extent = extent.and_then(|number| now.extent.map(|extent| extent.of_same(number)));
        // What is less goes off as it was agreed, whoever does it now.
        let group = if difference == Difference::Less { former.group } else { now.group };
        let (name, material) = (now.name.clone(), now.material);
        let line = PlanLine { group, name, extent, material, cost, given: now.given };
        former.cost = former.cost.plus(cost)?;
        (former.extent, former.material) = (now.extent, now.material.or(former.material));
        self.agreed.push(former);
        self.lines.push(ChangedLine { difference, line });
        Ok(())
    }
}

impl PriceBase {
    /// The same cost in all, without a part below zero: what goes off beyond a part is taken off the others, in the order
    /// materials, paid labour, overhead, own pay. As it is where all together is below zero.
    ///
    /// # Errors
    /// Overflow.
    pub fn netted(mut self) -> Result<Self, QuantityError> {
        let mut parts = [&mut self.materials, &mut self.paid_labour, &mut self.overhead, &mut self.own_pay];
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
