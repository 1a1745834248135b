//! What was worked out from a figure of a lot's sheet is worked out anew once the figure is corrected.

mod history;
mod weighed;
mod widths;

use super::measure::{correct, written_off};
use crate::{
    desk::{
        Desk,
        failure::Done,
        trace::{self, Traced},
    },
    promises::{self, Settled},
    shelf::{
        day, pooled,
        shelved::{LotRecord, Shelved},
    },
};
use chrono::NaiveDate;
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{
    ledger::{Movement, Quantity, Rectangle},
    quantity::Units,
    stiffness::from_decimal_unm,
};
use ellwand_storage::StoredPiece;

pub(crate) use history::History;
pub(crate) use widths::anew as widths_anew;

/// What the correction of a sheet did to the pieces of its lot.
#[derive(Default)]
pub(crate) struct Corrected {
    /// What was written over of pieces with other widths, or another length by weight.
    pub(crate) traces: Vec<Traced>,
    pub(crate) movements: Vec<Movement>,
    pub(crate) settled: Settled,
    pub(crate) notes: Vec<String>,
}

/// Works widths and lengths by weight of a lot's pieces out anew and settles their promises; `older`: its sheet before.
pub(crate) fn pieces(
    desk: &mut Desk<'_>,
    (booking, on): (i64, NaiveDate),
    record: &LotRecord,
    older: &Sheet,
    because: &str,
) -> Done<Corrected> {
    let mut corrected = Corrected::default();
    let widths = widths::anew(desk, record, older)?;
    let lengths = weighed::anew(desk, record, older, &widths, &mut corrected.notes)?;
    for stored in desk.tx.pieces_of_lot(record.lot.id)? {
        let id = stored.piece.id;
        let rectangle = widths.get(&id).copied().or(stored.piece.rectangle);
        let length = lengths.get(&id).copied();
        if length.is_none() && rectangle == stored.piece.rectangle {
            continue;
        }
        let mut shelved = Shelved {
            stored,
            record: record.clone(),
        };
        if let Some(note) = wider(desk.context.units(), &shelved, rectangle) {
            corrected.notes.push(note);
        }
        let before = shelved.stored.clone();
        match length {
            Some(length) => by_weight(
                desk,
                (booking, on),
                &mut shelved,
                (length, rectangle),
                &mut corrected,
            )?,
            None => shelved.stored.piece.rectangle = rectangle,
        }
        corrected.traces.extend(match length {
            Some(_) => trace::of_measured(&before, &shelved.stored)?,
            None => trace::of_piece(&before, &shelved.stored)?,
        });
        let settled = promises::resettle(desk, booking, &mut shelved, because)?;
        corrected.settled.changed.extend(settled.changed);
        corrected.settled.broken.extend(settled.broken);
        let day = length.map_or(shelved.stored.last_on, |_| on);
        shelved.save(desk, day)?;
    }
    Ok(corrected)
}

/// The piece holds `length` by its weight: the difference is normal loss, or found, without value.
fn by_weight(
    desk: &mut Desk<'_>,
    (booking, on): (i64, NaiveDate),
    shelved: &mut Shelved,
    (length, rectangle): (Quantity, Option<Rectangle>),
    corrected: &mut Corrected,
) -> Done<()> {
    let was = shelved.stored.piece.quantity;
    let less = Quantity::new(was.get().saturating_sub(length.get()).max(0))?;
    day::check(desk, shelved, on, ("taking off", less))?;
    let lost = pooled::found(
        desk,
        booking,
        shelved,
        was,
        length,
        &mut corrected.movements,
    )?;
    corrected.notes.extend(written_off(desk.context, lost));
    correct(
        shelved,
        length,
        rectangle,
        false,
        true,
        &mut corrected.movements,
    )?;
    let (code, was, now) = (
        shelved.code(),
        shelved.show(desk.context, was),
        shelved.show(desk.context, length),
    );
    corrected
        .notes
        .push(format!("{code} by its weight: {was} → {now}, estimated"));
    Ok(())
}

/// The widths that a piece has now, where there is something of it.
fn wider(units: Units, shelved: &Shelved, rectangle: Option<Rectangle>) -> Option<String> {
    let StoredPiece { piece, .. } = &shelved.stored;
    let now = rectangle.filter(|now| piece.rectangle != Some(*now) && !piece.quantity.is_zero())?;
    let (full, usable) = (now.full.show_width(units), now.usable().show_width(units));
    Some(format!(
        "{} is {full} wide now, {usable} of it usable",
        shelved.code()
    ))
}

/// Rigidities that followed a mass per area, for people.
pub(crate) fn stiffness_notes(older: &Sheet, newer: &Sheet) -> Vec<String> {
    let mut notes = Vec::new();
    for now in &newer.stiffness {
        let same = |was: &&ellwand_contract::stiffness::GrainStiffness| {
            was.grain == now.grain
                && was.bending_length_m == now.bending_length_m
                && was.readings == now.readings
        };
        let Some(was) = older.stiffness.iter().find(same) else {
            continue;
        };
        let known = [was, now].map(|found| from_decimal_unm(&found.rigidity_unm).ok());
        if was.mass_gsm != now.mass_gsm && known[0] != known[1] {
            let (was, rigidity, grain) = (&was.rigidity_unm, &now.rigidity_unm, now.grain);
            notes.push(format!(
                "its rigidity {grain} follows its mass: {was} → {rigidity} uNm"
            ));
        }
    }
    notes
}
