//! What was done to the pieces of a lot, as far as their widths hang on it.

use crate::desk::{
    detail::{Detail, PieceBefore},
    failure::Done,
};
use ellwand_domain::{quantity::Micrometres, setting::BookingKind, shrinkage::Ratio};
use ellwand_storage::{StoredPiece, Subject, Tx};
use std::collections::BTreeMap;

/// From which piece another came, and the panel beside which it was left.
#[derive(Debug, Clone, Copy)]
pub(super) struct Origin {
    booking: i64,
    pub(super) parent: i64,
    pub(super) panel: Option<Micrometres>,
}

/// Standing acts on a lot's pieces.
pub(crate) struct History {
    /// By piece, oldest first: the booking, whether the cloth itself changed for certain, how the piece was.
    measured: BTreeMap<i64, Vec<(i64, bool, PieceBefore)>>,
    origins: BTreeMap<i64, Origin>,
}

impl History {
    pub(crate) fn load(tx: &mut Tx<'_>, lot: i64) -> Done<Self> {
        let mut history = Self {
            measured: BTreeMap::new(),
            origins: BTreeMap::new(),
        };
        for kind in [BookingKind::Measured, BookingKind::Prepared] {
            for booking in tx.standing_bookings(Subject::Lot, lot, kind)? {
                if let Detail::Remeasured { before } = Detail::of(&booking)? {
                    let of_piece = history.measured.entry(before.piece).or_default();
                    of_piece.push((booking.id, kind == BookingKind::Prepared, before));
                }
            }
        }
        for acts in history.measured.values_mut() {
            acts.sort_by_key(|(booking, ..)| *booking);
        }
        for booking in tx.standing_bookings(Subject::Lot, lot, BookingKind::Split)? {
            if let Detail::Parted { off } = Detail::of(&booking)?
                && let Some(made) = off.made
            {
                history.born(made, booking.id, off.piece, None);
            }
        }
        for cut in tx.cuts_of_lot(lot)? {
            let panel = cut.panel_width_um.map(Micrometres::new).transpose()?;
            for (made, panel) in [(cut.outer_id, None), (cut.strip_id, panel)] {
                if let Some(made) = made {
                    history.born(made, cut.booking_id, cut.piece_id, panel);
                }
            }
        }
        Ok(history)
    }

    fn born(&mut self, made: i64, booking: i64, parent: i64, panel: Option<Micrometres>) {
        let origin = Origin {
            booking,
            parent,
            panel,
        };
        self.origins.insert(made, origin);
    }

    pub(super) fn origin(&self, piece: i64) -> Option<Origin> {
        self.origins.get(&piece).copied()
    }

    /// Standing preparations that the cloth of a piece has been through, before it was cut off another one, too, oldest first: the booking,
    /// the piece that was prepared, and its length before.
    pub(crate) fn preparations(&self, piece: i64) -> Vec<(i64, i64, i64)> {
        self.preparations_before(piece, i64::MAX)
    }

    fn preparations_before(&self, piece: i64, end: i64) -> Vec<(i64, i64, i64)> {
        let mut all = match self.origin(piece) {
            Some(origin) => self.preparations_before(origin.parent, origin.booking.min(end)),
            None => Vec::new(),
        };
        let acts = self.measured.get(&piece).map_or(&[][..], Vec::as_slice);
        let own = acts
            .iter()
            .filter(|(booking, prepared, _)| *prepared && *booking < end);
        all.extend(own.map(|(booking, _, before)| (*booking, piece, before.quantity)));
        all
    }

    /// The full width of a piece before anything was done to it, where all that was done since worked its width out from that;
    /// none where it was measured.
    pub(super) fn first_width(&self, stored: &StoredPiece) -> Option<Micrometres> {
        let now = stored.piece.rectangle?.full;
        let acts = self
            .measured
            .get(&stored.piece.id)
            .map_or(&[][..], Vec::as_slice);
        let mut width = now;
        for (_, _, before) in acts.iter().rev() {
            let was = Micrometres::new(before.full_width?).ok()?;
            if was != width && !before.width_computed {
                return None;
            }
            width = was;
        }
        Some(width)
    }

    /// What the cloth of a piece itself became crosswise, whatever it was cut to.
    pub(super) fn changed(&self, stored: &StoredPiece, pieces: &[StoredPiece]) -> Ratio {
        self.changed_before(stored, pieces, i64::MAX)
    }

    fn changed_before(&self, stored: &StoredPiece, pieces: &[StoredPiece], end: i64) -> Ratio {
        let acts = self
            .measured
            .get(&stored.piece.id)
            .map_or(&[][..], Vec::as_slice);
        let now = stored.piece.rectangle.map(|rectangle| rectangle.full.get());
        let mut own = Ratio::UNCHANGED;
        for (index, (booking, prepared, before)) in acts.iter().enumerate() {
            let next = acts.get(index + 1).map(|(_, _, next)| next);
            let heavier = next.map_or(stored.mass_factor_ppm, |next| next.mass_factor_ppm);
            let scaled = *prepared || heavier != before.mass_factor_ppm;
            let after = next.map_or(now, |next| next.full_width);
            let widths = before
                .full_width
                .zip(after)
                .filter(|_| scaled && *booking < end);
            if let Some(step) = widths.and_then(|(was, now)| Ratio::new(was, now).ok()) {
                own = own.then(step);
            }
        }
        let Some(origin) = self.origin(stored.piece.id) else {
            return own;
        };
        match pieces.iter().find(|other| other.piece.id == origin.parent) {
            Some(parent) => self
                .changed_before(parent, pieces, origin.booking.min(end))
                .then(own),
            None => own,
        }
    }
}
