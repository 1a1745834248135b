//! A piece as it lies on the shelf.

use super::{Hold, LedgerError, Quantity, layout::successor};
use crate::{
    quantity::{Micrometres, Millionths},
    shrinkage::Ratio,
};
use serde::{Deserialize, Serialize};

/// The widths of a rectangle of cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rectangle {
    /// Selvedge to selvedge.
    pub full: Micrometres,
    /// Both selvedges together.
    pub selvedges: Micrometres,
}

impl Rectangle {
    /// Cloth that can be used from edge to edge.
    #[must_use]
    pub const fn without_selvedges(full: Micrometres) -> Self {
        Self {
            full,
            selvedges: Micrometres::ZERO,
        }
    }

    /// What is left between the selvedges.
    #[must_use]
    pub const fn usable(self) -> Micrometres {
        self.full.less(self.selvedges)
    }

    /// True for a strip beside a piece of the same lot so wide: its length is no length of the cloth.
    ///
    /// - Narrower by more than a fifth: own choice. A wash takes less crosswise (10 % at most is usual, common practice).
    #[must_use]
    pub const fn is_strip_beside(self, widest: Micrometres) -> bool {
        self.full.get().saturating_mul(5) < widest.get().saturating_mul(4)
    }

    /// The cloth itself became this wide: what lies between the selvedges changed in proportion, rounded down, and so
    /// did the selvedges.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] for a width above 10 000 km.
    pub fn became(self, full: Micrometres) -> Result<Self, LedgerError> {
        let usable = if self.full == Micrometres::ZERO {
            full
        } else {
            self.usable().scale_down(full.get(), self.full.get())?
        };
        Ok(Self {
            full,
            selvedges: full.less(usable),
        })
    }

    /// The widths of a piece whose lot's sheet has other selvedges now; the piece is `full` wide.
    ///
    /// What a piece has of selvedges was worked out from its lot's: as many, less by what the cloth itself `changed`
    /// crosswise since, and never more than its width. The same holds after a change.
    ///
    /// - Rounding: selvedges up to a micrometre, what lies between them down.
    ///
    /// ```
    /// use ellwand_domain::{ledger::Rectangle, quantity::Micrometres, shrinkage::Ratio};
    /// let mm = Micrometres::from_mm;
    /// // 150 cm became 147 cm: 2.94 cm of 3 cm of selvedges are left (derived).
    /// let washed = Rectangle::with_selvedges(mm(1_470), mm(30), Ratio::new(1_500, 1_470).unwrap()).unwrap();
    /// assert_eq!((washed.selvedges.get(), washed.usable().get()), (29_400, 1_440_600));
    /// ```
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn with_selvedges(
        full: Micrometres,
        of_lot: Micrometres,
        changed: Ratio,
    ) -> Result<Self, LedgerError> {
        let selvedges = of_lot.scale_up(changed.after(), changed.before())?;
        Ok(Self {
            full,
            selvedges: selvedges.min(full),
        })
    }
}

/// A flaw across the width. `at` runs from the outer end; a zero length is a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Flaw {
    /// Where it begins, in micrometres from the outer end.
    pub at: i64,
    /// How far it reaches along the piece, in micrometres.
    pub length: i64,
    /// Kind of flaw, in the words of whoever marked it.
    pub note: String,
}

impl Flaw {
    fn end(&self) -> i64 {
        self.at.saturating_add(self.length)
    }

    /// Adds what another note has and this one lacks.
    fn add_note(&mut self, note: &str) {
        for part in note.split("; ") {
            if part.is_empty() || self.note.split("; ").any(|known| known == part) {
                continue;
            }
            if !self.note.is_empty() {
                self.note.push_str("; ");
            }
            self.note.push_str(part);
        }
    }
}

/// A length without a flaw, and what is promised in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// From the outer end.
    pub start: Quantity,
    /// Its length.
    pub length: Quantity,
    /// Promised in it.
    pub held: Quantity,
}

impl Stretch {
    /// Length less promises.
    #[must_use]
    pub const fn free(&self) -> Quantity {
        self.length.less(self.held)
    }
}

/// A piece: its quantity, widths, value, flaws and promises.
///
/// Invariants, kept by every act here and by CHECKs in SQL: quantity and value are not negative; an
/// empty piece has no value; in every stretch the promises are no more than its length (rule 3).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Row.
    pub id: i64,
    /// Length or number.
    pub quantity: Quantity,
    /// Widths; `None` for thread and trims.
    pub rectangle: Option<Rectangle>,
    /// Stock value.
    pub value: Millionths,
    /// Flaws from the outer end, apart from each other.
    pub flaws: Vec<Flaw>,
    /// Promises.
    pub holds: Vec<Hold>,
}

impl Piece {
    /// A new piece without flaws and promises.
    #[must_use]
    pub const fn new(
        id: i64,
        quantity: Quantity,
        rectangle: Option<Rectangle>,
        value: Millionths,
    ) -> Self {
        Self {
            id,
            quantity,
            rectangle,
            value,
            flaws: Vec::new(),
            holds: Vec::new(),
        }
    }

