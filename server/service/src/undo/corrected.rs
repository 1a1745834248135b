//! Taking back what the correction of a sheet did to the pieces of its lot.

use super::{
    Case, Effect, cannot,
    overwritten::EditKept,
    piece::{as_it_was, widths_of},
};
use crate::{
    detail::Detail,
    failure::Done,
    lots::correct::widths_anew,
    promises::{self, Settled},
    shelved::{LotRecord, Shelved},
};
use ellwand_contract::sheets::Sheet;
use ellwand_domain::setting::BookingKind;
use ellwand_storage::{Subject, Tx};

impl Effect {
    /// Takes over the promises that were settled, each once.
    pub(super) fn settled(&mut self, settled: Settled) {
        let mut all = Settled {
            changed: std::mem::take(&mut self.changed),
            broken: std::mem::take(&mut self.broken),
            ..Settled::default()
        };
        all.add(settled);
        (self.changed, self.broken) = (all.changed, all.broken);
    }
}

impl Case<'_, '_> {
    /// Refuses where a later booking of these kinds gave the piece other widths, or measured it from them.
    pub(super) fn same_widths_since(
        &self,
        tx: &mut Tx<'_>,
        shelved: &Shelved,
        kinds: &[BookingKind],
    ) -> Done<()> {
        let piece = shelved.stored.piece.id;
        let sets = |detail: &Detail| match detail {
            Detail::Remeasured { before }
            | Detail::Tested {
                before: Some(before),
                ..
            } => before.piece == piece,
            Detail::Edited {
                widths, weighed, ..
            } => widths
                .iter()
                .chain(weighed)
                .any(|before| before.piece == piece),
            _ => false,
        };
        let later = self.later(tx, (Subject::Lot, shelved.record.lot.id), kinds)?;
        let Some((first, _)) = later.into_iter().find(|(_, detail)| sets(detail)) else {
            return Ok(());
        };
        let detail = format!(
            "{} was measured, prepared or corrected since, by {first}",
            shelved.code()
        );
        Err(cannot(detail, "take that back first"))
    }

    /// Pieces that had followed the sheet are as they were, and those that came of them since follow the sheet back.
    pub(super) fn pieces_back(
        &self,
        tx: &mut Tx<'_>,
        record: &LotRecord,
        taken_back: &Sheet,
        kept: &EditKept,
    ) -> Done<Effect> {
        let kinds = [
            BookingKind::Measured,
            BookingKind::Prepared,
            BookingKind::Tested,
            BookingKind::Edited,
        ];
        let others = widths_anew(tx, record, taken_back)?;
        let mut back = Vec::new();
        for before in &kept.widths {
            let mut shelved = Shelved::load_row(tx, before.piece)?;
            self.same_widths_since(tx, &shelved, &kinds)?;
            shelved.stored.piece.rectangle = widths_of(before)?;
            back.push(shelved);
        }
        for before in &kept.weighed {
            let mut shelved = Shelved::load_row(tx, before.piece)?;
            self.unchanged(tx, &shelved, before.structure)?;
            self.uncut_since(tx, &shelved)?;
            self.same_widths_since(tx, &shelved, &kinds)?;
            as_it_was(&mut shelved, before)?;
            back.push(shelved);
        }
        if let Some(first) = kept.weighed.first() {
            let shelved = Shelved::load_row(tx, first.piece)?;
            self.layers_as_before(tx, &shelved)?;
        }
        let known = |id: i64| {
            kept.widths
                .iter()
                .chain(&kept.weighed)
                .any(|before| before.piece == id)
        };
        for stored in tx.pieces_of_lot(record.lot.id)? {
            let now = others
                .get(&stored.piece.id)
                .copied()
                .filter(|_| !known(stored.piece.id));
            if let Some(now) = now.filter(|now| stored.piece.rectangle != Some(*now)) {
                let mut shelved = Shelved {
                    stored,
                    record: record.clone(),
                };
                shelved.stored.piece.rectangle = Some(now);
                back.push(shelved);
            }
        }
        let because = format!("{} was taken back", self.code());
        let mut effect = Effect {
            movements: self.reversed(),
            ..Effect::default()
        };
        for mut shelved in back {
            shelved.record = record.clone();
            effect.settled(promises::resettle(
                tx,
                self.context,
                self.booking,
                &mut shelved,
                &because,
            )?);
            let last_on = shelved.stored.last_on;
            shelved.save(tx, last_on)?;
        }
        Ok(effect)
    }
}
