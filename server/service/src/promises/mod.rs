//! Promises between acts: ended, recomputed and settled when their piece changes (rules 3 and 6).

mod again;
mod asked;
pub(crate) mod candidates;
mod conditions;
mod cost;
mod filled;
pub(crate) mod fit;
pub(crate) mod lay;
pub(crate) mod panel;
mod parts;
mod refusal;
pub(crate) mod repeats;
pub(crate) mod reservations;
mod rounding;
mod settle;
mod takes;

pub(crate) use again::{last_for, promise_again, surplus};
pub(crate) use asked::Asked;
pub(crate) use conditions::{resettle_bound_to, resettle_lot, resettle_stiffness};
pub(crate) use cost::Costs;
pub(crate) use filled::{Filled, Standing, lots_of_role};
pub(crate) use parts::divide;
pub(crate) use refusal::refusal;
pub(crate) use rounding::{gave_up, with_room};
pub(crate) use settle::{resettle, resettle_last};
pub(crate) use takes::Takes;

use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
    shelf::{shelved::Shelved, worth::Worth},
};
use ellwand_contract::{Metres, Problem, ProblemType, reservations::Reservation as View};
use ellwand_domain::{
    code::{GarmentCode, LayCode, ReservationCode},
    ledger::{LedgerError, Quantity},
    quantity::Micrometres,
    setting::{LengthBy, QuotationState, ReservationState},
};
use ellwand_storage::{Garment, Reservation, Tx};
use std::collections::{BTreeSet, HashMap, hash_map::Entry};

/// Promises that an act touched besides its own.
#[derive(Debug, Default)]
pub(crate) struct Settled {
    pub(crate) changed: Vec<i64>,
    pub(crate) broken: Vec<i64>,
    /// Promises that became two, with the new one.
    pub(crate) divided: Vec<(i64, i64)>,
}

impl Settled {
    /// Takes over what else the same act touched, each promise once.
    pub(crate) fn add(&mut self, other: Self) {
        let Self {
            changed,
            broken,
            divided,
        } = other;
        self.divided.extend(divided);
        let changed = changed.into_iter().filter(|id| !self.changed.contains(id));
        let changed: Vec<i64> = changed.filter(|id| !self.broken.contains(id)).collect();
        self.changed.extend(changed);
        self.changed.retain(|id| !broken.contains(id));
        self.broken.extend(broken);
    }
}

/// What settling did, a line each.
pub(crate) fn settled_notes(tx: &mut Tx<'_>, settled: &Settled) -> Done<Vec<String>> {
    let mut notes = Vec::new();
    for (id, new) in &settled.divided {
        let (id, new) = (ReservationCode::new(*id), ReservationCode::new(*new));
        notes.push(format!(
            "{id} now lies in several stretches: {new} holds part of it"
        ));
    }
    let new = |id: &&i64| !settled.divided.iter().any(|(_, new)| new == *id);
    for id in settled.changed.iter().filter(new) {
        let row = row(tx, *id)?;
        let piece = Shelved::load_row(tx, row.piece_id)?.code();
        let by = by_lay(&row)?.map_or_else(String::new, |by| format!(", {by}"));
        notes.push(format!(
            "{} now holds another length of {piece}{by}",
            ReservationCode::new(*id)
        ));
    }
    for id in &settled.broken {
        let row = row(tx, *id)?;
        let (garment, code) = (need_of(tx, &row)?.0, ReservationCode::new(*id));
        let why = row.ended_because.unwrap_or_default();
        notes.push(format!(
            "{code} of {} no longer fits: {why}",
            GarmentCode::new(garment.id)
        ));
    }
    Ok(notes)
}

/// The need and garment behind a promise; only the kept lays count that it was made by.
pub(crate) fn need_of(tx: &mut Tx<'_>, row: &Reservation) -> Done<(Garment, NeedRecord)> {
    let missing = || {
        Problem::new(
            ProblemType::Internal,
            format!("the need of {} is missing", ReservationCode::new(row.id)),
        )
    };
    let need = tx.need(row.need_id)?.ok_or_else(missing)?;
    let garment = tx.garment(need.garment_id)?.ok_or_else(missing)?;
    let mut need = NeedRecord::load(tx, need, &garment)?;
    need.rest_on(row.lay_id);
    Ok((garment, need))
}

/// True when an accepted quotation stands behind a garment's promises (rule 6).
pub(crate) fn agreed(tx: &mut Tx<'_>, garment: i64) -> Done<bool> {
    Ok(!tx
        .quotations(Some(QuotationState::Accepted), Some(garment), i64::MAX, 1)?
        .is_empty())
}

