//! The history: what was booked, by whom.

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, not_found},
        page,
        perform::Perform,
        person::PeopleNames,
    },
    shelf::{
        goods,
        shelved::{LotRecord, amount, is_counted, read_sheet},
    },
};
use chrono::{DateTime, Utc};
use ellwand_contract::{
    Meta, Micro, Problem, ProblemType, acts,
    bookings::{
        Booking, Bookings, Change, Changes, GetBooking, GetChanges, GetLastBooking, GetRequest,
        KeptRequest, ListBookings, Movement,
    },
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode, PieceCode, PurchaseCode},
    ledger::{Account, AccountKind},
    person::is_same,
    setting::BookingKind,
};
use ellwand_storage::{Booking as Row, BookingSubject, Request, StoredMovement, Subject, Tx};
use std::collections::HashMap;

const PAGE: u32 = 50;
const PAGE_MAX: u32 = 500;
const CHANGES: u32 = 100;
/// Longest wait for news; the shortest of what clients, proxies and servers usually allow.
const MOST_WAIT_S: u32 = 30;

impl Perform for ListBookings {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Bookings, Failure> {
        let limit = i64::from(page::rows(self.limit, PAGE, PAGE_MAX)?);
        let subject = match (self.garment, self.lot) {
            (Some(_), Some(_)) => {
                return Err(page::refused(
                    "lot",
                    "the history shows a garment or a lot, not both at once",
                )
                .hint("leave one of them out")
                .into());
            }
            (Some(garment), None) => Some((Subject::Garment, garment.get())),
            (None, Some(lot)) => Some((Subject::Lot, lot.get())),
            (None, None) => None,
        };
        let before = match &self.after {
            Some(cursor) => cursor
                .parse::<BookingCode>()
                .map_err(|_| {
                    page::refused(
                        "after",
                        format!("\"{cursor}\" is not a cursor of the history"),
                    )
                })?
                .get(),
            None => i64::MAX,
        };
        let mut rows = desk.tx.bookings(subject, before, limit + 1)?;
        let more = i64::try_from(rows.len()).is_ok_and(|rows| rows > limit);
        rows.truncate(usize::try_from(limit).unwrap_or(usize::MAX));
        let next = more
            .then(|| rows.last().map(|row| BookingCode::new(row.id).to_string()))
            .flatten();
        Ok(Bookings {
            bookings: views(desk, &rows)?,
            meta: Meta { next },
        })
    }
}

impl Perform for GetChanges {
    /// What there is now; waiting is left to whoever asks, for a transaction must not be held open meanwhile.
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Changes, Failure> {
        let limit = i64::from(page::rows(self.limit, CHANGES, PAGE_MAX)?);
        if self.wait_s > MOST_WAIT_S {
            let detail = format!(
                "{} s is too long to wait; the most is {MOST_WAIT_S} s",
                self.wait_s
            );
            return Err(page::refused("wait_s", detail)
                .hint("ask again when the answer is empty")
                .with("wanted_s", self.wait_s)
                .with("most_s", MOST_WAIT_S)
                .into());
        }
        let after = match self.after.as_deref() {
            None => 0,
            Some("now") => {
                let newest = desk.tx.newest_booking()?.unwrap_or_default();
                return Ok(Changes {
                    changes: Vec::new(),
                    next: cursor(newest),
                });
            }
            Some(START) => 0,
            Some(text) => text
                .parse::<BookingCode>()
                .map_err(|_| {
                    page::refused(
                        "after",
                        format!("\"{text}\" is not a cursor of the changes"),
                    )
                })?
                .get(),
        };
        let rows = desk.tx.bookings_after(after, limit)?;
        let next = cursor(rows.last().map_or(after, |(row, _)| row.id));
        let people = PeopleNames::of(desk)?;
        Ok(Changes {
            changes: rows.into_iter().map(|row| change(row, &people)).collect(),
            next,
        })
    }
}

/// Cursor before the first booking.
const START: &str = "start";

fn cursor(booking: i64) -> String {
    if booking == 0 {
        START.to_owned()
    } else {
        BookingCode::new(booking).to_string()
    }
}

fn change((row, subjects): (Row, Vec<BookingSubject>), people: &PeopleNames) -> Change {
    let of = |wanted: Subject| {
        subjects
            .iter()
            .filter(move |row| row.subject == wanted)
            .map(|row| row.subject_id)
            .collect::<Vec<_>>()
    };
    Change {
        booking: BookingCode::new(row.id),
        kind: row.kind,
        on_date: row.on_date,
        booked_at: DateTime::<Utc>::from_naive_utc_and_offset(row.booked_at, Utc),
        garments: of(Subject::Garment)
            .into_iter()
            .map(GarmentCode::new)
            .collect(),
        lots: of(Subject::Lot).into_iter().map(LotCode::new).collect(),
        summary: row.summary,
        by: people.name(row.person_id),
    }
}

impl Perform for GetBooking {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Booking, Failure> {
        view(desk, self.booking.get())
    }
}

impl Perform for GetRequest {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<KeptRequest, Failure> {
        // A name may have had another role, or be another person's: what it asked for once is no more than it may now.
        let caller = desk.context.caller;
        let own = |kept: &Request| {
            is_same(&kept.caller, &caller.name)
                && acts::needs(&kept.act)
                    .is_some_and(|needs| needs.allows(caller.role, &caller.grants))
        };
        let kept = desk.tx.request(&self.request.to_string())?.filter(own);
        let Some(kept) = kept else {
            let what = format!("answered request {} of yours", self.request);
            return Err(not_found(what, "send it as a new request"));
        };
        if kept.erased_at.is_some() {
            return Err(crate::desk::book::erased(&kept));
        }
        let content = serde_json::from_str(&kept.content).map_err(|error| {
            Problem::new(
                ProblemType::Internal,
                format!("the kept request cannot be read: {error}"),
            )
        })?;
        let answered_at = DateTime::from_naive_utc_and_offset(kept.answered_at, Utc);
        Ok(KeptRequest {
            request: self.request,
            act: kept.act,
            content,
            answered_at,
        })
    }
}

