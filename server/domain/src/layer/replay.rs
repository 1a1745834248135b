//! Replaying a layer from its movements alone.

use super::{Layer, take::part};
use crate::{
    ledger::{Account, AccountKind, Movement},
    quantity::{Millionths, QuantityError},
};

/// One movement at a layer, with what is known of its booking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// Number of the booking.
    pub booking: i64,
    /// True where the booking took material for good; every other one brought goods in or changed what they cost.
    pub cut: bool,
    /// True where the booking takes another one back.
    pub undoes: bool,
    /// The booking that took this one back.
    pub undone_by: Option<i64>,
    /// What moved.
    pub movement: Movement,
}

/// What is wrong with a movement of a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ReplayFault {
    /// More left than there was.
    #[error("it left {quantity} worth {value}")]
    BelowZero {
        /// Quantity after it.
        quantity: i64,
        /// Value after it, in millionths.
        value: i64,
    },
    /// Value stayed where no quantity is.
    #[error("it left nothing, yet {value} of value")]
    Stranded {
        /// Value after it, in millionths.
        value: i64,
    },
    /// A taking at another cost than its share.
    #[error("it took {quantity} for {value}; its share was {right}")]
    Cost {
        /// Quantity taken.
        quantity: i64,
        /// Value that left with it, in millionths.
        value: i64,
        /// What the share was, in millionths.
        right: i64,
    },
    /// A taking that depends on a booking which was undone since.
    #[error("its cost depends on a booking that B{undo} undid")]
    Rests {
        /// The booking that took it back.
        undo: i64,
    },
}

/// A layer as its movements make it, one after another in the order of the ledger.
///
/// Every taking must leave at its share of what is there ([`super::take`]), and must not rest on a booking that was taken back
/// afterwards: what brought goods in, or changed their quantity or value, stands as long as a later taking does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Replay {
    place: Account,
    quantity: i64,
    value: i64,
    /// The latest undo of a booking, other than a cut, that was met so far.
    taken_back: i64,
}

impl Replay {
    /// A layer before its first movement.
    #[must_use]
    pub const fn new(layer: i64) -> Self {
        Self {
            place: Account::layer(layer),
            quantity: 0,
            value: 0,
            taken_back: 0,
        }
    }

    /// Quantity and value as replayed so far.
    #[must_use]
    pub const fn balance(&self) -> (i64, i64) {
        (self.quantity, self.value)
    }

    /// Applies the next movement. After a fault the replay continues from the ledger's figures.
    ///
    /// # Errors
    /// [`ReplayFault`], the first that is found of this movement.
    pub fn step(&mut self, step: &Step) -> Result<(), ReplayFault> {
        let cost = self.check_cost(step);
        let Movement {
            from,
            to,
            quantity_out,
            quantity_in,
            value,
        } = step.movement;
        if to == self.place {
            self.quantity = self.quantity.saturating_add(quantity_in.get());
            self.value = self.value.saturating_add(value.get());
        }
        if from == self.place {
            self.quantity = self.quantity.saturating_sub(quantity_out.get());
            self.value = self.value.saturating_sub(value.get());
        }
        if let Some(undo) = step.undone_by.filter(|_| !step.cut && !step.undoes) {
            self.taken_back = self.taken_back.max(undo);
        }
        cost?;
        if self.quantity < 0 || self.value < 0 {
            return Err(ReplayFault::BelowZero {
                quantity: self.quantity,
                value: self.value,
            });
        }
        if self.quantity == 0 && self.value > 0 && from == self.place && !quantity_out.is_zero() {
            return Err(ReplayFault::Stranded { value: self.value });
        }
        Ok(())
    }

    /// The cost of what leaves for a use or a loss. What goes back by an undo leaves at the cost it came with.
    fn check_cost(&self, step: &Step) -> Result<(), ReplayFault> {
        let movement = &step.movement;
        if step.undoes || movement.from != self.place || movement.to.kind == AccountKind::Supplier {
            return Ok(());
        }
        let (quantity, value) = (movement.quantity_out.get(), movement.value.get());
        let right = match self.share(movement) {
            Ok(right) => right.get(),
            Err(_) => self.value,
        };
        if quantity <= self.quantity && value != right {
            return Err(ReplayFault::Cost {
                quantity,
                value,
                right,
            });
        }
        let stood = step.undone_by.is_none_or(|undo| undo > self.taken_back);
        if movement.takes_from(self.place) && stood && step.booking < self.taken_back {
            return Err(ReplayFault::Rests {
                undo: self.taken_back,
            });
        }
        Ok(())
    }

    fn share(&self, movement: &Movement) -> Result<Millionths, QuantityError> {
        let quantity = movement.quantity_out.get();
        if quantity == 0 || quantity > self.quantity {
            return Ok(Millionths::ZERO);
        }
        // Normal loss leaves its value with what is left.
        if movement.to.kind == AccountKind::NormalLoss && quantity < self.quantity {
            return Ok(Millionths::ZERO);
        }
        let value = Millionths::new(self.value)?;
        let layer = Layer {
            id: self.place.id,
            sequence: 0,
            quantity: self.quantity,
            value,
        };
        Ok(part(&layer, quantity)?.value)
    }
}
