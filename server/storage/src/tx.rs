//! The table of contents of the queries: one line each, dispatched to the dialect of the connection.

use crate::audit::{Balance, CounterSum, LayerStep, PurchaseSum};
use crate::error::StorageError;
use crate::month::{DayAct, LedgerFlow, OwedOn, PaidSum, QuotedSum, Worked};
use crate::movement::StoredMovement;
use crate::piece::{Near, StoredPiece};
use crate::records::{
    Booking, BookingFilter, BookingSubject, CutEntry, CutOfLine, DetailRating, Garment, Lay,
    LayRung, Layer, Lot, Material, Need, Operation, PastMinutes, Payment, Person, PlannedCost,
    PoolShare, PoolTaking, PooledPromise, Purchase, PurchaseCharge, PurchaseLine, Quotation,
    QuotationVersion, Request, Reservation, Sale, Seam, SeamAllowance, StandingCut,
    StandingPromise, Token, Trace, WashTest, WorkEntry,
};
use crate::shelf::{Change, KindOnShelf, PooledPiece, ShelfFilter, ShelfRow};
use chrono::{NaiveDate, NaiveDateTime};
use ellwand_domain::ledger::{Account, AccountKind, Movement};
use ellwand_domain::month::Flow;
use ellwand_domain::setting::Subject;
use ellwand_domain::setting::{
    BookingKind, Facet, GarmentState, Grant, Kind, QuotationState, ReservationState,
};
use std::collections::HashMap;

/// A transaction on the book.
pub enum Tx<'a> {
    /// On SQLite.
    Sqlite(&'a mut crate::sqlite::Conn),
    /// On PostgreSQL.
    #[cfg(feature = "postgresql")]
    Postgresql(&'a mut crate::postgresql::Conn),
}

impl Tx<'_> {
    /// The same transaction for a shorter time.
    pub const fn lend(&mut self) -> Tx<'_> {
        match self {
            Self::Sqlite(conn) => Tx::Sqlite(conn),
            #[cfg(feature = "postgresql")]
            Self::Postgresql(conn) => Tx::Postgresql(conn),
        }
    }
}