/// What a promise that was made by a kept lay goes by now: `by Y7`.
fn by_lay(row: &Reservation) -> Done<Option<String>> {
    let Some(lay) = row.lay_id.map(LayCode::new) else {
        return Ok(None);
    };
    Ok(Some(match Asked::read(row)?.length_by {
        Some(LengthBy::Kept) => format!("by {lay}"),
        Some(LengthBy::OwnLay) => format!("by your own lay: {lay} is wider"),
        _ => format!("in rows: {lay} is wider"),
    }))
}

/// A promise's row; it must be there.
pub(crate) fn row(tx: &mut Tx<'_>, id: i64) -> Done<Reservation> {
    let code = ReservationCode::new(id);
    Ok(tx.reservation(id)?.ok_or_else(|| {
        Problem::new(
            ProblemType::NotFound,
            format!("there is no reservation {code}"),
        )
        .hint("see ellwand garment list, then ellwand garment promises for the garment")
    })?)
}

/// A promise as it is shown.
pub(crate) fn view(desk: &mut Desk<'_>, row: &Reservation) -> Done<View> {
    view_with(desk, row, &mut Views::default())
}

/// What several promises are shown by, each layer and need read once.
#[derive(Default)]
pub(crate) struct Views {
    pub(crate) costs: Costs,
    filled: HashMap<i64, Filled>,
}

impl Views {
    /// A promise as it is shown, to one who has its need and piece at hand.
    pub(crate) fn view(
        &mut self,
        desk: &mut Desk<'_>,
        row: &Reservation,
        need: &NeedRecord,
        shelved: &Shelved,
    ) -> Done<View> {
        let units = self.units(desk, need, row)?;
        self.view_of(desk, (row, units), need, shelved)
    }

    /// The same, to one who has counted the units that it fills.
    pub(crate) fn view_of(
        &mut self,
        desk: &mut Desk<'_>,
        (row, units): (&Reservation, i64),
        need: &NeedRecord,
        shelved: &Shelved,
    ) -> Done<View> {
        let units = match row.state {
            ReservationState::Active => units,
            _ => row.lengths,
        };
        let cost = self.costs.of(desk, row, need, shelved)?;
        shown(desk.context, (row, units), need, shelved, cost)
    }

    /// Units that a promise fills; those that it was of once it has ended.
    fn units(&mut self, desk: &mut Desk<'_>, need: &NeedRecord, row: &Reservation) -> Done<i64> {
        if row.state != ReservationState::Active {
            return Ok(0);
        }
        let filled = match self.filled.entry(need.row.id) {
            Entry::Occupied(known) => known.into_mut(),
            Entry::Vacant(new) => new.insert(Filled::read(desk, need)?),
        };
        Ok(filled.units_of(row))
    }
}

/// A promise as it is shown beside others, whose layers are read once.
pub(crate) fn view_with(desk: &mut Desk<'_>, row: &Reservation, views: &mut Views) -> Done<View> {
    let (_, need) = need_of(desk, row)?;
    let shelved = Shelved::load_row(desk, row.piece_id)?;
    views.view(desk, row, &need, &shelved)
}

/// A promise as it is shown, to one who has its need and piece at hand; of the piece, only what never changes is read.
pub(crate) fn shown(
    context: &Context<'_>,
    (row, units): (&Reservation, i64),
    need: &NeedRecord,
    shelved: &Shelved,
    cost: Worth,
) -> Done<View> {
    let asked = Asked::read(row)?;
    let metres = |um: Option<i64>| um.and_then(|um| Micrometres::new(um).ok()).map(Metres);
    let overdue =
        row.state == ReservationState::Active && row.until.is_some_and(|day| day < context.today);
    let (state, held) = match overdue {
        true => (ReservationState::Expired, 0),
        false => (row.state, row.held),
    };
    let because = match overdue {
        true => row.until.map(|day| format!("its last day was {day}")),
        false => row.ended_because.clone(),
    };
    let mut steps = asked.steps.clone();
    if row.lengths > 1 {
        let one = shelved.show_taken(context, Quantity::new(asked.per_length)?);
        let all = asked.per_length.saturating_mul(row.lengths);
        let all = shelved.show_taken(context, Quantity::new(all)?);
        steps.push(format!("{} × {one} = {all}", row.lengths));
    }
    Ok(View {
        reservation: ReservationCode::new(row.id),
        garment: GarmentCode::new(need.row.garment_id),
        need: need.row.role.clone(),
        piece: shelved.code(),
        state,
        units,
        share: row
            .share
            .map(|share| Quantity::new(share).map(|share| shelved.amount(share)))
            .transpose()?,
        washed_length_m: metres(asked.washed_um),
        washed_width_m: metres(asked.width_um),
        preparation: asked.preparation,
        basis: asked.basis,
        length_by: asked.length_by,
        lay: row.lay_id.map(LayCode::new),
        shrinkage: asked.shrinkage,
        directions: asked.directions,
        held: shelved.amount(Quantity::new(held)?),
        cost: cost.micro(),
        cost_certainty: cost.certainty,
        steps,
        until: row.until,
        ended_because: because,
    })
}

