//! What is left on the shelf, a page at a time.

use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure},
        page::{refused, rows},
        perform::Perform,
    },
    shelf::{
        shelved::{amount, is_counted, read_sheet},
        standing::{self, Standing},
    },
};
use chrono::NaiveDate;
use ellwand_contract::{
    Amount, Gsm, Meta, Metres, Micro, Problem, ProblemType,
    shelf::{GetShelf, Shelf, ShelfPiece},
};
use ellwand_domain::{
    cloth::fibre,
    code::{CustomerCode, LotCode, PieceCode},
    ledger::Quantity,
    quantity::{Count, Micrometres, MilligramsPerM2, QuantityError},
    setting::Kind,
};
use ellwand_storage::{ShelfFilter, ShelfRow};
use std::collections::HashMap;

/// Rows of a page, when none are asked for.
const USUAL_ROWS: u32 = 100;
/// Rows of a page, at most.
const MOST_ROWS: u32 = 500;

impl Perform for GetShelf {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Shelf, Failure> {
        check_day(self, desk.context)?;
        let limit = i64::from(rows(self.limit, USUAL_ROWS, MOST_ROWS)?);
        // One row more tells whether there is another page.
        let filter = filter(self, limit + 1, desk.context.today)?;
        let mut found = desk.tx.shelf(&filter)?;
        let more = i64::try_from(found.len()).is_ok_and(|found| found > limit);
        if more {
            found.pop();
        }
        let next = found
            .last()
            .filter(|_| more)
            .map(|row| code(row).to_string());
        let standing = standing::of_rows(desk, &found, self.on)?;
        let looked_at = match self.on {
            None => looked_at(desk, &found)?,
            Some(_) => HashMap::new(),
        };
        let mut pieces = Vec::with_capacity(found.len());
        for row in found {
            let Some(piece) = standing.get(&row.id).filter(|piece| !piece.is_nothing()) else {
                continue;
            };
            let room = looked_at.get(&row.id).copied();
            let room = room.unwrap_or_else(|| Room::of(&row));
            if filter
                .free_min
                .is_none_or(|least| room.longest_free >= least)
            {
                pieces.push(shown(row, *piece, self.on.is_none().then_some(room))?);
            }
        }
        let totals = match self.totals {
            true => standing::totals(desk, self.kind, self.on)?,
            false => Vec::new(),
        };
        Ok(Shelf {
            on: self.on,
            pieces,
            in_all: standing::together(&totals)?,
            totals,
            meta: Meta { next },
        })
    }
}

/// Refuses a day that is still to come, and with a day what is asked of pieces as they are now.
fn check_day(request: &GetShelf, context: &Context<'_>) -> Done<()> {
    let Some(day) = request.on else { return Ok(()) };
    if day > context.today {
        let detail = format!(
            "{day} is in the future: today is {} in the workshop",
            context.today
        );
        let problem = Problem::new(ProblemType::InvalidDate, detail).field("on");
        return Err(problem
            .hint("choose today or an earlier day with --on")
            .into());
    }
    let of_now = [
        ("place", request.place.is_some()),
        ("mass_min", request.mass_min.is_some()),
        ("mass_max", request.mass_max.is_some()),
        ("width_min", request.width_min.is_some()),
        ("free_min", request.free_min.is_some()),
    ];
    match of_now.iter().find(|(_, asked)| *asked) {
        None => Ok(()),
        Some((field, _)) => Err(refused(
            field,
            "it is known of the shelf as it is now, not of an earlier day",
        )
        .hint("leave it out, or leave out --on")
        .into()),
    }
}

fn code(row: &ShelfRow) -> PieceCode {
    PieceCode {
        lot: LotCode::new(row.lot_id),
        number: row.number,
    }
}

fn filter(request: &GetShelf, limit: i64, today: NaiveDate) -> Done<ShelfFilter> {
    let mass = |field: &str, text: &Option<String>| -> Done<Option<i64>> {
        let Some(text) = text else { return Ok(None) };
        let mass: MilligramsPerM2 = text.parse().map_err(|error| refused(field, error))?;
        Ok(Some(mass.get()))
    };
    let width_min = match &request.width_min {
        Some(text) => Some(
            text.parse::<Micrometres>()
                .map_err(|error| refused("width_min", error))?
                .get(),
        ),
        None => None,
    };
    let free_min = match &request.free_min {
        Some(text) => {
            Some(least_free(request.kind, text).map_err(|error| refused("free_min", error))?)
        }
        None => None,
    };
    let fibre = match &request.fibre {
        Some(name) => {
            let unknown = || refused("fibre", fibre::unknown(name).to_string());
            Some(fibre::find(name).ok_or_else(unknown)?.name.to_owned())
        }
        None => None,
    };
    let after = match &request.after {
        Some(cursor) => {
            let piece: PieceCode = cursor.parse().map_err(|_| {
                refused(
                    "after",
                    format!("\"{cursor}\" is not a cursor of the shelf"),
                )
            })?;
            Some((piece.lot.get(), piece.number))
        }
        None => None,
    };
    Ok(ShelfFilter {
        kind: request.kind,
        fibre,
        name: request.name.clone(),
        colour: request.colour.clone(),
        place: request
            .place
            .as_deref()
            .map(|place| place.trim().to_owned()),
        mass_min: mass("mass_min", &request.mass_min)?,
        mass_max: mass("mass_max", &request.mass_max)?,
        width_min,
        free_min,
        overdue: today,
        stood_on: request.on,
        after,
        limit,
    })
}

