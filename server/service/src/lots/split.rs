//! Two pieces of one; nothing is used.

use crate::{
    context::{Context, Entry},
    detail::{Detail, Segment},
    failure::Failure,
    lots::changed,
    perform::Perform,
    promises::{self, Settled},
    shelved::{NewPiece, Shelved},
};
use ellwand_contract::lots::{PieceChanged, SplitPiece};
use ellwand_domain::{
    ledger::{Account, Movement},
    setting::BookingKind,
};
use ellwand_storage::{Subject, Tx};

impl Perform for SplitPiece {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<PieceChanged, Failure> {
        let mut shelved = Shelved::load(tx, self.piece)?;
        let take = shelved.parse("take", &self.take)?;
        let booking = context.next_booking(tx)?;
        promises::end_overdue(tx, context, booking, &mut shelved)?;
        let before = shelved.stored.piece.holds.clone();
        let end = self.end;
        let off = match promises::with_room(tx, context, &mut shelved, None, |piece| {
            piece.split(take, end)
        })? {
            Ok(off) => off,
            Err(error) => {
                return Err(
                    promises::refusal(tx, context, &shelved, "the new piece", &error)?.into(),
                );
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
            day: context.today,
        };
        let made = Shelved {
            stored: new.number(tx)?,
            record: shelved.record.clone(),
        };
        tx.insert_piece(&made.stored)?;
        shelved.save(tx, context.today)?;
        promises::write_holds(tx, &shelved)?;
        let settled = Settled {
            changed: promises::gave_up(tx, context, &shelved, &before)?,
            ..Settled::default()
        };
        let summary = format!(
            "Split {} off {} as {}.",
            shelved.show(context, off.quantity),
            shelved.code(),
            made.code()
        );
        let mut entry = Entry::new(BookingKind::Split, context.today, summary);
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
        context.book(tx, booking, entry)?;
        changed(
            tx,
            context,
            booking,
            &shelved,
            vec![made],
            settled,
            Vec::new(),
        )
    }
}
