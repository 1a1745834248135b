//! A garment's plan as an edit found it, for taking the edit back.

use crate::desk::{
    detail::{PlanChange, PlanKept},
    failure::Done,
    trace::Traced,
};
use ellwand_domain::setting::Facet;
use ellwand_storage::{Garment, Need, Tx};

impl PlanChange {
    /// What it wrote over, where it changed something.
    pub(crate) fn trace(&self, garment: i64) -> Done<Option<Traced>> {
        let changed = (self.before != self.after).then_some(&self.before);
        changed
            .map(|before| Traced::wrote(Facet::Plan, garment, before))
            .transpose()
    }
}

impl PlanKept {
    /// The plan as it is now.
    pub(crate) fn read(tx: &mut Tx<'_>, garment: &Garment) -> Done<Self> {
        let mut needs = tx.needs(garment.id)?;
        needs.retain(|row| !row.dropped);
        Ok(Self {
            name: garment.name.clone(),
            due: garment.due,
            customer: garment.customer_id,
            needs,
            operations: tx.operations(garment.id)?,
            seams: tx.seams(garment.id)?,
            allowance: tx.seam_allowance(garment.id)?,
        })
    }

    /// Writes this plan over another one of the garment. A need that it does not have is dropped; what is cut of one stays so.
    pub(crate) fn write(&self, tx: &mut Tx<'_>, garment: &mut Garment) -> Done<()> {
        garment.name.clone_from(&self.name);
        garment.due = self.due;
        garment.customer_id = self.customer;
        tx.update_garment(garment)?;
        for now in tx.needs(garment.id)? {
            let row = match self.needs.iter().find(|kept| kept.id == now.id) {
                Some(kept) => kept.clone(),
                None => Need {
                    dropped: true,
                    ..now
                },
            };
            tx.save_need(&row)?;
        }
        for row in tx.operations(garment.id)? {
            tx.delete_operation(garment.id, &row.name)?;
        }
        for row in &self.operations {
            tx.save_operation(row)?;
        }
        for row in tx.seams(garment.id)? {
            tx.delete_seam(garment.id, &row.name)?;
        }
        for row in &self.seams {
            tx.save_seam(row)?;
        }
        match &self.allowance {
            Some(allowance) => Ok(tx.save_seam_allowance(allowance)?),
            None => Ok(tx.delete_seam_allowance(garment.id)?),
        }
    }
}
