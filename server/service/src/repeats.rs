//! Cloth with a repeat: whole repeats where the need matches, else a word that they are not counted.

use crate::{
    context::Context, failure::Done, fit::shrinkage_of, garments::need::NeedRecord, shelved::Shelved,
};
use ellwand_domain::{need::ClothFit, shrinkage::Ratio};
use ellwand_storage::Tx;

/// The fit of a need to a piece in whole repeats of its lot, where the need asks for that; what there is to say is added to
/// the notes.
pub(crate) fn counted(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    fit: ClothFit,
    notes: &mut Vec<String>,
) -> Done<ClothFit> {
    let wide = |length: ellwand_domain::quantity::Micrometres| length.show_width(context.units());
    let repeat = match (need.input.match_repeat, shelved.record.sheet.repeat_m) {
        (true, Some(repeat)) => repeat.0,
        (true, None) => {
            let lot = shelved.record.code();
            notes.push(format!(
                "its repeat is unknown, so its length was not rounded up to whole repeats: enter it with ellwand lot edit {lot} --repeat"
            ));
            return Ok(fit);
        }
        (false, Some(repeat)) => {
            let repeat = wide(repeat.0);
            notes.push(format!(
                "its repeat of {repeat} is not counted: where the pattern must match, say match=yes in the need"
            ));
            return Ok(fit);
        }
        (false, None) => return Ok(fit),
    };
    let mut changed = Ratio::UNCHANGED;
    if let Some(done) = shelved.stored.preparation {
        match shrinkage_of(tx, &shelved.record, done)? {
            Ok(chosen) => changed = chosen.length,
            Err(_) => {
                notes.push("how its repeat shrank is unknown: it was taken as it was before".to_owned())
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
