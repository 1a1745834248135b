//! Late charges: taking one back, and what one brought for material that goes back to where it was.
//!
//! A charge was shared by where its goods were. Where a booking before it is taken back they were elsewhere: the share goes there,
//! as if the booking had never been.

use super::{Case, Effect, cannot};
use crate::{
    desk::{
        Desk,
        detail::{ChargeShare, Detail, Priced},
        failure::Done,
    },
    shelf::lots::went::{self, Added, Ridden},
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{BookingCode, LotCode, PurchaseCode},
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
    setting::BookingKind,
};
use ellwand_storage::Booking;
use std::collections::{BTreeMap, BTreeSet};

const GONE: Account = Account::new(AccountKind::Adjustment, 0);

/// A later charge whose shares lie as the booking had moved its goods.
struct Later {
    charge: i64,
    from: Account,
    shares: Vec<ChargeShare>,
}

impl Later {
    fn read((charge, shares): (Booking, Vec<ChargeShare>)) -> Done<Self> {
        let from = source_of(&Detail::of(&charge)?)?;
        Ok(Self {
            charge: charge.id,
            from,
            shares,
        })
    }

    /// What lies of it in a place for a lot.
    fn at(&self, place: Account, lot: i64) -> i64 {
        let own = self.shares.iter();
        own.filter(|share| (share.place, share.lot) == (place, lot))
            .map(|share| share.value)
            .sum()
    }
}

/// As much of a share as there is of it.
fn within(share: i64, there: i64) -> i64 {
    share.clamp(there.min(0), there.max(0))
}

fn source_of(detail: &Detail) -> Done<Account> {
    match detail {
        Detail::Charged { from, .. } => Ok(*from),
        _ => Err(Problem::new(ProblemType::Internal, "it is no late charge").into()),
    }
}

/// The movement that brought a share to its place.
fn line(from: Account, share: &ChargeShare) -> Done<Movement> {
    let value = Millionths::new(share.value.saturating_abs())?;
    let receipt = Movement::new(from, share.place, Quantity::ZERO, value);
    Ok(if share.value < 0 {
        receipt.reversed()
    } else {
        receipt
    })
}

impl Effect {
    /// A share of a charge for a lot goes from one place to another.
    fn share(
        &mut self,
        later: &Later,
        lot: i64,
        (from, to): (Account, Account),
        value: i64,
    ) -> Done<()> {
        if value == 0 {
            return Ok(());
        }
        for (place, value) in [(from, value.saturating_neg()), (to, value)] {
            let share = ChargeShare { lot, place, value };
            self.movements.push(line(later.from, &share)?);
            self.moved.push((later.charge, share));
        }
        Ok(())
    }
}

impl Case {
    /// The opposite of what it moved, and the shares of later charges that go along.
    pub(super) fn opposite(
        &self,
        desk: &mut Desk<'_>,
        made: &BTreeSet<i64>,
        effect: &mut Effect,
    ) -> Done<()> {
        let opposite = self.movements.iter().rev().map(|line| line.reversed());
        match (&self.detail, self.kind()) {
            (Detail::Charged { .. }, _) => self.uncharge(desk, effect),
            (_, BookingKind::Finished | BookingKind::Cancelled) => {
                // A layer is not emptied before what was charged on it has left.
                self.shares_to_garment(desk, made, effect)?;
                effect.movements.extend(opposite);
                Ok(())
            }
            _ => {
                effect.movements.extend(opposite);
                self.shares_to_shelf(desk, made, effect)
            }
        }
    }

    fn later(&self, desk: &mut Desk<'_>, lots: &BTreeSet<i64>) -> Done<Vec<Later>> {
        let charges = went::charges_since(desk, lots, self.target.id)?;
        charges.into_iter().map(Later::read).collect()
    }