/// What is to be said of needs that these promises leave a unit begun of, each once.
pub(crate) fn notes(desk: &mut Desk<'_>, ids: &[i64]) -> Done<Vec<String>> {
    let (mut needs, mut notes) = (BTreeSet::new(), Vec::new());
    for id in ids {
        let row = row(desk, *id)?;
        if row.share.is_some() && needs.insert(row.need_id) {
            let (_, need) = need_of(desk, &row)?;
            notes.extend(Filled::read(desk, &need)?.notes(desk.context, &need)?);
        }
    }
    Ok(notes)
}

/// Active promises of these garments on a piece.
pub(crate) fn of_garments(tx: &mut Tx<'_>, garments: &[GarmentCode], piece: i64) -> Done<Vec<i64>> {
    let mut promises = Vec::new();
    for garment in garments {
        let rows = tx.active_reservations_of_garment(garment.get())?;
        let on = rows.iter().filter(|row| row.piece_id == piece);
        promises.extend(on.map(|row| row.id));
    }
    Ok(promises)
}

/// Several promises as they are shown.
pub(crate) fn views(desk: &mut Desk<'_>, ids: &[i64]) -> Done<Vec<View>> {
    let mut shown = Vec::with_capacity(ids.len());
    let mut views = Views::default();
    for id in ids {
        let row = row(desk, *id)?;
        shown.push(view_with(desk, &row, &mut views)?);
    }
    Ok(shown)
}

/// Ends a promise; its hold must be given back by the caller.
pub(crate) fn end(
    tx: &mut Tx<'_>,
    booking: i64,
    row: &mut Reservation,
    state: ReservationState,
    because: Option<String>,
) -> Done<()> {
    row.state = state;
    row.held = 0;
    row.ended_by = Some(booking);
    row.ended_because = because;
    Ok(tx.update_reservation(row)?)
}

/// Ends the promises on a piece whose last day has passed. The caller saves the piece.
pub(crate) fn end_overdue(desk: &mut Desk<'_>, booking: i64, shelved: &mut Shelved) -> Done<()> {
    for id in shelved.overdue(desk.context.today) {
        shelved
            .stored
            .piece
            .release(id)
            .map_err(|error| internal(shelved, &error))?;
        let mut row = row(desk, id)?;
        let because = row.until.map(|day| format!("its last day was {day}"));
        end(desk, booking, &mut row, ReservationState::Expired, because)?;
        shelved.stored.until.remove(&id);
    }
    Ok(())
}

/// Ends active promises and gives their cloth back; returns them with their pieces.
pub(crate) fn release_all(
    desk: &mut Desk<'_>,
    booking: i64,
    rows: Vec<Reservation>,
    state: ReservationState,
    because: Option<String>,
) -> Done<Vec<(Reservation, Shelved)>> {
    let mut ended = Vec::with_capacity(rows.len());
    for mut row in rows {
        if row.state != ReservationState::Active {
            continue;
        }
        let mut shelved = Shelved::load_row(desk, row.piece_id)?;
        shelved
            .stored
            .piece
            .release(row.id)
            .map_err(|error| internal(&shelved, &error))?;
        shelved.stored.until.remove(&row.id);
        let overdue = row.until.filter(|day| *day < desk.context.today);
        match overdue {
            Some(day) => {
                let because = Some(format!("its last day was {day}"));
                end(desk, booking, &mut row, ReservationState::Expired, because)?;
            }
            None => end(desk, booking, &mut row, state, because.clone())?,
        }
        let last_on = shelved.stored.last_on;
        shelved.save(desk, last_on)?;
        ended.push((row, shelved));
    }
    Ok(ended)
}

/// Breaks promises, whose holds are gone already.
pub(crate) fn break_all(tx: &mut Tx<'_>, booking: i64, ids: &[i64], because: &str) -> Done<()> {
    for id in ids {
        let mut row = row(tx, *id)?;
        end(
            tx,
            booking,
            &mut row,
            ReservationState::Broken,
            Some(because.to_owned()),
        )?;
    }
    Ok(())
}

pub(crate) fn internal(shelved: &Shelved, error: &LedgerError) -> Problem {
    Problem::new(
        ProblemType::Internal,
        format!("{}: {error}", shelved.code()),
    )
}
