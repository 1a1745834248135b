//! Values that an act overwrites: a place, a lot's sheet, its stiffness, a plan. Only the last standing booking that set one is
//! taken back; what other bookings set since stays as it is.

use super::{Case, Effect, cannot};
use crate::{
    detail::{Detail, DyeLotBefore, PieceBefore, StiffnessKept},
    failure::Done,
    promises, sheet,
    shelved::{LotRecord, Shelved, read_sheet},
    stiffness,
};
use ellwand_contract::{Problem, ProblemType, sheets::Sheet};
use ellwand_domain::{code::BookingCode, setting::BookingKind};
use ellwand_storage::{Subject, Tx};
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// What an edit of a lot kept.
pub(super) struct EditKept {
    pub(super) lot: i64,
    pub(super) before: String,
    pub(super) after: String,
    pub(super) dye_lot: Option<DyeLotBefore>,
    pub(super) places: Vec<(i64, Option<String>)>,
    pub(super) widths: Vec<PieceBefore>,
    pub(super) weighed: Vec<PieceBefore>,
}

/// Fields of a sheet.
fn fields(text: &str) -> Done<Map<String, Value>> {
    serde_json::from_str(text).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("a stored sheet cannot be read: {error}"),
        )
        .into()
    })
}

/// Names of the fields in which two sheets differ.
fn changed(before: &str, after: &str) -> Done<BTreeSet<String>> {
    let (before, after) = (fields(before)?, fields(after)?);
    let differs = |name: &&String| before.get(*name) != after.get(*name);
    Ok(before
        .keys()
        .chain(after.keys())
        .filter(differs)
        .cloned()
        .collect())
}

/// The fields that a stiffness test changed.
fn stiffness_changed(
    sheet: &Sheet,
    before: &StiffnessKept,
    after: &StiffnessKept,
) -> Done<BTreeSet<String>> {
    let with = |kept: &StiffnessKept| {
        let mut sheet = sheet.clone();
        stiffness::restore(&mut sheet, kept);
        sheet::write(&sheet)
    };
    changed(&with(before)?, &with(after)?)
}

impl Case<'_, '_> {
    /// The first later booking that put the piece elsewhere.
    fn placed_since(&self, tx: &mut Tx<'_>, lot: i64, piece: i64) -> Done<Option<BookingCode>> {
        let later = self.later(
            tx,
            (Subject::Lot, lot),
            &[BookingKind::Placed, BookingKind::Edited],
        )?;
        let puts = |detail: &Detail| match detail {
            Detail::Placed { piece: other, .. } => *other == piece,
            Detail::Edited { places, .. } => places.iter().any(|(other, _)| *other == piece),
            _ => false,
        };
        Ok(later
            .into_iter()
            .find(|(_, detail)| puts(detail))
            .map(|(code, _)| code))
    }

    /// The first later booking that prepared, measured, split or marked the piece.
    pub(super) fn reshaped_since(
        &self,
        tx: &mut Tx<'_>,
        shelved: &Shelved,
    ) -> Done<Option<BookingCode>> {
        let piece = shelved.stored.piece.id;
        let kinds = [
            BookingKind::Measured,
            BookingKind::Tested,
            BookingKind::Prepared,
            BookingKind::Flawed,
            BookingKind::Split,
            BookingKind::Cut,
            BookingKind::Edited,
        ];
        let reshapes = |detail: &Detail| match detail {
            Detail::Remeasured { before }
            | Detail::Tested {
                before: Some(before),
                ..
            } => before.piece == piece,
            Detail::Flawed { piece: other, .. } | Detail::Split { piece: other, .. } => {
                *other == piece
            }
            Detail::Cut(cut) => cut.piece == piece && cut.outer.is_some(),
            Detail::Edited { weighed, .. } => weighed.iter().any(|before| before.piece == piece),
            _ => false,
        };
        let later = self.later(tx, (Subject::Lot, shelved.record.lot.id), &kinds)?;
        Ok(later
            .into_iter()
            .find(|(_, detail)| reshapes(detail))
            .map(|(code, _)| code))
    }

    /// The first later booking that changed the plan of a garment.
    pub(super) fn replanned_since(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
    ) -> Done<Option<BookingCode>> {
        let kinds = [BookingKind::Planned, BookingKind::Accepted];
        let changes = |detail: &Detail| match detail {
            Detail::Replanned { before, after, .. } => before != after,
            Detail::Accepted {
                plan: Some(plan), ..
            } => plan.before != plan.after,
            _ => false,
        };
        let later = self.later(tx, (Subject::Garment, garment), &kinds)?;
        Ok(later
            .into_iter()
            .find(|(_, detail)| changes(detail))
            .map(|(code, _)| code))
    }

    /// Refuses when a later booking that stands set one of these fields of a lot's sheet.
    fn fields_stand(
        &self,
        tx: &mut Tx<'_>,
        record: &LotRecord,
        own: &BTreeSet<String>,
    ) -> Done<()> {
        let kinds = [BookingKind::Edited, BookingKind::Tested];
        for (code, detail) in self.later(tx, (Subject::Lot, record.lot.id), &kinds)? {
            let set = match &detail {
                Detail::Edited { before, after, .. } => changed(before, after)?,
                Detail::Stiffened { before, after, .. } => {
                    stiffness_changed(&record.sheet, before, after)?
                }
                _ => continue,
            };
            if let Some(field) = set.intersection(own).next() {
                let detail = format!("{code} set the {} of {} since", label(field), record.code());
                return Err(cannot(detail, "take that back first"));
            }
        }
        Ok(())
    }

