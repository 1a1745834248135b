//! Sets of a counted trim that are promised in parts, from several pieces of one lot.
//!
//! A set serves one unit of its need once all of it is promised or cut. The unit stands on the last of its promises that is
//! active until the cuts alone fill the set: the cut that fills it counts the unit, and what is left of it carries none. An
//! incomplete set counts none.

use super::need_of;
use crate::{context::Context, failure::Done};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{GarmentCode, LotCode, ReservationCode},
    ledger::Quantity,
    setting::ReservationState,
};
use ellwand_storage::{Need, Reservation, Tx};
use std::collections::{BTreeMap, BTreeSet};

/// A set that was begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Set {
    /// Its first promise.
    pub(crate) id: i64,
    pub(crate) lot: i64,
    /// Its active promises, oldest first.
    pub(crate) active: Vec<Reservation>,
    /// Promised or cut of it.
    pub(crate) have: i64,
    /// Cut of it.
    drawn: i64,
    /// Units of the need that its cuts have served.
    served: i64,
}

impl Set {
    /// How many of `each` it lacks; 0 when it is whole, was served, or nothing of it stands any more.
    pub(crate) fn missing(&self, each: i64) -> i64 {
        if self.have == 0 || self.served > 0 {
            0
        } else {
            each.saturating_sub(self.have).max(0)
        }
    }
}

/// Sets of a need, those that are promised first, in the order they were begun; promises whose last day has passed are left out.
pub(crate) fn sets_of(tx: &mut Tx<'_>, need: &Need, today: Option<NaiveDate>) -> Done<Vec<Set>> {
    let rows = tx.reservations_of_garment(need.garment_id)?;
    let mut of_set: BTreeMap<i64, Vec<Reservation>> = BTreeMap::new();
    for row in rows.into_iter().filter(|row| row.need_id == need.id) {
        if let Some(set) = row.set_id {
            of_set.entry(set).or_default().push(row);
        }
    }
    if of_set.is_empty() {
        return Ok(Vec::new());
    }
    let cuts = tx.cuts_of_need(need.id)?;
    let mut sets = Vec::with_capacity(of_set.len());
    for (id, rows) in of_set {
        let own = |reservation: Option<i64>| rows.iter().any(|row| Some(row.id) == reservation);
        let cuts = cuts.iter().filter(|cut| own(cut.reservation_id));
        let (drawn, served) = cuts.fold((0_i64, 0), |(drawn, served), cut| {
            (drawn.saturating_add(cut.drawn), served + cut.units)
        });
        let lot = match rows.first() {
            Some(row) => tx.piece(row.piece_id)?.map_or(0, |piece| piece.lot_id),
            None => 0,
        };
        let mut active = rows;
        active.retain(|row| row.state.0 == ReservationState::Active);
        active.retain(|row| row.until.zip(today).is_none_or(|(day, today)| day >= today));
        let have = active
            .iter()
            .fold(drawn, |sum, row| sum.saturating_add(row.held));
        sets.push(Set {
            id,
            lot,
            active,
            have,
            drawn,
            served,
        });
    }
    sets.sort_by_key(|set| set.active.is_empty());
    Ok(sets)
}

/// Puts the unit of a set where it belongs after one of its promises was made, ended or cut, while its need has one open.
/// `drawn` and `served`: what a cut that is not booked yet takes, or one that is being taken back gives. Answers the units that
/// such a cut serves: one when the cuts alone fill the set with it.
pub(crate) fn recount(tx: &mut Tx<'_>, row: &Reservation, drawn: i64, served: i64) -> Done<i64> {
    let Some(id) = row.set_id else { return Ok(0) };
    let (_, need) = need_of(tx, row)?;
    let each = need.per_unit.map_or(0, Quantity::get);
    let Some(set) = sets_of(tx, &need.row, None)?
        .into_iter()
        .find(|set| set.id == id)
    else {
        return Ok(0);
    };
    let unserved = set.served.saturating_add(served) == 0;
    let room = unserved && has_room(tx, &need.row, &set, row)?;
    let whole = room && set.have.saturating_add(drawn) >= each;
    let by_cut = whole && drawn > 0 && set.drawn.saturating_add(drawn) >= each;
    let last = set
        .active
        .last()
        .map(|row| row.id)
        .filter(|_| whole && !by_cut);
    for mut row in set.active {
        let units = i64::from(Some(row.id) == last);
        if row.units != units {
            row.units = units;
            tx.update_reservation(&row)?;
        }
    }
    Ok(i64::from(by_cut))
}