impl Perform for GetLastBooking {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Booking, Failure> {
        let last = match desk.context.caller.clone().known(desk)?.person {
            Some(person) => desk.tx.last_booking_of(person)?,
            None => None,
        };
        let row = last.ok_or_else(|| {
            not_found(
                format!("booking by {} to take back", desk.context.caller.name),
                "see ellwand history",
            )
        })?;
        view(desk, row.id)
    }
}

/// One booking with its movements.
pub(crate) fn view(desk: &mut Desk<'_>, id: i64) -> Done<Booking> {
    let code = BookingCode::new(id);
    let row = desk
        .tx
        .booking(id)?
        .ok_or_else(|| not_found(format!("booking {code}"), "see ellwand history"))?;
    let mut views = views(desk, std::slice::from_ref(&row))?;
    Ok(views
        .pop()
        .ok_or_else(|| Problem::new(ProblemType::Internal, format!("{code} has no view")))?)
}

fn views(desk: &mut Desk<'_>, rows: &[Row]) -> Done<Vec<Booking>> {
    let (tx, currency) = (&mut desk.tx, desk.context.currency);
    let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
    let undone: HashMap<i64, i64> = tx.undone_among(&ids)?.into_iter().collect();
    let mut by_booking: HashMap<i64, Vec<StoredMovement>> = HashMap::new();
    for stored in tx.movements_of(&ids)? {
        by_booking.entry(stored.booking).or_default().push(stored);
    }
    let people = PeopleNames::of(tx)?;
    let mut names = Names::default();
    let mut views = Vec::with_capacity(rows.len());
    for row in rows {
        let sale = match row.kind {
            BookingKind::Sold => goods::sale(tx, row.id, currency)?,
            _ => None,
        };
        let mut movements = Vec::new();
        for stored in by_booking.remove(&row.id).unwrap_or_default() {
            movements.push(names.movement(tx, &stored)?);
        }
        views.push(Booking {
            booking: BookingCode::new(row.id),
            kind: row.kind,
            summary: row.summary.clone(),
            on_date: row.on_date,
            booked_at: DateTime::<Utc>::from_naive_utc_and_offset(row.booked_at, Utc),
            by: people.name(row.person_id),
            undone_by: undone.get(&row.id).copied().map(BookingCode::new),
            undoes: row.undoes.map(BookingCode::new),
            movements,
            sale,
        });
    }
    Ok(views)
}

/// Names of places, read once.
#[derive(Default)]
struct Names {
    places: HashMap<Account, (String, bool)>,
}

impl Names {
    fn movement(&mut self, tx: &mut Tx<'_>, stored: &StoredMovement) -> Done<Movement> {
        let (from, from_counted) = self.place(tx, stored.movement.from)?;
        let (to, to_counted) = self.place(tx, stored.movement.to)?;
        let quantity = stored
            .movement
            .quantity_out
            .max(stored.movement.quantity_in);
        // What moves between other places is garments.
        let shelf =
            |account: Account| matches!(account.kind, AccountKind::Piece | AccountKind::Layer);
        let garments = !shelf(stored.movement.from) && !shelf(stored.movement.to);
        Ok(Movement {
            sequence: stored.sequence,
            from,
            to,
            quantity: amount(from_counted || to_counted || garments, quantity),
            value: Some(Micro(stored.movement.value)),
        })
    }

    /// A place for people, and whether it counts rather than measures.
    fn place(&mut self, tx: &mut Tx<'_>, account: Account) -> Done<(String, bool)> {
        if let Some(known) = self.places.get(&account) {
            return Ok(known.clone());
        }
        let named = match account.kind {
            AccountKind::Piece => match tx.piece(account.id)? {
                Some(stored) => {
                    let record = LotRecord::load(tx, stored.lot_id)?;
                    let code = PieceCode {
                        lot: record.code(),
                        number: stored.number,
                    };
                    (code.to_string(), record.is_counted())
                }
                None => (format!("piece {}", account.id), false),
            },
            AccountKind::Layer => self.layer(tx, account.id)?,
            AccountKind::Supplier => (
                format!("supplier ({})", PurchaseCode::new(account.id)),
                false,
            ),
            AccountKind::Garment => (GarmentCode::new(account.id).to_string(), false),
            AccountKind::Delivered => (
                format!("delivered ({})", GarmentCode::new(account.id)),
                false,
            ),
            kind if kind.is_loss() && account.id != 0 => (
                format!("{} ({})", kind.text(), GarmentCode::new(account.id)),
                false,
            ),
            kind => (kind.text().to_owned(), false),
        };
        self.places.insert(account, named.clone());
        Ok(named)
    }

    fn layer(&self, tx: &mut Tx<'_>, id: i64) -> Done<(String, bool)> {
        let Some(layer) = tx.layer(id)? else {
            return Ok((format!("layer {id}"), false));
        };
        if let Some(lot) = layer.lot_id {
            let record = LotRecord::load(tx, lot)?;
            return Ok((format!("cost of {}", record.code()), record.is_counted()));
        }
        let Some(material) = tx.material(layer.material_id)? else {
            return Ok(("a pool".to_owned(), false));
        };
        let counted = is_counted(material.kind, &read_sheet(&material.sheet)?);
        Ok((format!("cost of {}", material.name), counted))
    }
}
