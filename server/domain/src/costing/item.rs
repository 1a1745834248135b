//! One cost of a garment: every sheet is a fold over these.

use super::{CostError, Extent, LineKind, LossReason, PriceGroup};
use crate::{
    allocation::{round_beside, round_to_total},
    certainty::Certainty,
    quantity::{Millionths, QuantityError},
};

/// A cost as it is planned, quoted or booked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostItem {
    /// What it is for.
    pub group: PriceGroup,
    /// Role or operation.
    pub name: String,
    /// Lots or people, as they are read; each once.
    pub of: Vec<String>,
    /// Numbers of the lots; none for work and where none is known.
    pub lots: Vec<i64>,
    /// Number of the material; `None` for work, for several, and where it is not known.
    pub material: Option<i64>,
    /// How much; `None` where it is not known.
    pub extent: Option<Extent>,
    /// The shortest and the longest of past garments, in the unit of `extent`.
    pub range: Option<(i64, i64)>,
    /// False for minutes that carry neither pay nor overhead.
    pub billable: bool,
    /// The garment's detail that it belongs to.
    pub feature: Option<String>,
    /// How well it is known.
    pub certainty: Certainty,
    /// What of it has a price.
    pub value: Millionths,
    /// False while no price is known, or not for all of it.
    pub priced: bool,
    /// Minor units, once it is printed.
    pub printed: i64,
    /// Set where it is not the good garment's own.
    pub loss: Option<LossReason>,
    /// True for what a change adds to what was agreed, or takes off it.
    pub difference: bool,
}

impl CostItem {
    /// A cost of which no more is known.
    #[must_use]
    pub fn new(group: PriceGroup, name: &str, value: Millionths) -> Self {
        Self {
            group,
            name: name.to_owned(),
            of: Vec::new(),
            lots: Vec::new(),
            material: None,
            extent: None,
            range: None,
            billable: true,
            feature: None,
            certainty: Certainty::Measured,
            value,
            priced: true,
            printed: 0,
            loss: None,
            difference: false,
        }
    }

    /// What it is, regardless of who works.
    #[must_use]
    pub const fn kind(&self) -> LineKind {
        self.group.kind()
    }

    /// True for a role or an operation of the same name, regardless of who works.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        self.kind() == other.kind() && self.name == other.name
    }

    /// Minutes of work or of the overhead on it; zero for materials.
    #[must_use]
    pub const fn minutes(&self) -> i64 {
        match self.extent {
            Some(Extent::Minutes(minutes)) => minutes,
            _ => 0,
        }
    }

    /// True for material or time that is lost: no price is for it.
    #[must_use]
    pub fn is_lost(&self) -> bool {
        self.loss.is_some_and(|reason| !reason.is_change())
    }

    /// Adds another cost of the same thing. An extent in another unit, or one that is not known, leaves none.
    ///
    /// # Errors
    /// Overflow.
    pub fn absorb(&mut self, other: Self) -> Result<(), QuantityError> {
        self.extent = match (self.extent, other.extent) {
            (Some(one), Some(two)) => one.plus(two)?,
            _ => None,
        };
        self.value = self.value.plus(other.value)?;
        self.printed = self.printed.saturating_add(other.printed);
        self.material = self
            .material
            .filter(|own| other.material.is_none_or(|material| material == *own));
        self.priced &= other.priced;
        self.billable |= other.billable;
        self.certainty = self.certainty.max(other.certainty);
        union(&mut self.of, other.of);
        union(&mut self.lots, other.lots);
        Ok(())
    }

    /// One cost for each of what `is_one` takes together, in the order of the first.
    ///
    /// # Errors
    /// Overflow.
    pub fn together(
        items: impl IntoIterator<Item = Self>,
        is_one: impl Fn(&Self, &Self) -> bool,
    ) -> Result<Vec<Self>, QuantityError> {
        let mut all: Vec<Self> = Vec::new();
        for item in items {
            match all.iter_mut().find(|known| is_one(known, &item)) {
                Some(known) => known.absorb(item)?,
                None => all.push(item),
            }
        }
        Ok(all)
    }

    /// What costs come to.
    ///
    /// # Errors
    /// Overflow.
    pub fn sum<'a>(items: impl IntoIterator<Item = &'a Self>) -> Result<Millionths, QuantityError> {
        Millionths::sum(items.into_iter().map(|item| item.value))
    }

    /// Prints costs that stand under one total, and returns it: the only place where a cost becomes minor units.
    ///
    /// - Rounding: the total half up, the costs by largest remainder, ties to the first.
    ///
    /// # Errors
    /// Those of [`round_to_total`].
    pub fn print<'a>(
        items: impl IntoIterator<Item = &'a mut Self>,
        digits: u32,
    ) -> Result<i64, CostError> {
        Self::print_beside(items, |_| None, digits)
    }

    /// [`Self::print`] beside another sheet: what `known` says of a cost is kept, and what rounding leaves goes to the others.
    ///
    /// # Errors
    /// Those of [`round_beside`].
    pub fn print_beside<'a>(
        items: impl IntoIterator<Item = &'a mut Self>,
        known: impl Fn(&Self) -> Option<i64>,
        digits: u32,
    ) -> Result<i64, CostError> {
        let items: Vec<&mut Self> = items.into_iter().collect();
        let exact: Vec<Millionths> = items.iter().map(|item| item.value).collect();
        let known: Vec<Option<i64>> = items.iter().map(|item| known(item)).collect();
        let (minor, total) = match known.iter().all(Option::is_none) {
            true => round_to_total(&exact, digits)?,
            false => round_beside(&exact, &known, digits)?,
        };
        for (item, minor) in items.into_iter().zip(minor) {
            item.printed = minor;
        }
        Ok(total)
    }

    /// Prints what was booked: the job with the customer's changes under one total, what is lost under another.
    ///
    /// # Errors
    /// Those of [`round_to_total`].
    pub fn print_booked<'a>(
        items: impl IntoIterator<Item = &'a mut Self>,
        digits: u32,
    ) -> Result<(i64, i64), CostError> {
        let (lost, job): (Vec<_>, Vec<_>) = items.into_iter().partition(|item| item.is_lost());
        Ok((Self::print(job, digits)?, Self::print(lost, digits)?))
    }
}

/// Adds what is not yet there.
fn union<T: PartialEq>(known: &mut Vec<T>, more: Vec<T>) {
    for one in more {
        if !known.contains(&one) {
            known.push(one);
        }
    }
}
