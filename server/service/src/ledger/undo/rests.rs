//! What was booked since and still stands: what an undo must not pull the ground from under.

use super::{Case, first, first_back, wording};
use crate::{
    desk::{
        Desk,
        detail::Detail,
        failure::{Done, not_found},
    },
    shelf::{lots::went, shelved::Shelved},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode},
    ledger::{Account, AccountKind, Movement},
    setting::{BookingKind, Facet, GarmentState},
};
use ellwand_storage::{Garment, Subject};
use std::{cmp::Reverse, collections::BTreeSet};

/// True for what moved cloth; a late charge moves value alone.
fn moves(line: &Movement) -> bool {
    !line.quantity_out.is_zero() || !line.quantity_in.is_zero()
}

impl Case {
    /// Refuses where a later booking wrote a facet that this one wrote, or rests on it.
    pub(super) fn facets_stand(&self, desk: &mut Desk<'_>) -> Done<()> {
        for trace in &self.traces {
            let (facet, id) = (trace.facet, trace.subject_id);
            let later = desk
                .tx
                .traced_since(facet, id, &trace.part, self.target.id)?;
            if let Some(later) = later.first() {
                let detail = wording::stands(desk, trace, BookingCode::new(*later))?;
                return Err(first_back(detail, BookingCode::new(*later)));
            }
        }
        Ok(())
    }

    /// Refuses where something was taken since of what this booking brought or changed, so that its cost or its length rests
    /// on that.
    pub(super) fn sums_stand(&self, desk: &mut Desk<'_>, made: &BTreeSet<i64>) -> Done<()> {
        for piece in made {
            self.made_stands(desk, *piece)?;
        }
        for line in self.movements.iter().filter(|line| moves(line)) {
            for place in [line.from, line.to] {
                if place.kind == AccountKind::Piece && !made.contains(&place.id) {
                    self.same_since(desk, place.id, "measured or marked")?;
                }
            }
        }
        if self.kind().takes() || self.kind() == BookingKind::Charged {
            return Ok(());
        }
        for trace in &self.traces {
            let piece = trace.subject_id;
            if matches!(trace.facet, Facet::Length | Facet::Flaws)
                && let Some(later) = self.moved_since(desk, piece)?
            {
                let code = Shelved::load_row(desk, piece)?.code();
                let detail = format!("{code} has been cut or changed since, by {later}");
                return Err(first_back(detail, later).naming("piece", code));
            }
        }
        self.untaken(desk, made)?;
        let loses = |line: &Movement| !line.value.is_zero();
        match self.kind() {
            BookingKind::Measured | BookingKind::Edited if self.movements.iter().any(loses) => {
                self.uncharged(desk)
            }
            _ => Ok(()),
        }
    }

    /// Refuses where a piece was said to be so long since, or a flaw was marked on it.
    fn same_since(&self, desk: &mut Desk<'_>, piece: i64, what: &str) -> Done<()> {
        let mut later = desk
            .tx
            .traced_since(Facet::Length, piece, "", self.target.id)?;
        later.extend(
            desk.tx
                .traced_since(Facet::Flaws, piece, "", self.target.id)?,
        );
        self.unless(desk, piece, what, later)
    }

    fn unless(&self, desk: &mut Desk<'_>, piece: i64, what: &str, later: Vec<i64>) -> Done<()> {
        let Some(later) = later.into_iter().min().map(BookingCode::new) else {
            return Ok(());
        };
        let code = Shelved::load_row(desk, piece)?.code();
        let detail = format!("{code} has been {what} since, by {later}");
        Err(first_back(detail, later).naming("piece", code))
    }

    /// Refuses where a piece that it made was used or changed since.
    fn made_stands(&self, desk: &mut Desk<'_>, piece: i64) -> Done<()> {
        let what = "used or changed";
        let later = self.moved_since(desk, piece)?.map(BookingCode::get);
        self.unless(desk, piece, what, later.into_iter().collect())?;
        self.same_since(desk, piece, what)
    }

    /// Refuses where thread or trims were taken since off what this booking brought, at a cost that rests on it.
    fn untaken(&self, desk: &mut Desk<'_>, made: &BTreeSet<i64>) -> Done<()> {
        let back = self.kind() == BookingKind::Cancelled;
        let places = self.movements.iter().flat_map(|line| [line.from, line.to]);
        let places: BTreeSet<Account> = places
            .filter(|place| match place.kind {
                AccountKind::Layer => true,
                AccountKind::Piece => back && !made.contains(&place.id),
                _ => false,
            })
            .collect();
        for place in places {
            if let Some(later) = desk.tx.taking_since(place, self.target.id)? {
                let (later, code) = (BookingCode::new(later), self.code());
                let detail = format!(
                    "thread or trims have been used since, by {later}, at a cost that rests on {code}"
                );
                return Err(first_back(detail, later));
            }
        }
        Ok(())
    }