    pub(super) fn placed(
        &self,
        tx: &mut Tx<'_>,
        piece: i64,
        before: Option<String>,
    ) -> Done<Effect> {
        let mut shelved = Shelved::load_row(tx, piece)?;
        if let Some(first) = self.placed_since(tx, shelved.record.lot.id, piece)? {
            let detail = format!("{first} put {} elsewhere since", shelved.code());
            return Err(cannot(detail, "take that back first"));
        }
        shelved.stored.place = before;
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        Ok(Effect::default())
    }

    pub(super) fn stiffened(
        &self,
        tx: &mut Tx<'_>,
        lot: i64,
        before: &StiffnessKept,
        after: &StiffnessKept,
    ) -> Done<Effect> {
        let mut record = LotRecord::load(tx, lot)?;
        self.fields_stand(
            tx,
            &record,
            &stiffness_changed(&record.sheet, before, after)?,
        )?;
        if stiffness::kept(&record.sheet) != *after {
            let detail = format!(
                "the stiffness of {} was tested or edited again since",
                record.code()
            );
            return Err(cannot(
                detail,
                "take that back first, or record the right one",
            ));
        }
        stiffness::restore(&mut record.sheet, before);
        record.lot.sheet = sheet::write(&record.sheet)?;
        tx.update_lot(&record.lot)?;
        self.settle_stiffness(tx, &record, Effect::default())
    }

    pub(super) fn edited(&self, tx: &mut Tx<'_>, kept: &EditKept) -> Done<Effect> {
        let mut record = LotRecord::load(tx, kept.lot)?;
        let own = changed(&kept.before, &kept.after)?;
        self.fields_stand(tx, &record, &own)?;
        let taken_back = record.sheet.clone();
        record.sheet = self.fields_back(&record, kept, &own)?;
        record.lot.sheet = sheet::write(&record.sheet)?;
        sheet::fill_search_columns(&mut record.lot, &record.sheet);
        if let Some(dye_lot) = &kept.dye_lot {
            self.dye_lot_stands(tx, &record)?;
            record.lot.dye_lot.clone_from(&dye_lot.was);
        }
        tx.update_lot(&record.lot)?;
        sheet::save_fibres(tx, kept.lot, &record.sheet)?;
        for (piece, place) in &kept.places {
            self.placed(tx, *piece, place.clone())?;
        }
        let effect = self.pieces_back(tx, &record, &taken_back, kept)?;
        self.settle_stiffness(tx, &record, effect)
    }

    /// Settles the promises that rest on what is known of a lot, which is as it was.
    fn settle_stiffness(
        &self,
        tx: &mut Tx<'_>,
        record: &LotRecord,
        mut effect: Effect,
    ) -> Done<Effect> {
        let because = format!("{} was taken back", self.code());
        effect.settled(promises::resettle_stiffness(
            tx,
            self.context,
            self.booking,
            record,
            &because,
        )?);
        self.restore_broken(tx, &mut effect)?;
        Ok(effect)
    }

    /// The sheet with this edit's own fields as they were before; what others set since stays.
    fn fields_back(
        &self,
        record: &LotRecord,
        kept: &EditKept,
        own: &BTreeSet<String>,
    ) -> Done<Sheet> {
        let (before, after) = (fields(&kept.before)?, fields(&kept.after)?);
        let mut now = fields(&record.lot.sheet)?;
        for name in own {
            if now.get(name) != after.get(name) {
                let detail = format!("the {} of {} was changed since", label(name), record.code());
                return Err(cannot(detail, "edit it once more instead"));
            }
            match before.get(name) {
                Some(value) => drop(now.insert(name.clone(), value.clone())),
                None => drop(now.remove(name)),
            }
        }
        read_sheet(&Value::Object(now).to_string())
    }

    fn dye_lot_stands(&self, tx: &mut Tx<'_>, record: &LotRecord) -> Done<()> {
        let later = self.later(tx, (Subject::Lot, record.lot.id), &[BookingKind::Edited])?;
        let sets = |detail: &Detail| {
            matches!(
                detail,
                Detail::Edited {
                    dye_lot: Some(_),
                    ..
                }
            )
        };
        let Some((first, _)) = later.into_iter().find(|(_, detail)| sets(detail)) else {
            return Ok(());
        };
        Err(cannot(
            format!("{first} set the dye lot of {} since", record.code()),
            "take that back first",
        ))
    }
}

/// A field's name for people, without its unit; what a strip test sets is one thing.
fn label(field: &str) -> String {
    if field.starts_with("rigidity") || field.starts_with("stiffness") {
        return "stiffness".to_owned();
    }
    let units = ["_m", "_gsm", "_g", "_unm", "_um", "_pc"];
    let bare = units
        .iter()
        .find_map(|unit| field.strip_suffix(unit))
        .unwrap_or(field);
    bare.replace('_', " ")
}
