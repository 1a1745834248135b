//! What moved of each kind of material in a period, and what lay on the shelf before and after it.

use crate::{
    ledger::AccountKind,
    quantity::Millionths,
    setting::{Kind, TrimUnit},
};
use std::collections::BTreeMap;

/// All that moved from one kind of place to another, of one kind of material.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flow {
    /// Kind of material; none for what is no material any more: a finished garment, a late charge on what is used up.
    pub kind: Option<Kind>,
    /// Whether its quantities are micrometres or a number.
    pub unit: TrimUnit,
    /// Where it left.
    pub from: AccountKind,
    /// Where it arrived.
    pub to: AccountKind,
    /// Quantity that left.
    pub quantity_out: i64,
    /// Quantity that arrived.
    pub quantity_in: i64,
    /// Millionths of the currency.
    pub value: i64,
}

impl Flow {
    /// By how much it makes the pieces of its material longer, or more; below zero where it takes of them.
    #[must_use]
    pub fn growth(&self) -> i64 {
        let came = match self.to {
            AccountKind::Piece => self.quantity_in,
            _ => 0,
        };
        let left = match self.from {
            AccountKind::Piece => self.quantity_out,
            _ => 0,
        };
        came.saturating_sub(left)
    }
}

/// The sums of a period leave the range of whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the sums of the period are too large")]
pub struct MovedError;

/// A quantity and its value; below zero where more came back than went.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Moved {
    /// Micrometres, or a number.
    pub quantity: i64,
    /// Millionths of the currency.
    pub value: i64,
}

impl Moved {
    fn add(&mut self, quantity: i64, value: i64) -> Result<(), MovedError> {
        self.quantity = self.quantity.checked_add(quantity).ok_or(MovedError)?;
        self.value = self.value.checked_add(value).ok_or(MovedError)?;
        Ok(())
    }

    /// What was there before another one moved.
    ///
    /// # Errors
    /// [`MovedError`] beyond the range of whole numbers.
    pub fn before(self, later: Self) -> Result<Self, MovedError> {
        let (quantity, value) = negated(later)?;
        let mut before = self;
        before.add(quantity, value)?;
        Ok(before)
    }

    /// True for nothing at all.
    #[must_use]
    pub const fn is_zero(&self) -> bool {
        self.quantity == 0 && self.value == 0
    }
}

/// What became of a kind of material in a period. By value, start + opening + bought − used − all that went elsewhere = end; by quantity
/// too, once `strips` are added.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KindMonth {
    /// Kind.
    pub kind: Kind,
    /// Whether its quantities are micrometres or a number.
    pub unit: TrimUnit,
    /// On the shelf before the first day.
    pub at_start: Moved,
    /// What was there when the book began.
    pub opening: Moved,
    /// From suppliers, with the charges that belong to it and less credits.
    pub bought: Moved,
    /// Into garments, less what came back.
    pub used: Moved,
    /// Anywhere else: losses, shrinkage, adjustments, what was sold or given back.
    pub went: BTreeMap<AccountKind, Moved>,
    /// Length of strips that cuts left beside panels, which are as long as the panel but narrower.
    pub strips: i64,
    /// On the shelf after the last day.
    pub at_end: Moved,
}

/// Value sits on pieces or layers, a quantity on pieces alone: thread and trims move twice.
const fn is_shelf(place: AccountKind) -> bool {
    matches!(place, AccountKind::Piece | AccountKind::Layer)
}

/// What a flow brings to the shelf, below zero for what it takes: quantity and value.
fn to_shelf(flow: &Flow) -> Result<Moved, MovedError> {
    let mut moved = Moved::default();
    moved.add(flow.growth(), 0)?;
    match (is_shelf(flow.from), is_shelf(flow.to)) {
        (false, true) => moved.add(0, flow.value)?,
        (true, false) => moved.add(0, flow.value.checked_neg().ok_or(MovedError)?)?,
        _ => {}
    }
    Ok(moved)
}

/// The other side of a move, which takes what the shelf loses.
fn negated(moved: Moved) -> Result<(i64, i64), MovedError> {
    let quantity = moved.quantity.checked_neg().ok_or(MovedError)?;
    Ok((quantity, moved.value.checked_neg().ok_or(MovedError)?))
}