    /// What was cut off goes back to the shelf, and so does what was charged for it.
    fn shares_to_shelf(
        &self,
        desk: &mut Desk<'_>,
        made: &BTreeSet<i64>,
        effect: &mut Effect,
    ) -> Done<()> {
        let Some(piece) = self.cut_off() else {
            return Ok(());
        };
        let lot = desk.tx.piece(piece)?.map_or(0, |stored| stored.lot_id);
        let left = |kind| !matches!(kind, AccountKind::Piece | AccountKind::NormalLoss);
        let left = went::carried(desk, self.target.id, lot, left)?;
        let mut lots: BTreeSet<i64> = left.iter().map(|ridden| ridden.lot).collect();
        lots.insert(lot);
        let charges = self.later(desk, &lots)?;
        if charges.is_empty() {
            return Ok(());
        }
        let to = self.movements.iter().map(|line| line.to);
        let garment = to.into_iter().find(|to| to.kind == AccountKind::Garment);
        let added = match garment {
            Some(garment) => went::charged_on_cuts(desk, garment.id)?,
            None => Vec::new(),
        };
        for later in &charges {
            for made in made {
                let (from, to) = (Account::piece(*made), Account::piece(piece));
                effect.share(later, lot, (from, to), later.at(from, lot))?;
            }
            for ridden in &left {
                let home = self.home(desk, ridden.lot, piece)?;
                let (from, value) = match garment {
                    Some(garment) => {
                        let own = |added: &&Added| {
                            (added.charge, added.cut, added.lot)
                                == (later.charge, self.target.id, ridden.lot)
                        };
                        let own = added.iter().filter(own).map(|added| added.value);
                        (garment, own.sum())
                    }
                    None => (
                        GONE,
                        within(
                            went::part_of_charge(desk, ridden, &later.shares)?,
                            later.at(GONE, ridden.lot),
                        ),
                    ),
                };
                effect.share(later, ridden.lot, (from, home), value)?;
            }
        }
        Ok(())
    }

    /// Where the cost of a lot lay before this booking took it: its layer, its pool, or the piece.
    fn home(&self, desk: &mut Desk<'_>, lot: i64, piece: i64) -> Done<Account> {
        let mut home = Account::piece(piece);
        for place in self.movements.iter().flat_map(|line| [line.from, line.to]) {
            if place.kind == AccountKind::Layer {
                match desk.tx.layer(place.id)?.and_then(|layer| layer.lot_id) {
                    Some(own) if own != lot => {}
                    _ => home = place,
                }
            }
        }
        Ok(home)
    }

    /// A garment that is in hand again has again what was charged for what it holds.
    fn shares_to_garment(
        &self,
        desk: &mut Desk<'_>,
        made: &BTreeSet<i64>,
        effect: &mut Effect,
    ) -> Done<()> {
        let Detail::Moved { garment } = self.detail else {
            return Ok(());
        };
        let own = Account::garment(garment);
        let (held, _) = went::held_by(desk, garment)?;
        let lots: BTreeSet<i64> = held.iter().map(|ridden| ridden.lot).collect();
        let charges = self.later(desk, &lots)?;
        let to = self.movements.iter().map(|line| line.to);
        let mut other = to.filter(|to| to.kind == AccountKind::Garment && *to != own);
        if let Some(other) = other.next() {
            let cuts: BTreeSet<i64> = held.iter().map(|ridden| ridden.cut).collect();
            let added = match charges.is_empty() {
                true => Vec::new(),
                false => went::charged_on_cuts(desk, other.id)?,
            };
            for later in &charges {
                let own_cuts = added
                    .iter()
                    .filter(|added| added.charge == later.charge && cuts.contains(&added.cut));
                for added in own_cuts {
                    effect.share(later, added.lot, (other, own), added.value)?;
                }
            }
            return Ok(());
        }
        for later in &charges {
            for lot in &lots {
                self.shares_of_lot(desk, made, (later, *lot, own), &held, effect)?;
            }
        }
        Ok(())
    }

