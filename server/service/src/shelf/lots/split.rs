//! Two pieces of one; nothing is used.

use crate::{
    desk::{
        Desk, Entry,
        detail::{Detail, Segment},
        failure::Failure,
        perform::Perform,
    },
    promises::{self, Settled},
    shelf::{
        day,
        lots::changed,
        shelved::{NewPiece, Shelved},
    },
};
use ellwand_contract::lots::{PieceChanged, SplitPiece};
use ellwand_domain::{
    ledger::{Account, Movement},
    setting::BookingKind,
};
use ellwand_storage::Subject;

impl Perform for SplitPiece {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(desk, self.piece)?;
        let take = shelved.parse("take", &self.take)?;
        let day = desk.context.day(self.date)?;
        day::check(desk, &shelved, day, ("splitting", take))?;
        let booking = desk.next_booking()?;
        promises::end_overdue(desk, booking, &mut shelved)?;
        let before = shelved.stored.piece.holds.clone();
        let end = self.end;
        let off =
            match promises::with_room(desk, &mut shelved, None, |piece| piece.split(take, end))? {
                Ok(off) => off,
                Err(error) => {
                    return Err(promises::refusal(desk, &shelved, "the new piece", &error)?.into());
                }
            };
        let own = &shelved.stored;
        let new = NewPiece {
            lot: own.lot_id,
            quantity: off.quantity,
            rectangle: off.rectangle,
            value: off.value,
            flaws: off.flaws.clone(),
            preparation: own.preparation,
            prepared: own.prepared,
            mass_factor_ppm: own.mass_factor_ppm,
            estimated: own.estimated,
            offcut: own.offcut,
            place: self.place.clone().or_else(|| own.place.clone()),
            day,
        };
        let made = Shelved {
            stored: new.number(desk)?,
            record: shelved.record.clone(),
        };
        desk.tx.insert_piece(&made.stored)?;
        shelved.save(&mut desk.tx, day)?;
        let settled = Settled {
            changed: promises::gave_up(desk, &shelved, &before)?,
            ..Settled::default()
        };
        let summary = format!(
            "Split {} off {} as {}.",
            shelved.show(desk.context, off.quantity),
            shelved.code(),
            made.code()
        );
        let mut entry = Entry::new(BookingKind::Split, day, summary);
        entry.subjects = vec![(Subject::Lot, shelved.record.lot.id)];
        let (from, to) = (
            Account::piece(shelved.stored.piece.id),
            Account::piece(made.stored.piece.id),
        );
        entry.movements = vec![Movement::new(from, to, off.quantity, off.value)];
        entry.detail = Detail::Parted {
            off: Segment {
                piece: shelved.stored.piece.id,
                quantity: off.quantity.get(),
                end: self.end,
                flaws: Vec::new(),
                made: Some(made.stored.piece.id),
            },
        };
        desk.book(booking, entry)?;
        changed(desk, booking, &shelved, vec![made], settled, Vec::new())
    }
}