/// True when the need has a unit for the set: it has one already (`row` was its last promise, perhaps), or one is open.
fn has_room(tx: &mut Tx<'_>, need: &Need, set: &Set, row: &Reservation) -> Done<bool> {
    if row.units > 0 || set.active.iter().any(|row| row.units > 0) {
        return Ok(true);
    }
    let mut others = tx.active_reservations_of_garment(need.garment_id)?;
    others.retain(|row| row.need_id == need.id);
    let promised: i64 = others.iter().map(|row| row.units).sum();
    Ok(need.units_cut.saturating_add(promised) < need.units)
}

/// What is to be said of the incomplete sets among these promises, each once.
pub(crate) fn notes(tx: &mut Tx<'_>, context: &Context<'_>, ids: &[i64]) -> Done<Vec<String>> {
    let (mut said, mut notes) = (BTreeSet::new(), Vec::new());
    for id in ids {
        let row = super::row(tx, *id)?;
        let Some(set) = row.set_id.filter(|set| said.insert(*set)) else {
            continue;
        };
        let (_, need) = need_of(tx, &row)?;
        let sets = sets_of(tx, &need.row, Some(context.today))?;
        let each = need.per_unit.map_or(0, Quantity::get);
        notes.extend(
            sets.iter()
                .filter(|other| other.id == set)
                .filter_map(|set| told(set, &need.row, each)),
        );
    }
    Ok(notes)
}

/// An incomplete set in words.
pub(crate) fn told(set: &Set, need: &Need, each: i64) -> Option<String> {
    let missing = Some(set.missing(each)).filter(|missing| *missing > 0)?;
    let (garment, lot) = (GarmentCode::new(need.garment_id), LotCode::new(set.lot));
    let codes: Vec<String> = set
        .active
        .iter()
        .map(|row| ReservationCode::new(row.id).to_string())
        .collect();
    let otherwise = match codes.is_empty() {
        true => "or take the cut back".to_owned(),
        false => format!("or release {}", codes.join(", ")),
    };
    Some(format!(
        "set incomplete: the {} of {garment} have {} of {each}, all of {lot}; promise {missing} more of {lot} (ellwand candidates \
         {garment}), {otherwise}",
        need.role, set.have
    ))
}

/// The cut that counted the unit of this promise's set, other than `booking`, while the set is not full without `booking`.
pub(crate) fn counted_by(tx: &mut Tx<'_>, reservation: i64, booking: i64) -> Done<Option<i64>> {
    let row = super::row(tx, reservation)?;
    let Some(set) = row.set_id else {
        return Ok(None);
    };
    let (garment, need) = need_of(tx, &row)?;
    let rows = tx.reservations_of_garment(garment.id)?;
    let own = |id: Option<i64>| {
        rows.iter()
            .any(|row| Some(row.id) == id && row.set_id == Some(set))
    };
    let mut cuts = tx.cuts_of_need(need.row.id)?;
    cuts.retain(|cut| cut.booking_id != booking && own(cut.reservation_id));
    let drawn = cuts
        .iter()
        .fold(0_i64, |sum, cut| sum.saturating_add(cut.drawn));
    if drawn >= need.per_unit.map_or(0, Quantity::get) {
        return Ok(None);
    }
    Ok(cuts
        .iter()
        .find(|cut| cut.units > 0)
        .map(|cut| cut.booking_id))
}