    /// What was charged on a lot goes with the garment: off the pieces and layers where it had gone back, and off what is gone.
    fn shares_of_lot(
        &self,
        desk: &mut Desk<'_>,
        made: &BTreeSet<i64>,
        (later, lot, garment): (&Later, i64, Account),
        held: &[Ridden],
        effect: &mut Effect,
    ) -> Done<()> {
        let mut open = 0_i64;
        for ridden in held.iter().filter(|ridden| ridden.lot == lot) {
            open = open.saturating_add(went::part_of_charge(desk, ridden, &later.shares)?);
        }
        for piece in made {
            let from = Account::piece(*piece);
            let value = later.at(from, lot);
            open = open.saturating_sub(value);
            effect.share(later, lot, (from, garment), value)?;
        }
        let back = went::carried(desk, self.target.id, 0, |kind| kind == AccountKind::Layer)?;
        for ridden in back.iter().filter(|ridden| ridden.lot == lot) {
            let from = self.home(desk, lot, 0)?;
            let value = within(
                went::part_of_charge(desk, ridden, &later.shares)?,
                later.at(from, lot),
            );
            open = open.saturating_sub(value);
            effect.share(later, lot, (from, garment), value)?;
        }
        let value = within(open, later.at(GONE, lot));
        effect.share(later, lot, (GONE, garment), value)
    }

    /// Takes a late charge back from where its shares lie now.
    fn uncharge(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let from = source_of(&self.detail)?;
        let shares = went::shares_of(desk, &self.target)?;
        let mut places: BTreeMap<Account, i64> = BTreeMap::new();
        for share in &shares {
            let sum = places.entry(share.place).or_default();
            *sum = sum.saturating_add(share.value);
        }
        for (place, _) in places.into_iter().filter(|(_, value)| *value != 0) {
            match place.kind {
                AccountKind::Piece | AccountKind::Layer => self.undrawn(desk, place)?,
                AccountKind::Garment => drop(self.garment_open(desk, place.id)?),
                _ => {}
            }
        }
        for share in shares.iter().rev() {
            effect.movements.push(line(from, share)?.reversed());
        }
        Ok(())
    }

    /// Refuses when value left a piece or layer since: a share of the charge went with it.
    fn undrawn(&self, desk: &mut Desk<'_>, place: Account) -> Done<()> {
        let Some(later) = desk.tx.taking_since(place, self.target.id)? else {
            return Ok(());
        };
        let later = BookingCode::new(later);
        let detail = format!("{later} took a share of the charge with it");
        let hint =
            format!("take that back first: ellwand undo {later}; or book the charge's opposite");
        Err(cannot(detail, &hint).naming("booking", later))
    }

    /// The purchase, its lines and its lots cost what they did before the charge.
    pub(super) fn charge_rows_back(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let Detail::Charged {
            from,
            shares,
            home,
            priced,
        } = &self.detail
        else {
            return Ok(());
        };
        for mut line in desk.tx.purchase_lines(from.id)? {
            let own = shares.iter().filter(|share| share.lot == line.lot_id);
            let gain: i64 = own.map(|share| share.value).sum();
            let priced = priced.filter(|priced| priced.lot == line.lot_id);
            if gain == 0 && priced.is_none() {
                continue;
            }
            line.landed -= gain;
            if let Some(priced) = priced {
                line.price_minor = priced.was.unwrap_or(0);
            }
            desk.tx.update_purchase_line(&line)?;
            if let Some(mut lot) = desk.tx.lot(line.lot_id)? {
                lot.landed -= gain;
                if let Some(priced) = priced {
                    lot.unpriced = priced.was.is_none();
                    lot.value_estimated = priced.estimated;
                }
                desk.tx.update_lot(&lot)?;
            }
        }
        let mut row = self.purchase(desk, from.id)?;
        row.home_value -= home;
        desk.tx.update_purchase(&row)?;
        let code = PurchaseCode::new(from.id);
        effect.notes.push(match priced {
            Some(Priced { lot, was: None, .. }) => {
                format!("the price of {} is unknown again", LotCode::new(*lot))
            }
            Some(Priced { lot, .. }) => {
                format!("the price of {} is what it was again", LotCode::new(*lot))
            }
            None => format!("the charge on {code} is removed again"),
        });
        Ok(())
    }
}
