//! The history: what was booked, by whom.

use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure, not_found},
        page,
        perform::Perform,
        person::{PeopleNames, find_by_name},
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
    code::{
        BookingCode, GarmentCode, LotCode, PieceCode, PurchaseCode, QuotationCode, ReservationCode,
    },
    ledger::{Account, AccountKind},
    person::is_same,
    setting::{BookingKind, Facet, ReservationState},
};
use ellwand_storage::{
    Booking as Row, BookingFilter, BookingSubject, Request, StoredMovement, Subject, Tx,
};
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
                .hint("leave --garment or --lot out")
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
        let filter = self.filter(desk, subject)?;
        let mut rows = desk.tx.bookings_of(&filter, before, limit + 1)?;
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

trait Filtered {
    fn filter(&self, desk: &mut Desk<'_>, subject: Option<(Subject, i64)>) -> Done<BookingFilter>;
}

impl Filtered for ListBookings {
    fn filter(&self, desk: &mut Desk<'_>, subject: Option<(Subject, i64)>) -> Done<BookingFilter> {
        let (from, to) = (self.from, self.to);
        if let (Some(from), Some(to)) = (from, to)
            && from > to
        {
            let detail = format!("a period from {from} to {to} ends before it begins");
            return Err(page::refused("from", detail)
                .hint("give its first day, then its last")
                .into());
        }
        let by = self.by.as_deref();
        let person = by.map(|by| find_by_name(desk, "by", by)).transpose()?;
        Ok(BookingFilter {
            subject,
            person: person.map(|person| person.id),
            kind: self.kind,
            from,
            to,
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
        let context = desk.context;
        let change = |row| change(context, row, &people);
        Ok(Changes {
            changes: rows.into_iter().map(change).collect(),
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

fn change(
    context: &Context<'_>,
    (row, subjects): (Row, Vec<BookingSubject>),
    people: &PeopleNames,
) -> Change {
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
        booked_at: context.local(row.booked_at),
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
        with_others(desk, self.booking.get())
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
        if let Some(of) = &self.of {
            return last_of(desk, of);
        }
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
        with_others(desk, row.id)
    }
}

/// The last standing booking of a thing, by its code.
fn last_of(desk: &mut Desk<'_>, text: &str) -> Done<Booking> {
    let text = text.trim();
    let subject = match text
        .chars()
        .next()
        .map(|letter| letter.to_ascii_uppercase())
    {
        Some('P') => (Subject::Purchase, text.parse::<PurchaseCode>()?.get()),
        Some('L') => (Subject::Lot, text.parse::<LotCode>()?.get()),
        Some('G') => (Subject::Garment, text.parse::<GarmentCode>()?.get()),
        Some('R') => return of_rows(desk, text, promise_rows),
        Some('Q') => return of_rows(desk, text, quotation_rows),
        _ => {
            let detail = format!("\"{text}\" is not the code of something that is booked");
            return Err(page::refused("of", detail)
                .hint("give a booking B104, or P5, L17, G4, R3 or Q2")
                .into());
        }
    };
    match desk.tx.last_booking_on(subject.0, subject.1)? {
        Some(row) => with_others(desk, row.id),
        None => Err(nothing_of(text)),
    }
}

fn nothing_of(text: &str) -> Failure {
    not_found(
        format!("booking of {} to take back", text.to_uppercase()),
        "see ellwand history",
    )
}

/// The last of these bookings that stands.
fn of_rows(
    desk: &mut Desk<'_>,
    text: &str,
    rows: fn(&mut Desk<'_>, &str) -> Done<Vec<i64>>,
) -> Done<Booking> {
    let mut ids = rows(desk, text)?;
    ids.sort_unstable();
    while let Some(id) = ids.pop() {
        let stands = desk.tx.undone_by(id)?.is_none();
        let row = desk.tx.booking(id)?;
        if stands && row.is_some_and(|row| row.undoes.is_none() && row.kind != BookingKind::Expired)
        {
            return with_others(desk, id);
        }
    }
    Err(nothing_of(text))
}

/// What made a promise, cut from it and ended it.
fn promise_rows(desk: &mut Desk<'_>, text: &str) -> Done<Vec<i64>> {
    let code: ReservationCode = text.parse()?;
    let Some(row) = desk.tx.reservation(code.get())? else {
        return Ok(Vec::new());
    };
    let mut ids = desk.tx.cuts_of_reservation(row.id)?;
    ids.push(row.booking_id);
    // Only what released it, or cut its last, ended it by itself.
    if matches!(
        row.state,
        ReservationState::Released | ReservationState::Cut
    ) {
        ids.extend(row.ended_by);
    }
    Ok(ids)
}

/// Versions and payments of a quotation, and what became of it.
fn quotation_rows(desk: &mut Desk<'_>, text: &str) -> Done<Vec<i64>> {
    let code: QuotationCode = text.parse()?;
    let versions = desk.tx.quotation_versions(code.get())?;
    let mut ids: Vec<i64> = versions.iter().map(|row| row.booking_id).collect();
    let payments = desk.tx.payments(code.get())?;
    ids.extend(payments.iter().map(|row| row.booking_id));
    ids.extend(desk.tx.traced_since(Facet::Quotation, code.get(), "", 0)?);
    Ok(ids)
}

/// Others that the request of a booking booked and that stand, newest first.
pub(crate) fn together(desk: &mut Desk<'_>, id: i64) -> Done<Vec<BookingCode>> {
    let Some(row) = desk.tx.booking(id)? else {
        return Ok(Vec::new());
    };
    let mut all = desk.tx.standing_bookings_of_request(&row.request_id)?;
    all.retain(|other| *other != id);
    Ok(all.into_iter().map(BookingCode::new).collect())
}

/// One booking, and what its request booked beside it.
fn with_others(desk: &mut Desk<'_>, id: i64) -> Done<Booking> {
    let together = together(desk, id)?;
    Ok(Booking {
        together,
        ..view(desk, id)?
    })
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
    let currency = desk.context.currency;
    let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
    let undone: HashMap<i64, i64> = desk.tx.undone_among(&ids)?.into_iter().collect();
    let mut by_booking: HashMap<i64, Vec<StoredMovement>> = HashMap::new();
    for stored in desk.tx.movements_of(&ids)? {
        by_booking.entry(stored.booking).or_default().push(stored);
    }
    let people = PeopleNames::of(desk)?;
    let mut names = Names::default();
    let mut views = Vec::with_capacity(rows.len());
    for row in rows {
        let sale = match row.kind {
            BookingKind::Sold => goods::sale(desk, row.id, currency)?,
            _ => None,
        };
        let mut movements = Vec::new();
        for stored in by_booking.remove(&row.id).unwrap_or_default() {
            movements.push(names.movement(desk, &stored)?);
        }
        views.push(Booking {
            booking: BookingCode::new(row.id),
            kind: row.kind,
            summary: row.summary.clone(),
            on_date: row.on_date,
            booked_at: desk.context.local(row.booked_at),
            by: people.name(row.person_id),
            undone_by: undone.get(&row.id).copied().map(BookingCode::new),
            undoes: row.undoes.map(BookingCode::new),
            movements,
            together: Vec::new(),
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
            AccountKind::Opening => (
                format!("opening stock ({})", PurchaseCode::new(account.id)),
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
            return Ok((format!("cost {id}"), false));
        };
        if let Some(lot) = layer.lot_id {
            let record = LotRecord::load(tx, lot)?;
            return Ok((format!("cost of {}", record.code()), record.is_counted()));
        }
        let Some(material) = tx.material(layer.material_id)? else {
            return Ok(("cost of a material".to_owned(), false));
        };
        let counted = is_counted(material.kind, &read_sheet(&material.sheet)?);
        Ok((format!("cost of {}", material.name), counted))
    }
}