    /// Lengths between flaws from the outer end, empty ones left out but for an empty piece's one.
    #[must_use]
    pub fn spans(&self) -> Vec<(i64, i64)> {
        let mut spans = Vec::with_capacity(self.flaws.len().saturating_add(1));
        let mut from = 0;
        for flaw in &self.flaws {
            if flaw.at > from {
                spans.push((from, flaw.at.saturating_sub(from)));
            }
            from = from.max(flaw.end());
        }
        let rest = self.quantity.get().saturating_sub(from);
        if rest > 0 || spans.is_empty() {
            spans.push((from.min(self.quantity.get()), rest.max(0)));
        }
        spans
    }

    pub(super) fn span_lengths(&self) -> Vec<i64> {
        self.spans().into_iter().map(|(_, length)| length).collect()
    }

    /// Stretches with what is promised in each.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits, which the invariants exclude.
    pub fn stretches(&self) -> Result<Vec<Stretch>, LedgerError> {
        let mut stretches = Vec::new();
        for (index, (start, length)) in self.spans().into_iter().enumerate() {
            let held = self
                .holds
                .iter()
                .filter(|hold| hold.stretch == index)
                .map(|hold| hold.quantity);
            stretches.push(Stretch {
                start: Quantity::new(start)?,
                length: Quantity::new(length)?,
                held: Quantity::sum(held)?,
            });
        }
        Ok(stretches)
    }

    /// Promised in all.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn held(&self) -> Result<Quantity, LedgerError> {
        Ok(Quantity::sum(self.holds.iter().map(|hold| hold.quantity))?)
    }

    /// Free in all stretches together.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn free(&self) -> Result<Quantity, LedgerError> {
        Ok(Quantity::sum(self.stretches()?.iter().map(Stretch::free))?)
    }

    /// Longest free length in one stretch.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn longest_free(&self) -> Result<Quantity, LedgerError> {
        Ok(self
            .stretches()?
            .iter()
            .map(Stretch::free)
            .max()
            .unwrap_or_default())
    }

    /// Share of the value that `quantity` of the piece carries, rounded once; all of it for the last.
    ///
    /// # Errors
    /// [`LedgerError::ExceedsOnHand`] for more than there is.
    pub fn value_of(&self, quantity: Quantity) -> Result<Millionths, LedgerError> {
        if quantity > self.quantity {
            return Err(LedgerError::ExceedsOnHand {
                wanted: quantity,
                on_hand: self.quantity,
            });
        }
        if quantity == self.quantity {
            return Ok(self.value);
        }
        Ok(self.value.share(quantity.get(), self.quantity.get())?)
    }

    /// Marks a flaw; flaws that touch become one. Promises must be settled afterwards.
    ///
    /// # Errors
    /// [`LedgerError::BeyondEnd`] outside the piece, [`LedgerError::NotARectangle`] for thread and trims.
    pub fn mark_flaw(&mut self, flaw: Flaw) -> Result<(), LedgerError> {
        if self.rectangle.is_none() {
            return Err(LedgerError::NotARectangle);
        }
        if flaw.at < 0 || flaw.length < 0 || flaw.end() > self.quantity.get() {
            let at = Quantity::new(flaw.end().max(0))?;
            return Err(LedgerError::BeyondEnd {
                at,
                on_hand: self.quantity,
            });
        }
        let before = self.spans();
        self.flaws.push(flaw);
        self.merge_flaws();
        self.follow(&before);
        Ok(())
    }

    /// Takes a flaw mark away, counted from the outer end from 0; its promises stay on their cloth. `None` without
    /// such a flaw.
    pub fn remove_flaw(&mut self, index: usize) -> Option<Flaw> {
        if index >= self.flaws.len() {
            return None;
        }
        let before = self.spans();
        let flaw = self.flaws.remove(index);
        self.follow(&before);
        Some(flaw)
    }

    /// Lets the promises follow the cloth they lay in when flaws divide it otherwise.
    fn follow(&mut self, before: &[(i64, i64)]) {
        let spans = self.spans();
        for hold in &mut self.holds {
            hold.stretch = before
                .get(hold.stretch)
                .map_or(usize::MAX, |old| successor(*old, &spans, hold.quantity));
        }
    }

    /// Sorts flaws and joins those that touch or overlap.
    pub(super) fn merge_flaws(&mut self) {
        self.flaws.sort_by_key(|flaw| (flaw.at, flaw.length));
        let mut merged: Vec<Flaw> = Vec::with_capacity(self.flaws.len());
        for flaw in self.flaws.drain(..) {
            match merged.last_mut() {
                Some(last) if flaw.at <= last.end() => {
                    last.length = last.end().max(flaw.end()).saturating_sub(last.at);
                    last.add_note(&flaw.note);
                }
                _ => merged.push(flaw),
            }
        }
        self.flaws = merged;
    }
}
