//! Details of garments that were made: what they took, and what they were worth.

mod list;
mod rate;

use crate::{desk::failure::Done, garments::operation::is_same};
use ellwand_storage::{Garment, Need, Operation, Tx, WorkEntry};

/// What of a garment may belong to details.
struct Parts {
    needs: Vec<Need>,
    operations: Vec<Operation>,
    work: Vec<WorkEntry>,
}

impl Parts {
    fn read(tx: &mut Tx<'_>, garment: &Garment) -> Done<Self> {
        let needs = tx
            .needs(garment.id)?
            .into_iter()
            .filter(|need| !need.dropped)
            .collect();
        Ok(Self {
            needs,
            operations: tx.operations(garment.id)?,
            work: tx.work(garment.id)?,
        })
    }

    /// Names of the details, each once, in the order of the plan.
    fn names(&self) -> Vec<String> {
        let needs = self.needs.iter().map(|need| &need.detail);
        let operations = self.operations.iter().map(|operation| &operation.detail);
        let work = self.work.iter().map(|entry| &entry.detail);
        let mut names: Vec<String> = Vec::new();
        for name in needs.chain(operations).chain(work).flatten() {
            if !names.iter().any(|known| is_same(known, name)) {
                names.push(name.clone());
            }
        }
        names
    }
}