/// A length; for trims also a number.
fn least_free(kind: Option<Kind>, text: &str) -> Result<i64, QuantityError> {
    if kind == Some(Kind::Trim)
        && let Ok(count) = text.parse::<Count>()
    {
        return Ok(count.get());
    }
    Ok(text.parse::<Micrometres>()?.get())
}

/// What is promised of a piece, and what is free.
#[derive(Debug, Clone, Copy)]
struct Room {
    held: i64,
    free: i64,
    longest_free: i64,
}

impl Room {
    /// Of a piece without flaws and overdue promises.
    const fn of(row: &ShelfRow) -> Self {
        Self {
            held: row.held,
            free: row.quantity.saturating_sub(row.held),
            longest_free: row.longest_free,
        }
    }

    /// True where a flaw may lie in what is not promised: else all of it is free in one stretch.
    const fn may_have_flaws(row: &ShelfRow) -> bool {
        row.longest_free < row.quantity.saturating_sub(row.held)
    }
}

/// The pieces, of these, that have to be looked at: cloth inside a flaw is not free, and a promise whose last day has passed
/// holds nothing.
fn looked_at(desk: &mut Desk<'_>, rows: &[ShelfRow]) -> Done<HashMap<i64, Room>> {
    let promised: Vec<i64> = rows
        .iter()
        .filter(|row| row.held > 0)
        .map(|row| row.id)
        .collect();
    let mut ids: Vec<i64> = rows
        .iter()
        .filter(|row| Room::may_have_flaws(row))
        .map(|row| row.id)
        .collect();
    if !promised.is_empty() {
        ids.extend(desk.tx.pieces_with_overdue(&promised, desk.context.today)?);
    }
    ids.sort_unstable();
    ids.dedup();
    let mut rooms = HashMap::new();
    if ids.is_empty() {
        return Ok(rooms);
    }
    for stored in desk.tx.pieces_among(&ids)? {
        let mut piece = stored.piece;
        let kept = |id: i64| {
            stored
                .until
                .get(&id)
                .is_none_or(|until| *until >= desk.context.today)
        };
        piece.holds.retain(|hold| kept(hold.reservation));
        let internal = |error| {
            Problem::new(
                ProblemType::Internal,
                format!("piece {}: {error}", piece.id),
            )
        };
        let room = Room {
            held: piece.held().map_err(internal)?.get(),
            free: piece.free().map_err(internal)?.get(),
            longest_free: piece.longest_free().map_err(internal)?.get(),
        };
        rooms.insert(piece.id, room);
    }
    Ok(rooms)
}

/// Without the room: at the end of an earlier day, of which what it was like is not kept.
fn shown(row: ShelfRow, standing: Standing, room: Option<Room>) -> Done<ShelfPiece> {
    let kind = row.kind;
    let sheet = read_sheet(&row.sheet)?;
    let counted = is_counted(kind, &sheet);
    let quantity = Quantity::new(standing.quantity)?;
    let free = |length: fn(Room) -> i64| -> Done<Option<Amount>> {
        let length = room.map(|room| Quantity::new(length(room))).transpose()?;
        Ok(length.map(|length| amount(counted, length)))
    };
    let now = room.is_some();
    let full_width = row.full_width_um.filter(|_| now);
    let usable = full_width.map(|full| full - row.selvedges_um.unwrap_or(0));
    let mass = row.mass_mg_m2.filter(|_| now);
    Ok(ShelfPiece {
        piece: code(&row),
        kind,
        name: row.name,
        colour: Some(row.colour).filter(|colour| !colour.is_empty()),
        fibres: sheet.fibres.into_iter().map(|of| of.fibre).collect(),
        on_hand: amount(counted, quantity),
        reserved: free(|room| room.held)?,
        free: free(|room| room.free)?,
        longest_free: free(|room| room.longest_free)?,
        usable_width_m: usable.map(Micrometres::new).transpose()?.map(Metres),
        mass_gsm: mass.map(MilligramsPerM2::new).transpose()?.map(Gsm),
        preparation: row.preparation.filter(|_| now),
        offcut: row.offcut,
        estimated: now && row.estimated && !quantity.is_zero(),
        place: row.place.filter(|_| now),
        owner: row.owner_id.map(CustomerCode::new),
        unpriced: row.unpriced,
        value_estimated: row.value_estimated,
        value: row.owner_id.is_none().then_some(Micro(standing.value)),
    })
}
