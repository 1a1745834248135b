//! A garment's plan as an edit found it, for taking the edit back.

use crate::{
    detail::{NeedKept, OperationKept, PlanKept, SeamKept},
    failure::Done,
    seams,
};
use ellwand_storage::{Garment, Need, Operation, Seam, SeamAllowance, Tx, Word};

impl PlanKept {
    /// The plan as it is now.
    pub(crate) fn read(tx: &mut Tx<'_>, garment: &Garment) -> Done<Self> {
        let need = |row: Need| NeedKept {
            id: row.id,
            kind: row.kind.0,
            need: row.need,
            units: row.units,
            estimate: row.estimate,
            detail: row.detail,
        };
        let operation = |row: Operation| OperationKept {
            name: row.name,
            position: row.position,
            kind: row.kind.0,
            minutes: row.minutes,
            person_id: row.person_id,
            billable: row.billable,
            detail: row.detail,
        };
        let seam = |row: Seam| SeamKept {
            position: row.position,
            seam: row.seam,
        };
        let allowance = tx.seam_allowance(garment.id)?;
        Ok(Self {
            name: garment.name.clone(),
            due: garment.due,
            needs: tx
                .needs(garment.id)?
                .into_iter()
                .filter(|row| !row.dropped)
                .map(need)
                .collect(),
            operations: tx
                .operations(garment.id)?
                .into_iter()
                .map(operation)
                .collect(),
            seams: tx.seams(garment.id)?.into_iter().map(seam).collect(),
            seam_allowance: allowance.map(|row| (row.ends_um, row.waste_ppm)),
        })
    }

    /// Writes this plan over another one of the garment. A need that it does not have is dropped.
    pub(crate) fn write(&self, tx: &mut Tx<'_>, garment: &mut Garment) -> Done<()> {
        garment.name.clone_from(&self.name);
        garment.due = self.due;
        tx.update_garment(garment)?;
        for mut row in tx.needs(garment.id)? {
            match self.needs.iter().find(|kept| kept.id == row.id) {
                Some(kept) => {
                    row.kind = Word(kept.kind);
                    row.need.clone_from(&kept.need);
                    (row.units, row.estimate, row.dropped) = (kept.units, kept.estimate, false);
                    row.detail.clone_from(&kept.detail);
                }
                None => row.dropped = true,
            }
            tx.save_need(&row)?;
        }
        for row in tx.operations(garment.id)? {
            if !self.operations.iter().any(|kept| kept.name == row.name) {
                tx.delete_operation(garment.id, &row.name)?;
            }
        }
        for kept in &self.operations {
            tx.save_operation(&Operation {
                garment_id: garment.id,
                name: kept.name.clone(),
                position: kept.position,
                kind: Word(kept.kind),
                minutes: kept.minutes,
                person_id: kept.person_id,
                billable: kept.billable,
                detail: kept.detail.clone(),
            })?;
        }
        self.write_seams(tx, garment.id)
    }

    fn write_seams(&self, tx: &mut Tx<'_>, garment: i64) -> Done<()> {
        for row in tx.seams(garment)? {
            tx.delete_seam(garment, &row.name)?;
        }
        for kept in &self.seams {
            tx.save_seam(&seams::kept_row(garment, kept.position, &kept.seam)?)?;
        }
        match self.seam_allowance {
            Some((ends_um, waste_ppm)) => {
                tx.save_seam_allowance(&SeamAllowance {
                    garment_id: garment,
                    ends_um,
                    waste_ppm,
                })?;
            }
            None => tx.delete_seam_allowance(garment)?,
        }
        Ok(())
    }
}
