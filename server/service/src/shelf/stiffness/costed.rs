//! What a cost sheet says of how stiff the interlined parts will be.

use super::{
    Known,
    layers::{Shell, shell_of, together},
    turning::along_need,
};
use crate::{
    desk::{Desk, failure::Done},
    garments::need::{NeedRecord, load_needs},
    promises::Filled,
    shelf::shelved::LotRecord,
};
use ellwand_contract::costs::PartStiffness;
use ellwand_domain::setting::Kind;
use ellwand_storage::Garment;

/// For each interlining that is promised or cut, lot by lot: how stiff its parts are, what turning them would change, and the
/// least with the shell.
pub(crate) fn of_garment(desk: &mut Desk<'_>, garment: &Garment) -> Done<Vec<PartStiffness>> {
    let mut interlined = Vec::new();
    let needs = load_needs(desk, garment)?;
    let interlinings = || {
        needs
            .iter()
            .filter(|need| need.row.kind == Kind::Interlining)
    };
    if interlinings().next().is_none() {
        return Ok(interlined);
    }
    let shell = shell_of(desk, garment)?;
    for need in interlinings() {
        for lot in Filled::read(desk, need)?.lots().iter().copied() {
            let record = LotRecord::load(desk, lot)?;
            let notes = notes(need, &record, shell.as_ref());
            interlined.push(PartStiffness {
                need: need.row.role.clone(),
                lot: record.code(),
                notes,
            });
        }
    }
    Ok(interlined)
}

fn notes(need: &NeedRecord, record: &LotRecord, shell: Option<&Shell>) -> Vec<String> {
    if Known::of(&record.sheet).is_unknown() {
        let lot = record.code();
        return vec![format!(
            "how stiff it is is unknown: measure strips of it: ellwand lot stiffness {lot} --lengthwise 62mm,60mm"
        )];
    }
    let mut notes = along_need(&record.sheet, need);
    notes.extend(
        shell
            .into_iter()
            .flat_map(|shell| together(need, record, shell)),
    );
    notes
}
