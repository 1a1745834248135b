//! A garment as it is shown.

use super::{
    Balance, cautions,
    need::{NeedRecord, load_head, load_needs},
    repairs,
};
use crate::{
    desk::person::PeopleNames,
    desk::{Desk, context::Context, failure::Done, version},
    people::measures,
    promises,
    shelf::shelved::LotRecord,
};
use crate::{
    promises::{Filled, Standing},
    shelf::shelved::Shelved,
};
use ellwand_contract::{
    Gsm, Metres, Micro,
    garments::{Garment as View, Need, Operation},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode},
    ledger::Quantity,
    need::{ClothDemand, ClothLengths, Takes},
    setting::{CutReason, ReservationState},
};
use ellwand_storage::{CutEntry, Garment, Reservation, Subject, Tx};

/// Ended promises of a state that are shown with a garment.
const MOST_ENDED: i64 = 20;
/// Broken ones.
const MOST_BROKEN: i64 = 100;

/// The garment with its needs, promises and cautions; `booking`: of the act that answers with it.
pub(crate) fn view(desk: &mut Desk<'_>, id: i64, booking: Option<i64>) -> Done<View> {
    let garment = load_head(desk, GarmentCode::new(id))?;
    let records = load_needs(desk, &garment)?;
    let (rows, more_ended) = promises_to_show(desk, id)?;
    let cuts = desk.tx.cuts_of_garment(id)?;
    let standing_now = Standing::read(desk, id)?;
    let records = records
        .into_iter()
        .map(|record| Ok((standing_now.of(&record)?, record)));
    let records = records.collect::<Done<Vec<_>>>()?;
    let (needs, lot_records) = shown_needs(desk, &records, &rows, &cuts)?;
    let mut notes = cautions::of(&garment.name, &lot_records);
    notes.extend(repairs::notes(desk.context, &garment, &records)?);
    let (operations, worked_minutes) = operations(desk, id)?;
    let measures = measures::of_garment(desk, &garment)?;
    let seams = desk
        .tx
        .seams(id)?
        .into_iter()
        .map(|seam| seam.name)
        .collect();
    Ok(View {
        garment: GarmentCode::new(id),
        customer: customer(desk, &garment)?,
        notes,
        name: garment.name,
        count: garment.count,
        good: garment.good,
        spoiled: garment.spoiled,
        due: garment.due,
        state: garment.state,
        note: garment.note,
        needs,
        more_ended,
        operations,
        seams,
        worked_minutes,
        measures,
        material_cost: Some(Micro(Balance::read(desk, id)?.used)),
        version: version::of(desk, Subject::Garment, id)?,
        booking: booking.map(BookingCode::new),
    })
}

/// The needs as they are shown, and the lots that are promised to them or cut for them.
fn shown_needs(
    desk: &mut Desk<'_>,
    records: &[(Filled, NeedRecord)],
    rows: &[Reservation],
    cuts: &[CutEntry],
) -> Done<(Vec<Need>, Vec<LotRecord>)> {
    let mut needs = Vec::with_capacity(records.len());
    let mut lots: Vec<i64> = Vec::new();
    let mut views = promises::Views::default();
    for (filled, record) in records {
        let of_need: Vec<&Reservation> = rows
            .iter()
            .filter(|row| row.need_id == record.row.id)
            .collect();
        let mut cut: Vec<i64> = cuts
            .iter()
            .filter(|cut| cut.need_id == record.row.id && cut.reason != CutReason::Swatch)
            .map(|cut| cut.lot_id)
            .collect();
        cut.sort_unstable();
        cut.dedup();
        for row in of_need.iter().filter(|row| standing(row, desk.context)) {
            lots.extend(desk.tx.piece(row.piece_id)?.map(|piece| piece.lot_id));
        }
        lots.extend(&cut);
        let of = OfNeed {
            record,
            filled,
            rows: &of_need,
            lots: &cut,
            cuts,
        };
        needs.push(need(desk, &of, &mut views)?);
    }
    lots.sort_unstable();
    lots.dedup();
    let lots = lots.into_iter().map(|lot| LotRecord::load(desk, lot));
    Ok((needs, lots.collect::<Done<_>>()?))
}

/// Active promises and the newest that ended, in the order they were made, and how many ended ones are left out. Broken ones
/// wait to be settled, so that none of a usual garment's is left out.
fn promises_to_show(tx: &mut Tx<'_>, garment: i64) -> Done<(Vec<Reservation>, i64)> {
    let mut rows = tx.active_reservations_of_garment(garment)?;
    let active = rows.len();
    for (state, most) in [
        (ReservationState::Broken, MOST_BROKEN),
        (ReservationState::Cut, MOST_ENDED),
        (ReservationState::Released, MOST_ENDED),
        (ReservationState::Expired, MOST_ENDED),
    ] {
        rows.extend(tx.reservations_before(garment, Some(state), i64::MAX, most)?);
    }
    rows.sort_unstable_by_key(|row| row.id);
    let shown = i64::try_from(rows.len().saturating_sub(active)).unwrap_or(i64::MAX);
    let ended = tx.ended_reservations_of_garment(garment)?;
    Ok((rows, ended.saturating_sub(shown)))
}