/// Each kind of material that lay on the shelf or moved, in the order of the kinds; lengths before numbers.
///
/// # Errors
/// [`MovedError`] beyond the range of whole numbers.
pub fn goods(before: &[Flow], during: &[Flow]) -> Result<Vec<KindMonth>, MovedError> {
    let mut kinds: BTreeMap<(Kind, bool), KindMonth> = BTreeMap::new();
    let of = |flow: &Flow| {
        flow.kind
            .filter(|_| is_shelf(flow.from) || is_shelf(flow.to))
    };
    for (flows, is_before) in [(before, true), (during, false)] {
        for flow in flows {
            let Some(kind) = of(flow) else { continue };
            let row = kinds
                .entry((kind, flow.unit == TrimUnit::Count))
                .or_insert_with(|| KindMonth::new(kind, flow.unit));
            let moved = to_shelf(flow)?;
            row.at_end.add(moved.quantity, moved.value)?;
            match is_before {
                true => row.at_start.add(moved.quantity, moved.value)?,
                false => row.place(flow, moved)?,
            }
        }
    }
    let moved = |row: &KindMonth| !row.is_idle();
    Ok(kinds.into_values().filter(moved).collect())
}

impl KindMonth {
    const fn new(kind: Kind, unit: TrimUnit) -> Self {
        let none = Moved {
            quantity: 0,
            value: 0,
        };
        Self {
            kind,
            unit,
            at_start: none,
            opening: none,
            bought: none,
            used: none,
            went: BTreeMap::new(),
            strips: 0,
            at_end: none,
        }
    }

    fn place(&mut self, flow: &Flow, moved: Moved) -> Result<(), MovedError> {
        let other = if is_shelf(flow.from) {
            flow.to
        } else {
            flow.from
        };
        let (quantity, value) = negated(moved)?;
        match other {
            AccountKind::Opening => self.opening.add(moved.quantity, moved.value),
            AccountKind::Supplier => self.bought.add(moved.quantity, moved.value),
            AccountKind::Garment => self.used.add(quantity, value),
            AccountKind::Piece | AccountKind::Layer => {
                self.strips = self.strips.checked_add(moved.quantity).ok_or(MovedError)?;
                Ok(())
            }
            elsewhere => self.went.entry(elsewhere).or_default().add(quantity, value),
        }
    }

    /// All that came in, bought or there when the book began.
    ///
    /// # Errors
    /// [`MovedError`] beyond the range of whole numbers.
    pub fn came_in(&self) -> Result<Moved, MovedError> {
        let mut sum = self.opening;
        sum.add(self.bought.quantity, self.bought.value)?;
        Ok(sum)
    }

    /// All that went neither into garments nor back to suppliers.
    ///
    /// # Errors
    /// [`MovedError`] beyond the range of whole numbers.
    pub fn elsewhere(&self) -> Result<Moved, MovedError> {
        let mut sum = Moved::default();
        for went in self.went.values() {
            sum.add(went.quantity, went.value)?;
        }
        Ok(sum)
    }

    fn is_idle(&self) -> bool {
        let sums = [
            self.at_start,
            self.opening,
            self.bought,
            self.used,
            self.at_end,
        ];
        sums.iter().all(Moved::is_zero) && self.went.values().all(Moved::is_zero)
    }
}

/// Value that reached garments which are not delivered, less what left them, in millionths.
///
/// # Errors
/// [`MovedError`] beyond the range of whole numbers.
pub fn in_garments(flows: &[Flow]) -> Result<i64, MovedError> {
    let mut sum = 0_i64;
    for flow in flows {
        let here = |place| place == AccountKind::Garment;
        let value = match (here(flow.from), here(flow.to)) {
            (false, true) => flow.value,
            (true, false) => flow.value.checked_neg().ok_or(MovedError)?,
            _ => continue,
        };
        sum = sum.checked_add(value).ok_or(MovedError)?;
    }
    Ok(sum)
}

/// What an hour earned of several garments together, each by what an hour of it earned and its own minutes, to the nearest
/// millionth, halves up; none without minutes.
///
/// # Errors
/// [`MovedError`] beyond the range of whole numbers.
pub fn hour_of_all(garments: &[(Millionths, i64)]) -> Result<Option<Millionths>, MovedError> {
    let (mut earned, mut minutes) = (0_i128, 0_i128);
    for (hour, own) in garments {
        let own = i128::from(*own);
        let share = i128::from(hour.get()).checked_mul(own).ok_or(MovedError)?;
        earned = earned.checked_add(share).ok_or(MovedError)?;
        minutes = minutes.checked_add(own).ok_or(MovedError)?;
    }
    if minutes <= 0 {
        return Ok(None);
    }
    let twice = earned
        .checked_mul(2)
        .and_then(|twice| twice.checked_add(minutes));
    let half_up = twice
        .and_then(|twice| twice.checked_div_euclid(minutes.checked_mul(2)?))
        .ok_or(MovedError)?;
    let hour = i64::try_from(half_up).map_err(|_| MovedError)?;
    Millionths::new(hour).map(Some).map_err(|_| MovedError)
}
