//! Cloth with a repeat: whole repeats where the need matches, else a word that they are not counted.

use crate::{
    desk::{Desk, failure::Done},
    garments::need::NeedRecord,
    promises::fit::shrinkage_of,
    shelf::{lots::correct::History, shelved::Shelved},
};
use ellwand_domain::{ledger::Account, need::ClothFit, shrinkage::Ratio};
use ellwand_storage::Tx;

/// The fit of a need to a piece in whole repeats of its lot, where the need asks for that; what there is to say is added to
/// the notes.
pub(crate) fn counted(
    desk: &mut Desk<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    fit: ClothFit,
    notes: &mut Vec<String>,
) -> Done<ClothFit> {
    let wide =
        |length: ellwand_domain::quantity::Micrometres| length.show_width(desk.context.units());
    let repeat = match (
        need.plan.cloth().match_repeat,
        shelved.record.sheet.repeat_m,
    ) {
        (true, Some(repeat)) => repeat.0,
        (true, None) => {
            let lot = shelved.record.code();
            notes.push(format!(
                "its repeat is unknown, so its length was not rounded up to whole repeats: enter it with ellwand lot edit {lot} --repeat 12cm"
            ));
            return Ok(fit);
        }
        (false, Some(repeat)) => {
            let repeat = wide(repeat.0);
            notes.push(format!(
                "its repeat of {repeat} is not counted: if the pattern must match, set match=yes in the need"
            ));
            return Ok(fit);
        }
        (false, None) => return Ok(fit),
    };
    let mut changed = Ratio::UNCHANGED;
    if let Some(done) = shelved.stored.preparation {
        if let Some(measured) = measured_change(desk, shelved)? {
            changed = measured;
        } else {
            match shrinkage_of(desk, &shelved.record, done)? {
                Ok(chosen) => changed = chosen.length,
                Err(_) => {
                    notes.push(
                        "how its repeat shrank is unknown: it was left as it was before".to_owned(),
                    );
                }
            }
        }
    }
    let fit = fit.in_repeats(repeat, changed)?;
    let one = fit.repeats.map_or(repeat, |repeats| repeats.repeat);
    notes.push(format!(
        "up to one repeat more, {}, goes where the roll was cut, once off the piece: keep it free",
        wide(one)
    ));
    Ok(fit)
}

/// What its preparations did to the cloth of a piece lengthwise, as it was measured; nothing where it came prepared.
fn measured_change(tx: &mut Tx<'_>, shelved: &Shelved) -> Done<Option<Ratio>> {
    let history = History::load(tx, shelved.stored.lot_id)?;
    let mut changed = None;
    for (booking, piece, before) in history.preparations(shelved.stored.piece.id) {
        let mut after = before;
        for stored in tx.movements_of(&[booking])? {
            let line = stored.movement;
            if line.from == Account::piece(piece) {
                after = after.saturating_sub(line.quantity_out.get());
            }
            if line.to == Account::piece(piece) {
                after = after.saturating_add(line.quantity_in.get());
            }
        }
        if let Ok(step) = Ratio::new(before, after) {
            changed = Some(changed.map_or(step, |so_far: Ratio| so_far.then(step)));
        }
    }
    Ok(changed)
}
