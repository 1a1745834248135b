//! Rule 8, kept lays: each passes the check again, and its lengths are those that its parts take.

use super::BATCH;
use crate::{desk::failure::Done, promises::lay};
use ellwand_contract::audit::{Audit, Finding};
use ellwand_domain::{code::LayCode, lay::Lay};
use ellwand_storage::{LayRung, Tx};

/// Checks every lay that was ever kept.
pub(super) fn checked(tx: &mut Tx<'_>, audit: &mut Audit) -> Done<()> {
    let mut after = 0;
    loop {
        let batch = tx.audit_lays(after, BATCH)?;
        let Some(last) = batch.last() else {
            return Ok(());
        };
        after = last.id;
        for row in &batch {
            let rungs = tx.lay_rungs(row.id)?;
            let found = match lay::checked(row, &rungs)? {
                Ok(lay) => other_length(lay.rungs(), &rungs),
                Err(why) => Some(why),
            };
            audit.findings.extend(found.map(|detail| Finding {
                rule: 8,
                record: LayCode::new(row.id).to_string(),
                detail,
            }));
        }
    }
}

/// The first rung whose length is not what its placements take.
fn other_length(lays: &[Lay], rungs: &[LayRung]) -> Option<String> {
    let mut pairs = lays.iter().zip(rungs);
    let (lay, rung) = pairs.find(|(lay, rung)| lay.length().get() != rung.length_um)?;
    let (is, kept) = (lay.length().get(), rung.length_um);
    Some(format!("its parts take {is}, the book says {kept}"))
}