/// True for an active promise whose last day has not passed.
fn standing(row: &Reservation, context: &Context<'_>) -> bool {
    row.state == ReservationState::Active && row.until.is_none_or(|day| day >= context.today)
}

/// Name of the customer.
pub(super) fn customer(tx: &mut Tx<'_>, garment: &Garment) -> Done<Option<String>> {
    Ok(match garment.customer_id {
        Some(id) => tx.customer(id)?.map(|customer| customer.name),
        None => None,
    })
}

/// A need with all that is shown of it.
struct OfNeed<'a> {
    record: &'a NeedRecord,
    filled: &'a Filled,
    /// Its promises.
    rows: &'a [&'a Reservation],
    /// Lots that it was cut from.
    lots: &'a [i64],
    /// All cuts of the garment.
    cuts: &'a [CutEntry],
}

fn need(desk: &mut Desk<'_>, of: &OfNeed<'_>, views: &mut promises::Views) -> Done<Need> {
    let &OfNeed {
        record,
        filled,
        rows,
        lots,
        cuts,
    } = of;
    let mut reservations = Vec::with_capacity(rows.len());
    for row in rows {
        let shelved = Shelved::load_row(desk, row.piece_id)?;
        let units = filled.units_of(row);
        reservations.push(views.view_of(desk, (row, units), record, &shelved)?);
    }
    // Of a joined length the garment's own is a share; the text of the need says it.
    let cloth = record.plan.cloth();
    let by_width = matches!(
        record.plan.takes,
        Takes::Cloth {
            lengths: ClothLengths::ByWidth(_),
            ..
        }
    );
    let one = record
        .demand
        .as_ref()
        .filter(|_| !by_width && !cloth.one_length);
    let length_by = one.map(ClothDemand::shown_by).transpose()?.flatten();
    let one = one.map(ClothDemand::shown).transpose()?.flatten();
    let pooled = record
        .length_of_one()
        .filter(|_| !record.counted)
        .map(Quantity::get);
    let length = match pooled {
        Some(um) => Some(ellwand_domain::quantity::Micrometres::new(um)?),
        None => one.map(|entry| entry.length),
    };
    let (count, spares) = record.plan.count();
    let material = match record.plan.conditions.material {
        Some(code) => desk.tx.material(code.get())?.map(|material| material.name),
        None => None,
    };
    Ok(Need {
        role: record.row.role.clone(),
        kind: record.row.kind,
        amount: record.amount_text(desk.context),
        conditions: record.conditions(desk.context, material.as_deref()),
        units: record.row.units,
        units_reserved: filled.promised(),
        units_cut: filled.cut(),
        reservations,
        lots: lots.iter().map(|lot| LotCode::new(*lot)).collect(),
        mass_min_gsm: cloth.mass_min.as_ref().map(|mass| Gsm(mass.value)),
        mass_max_gsm: cloth.mass_max.as_ref().map(|mass| Gsm(mass.value)),
        length_m: length.map(Metres),
        width_m: one.and_then(|entry| entry.width).map(Metres),
        length_by,
        parts: record.part_views(),
        area_m2: record.area_m2(),
        count,
        spares,
        size: record.wanted_size().map(|size| size.to_string()),
        colour: record.plan.colour().map(str::to_owned),
        matching: record.plan.matching(),
        used: repairs::used(desk, cuts, record)?,
        preparation: cloth.preparation,
        grain: cloth.grain,
        detail: record.row.detail.clone(),
    })
}

/// Planned operations with the minutes worked on them, and all minutes worked.
fn operations(tx: &mut Tx<'_>, garment: i64) -> Done<(Vec<Operation>, i64)> {
    let work = tx.work(garment)?;
    let worked = |name: &str| {
        work.iter()
            .filter(|entry| entry.operation == name)
            .map(|entry| entry.minutes)
            .sum()
    };
    let all = work.iter().map(|entry| entry.minutes).sum();
    let planned = tx.operations(garment)?;
    let people = PeopleNames::of(tx)?;
    let operations = planned.into_iter().map(|operation| Operation {
        worked_minutes: worked(&operation.name),
        name: operation.name,
        kind: operation.kind,
        person: people.name(operation.person_id),
        billable: operation.billable,
        detail: operation.detail,
        planned_minutes: operation.minutes,
    });
    Ok((operations.collect(), all))
}
