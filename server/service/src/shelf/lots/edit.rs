//! Changing what a lot's sheet says.

use super::{correct, show};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::{self, Traced},
        version,
    },
    promises::{self, Settled},
    shelf::{
        materials::within,
        sheet,
        shelved::{LotRecord, is_counted},
    },
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem,
    lots::{EditLot, LotChanged},
    sheets::Sheet,
    text::{LINE, clean_text},
};
use ellwand_domain::{
    code::BookingCode,
    ledger::Movement,
    setting::{BookingKind, Facet},
};
use ellwand_storage::{Subject, Tx};

impl Perform for EditLot {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<LotChanged, Failure> {
        let mut record = LotRecord::load(desk, self.lot.get())?;
        version::check(
            desk,
            (Subject::Lot, record.lot.id),
            &self.lot,
            self.if_version,
        )?;
        let before = (record.lot.sheet.clone(), record.sheet.clone());
        let after = sheet_after(desk, self, &record)?;
        let place = self
            .place
            .as_ref()
            .map(super::place::parse_place)
            .transpose()?;
        let day = record.day(desk.context, self.date)?;
        let booking = desk.next_booking()?;
        let mut traces = Vec::new();
        if self.dye_lot.is_some() {
            let was = Traced::wrote(Facet::Sheet, record.lot.id, &record.lot.dye_lot)?;
            traces.push(was.part(trace::DYE_LOT));
            record.lot.dye_lot = clean_text("dye_lot", "dye lot", LINE, self.dye_lot.as_ref())?;
        }
        record.sheet = after;
        record.lot.sheet = sheet::write(&record.sheet)?;
        sheet::fill_search_columns(&mut record.lot, &record.sheet);
        desk.tx.update_lot(&record.lot)?;
        sheet::save_fibres(desk, record.lot.id, &record.sheet)?;
        traces.extend(trace::of_sheet(
            (Facet::Sheet, record.lot.id),
            &before.0,
            &record.lot.sheet,
        )?);
        if let Some(place) = place {
            traces.extend(put_all(desk, record.lot.id, &place)?);
        }
        let Followed {
            notes,
            settled,
            movements,
            traces: followed,
        } = follow(desk, (booking, day), &record, &before.1)?;
        let summary = format!(
            "Changed the sheet of {} {}.",
            self.lot, record.material.name
        );
        let mut entry = Entry::new(BookingKind::Edited, day, summary);
        entry.subjects = vec![(Subject::Lot, record.lot.id)];
        entry.movements = movements;
        traces.extend(followed);
        entry.traces = traces;
        desk.book(booking, entry)?;
        Ok(LotChanged {
            booking: BookingCode::new(booking),
            lot: show::view(desk, record.lot.id)?,
            changed: promises::views(desk, &settled.changed)?,
            broken: promises::views(desk, &settled.broken)?,
            notes,
        })
    }
}

/// The sheet as it will be.
fn sheet_after(tx: &mut Tx<'_>, edit: &EditLot, record: &LotRecord) -> Done<Sheet> {
    let mut after = sheet::merge(record.kind(), &record.sheet, &edit.sheet, edit.really)
        .map_err(|failure| within("sheet", failure))?;
    if let Some(number) = edit.wash_test {
        after.wash_test = pinned(tx, record, number)?;
    }
    if is_counted(record.kind(), &after) != record.is_counted() {
        let detail = format!("{} is already on the shelf, so its unit is fixed", edit.lot);
        return Err(invalid("sheet.unit", detail));
    }
    Ok(after)
}

/// What followed a change of a sheet.
struct Followed {
    notes: Vec<String>,
    settled: Settled,
    movements: Vec<Movement>,
    traces: Vec<Traced>,
}

/// Corrects the pieces that rest on what the sheet was, and looks at their promises again.
fn follow(
    desk: &mut Desk<'_>,
    (booking, day): (i64, NaiveDate),
    record: &LotRecord,
    was: &Sheet,
) -> Done<Followed> {
    let because = format!("the sheet of {} was changed", record.code());
    let corrected = correct::pieces(desk, (booking, day), record, was, &because)?;
    let mut notes = correct::stiffness_notes(was, &record.sheet);
    notes.extend(corrected.notes);
    let mut settled = match *was == record.sheet {
        true => Settled::default(),
        false => promises::resettle_stiffness(desk, booking, record, &because)?,
    };
    settled.add(corrected.settled);
    if !settled.changed.is_empty() || !settled.broken.is_empty() {
        notes.push("promises on its pieces were checked again".to_owned());
    }
    notes.extend(promises::notes(desk, &settled.broken)?);
    Ok(Followed {
        notes,
        settled,
        movements: corrected.movements,
        traces: corrected.traces,
    })
}

/// The wash test of this number; none for 0.
fn pinned(tx: &mut Tx<'_>, record: &LotRecord, number: i64) -> Done<Option<i64>> {
    let tests = tx.wash_tests(record.lot.id)?;
    if number == 0 || tests.iter().any(|test| test.number == number) {
        return Ok((number != 0).then_some(number));
    }
    let there: Vec<String> = tests
        .iter()
        .rev()
        .map(|test| test.number.to_string())
        .collect();
    let has = if there.is_empty() {
        "none yet".to_owned()
    } else {
        there.join(", ")
    };
    let detail = format!("{} has no wash test {number}; it has {has}", record.code());
    Err(Problem::from(invalid("wash_test", detail))
        .hint("see ellwand lot show for its tests; 0 makes the latest one count again")
        .with("wanted", number)
        .into())
}

/// Puts all pieces of a lot that are on the shelf in one place.
fn put_all(tx: &mut Tx<'_>, lot: i64, place: &str) -> Done<Vec<Traced>> {
    let mut before = Vec::new();
    for mut stored in tx.pieces_of_lot(lot)? {
        if !stored.piece.quantity.is_zero() {
            let was = stored.place.replace(place.to_owned());
            before.push(Traced::wrote(Facet::Place, stored.piece.id, &was)?);
            tx.update_piece(&stored)?;
        }
    }
    Ok(before)
}
