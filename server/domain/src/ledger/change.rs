//! Acts that change a piece without using it up: preparing, measuring, splitting, taking a cut back.

use super::{CutEffect, CutOrder, Flaw, LedgerError, Piece, Quantity, Rectangle};
use crate::{quantity::Millionths, setting::End};

/// The piece that a split made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SplitOff {
    /// What it holds.
    pub quantity: Quantity,
    /// Its widths.
    pub rectangle: Option<Rectangle>,
    /// Its share of the value, by length.
    pub value: Millionths,
    /// Flaws that lie in it.
    pub flaws: Vec<Flaw>,
}

impl Piece {
    /// The piece measures `quantity` now (and `rectangle` across); the value stays. Flaws keep their
    /// places in proportion when the cloth itself changed (`scale`), else those beyond the end are gone.
    /// Promises must be resized and settled afterwards.
    ///
    /// # Errors
    /// [`LedgerError::Zero`] for nothing left.
    pub fn remeasure(
        &mut self,
        quantity: Quantity,
        rectangle: Option<Rectangle>,
        scale: bool,
    ) -> Result<(), LedgerError> {
        if quantity.is_zero() {
            return Err(LedgerError::Zero);
        }
        let scale = scale && !self.quantity.is_zero();
        let mut flaws = Vec::with_capacity(self.flaws.len());
        for flaw in &self.flaws {
            let moved = |position: i64| -> Result<i64, LedgerError> {
                if !scale {
                    return Ok(position.min(quantity.get()));
                }
                Ok(Quantity::new(position)?
                    .scale_down(quantity, self.quantity)?
                    .get())
            };
            let (at, end) = (moved(flaw.at)?, moved(flaw.at.saturating_add(flaw.length))?);
            if scale || flaw.at < quantity.get() {
                flaws.push(Flaw {
                    at,
                    length: end.saturating_sub(at),
                    note: flaw.note.clone(),
                });
            }
        }
        self.flaws = flaws;
        self.merge_flaws();
        self.quantity = quantity;
        self.rectangle = rectangle;
        Ok(())
    }

    /// Nothing is left of it: an empty reel. Promises must be settled afterwards.
    ///
    /// # Errors
    /// [`LedgerError::Zero`] for a piece that carries a value, which would have nowhere to stay.
    pub fn use_up(&mut self) -> Result<(), LedgerError> {
        if !self.value.is_zero() {
            return Err(LedgerError::Zero);
        }
        self.quantity = Quantity::ZERO;
        self.flaws.clear();
        Ok(())
    }

    /// Takes `quantity` off one end as a piece of its own; its value is its share by length. The promises
    /// stay on this piece if all fit it.
    ///
    /// # Errors
    /// [`LedgerError::Zero`], [`LedgerError::ExceedsOnHand`] for the whole piece or more, or
    /// [`LedgerError::ExceedsAvailable`] naming the promises that would break.
    pub fn split(&mut self, quantity: Quantity, end: End) -> Result<SplitOff, LedgerError> {
        if quantity.is_zero() {
            return Err(LedgerError::Zero);
        }
        if quantity >= self.quantity {
            return Err(LedgerError::ExceedsOnHand {
                wanted: quantity,
                on_hand: self.quantity,
            });
        }
        let order = CutOrder {
            end,
            ..CutOrder::free(quantity)
        };
        let CutEffect { value, flaws, .. } = self.dispose(&order)?;
        Ok(SplitOff {
            quantity,
            rectangle: self.rectangle,
            value,
            flaws,
        })
    }

    /// Flaws that lie beyond a length, counted from there: what a shorter measure leaves out, and [`Piece::put_back`] takes.
    #[must_use]
    pub fn flaws_beyond(&self, length: Quantity) -> Vec<Flaw> {
        let from = length.get();
        let beyond = |flaw: &Flaw| {
            let end = flaw.at.saturating_add(flaw.length);
            let at = flaw.at.max(from);
            (flaw.at >= from || end > from).then(|| Flaw {
                at: at.saturating_sub(from),
                length: end.saturating_sub(at),
                note: flaw.note.clone(),
            })
        };
        self.flaws.iter().filter_map(beyond).collect()
    }

    /// Puts a length back at one end with its value and flaws, as the undo of a cut or a split does.
    /// Never breaks a promise: every stretch stays as long as it is, or grows.
    ///
    /// # Errors
    /// [`LedgerError::Quantity`] beyond the limits.
    pub fn put_back(
        &mut self,
        quantity: Quantity,
        value: Millionths,
        end: End,
        flaws: &[Flaw],
    ) -> Result<(), LedgerError> {
        let before = self.spans().len();
        let (total, worth) = (self.quantity.plus(quantity)?, self.value.plus(value)?);
        match end {
            End::Outer => {
                for flaw in &mut self.flaws {
                    flaw.at = flaw.at.saturating_add(quantity.get());
                }
                self.flaws.extend_from_slice(flaws);
            }
            End::Inner => {
                let start = self.quantity.get();
                self.flaws.extend(flaws.iter().map(|flaw| Flaw {
                    at: flaw.at.saturating_add(start),
                    ..flaw.clone()
                }));
            }
        }
        self.merge_flaws();
        (self.quantity, self.value) = (total, worth);
        if end == End::Outer {
            let grown = self.spans().len().saturating_sub(before);
            for hold in &mut self.holds {
                hold.stretch = hold.stretch.saturating_add(grown);
            }
        }
        Ok(())
    }

    /// Takes a length off the outer end and returns the flaws in it, counted from the old outer end.
    pub(super) fn drop_outer(&mut self, quantity: Quantity) -> Result<Vec<Flaw>, LedgerError> {
        let (cut, before) = (quantity.get(), self.spans().len());
        let (mut gone, mut kept) = (Vec::new(), Vec::new());
        for flaw in std::mem::take(&mut self.flaws) {
            let end = flaw.at.saturating_add(flaw.length);
            if flaw.at < cut {
                gone.push(Flaw {
                    length: end.min(cut).saturating_sub(flaw.at),
                    ..flaw.clone()
                });
            }
            if end > cut || (flaw.length == 0 && flaw.at >= cut) {
                let at = flaw.at.max(cut);
                kept.push(Flaw {
                    at: at.saturating_sub(cut),
                    length: end.saturating_sub(at),
                    note: flaw.note,
                });
            }
        }
        self.flaws = kept;
        self.quantity = self.quantity.minus(quantity)?;
        let fewer = before.saturating_sub(self.spans().len());
        for hold in &mut self.holds {
            hold.stretch = hold.stretch.saturating_sub(fewer);
        }
        Ok(gone)
    }

    /// Takes a length off the inner end and returns the flaws in it, counted from where it begins.
    pub(super) fn drop_inner(&mut self, quantity: Quantity) -> Result<Vec<Flaw>, LedgerError> {
        let left = self.quantity.minus(quantity)?;
        let (mut gone, mut kept) = (Vec::new(), Vec::new());
        for flaw in std::mem::take(&mut self.flaws) {
            let end = flaw.at.saturating_add(flaw.length);
            if flaw.at < left.get() {
                let length = end.min(left.get()).saturating_sub(flaw.at);
                kept.push(Flaw {
                    length,
                    ..flaw.clone()
                });
            }
            if end > left.get() || (flaw.length == 0 && flaw.at >= left.get()) {
                let at = flaw.at.max(left.get());
                gone.push(Flaw {
                    at: at.saturating_sub(left.get()),
                    length: end.saturating_sub(at),
                    note: flaw.note,
                });
            }
        }
        self.flaws = kept;
        self.quantity = left;
        Ok(gone)
    }
}
