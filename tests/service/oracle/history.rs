//! Acts in their order, and those that were undone.

use std::collections::{BTreeMap, BTreeSet};

use super::acts::{Act, ActId, Garment, Method, Refusal};
use super::labour::{self, Hours};
use super::plan::{self, Pin};
use super::stock::Stock;
use super::undo::{self, Verdict};

/// A history and what it comes to.
#[derive(Clone, Debug)]
pub struct History {
    /// How pooled stock is used up.
    pub method: Method,
    /// Everything that was booked, undone or not.
    pub acts: Vec<Act>,
    /// What was undone.
    pub undone: BTreeSet<ActId>,
    pins: BTreeMap<ActId, Pin>,
    /// What it comes to.
    pub stock: Stock,
}

impl History {
    /// An empty book.
    pub fn new(method: Method) -> Self {
        Self {
            method,
            acts: Vec::new(),
            undone: BTreeSet::new(),
            pins: BTreeMap::new(),
            stock: Stock::default(),
        }
    }

    /// Books an act; a refused one changes nothing.
    pub fn book(&mut self, act: Act) -> Result<ActId, Refusal> {
        let id = self.acts.len();
        let mut stock = self.stock.clone();
        let pin = plan::apply(&mut stock, self.method, &self.acts, id, &act, None)?;
        self.stock = stock;
        self.pins.insert(id, pin);
        self.acts.push(act);
        Ok(id)
    }

    /// Whether an act can be undone, by the text of the rule.
    pub fn verdict(&self, act: ActId) -> Verdict {
        undo::verdict(self, act)
    }

    /// What the history comes to without one more act.
    pub fn without(&self, act: ActId) -> Result<Stock, Refusal> {
        let mut undone = self.undone.clone();
        undone.insert(act);
        self.replay(&undone)
    }

    /// Undoes an act: from here on the history is the one without it.
    pub fn undo(&mut self, act: ActId) -> Result<(), Refusal> {
        self.stock = self.without(act)?;
        self.undone.insert(act);
        Ok(())
    }

    /// The acts that stand, from `first` on.
    pub fn standing(&self, first: ActId) -> impl Iterator<Item = (ActId, &Act)> {
        self.acts
            .iter()
            .enumerate()
            .skip(first)
            .filter(|(id, _)| !self.undone.contains(id))
    }

    /// What a garment's hours cost. The owner is the first own person.
    pub fn hours(&self, garment: Garment) -> Hours {
        let owner = self
            .standing(0)
            .find(|(_, act)| matches!(act, Act::Person { paid: false }))
            .map(|(id, _)| id);
        labour::hours(&self.acts, &self.undone, owner, garment)
    }

    /// A promise that ended anyway needs no piece any more to have been on.
    fn replay(&self, undone: &BTreeSet<ActId>) -> Result<Stock, Refusal> {
        let mut stock = Stock::default();
        for (id, act) in self
            .acts
            .iter()
            .enumerate()
            .filter(|(id, _)| !undone.contains(id))
        {
            let done = plan::apply(
                &mut stock,
                self.method,
                &self.acts,
                id,
                act,
                self.pins.get(&id),
            );
            let over = match act {
                Act::Reserve { .. } => !self.promised(id),
                Act::Release { .. } => true,
                _ => false,
            };
            if let (Err(refusal), false) = (done, over) {
                return Err(refusal);
            }
        }
        Ok(stock)
    }

    /// Whether a promise stands.
    pub fn promised(&self, reservation: ActId) -> bool {
        self.stock
            .pieces
            .values()
            .any(|piece| piece.promised.contains_key(&reservation))
    }
}