macro_rules! queries {
    ($($module:ident { $($(#[$doc:meta])* $name:ident($($argument:ident: $type:ty),*) -> $answer:ty;)* })*) => {
        impl Tx<'_> {
            $($(
                $(#[$doc])*
                ///
                /// # Errors
                /// [`StorageError`], when the database refuses or fails.
                pub fn $name(&mut self, $($argument: $type),*) -> Result<$answer, StorageError> {
                    match self {
                        Self::Sqlite(conn) => crate::sqlite::queries::$module::$name(conn, $($argument),*),
                        #[cfg(feature = "postgresql")]
                        Self::Postgresql(conn) => {
                            crate::postgresql::queries::$module::$name(conn, $($argument),*)
                        }
                    }
                }
            )*)*
        }
    };
}

mod workshop;

queries! {
    bookings {
        /// A request that was answered.
        request(id: &str) -> Option<Request>;
        /// Keeps a request with its answer.
        insert_request(request: &Request) -> ();
        /// Books: the booking, what it touched, its movements.
        insert_booking(booking: &Booking, subjects: &[BookingSubject], lines: &[Movement]) -> ();
        /// One booking.
        booking(id: i64) -> Option<Booking>;
        /// The booking that took this one back.
        undone_by(id: i64) -> Option<i64>;
        /// A person's last booking that still stands.
        last_booking_of(person: i64) -> Option<Booking>;
        /// A page of bookings, newest first.
        bookings(subject: Option<(Subject, i64)>, before: i64, limit: i64) -> Vec<Booking>;
        /// A page of the bookings that a filter lets through, newest first.
        bookings_of(filter: &BookingFilter, before: i64, limit: i64) -> Vec<Booking>;
        /// The last booking that touched a subject and still stands.
        last_booking_on(subject: Subject, id: i64) -> Option<Booking>;
        /// Cuts from a promise.
        cuts_of_reservation(reservation: i64) -> Vec<i64>;
        /// What a request booked and was not taken back, newest first.
        standing_bookings_of_request(request: &str) -> Vec<i64>;
        /// Bookings of a kind that touched a subject and still stand, oldest first.
        standing_bookings(subject: Subject, id: i64, kind: BookingKind) -> Vec<Booking>;
        /// The last booking of all.
        newest_booking() -> Option<i64>;
        /// The last booking that touched a subject.
        newest_booking_of(subject: Subject, id: i64) -> Option<i64>;
        /// The latest business date of the bookings that touched a subject.
        last_day_of(subject: Subject, id: i64) -> Option<NaiveDate>;
        /// Bookings after a number, oldest first, with what each touched.
        bookings_after(after: i64, limit: i64) -> Vec<(Booking, Vec<BookingSubject>)>;
        /// What a booking touched.
        subjects_of(booking: i64) -> Vec<BookingSubject>;
        /// Pairs (booking, the one that took it back) among these.
        undone_among(ids: &[i64]) -> Vec<(i64, i64)>;
        /// Marks whatever a booking wrote as taken back by another.
        mark_undone(booking: i64, by: i64) -> ();
        /// Writes what a booking wrote over or rests on.
        insert_trace(trace: &Trace) -> ();
        /// What a booking wrote over or rests on.
        traces_of(booking: i64) -> Vec<Trace>;
        /// Bookings after a number that stand and wrote a facet or rest on it, oldest first.
        traced_since(facet: Facet, subject: i64, part: &str, after: i64) -> Vec<i64>;
        /// Movements of these bookings in the order of the ledger.
        movements_of(ids: &[i64]) -> Vec<StoredMovement>;
        /// The first booking after a number that stands and took something off a place at a cost.
        taking_since(account: Account, after: i64) -> Option<i64>;
        /// Movements from or to a place, with their business dates.
        movements_at(account: Account) -> Vec<(StoredMovement, NaiveDate)>;
    }
    erasing {
        /// Garments of a customer that are not delivered or cancelled, by code.
        open_garments_of(customer: i64) -> Vec<i64>;
        /// Lots of a customer with something on the shelf, by code.
        shelved_lots_of(customer: i64) -> Vec<i64>;
        /// Quotations for a customer that are open or accepted, by code.
        live_quotations_of(customer: i64) -> Vec<i64>;
        /// Empties what bookings wrote over of a facet of a record.
        blank_traces(facet: Facet, subject: i64) -> ();
        /// Empties the records of requests that hold one of these texts; how many.
        erase_requests(texts: &[String], at: NaiveDateTime) -> usize;
    }
    purchases {
        /// Writes a new purchase.
        insert_purchase(purchase: &Purchase) -> ();
        /// Changes a purchase's totals.
        update_purchase(purchase: &Purchase) -> ();
        /// One purchase.
        purchase(id: i64) -> Option<Purchase>;
        /// A page of purchases, newest first.
        purchases(before: i64, limit: i64) -> Vec<Purchase>;
        /// Purchases that stand and were read from this file, newest first.
        purchases_of_file(sha256: &str) -> Vec<Purchase>;
        /// Purchases that stand with an invoice of this number from a supplier, newest first.
        purchases_of_invoice(supplier: i64, invoice: &str) -> Vec<Purchase>;
        /// Purchases in a currency that stand, newest first.
        purchases_in(currency: &str, limit: i64) -> Vec<Purchase>;
        /// Writes a new line.
        insert_purchase_line(line: &PurchaseLine) -> ();
        /// Changes a line's landed cost.
        update_purchase_line(line: &PurchaseLine) -> ();
        /// Lines in order.
        purchase_lines(purchase: i64) -> Vec<PurchaseLine>;
        /// Writes a new charge.
        insert_purchase_charge(charge: &PurchaseCharge) -> ();
        /// Charges that stand, in order.
        purchase_charges(purchase: i64) -> Vec<PurchaseCharge>;
    }
    lots {
        /// One material.
        material(id: i64) -> Option<Material>;
        /// The material of a kind and name.
        material_named(kind: Kind, name: &str) -> Option<Material>;
        /// Materials of a name, of any kind.
        materials_named(name: &str) -> Vec<Material>;
        /// Materials by kind and name.
        materials() -> Vec<Material>;
        /// Writes a material.
        save_material(material: &Material) -> ();
        /// Writes a new lot.
        insert_lot(lot: &Lot) -> ();
        /// Changes a lot.
        update_lot(lot: &Lot) -> ();
        /// One lot.
        lot(id: i64) -> Option<Lot>;
        /// Lots of a material of which the price is not known or was estimated, in their order.
        lots_without_sure_value(day: NaiveDate) -> (i64, i64);
        lots_in_doubt(material: i64) -> Vec<Lot>;
        /// Writes by which fibres a lot is found, in the place of those before.
        save_lot_fibres(lot: i64, fibres: &[String]) -> ();
        /// Takes `count` numbers for new pieces of a lot and returns the first.
        next_piece_numbers(lot: i64, count: i64) -> i64;
        /// Lots of a material that the workshop bought at a known price, newest first: lot, landed cost, quantity, booking of the purchase.
        bought_lots_of(material: i64, limit: i64) -> Vec<(i64, i64, i64, i64)>;
        /// Writes a new wash test.
        insert_wash_test(test: &WashTest) -> ();
        /// Wash tests of a lot that stand, newest first.
        wash_tests(lot: i64) -> Vec<WashTest>;
        /// Layers of a material in the order of their receipt.
        layers(material: i64) -> Vec<Layer>;
        /// One layer.
        layer(id: i64) -> Option<Layer>;
        /// Writes a layer.
        save_layer(layer: &Layer) -> ();
    }
    months {
        /// What moved in whole months, by their first days, both included: sums by kind of material and kinds of places.
        flows_of_months(first: NaiveDate, last: NaiveDate) -> Vec<Flow>;
        /// The same on some days, by material too, added up from the ledger.
        flows_of_days(first: NaiveDate, last: NaiveDate) -> Vec<LedgerFlow>;
        /// By how much the pieces of materials grew in whole months; only of those with a least level, or of all.
        stock_of_months(first: NaiveDate, last: NaiveDate, all: bool) -> Vec<(i64, i64)>;
        /// First days of the months that have totals, in order.
        months_with_totals() -> Vec<NaiveDate>;
        /// The first day and the last that something is booked on.
        days_booked() -> Option<(NaiveDate, NaiveDate)>;
        /// Garments that a booking of a kind touched on some days and that stands, in the order of the ledger.
        garments_booked(kind: BookingKind, first: NaiveDate, last: NaiveDate) -> Vec<DayAct>;
        /// Versions of quotations that are dated on these days and stand: the newest of each quotation.
        quoted_between(first: NaiveDate, last: NaiveDate) -> Vec<QuotedSum>;
        /// Quotations that were accepted on these days and are accepted still.
        accepted_between(first: NaiveDate, last: NaiveDate) -> Vec<QuotedSum>;
        /// Payments of these days that stand: how many, and their sum.
        paid_between(first: NaiveDate, last: NaiveDate) -> PaidSum;
        /// Accepted quotations with what was agreed to and paid until a day, where these differ.
        owed_on(day: NaiveDate) -> Vec<OwedOn>;
        /// Minutes of these days that stand, by person and kind of work.
        worked_between(first: NaiveDate, last: NaiveDate) -> Vec<Worked>;
        /// Materials with a least level.
        materials_with_least() -> Vec<Material>;
    }
    planned {
        /// Writes what an act ended of a plan.
        insert_planned_cost(row: &PlannedCost) -> ();
        /// What was kept of a garment's plan by bookings that stand, oldest first.
        planned_costs(garment: i64) -> Vec<PlannedCost>;
    }
    pools {
        /// Shares of lots that lie in a pool.
        pool_shares(layer: i64) -> Vec<PoolShare>;
        /// The share of a lot that lies in its pool.
        pool_share(lot: i64) -> Option<PoolShare>;
        /// Writes a lot's share.
        save_pool_share(share: &PoolShare) -> ();
        /// Takes out the share of a lot whose receipt is taken back.
        delete_pool_share(lot: i64) -> ();
        /// Writes what a booking took of a lot.
        insert_pool_taking(taking: &PoolTaking) -> ();
        /// What these bookings took of pools.
        pool_takings_of(ids: &[i64]) -> Vec<PoolTaking>;
        /// Where what was taken of a lot went, each place with its sum.
        pool_places(lot: i64) -> Vec<(Account, i64)>;
        /// Lots whose shares do not add up to their whole receipt.
        audit_pool_shares() -> Vec<(i64, i64)>;
    }
    pieces {
        /// One piece.
        piece(id: i64) -> Option<StoredPiece>;
        /// The piece of a lot and number.
        piece_numbered(lot: i64, number: i64) -> Option<StoredPiece>;
        /// Pieces of a lot, used-up ones included.
        pieces_of_lot(lot: i64) -> Vec<StoredPiece>;
        /// Pieces of these ids.
        pieces_among(ids: &[i64]) -> Vec<StoredPiece>;
        /// Pieces on the shelf of a kind of material, or of one material of it, by code; this many at most.
        pieces_of_kind(kind: Kind, material: Option<i64>, limit: i64) -> Vec<StoredPiece>;
        /// Pieces on the shelf whose longest free stretch is nearest to a length.
        pieces_near(near: &Near) -> Vec<StoredPiece>;
        /// Writes a new piece.
        insert_piece(stored: &StoredPiece) -> ();
        /// Writes a piece as it is now: its stretches and flaws, and what its promises hold.
        update_piece(stored: &StoredPiece) -> ();
    }
    shelf {
        /// A page of the shelf.
        shelf(filter: &ShelfFilter) -> Vec<ShelfRow>;
        /// What lies on the shelf of each kind.
        kinds_on_shelf() -> Vec<KindOnShelf>;
        /// The workshop's own pieces of materials, by code: those on the shelf, and what was not used up at the end of a day.
        pooled_pieces(materials: &[i64], stood_on: Option<NaiveDate>) -> Vec<PooledPiece>;
        /// What came to pieces or layers, less what left them, after a day; those that did not change are left out.
        changed_after(day: NaiveDate, kind: AccountKind, ids: &[i64]) -> HashMap<i64, Change>;
    }
    garments {
        /// Writes a new garment.
        insert_garment(garment: &Garment) -> ();
        /// Changes a garment.
        update_garment(garment: &Garment) -> ();
        /// One garment.
        garment(id: i64) -> Option<Garment>;
        /// A page of garments, newest first.
        garments(state: Option<GarmentState>, customer: Option<i64>, before: i64, limit: i64) -> Vec<Garment>;
        /// Writes a need.
        save_need(need: &Need) -> ();
        /// One need.
        need(id: i64) -> Option<Need>;
        /// Needs of a garment in the order of the plan.
        needs(garment: i64) -> Vec<Need>;
        /// Writes an operation.
        save_operation(operation: &Operation) -> ();
        /// Takes a planned operation out.
        delete_operation(garment: i64, name: &str) -> ();
        /// Planned operations in order.
        operations(garment: i64) -> Vec<Operation>;
        /// Writes minutes.
        insert_work(work: &WorkEntry) -> ();
        /// Sum of the minutes of an operation on a garment that still stand.
        worked_minutes(garment: i64, operation: &str) -> i64;
        /// Minutes logged on a garment that still stand, in order.
        work(garment: i64) -> Vec<WorkEntry>;
        /// Minutes as planned of an operation on past garments other than this one, newest first; of those of a name.
        past_minutes(operation: &str, named: Option<&str>, without: i64, limit: i64) -> Vec<PastMinutes>;
    }
    seams {
        /// Writes a planned seam; one of the same name is replaced.
        save_seam(seam: &Seam) -> ();
        /// Takes a planned seam out.
        delete_seam(garment: i64, name: &str) -> ();
        /// Planned seams in order.
        seams(garment: i64) -> Vec<Seam>;
        /// What is added to the thread of a plan's seams; none: the usual.
        seam_allowance(garment: i64) -> Option<SeamAllowance>;
        /// Writes what is added.
        save_seam_allowance(allowance: &SeamAllowance) -> ();
        /// Takes it out, so that the usual counts.
        delete_seam_allowance(garment: i64) -> ();
    }
    details {
        /// Finished or delivered garments with a detail, or with this one, newest first.
        garments_with_detail(detail: Option<&str>, limit: i64) -> Vec<i64>;
        /// Writes a rating; one of the same detail is replaced.
        save_detail_rating(rating: &DetailRating) -> ();
        /// Takes a rating out.
        delete_detail_rating(garment: i64, name: &str) -> ();
        /// Ratings of a garment's details by name.
        detail_ratings(garment: i64) -> Vec<DetailRating>;
    }
    lays {
        /// Writes a kept lay with its rungs.
        insert_lay(lay: &Lay, rungs: &[LayRung]) -> ();
        /// A kept lay, whether it was taken back or not.
        lay(id: i64) -> Option<Lay>;
        /// Kept lays of a need that stand, in the order in which they were kept.
        lays_of_need(need: i64) -> Vec<Lay>;
        /// The widths and lengths of those: `(lay, usable, length)`.
        lay_lengths(need: i64) -> Vec<(i64, i64, i64)>;
        /// The rungs of a lay, the widest first.
        lay_rungs(lay: i64) -> Vec<LayRung>;
        /// Active promises that were made by a lay.
        promises_by_lay(lay: i64) -> Vec<i64>;
        /// Cuts by a lay that stand: their bookings, and what they took off their pieces.
        cuts_by_lay(lay: i64) -> Vec<(i64, i64)>;
        /// Kept lays after a number, for the audit.
        audit_lays(after: i64, limit: i64) -> Vec<Lay>;
    }
    quotations {
        /// Writes a new quotation.
        insert_quotation(quotation: &Quotation) -> ();
        /// Changes what became of a quotation.
        update_quotation(quotation: &Quotation) -> ();
        /// One quotation.
        quotation(id: i64) -> Option<Quotation>;
        /// A page of quotations, newest first.
        quotations(state: Option<QuotationState>, garment: Option<i64>, before: i64, limit: i64) -> Vec<Quotation>;
        /// What supplements a quotation, oldest first.
        supplements(quotation: i64) -> Vec<Quotation>;
        /// Writes a new version.
        insert_quotation_version(version: &QuotationVersion) -> ();
        /// Versions of a quotation, oldest first.
        quotation_versions(quotation: i64) -> Vec<QuotationVersion>;
        /// One version.
        quotation_version(quotation: i64, version: i64) -> Option<QuotationVersion>;
        /// Writes a new payment.
        insert_payment(payment: &Payment) -> ();
        /// Payments that stand, in the order they were logged.
        payments(quotation: i64) -> Vec<Payment>;
    }
    sales {
        /// Writes a sale of goods of the shelf.
        insert_sale(sale: &Sale) -> ();
        /// Sale of a booking, whether it was taken back or not.
        sale(booking: i64) -> Option<Sale>;
        /// Goods sold as they are on some days, without what was taken back.
        sold_between(first: NaiveDate, last: NaiveDate) -> Vec<Sale>;
    }
    reservations {
        /// Writes a new promise.
        insert_reservation(reservation: &Reservation) -> ();
        /// Changes a promise.
        update_reservation(reservation: &Reservation) -> ();
        /// One promise.
        reservation(id: i64) -> Option<Reservation>;
        /// The newest promise of a line: what undo made again in the place of one that had ended.
        last_of_line(line: i64) -> Option<Reservation>;
        /// Promises of a garment, ended ones included.
        reservations_of_garment(garment: i64) -> Vec<Reservation>;
        /// Active promises whose need must be of the lot of that garment.
        active_reservations_bound_to(garment: i64) -> Vec<Reservation>;
        /// Active promises whose need says that text in its JSON; it reads them all.
        active_reservations_with_needs() -> Vec<(Reservation, Need)>;
        /// Active promises of a garment, in order.
        active_reservations_of_garment(garment: i64) -> Vec<Reservation>;
        /// Promises of a garment before `before`, newest first; in one state when it is given.
        reservations_before(garment: i64, state: Option<ReservationState>, before: i64, limit: i64) -> Vec<Reservation>;
        /// How many promises of a garment have ended.
        ended_reservations_of_garment(garment: i64) -> i64;
        /// Active promises on a piece.
        active_reservations_on(piece: i64) -> Vec<Reservation>;
        /// Active promises on a material's pieces, but for customers' own, in the order they were made.
        promises_of_material(material: i64) -> Vec<PooledPromise>;
        /// Promises that were made with a quotation, ended ones included.
        reservations_of_quotation(quotation: i64) -> Vec<Reservation>;
        /// Promises that a booking made.
        reservations_made_by(booking: i64) -> Vec<Reservation>;
        /// Promises that a booking ended.
        reservations_ended_by(booking: i64) -> Vec<Reservation>;
        /// Pieces, of these, with an active promise whose last day has passed.
        pieces_with_overdue(pieces: &[i64], today: NaiveDate) -> Vec<i64>;
    }
    cuts {
        /// Writes what was cut.
        insert_cut(cut: &CutEntry) -> ();
        /// The cut of a booking, whether it was taken back or not.
        cut(booking: i64) -> Option<CutEntry>;
        /// Cuts for a garment that stand, oldest first.
        cuts_of_garment(garment: i64) -> Vec<CutEntry>;
        /// Cuts for a garment that stand, oldest first, each with the line of promises that it was drawn from.
        standing_cuts(garment: i64) -> Vec<StandingCut>;
        /// What was cut from a line of promises: of its units, and off what was held.
        cut_of_line(line: i64) -> CutOfLine;
        /// Active promises of a garment with their lots, in the order they were made.
        standing_promises(garment: i64) -> Vec<StandingPromise>;
        /// Cuts for a need that stand, oldest first.
        cuts_of_need(need: i64) -> Vec<CutEntry>;
        /// Cuts of a lot's pieces that stand, oldest first.
        cuts_of_lot(lot: i64) -> Vec<CutEntry>;
    }
    raw {
        /// Rows of a query with one column named `text`.
        texts(query: &str) -> Vec<String>;
        /// Runs a statement with one text.
        run_with(statement: &str, text: &str) -> usize;
    }
    tokens {
        /// All people, in the order they were named.
        people() -> Vec<Person>;
        /// One person.
        person(id: i64) -> Option<Person>;
        /// The person whose name is this, or looks like it.
        person_alike(name: &str, skeleton: &str) -> Option<Person>;
        /// Writes a new person.
        insert_person(person: &Person) -> ();
        /// Says whether a person's hours are wages.
        mark_person(id: i64, paid: bool) -> ();
        /// All tokens with whose they are, oldest first.
        tokens() -> Vec<(Token, Person)>;
        /// One token.
        token(id: i64) -> Option<(Token, Person)>;
        /// The token whose secret has this hash.
        token_of_hash(hash: &str) -> Option<(Token, Person)>;
        /// Writes a new token with what it allows beyond its role.
        insert_token(token: &Token, grants: &[Grant]) -> ();
        /// What a token allows beyond its role.
        token_grants(token: i64) -> Vec<Grant>;
        /// Notes the last day on which a token opened the book.
        use_token(id: i64, day: NaiveDate) -> ();
        /// Takes a token back, unless it was before.
        revoke_token(id: i64, at: NaiveDateTime, by: &str) -> ();
    }
    audit {
        /// A batch of pieces with the ledger's sums.
        audit_pieces(after: i64, limit: i64) -> Vec<Balance>;
        /// A batch of layers with the ledger's sums.
        audit_layers(after: i64, limit: i64) -> Vec<Balance>;
        /// Stretches of a range of pieces: piece, position, length, held.
        audit_stretches(first: i64, last: i64) -> Vec<(i64, i64, i64, i64)>;
        /// Active promises on a range of pieces: piece, stretch, held.
        audit_promises(first: i64, last: i64) -> Vec<(i64, i64, i64)>;
        /// A batch of purchases with their sums.
        audit_purchases(after: i64, limit: i64) -> Vec<PurchaseSum>;
        /// Numbers of bookings and movements.
        audit_counts() -> (i64, i64);
        /// Garments that more value left than reached: garment and the difference.
        audit_negative_garments() -> Vec<(i64, i64)>;
        /// Value that the ledger says is neither outside nor on the shelf: garments, deliveries, losses, adjustments.
        audit_value_elsewhere() -> i64;
        /// Movements from or to places that do not exist.
        audit_orphans() -> Vec<(String, i64)>;
        /// Promises that a cut or a promise of another need belongs to.
        audit_lines() -> Vec<i64>;
        /// Movements out of layers, or into them, after a layer and a sequence.
        audit_layer_steps(out: bool, after: (i64, i64), limit: i64) -> Vec<LayerStep>;
        /// Counters with the highest code in use.
        audit_counters() -> Vec<CounterSum>;
        /// Lots that would give a piece a number in use.
        audit_piece_numbers() -> Vec<i64>;
    }
}
