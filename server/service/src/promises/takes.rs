//! What a promise takes of its piece: all that is left of its lengths, or of its share.

use super::{Asked, lots_of_role, need_of};
use crate::{
    desk::{Desk, failure::Done},
    garments::need::NeedRecord,
    promises::fit::{self, Reason, UnitFit},
    shelf::shelved::Shelved,
};
use ellwand_domain::{
    code::LayCode,
    ledger::{Apart, Hold, LedgerError, Piece, Quantity, Rank},
    need::lengths_left,
};
use ellwand_storage::{Garment, Reservation, Tx};

/// What a promise takes of its piece.
#[derive(Debug, Clone)]
pub(crate) struct Takes {
    /// One length, or the share.
    one: UnitFit,
    /// All of it, rounded up, less what cuts drew; no less than `least`.
    pub(crate) most: Quantity,
    /// What serves what is left; nothing once the cuts fill it.
    pub(crate) least: Quantity,
    /// The lengths that are left, where it may be divided into them.
    pub(crate) apart: Option<Apart>,
}

impl Takes {
    /// Of a new promise: so many lengths, or a share.
    pub(crate) fn new(one: UnitFit, lengths: i64) -> Done<Self> {
        let times = |one: Quantity| Quantity::new(one.get().saturating_mul(lengths));
        let (most, least) = (times(one.takes)?, times(one.least)?);
        let apart = (lengths > 1).then_some(Apart {
            number: lengths,
            most: one.takes,
            least: one.least,
        });
        Ok(Self {
            one,
            most,
            least,
            apart,
        })
    }

    /// What still serves the lengths, or the share, of a hold of it.
    pub(crate) fn least_of(&self, hold: &Hold) -> Done<Quantity> {
        let number = match self.apart {
            // A part of it: as many lengths as it holds.
            Some(apart) if hold.quantity < self.least => hold
                .quantity
                .get()
                .checked_div(apart.least.get())
                .unwrap_or(0),
            _ => return Ok(self.least),
        };
        Ok(Quantity::new(self.one.least.get().saturating_mul(number))?)
    }

    /// What one length, or the share, takes: without rounding where a hold of so much gave that up.
    pub(crate) fn fit_of(&self, hold: &Hold) -> UnitFit {
        match hold.quantity == hold.least && hold.least < self.most {
            true => self.one.closely(),
            false => self.one.clone(),
        }
    }

    /// Works it out of the piece and the need as they are.
    pub(crate) fn of(
        desk: &mut Desk<'_>,
        shelved: &Shelved,
        row: &Reservation,
    ) -> Done<Result<Self, Reason>> {
        let (garment, need) = need_held(desk, row)?;
        Self::of_need(desk, (&garment, &need), shelved, row)
    }

    /// The same, to one who has its need at hand.
    pub(super) fn of_need(
        desk: &mut Desk<'_>,
        (garment, need): (&Garment, &NeedRecord),
        shelved: &Shelved,
        row: &Reservation,
    ) -> Done<Result<Self, Reason>> {
        let part = |desk: &mut Desk<'_>, part: Option<i64>| {
            let part = part.map(Quantity::new).transpose()?;
            fit::fit(desk, garment, need, shelved, part)
        };
        let one = match part(desk, row.share)? {
            Ok(one) => one,
            Err(reason) => return Ok(Err(reason)),
        };
        let cut = desk.tx.cut_of_line(row.line())?;
        let size = need.size_at(one.usable.map(|usable| usable.get()))?;
        let (whole, rest) = match row.share {
            Some(_) if cut.fills == 0 => (1, 0),
            Some(share) => (0, share.saturating_sub(cut.fills).max(0)),
            None => lengths_left(row.lengths, size, cut.fills),
        };
        let rest_fit = match rest {
            0 => None,
            rest => match part(desk, Some(rest))? {
                Ok(fit) => Some(fit),
                Err(reason) => return Ok(Err(reason)),
            },
        };
        let times = |one: Quantity, number: i64| Quantity::new(one.get().saturating_mul(number));
        let of_rest = rest_fit.as_ref().map_or(Quantity::ZERO, |fit| fit.least);
        let left = times(one.least, whole)?.plus(of_rest)?;
        let least = left.less(Quantity::new(cut.unfilled)?);
        let all = times(one.takes, row.lengths.max(1))?;
        let most = match least.is_zero() {
            true => Quantity::ZERO,
            false => all.less(Quantity::new(cut.drawn)?).max(least),
        };
        let number = whole.saturating_add(i64::from(rest > 0));
        let apart = (row.share.is_none() && number > 1).then_some(Apart {
            number,
            most: one.takes,
            least: one.least,
        });
        Ok(Ok(Self {
            one,
            most,
            least,
            apart,
        }))
    }

    /// What an ended promise held last, where that cannot be worked out any more.
    pub(super) fn as_held(tx: &mut Tx<'_>, row: &Reservation) -> Done<Self> {
        let (asked, lay) = (Asked::read(row)?, row.lay_id);
        let drawn = tx.cut_of_line(row.line())?.drawn;
        let all = asked.per_length.saturating_mul(row.lengths.max(1));
        let held = Quantity::new(all.saturating_sub(drawn).max(0))?;
        Ok(Self {
            one: UnitFit::held(asked, lay, held),
            most: held,
            least: held,
            apart: None,
        })
    }

    /// Promises it on a piece: in one stretch, or its lengths in several. `own`: promises of the same request, which give way.
    ///
    /// # Errors
    /// As [`Piece::reserve`].
    pub(crate) fn reserve(
        &self,
        piece: &mut Piece,
        rank: Rank,
        own: &[i64],
    ) -> Result<(), LedgerError> {
        match self.apart {
            Some(apart) if self.least.get() == apart.least.get().saturating_mul(apart.number) => {
                piece.reserve_apart(apart, rank, own).map(|_| ())
            }
            _ => piece
                .reserve_beside(self.least, self.most, rank, own)
                .map(|_| ()),
        }
    }

    /// The row of a promise with what it holds, and the sum that tells it: without rounding where it gave that up.
    pub(crate) fn held(
        &self,
        need: &NeedRecord,
        row: Reservation,
        hold: &Hold,
    ) -> Done<Reservation> {
        let fit = self.fit_of(hold);
        Ok(Reservation {
            asked: Asked::new(need, &fit).text()?,
            lay_id: lay_of(&fit, &row),
            held: hold.quantity.get(),
            stretch: i64::try_from(hold.stretch).unwrap_or(i64::MAX),
            ..row
        })
    }

    /// The same, written.
    pub(crate) fn write(
        &self,
        tx: &mut Tx<'_>,
        need: &NeedRecord,
        was: Reservation,
        hold: &Hold,
    ) -> Done<Reservation> {
        let row = self.held(need, was.clone(), hold)?;
        if row != was {
            tx.update_reservation(&row)?;
        }
        Ok(row)
    }
}

/// The kept lay that a promise is made by: it keeps that one where the cloth is too narrow for it now.
pub(super) fn lay_of(fit: &UnitFit, row: &Reservation) -> Option<i64> {
    fit.lay.map(LayCode::get).or(row.lay_id)
}

/// The need of a promise, as the promise is judged: while the garment whose lot it must be of has none, nothing speaks against it.
pub(super) fn need_held(tx: &mut Tx<'_>, row: &Reservation) -> Done<(Garment, NeedRecord)> {
    let (garment, mut need) = need_of(tx, row)?;
    if let Some(like) = need.same_lot_as()
        && lots_of_role(tx, like.get(), &need.row.role)?.is_empty()
    {
        need.row.same_lot_as = None;
    }
    Ok((garment, need))
}