    /// Refuses when a late charge or credit was shared since by value that this booking lost.
    fn uncharged(&self, desk: &mut Desk<'_>) -> Done<()> {
        let lost = went::carried(desk, self.target.id, 0, |kind| {
            kind == AccountKind::NormalLoss
        })?;
        let lots: BTreeSet<i64> = lost.iter().map(|ridden| ridden.lot).collect();
        match went::charges_since(desk, &lots, self.target.id)?.first() {
            None => Ok(()),
            Some((charge, _)) => {
                let charge = BookingCode::new(charge.id);
                let lots: Vec<String> = lots
                    .iter()
                    .map(|lot| LotCode::new(*lot).to_string())
                    .collect();
                let lots = lots.join(", ");
                let detail =
                    format!("{charge} charged or credited {lots} since, shared by where it was");
                Err(first_back(detail, charge))
            }
        }
    }

    /// The piece off which it took a length.
    pub(super) fn cut_off(&self) -> Option<i64> {
        match &self.detail {
            Detail::Cut(cut) => Some(cut.piece),
            Detail::Parted { off } => Some(off.piece),
            _ => None,
        }
    }

    /// Pieces that there were none of before this booking.
    pub(super) fn made(&self, desk: &mut Desk<'_>) -> Done<BTreeSet<i64>> {
        let mut made = BTreeSet::new();
        for line in &self.movements {
            if line.to.kind == AccountKind::Piece && !line.quantity_in.is_zero() {
                let movements = desk.tx.movements_at(line.to)?;
                let begun = movements.first().map(|(stored, _)| stored.booking);
                made.extend((begun == Some(self.target.id)).then_some(line.to.id));
            }
        }
        Ok(made)
    }

    /// The first later booking that stands, of movements at a place that count.
    pub(super) fn since(
        &self,
        desk: &mut Desk<'_>,
        place: Account,
        counts: impl Fn(&Movement) -> bool,
    ) -> Done<Option<BookingCode>> {
        let movements = desk.tx.movements_at(place)?.into_iter();
        let mut later: Vec<i64> = movements
            .map(|(stored, _)| stored)
            .filter(|stored| stored.booking > self.target.id && counts(&stored.movement))
            .map(|stored| stored.booking)
            .collect();
        later.dedup();
        let undone = desk.tx.undone_among(&later)?;
        let stands = |id: &i64| !undone.iter().any(|(one, other)| id == one || id == other);
        Ok(later.into_iter().find(stands).map(BookingCode::new))
    }

    /// The first that took something off a piece or gave it something.
    fn moved_since(&self, desk: &mut Desk<'_>, piece: i64) -> Done<Option<BookingCode>> {
        self.since(desk, Account::piece(piece), moves)
    }

    /// Refuses when the garment is finished or beyond.
    pub(super) fn garment_open(&self, desk: &mut Desk<'_>, garment: i64) -> Done<Garment> {
        let code = GarmentCode::new(garment);
        let row = desk
            .tx
            .garment(garment)?
            .ok_or_else(|| not_found(format!("garment {code}"), "see ellwand garment list"))?;
        match row.state {
            GarmentState::Planned | GarmentState::CutInto => Ok(row),
            state => {
                let ended = [
                    BookingKind::Finished,
                    BookingKind::Delivered,
                    BookingKind::Cancelled,
                ];
                let by = self.other_bookings(desk, garment, &ended)?;
                let refused = match by.first() {
                    Some(by) => first_back(format!("{code} is {state}, by {by}"), *by),
                    None => first(format!("{code} is {state}")),
                };
                Err(refused.naming("garment", code).naming("state", state))
            }
        }
    }

    /// Refuses when a garment would give back more value than it holds: part of it was credited since.
    pub(super) fn garments_can_give(&self, desk: &mut Desk<'_>, opposite: &[Movement]) -> Done<()> {
        let given = opposite.iter().map(|movement| movement.from);
        let garments: BTreeSet<Account> = given
            .filter(|from| from.kind == AccountKind::Garment)
            .collect();
        for garment in garments {
            let before = desk.tx.movements_at(garment)?.into_iter();
            let before = before.map(|(stored, _)| stored.movement);
            let worth: i64 = before
                .chain(opposite.iter().copied())
                .map(|line| match (line.to == garment, line.from == garment) {
                    (true, _) => line.value.get(),
                    (_, true) => -line.value.get(),
                    _ => 0,
                })
                .sum();
            if worth < 0 {
                let (code, own) = (GarmentCode::new(garment.id), self.code());
                let by = self.since(desk, garment, |line| line.from == garment)?;
                let detail = format!(
                    "part of what {own} gave to {code} has been credited or moved on since"
                );
                let refused = match by {
                    Some(by) => first_back(format!("{detail}, by {by}"), by),
                    None => first(detail),
                };
                return Err(refused.naming("garment", code));
            }
        }
        Ok(())
    }

    /// Other standing bookings of these kinds on a garment, newest first.
    pub(super) fn other_bookings(
        &self,
        desk: &mut Desk<'_>,
        garment: i64,
        kinds: &[BookingKind],
    ) -> Done<Vec<BookingCode>> {
        let mut bookings = Vec::new();
        for kind in kinds {
            bookings.extend(
                desk.tx
                    .standing_bookings(Subject::Garment, garment, *kind)?,
            );
        }
        bookings.retain(|booking| booking.id != self.target.id);
        bookings.sort_by_key(|booking| Reverse(booking.id));
        Ok(bookings
            .iter()
            .map(|booking| BookingCode::new(booking.id))
            .collect())
    }
}
