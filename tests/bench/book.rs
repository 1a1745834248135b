//! A reserve and a release, durable, and a page of a large shelf, in process: against the bare SQL of the same rows on
//! the same file with the same settings, in turn in one run.
//!
//! The bare side prepares its statements once and knows nothing: no checks, no domain, no JSON, no answer.

mod pairs;

use chrono::{TimeZone, Utc};
use ellwand_contract::{
    audit::RunAudit,
    garments::PlanGarment,
    purchases::Buy,
    reservations::{Release, Reserve},
    shelf::GetShelf,
};
use ellwand_service::{Book, Caller, Clock, Options, Perform};
use pairs::compare;
use rusqlite::{Connection, params};
use serde_json::{Value, json};
use uuid::Uuid;

fn ask<A: Perform>(book: &Book, request: Value) -> A::Answer {
    let act: A = serde_json::from_value(request).expect("the request is well formed");
    book.call(&Caller::owner("owner"), &act).expect("the act is accepted").answer
}

fn main() {
    let folder = tempfile::TempDir::new().expect("a temporary folder");
    let file = folder.path().join("book.sqlite3");
    let clock = Clock::fixed(Utc.with_ymd_and_hms(2026, 10, 12, 9, 0, 0).unwrap());
    let book = Book::open(&format!("sqlite://{}", file.display()), Options { clock, create: true })
        .expect("a new book");
    let bare = Connection::open(&file).expect("the same file");
    bare.execute_batch("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA busy_timeout = 5000;")
        .expect("the same settings");
    bare.set_prepared_statement_cache_capacity(64);
    promises(&book, &bare);
    shelf(&book, &bare);
}

const RUNS: usize = 400;

fn promises(book: &Book, bare: &Connection) {
    ask::<Buy>(
        book,
        json!({"id": Uuid::now_v7(), "line": [{"material": {"kind": "cloth", "name": "linen", "full_width": "150cm",
            "shrinkage": {"length": "5%", "width": "2%"}}, "paid": "4000m", "price": "40000"}]}),
    );
    let need = json!([{"role": "shell", "kind": "cloth", "length": "2.6m", "width": "140cm", "preparation": "washed"}]);
    for _ in 0..2 * (RUNS + RUNS / 10) {
        ask::<PlanGarment>(book, json!({"id": Uuid::now_v7(), "name": "dress", "need": need}));
    }
    compare(
        "reserve and release",
        RUNS,
        "1.5",
        |run| {
            let garment = format!("G{}", 2 * run + 1);
            let picks = json!([{"need": "shell", "piece": "L1.1"}]);
            ask::<Reserve>(book, json!({"id": Uuid::now_v7(), "garment": garment, "picks": picks}));
            ask::<Release>(book, json!({"id": Uuid::now_v7(), "garment": garment}));
        },
        |run| {
            let need = i64::try_from(2 * run + 2).unwrap_or(1);
            bare_reserve(bare, need).expect("the bare reserve");
            bare_release(bare, need).expect("the bare release");
        },
    );
}

/// What a row of JSON weighs in the real tables.
fn filler(length: usize) -> String {
    format!("{{\"filler\":\"{}\"}}", "x".repeat(length))
}

fn next(bare: &Connection, kind: &str) -> rusqlite::Result<i64> {
    bare.prepare_cached(
        "UPDATE counters SET next_number = next_number + 1 WHERE kind = ?1 RETURNING next_number - 1",
    )?
    .query_row([kind], |row| row.get(0))
}

fn read(bare: &Connection, sql: &str, key: i64) -> rusqlite::Result<usize> {
    let mut statement = bare.prepare_cached(sql)?;
    let mut rows = statement.query([key])?;
    let mut count = 0;
    while rows.next()?.is_some() {
        count += 1;
    }
    Ok(count)
}

fn record(bare: &Connection, booking: i64, kind: &str, detail: usize) -> rusqlite::Result<()> {
    bare.prepare_cached(
        "INSERT INTO bookings (id, kind, summary, on_date, booked_at, by_name, undoes, detail) \
         VALUES (?1, ?2, 'Reserved 2.80 m of L1.1 for the shell of G1 dress.', '2026-10-12', '2026-10-12 09:00:00', 'bare', NULL, ?3)",
    )?
    .execute(params![booking, kind, filler(detail)])?;
    for (subject, id) in [("garment", 1), ("lot", 1)] {
        bare.prepare_cached(
            "INSERT INTO booking_subjects (booking_id, subject, subject_id) VALUES (?1, ?2, ?3)",
        )?
        .execute(params![booking, subject, id])?;
    }
    bare.prepare_cached(
        "INSERT INTO requests (id, act, caller, content, answer, answered_at) \
         VALUES (?1, 'reserve', 'bare', ?2, ?3, '2026-10-12 09:00:00')",
    )?
    .execute(params![Uuid::now_v7().to_string(), filler(150), filler(700)])?;
    Ok(())
}

fn piece_and_stretch(bare: &Connection, held: i64) -> rusqlite::Result<()> {
    bare.prepare_cached("UPDATE pieces SET held = ?1, longest_free = quantity - ?1 WHERE id = 1")?
        .execute([held])?;
    read(bare, "SELECT * FROM stretches WHERE piece_id = ?1 ORDER BY position", 1)?;
    bare.prepare_cached("UPDATE stretches SET held = ?1 WHERE piece_id = 1 AND position = 0")?
        .execute([held])?;
    Ok(())
}

/// The statements of a reserve: seek the request, read settings, garment, need, piece, lot, material, tests and
/// promises; count up, write the promise, the piece and the booking.
fn bare_reserve(bare: &Connection, need: i64) -> rusqlite::Result<()> {
    bare.execute_batch("BEGIN IMMEDIATE")?;
    let seek = "SELECT * FROM requests WHERE id = ?1";
    let _ = bare.prepare_cached(seek)?.exists([Uuid::now_v7().to_string()])?;
    for sql in [
        "SELECT * FROM workshops WHERE id = ?1",
        "SELECT * FROM garments WHERE id = ?1",
        "SELECT * FROM needs WHERE garment_id = ?1 ORDER BY id",
        "SELECT r.* FROM reservations r JOIN needs n ON n.id = r.need_id WHERE n.garment_id = ?1 ORDER BY r.id",
        "SELECT * FROM pieces WHERE lot_id = ?1 AND number = 1",
        "SELECT * FROM flaws WHERE piece_id = ?1",
        "SELECT * FROM lots WHERE id = ?1",
        "SELECT * FROM materials WHERE id = ?1",
        "SELECT * FROM wash_tests WHERE lot_id = ?1 ORDER BY number DESC",
    ] {
        let key = if sql.contains("garment") || sql.contains("needs") { need } else { 1 };
        read(bare, sql, key)?;
    }
    let (booking, reservation) = (next(bare, "booking")?, next(bare, "reservation")?);
    bare.prepare_cached(
        "INSERT INTO reservations (id, need_id, piece_id, state, units, held, stretch, asked, promised, until, booking_id, ended_by, ended_because) \
         VALUES (?1, ?2, 1, 'active', 1, 2800000, 0, ?3, '2026-10-12', NULL, ?4, NULL, NULL)",
    )?
    .execute(params![reservation, need, filler(350), booking])?;
    piece_and_stretch(bare, 2_800_000)?;
    record(bare, booking, "reserved", 60)?;
    bare.execute_batch("COMMIT")
}

fn bare_release(bare: &Connection, need: i64) -> rusqlite::Result<()> {
    bare.execute_batch("BEGIN IMMEDIATE")?;
    let seek = "SELECT * FROM requests WHERE id = ?1";
    let _ = bare.prepare_cached(seek)?.exists([Uuid::now_v7().to_string()])?;
    for sql in [
        "SELECT * FROM workshops WHERE id = ?1",
        "SELECT * FROM garments WHERE id = ?1",
        "SELECT * FROM needs WHERE garment_id = ?1 ORDER BY id",
        "SELECT r.* FROM reservations r JOIN needs n ON n.id = r.need_id WHERE n.garment_id = ?1 ORDER BY r.id",
        "SELECT * FROM pieces WHERE id = ?1",
        "SELECT * FROM flaws WHERE piece_id = ?1",
        "SELECT * FROM lots WHERE id = ?1",
        "SELECT * FROM materials WHERE id = ?1",
    ] {
        let key = if sql.contains("garment") || sql.contains("needs") { need } else { 1 };
        read(bare, sql, key)?;
    }
    let booking = next(bare, "booking")?;
    bare.prepare_cached("UPDATE reservations SET state = 'released', held = 0, ended_by = ?1 WHERE need_id = ?2 AND state = 'active'")?
        .execute([booking, need])?;
    piece_and_stretch(bare, 0)?;
    record(bare, booking, "released", 60)?;
    bare.execute_batch("COMMIT")
}

const PIECES: i64 = 100_000;
const PAGE: &str = "SELECT p.id, p.lot_id, p.number, p.quantity, p.held, p.longest_free, p.full_width_um, p.selvedges_um, \
     p.value, p.preparation, p.offcut, p.place, l.owner_id, l.colour, l.mass_mg_m2, l.sheet, m.kind, m.name \
     FROM pieces p JOIN lots l ON l.id = p.lot_id JOIN materials m ON m.id = l.material_id \
     WHERE p.quantity > 0 AND (p.lot_id, p.number) > (?1, ?2) ORDER BY p.lot_id, p.number LIMIT 101";

fn shelf(book: &Book, bare: &Connection) {
    page(book, bare, "first page of a shelf of 1 piece", (0, 0));
    fill(bare).expect("a large shelf");
    let audit = ask::<RunAudit>(book, json!({}));
    assert!(audit.findings.is_empty(), "the filled book is in order");
    assert!(audit.pieces > PIECES);
    page(book, bare, "first page of 100 000", (0, 0));
    page(book, bare, "page in the middle of 100 000", (1, PIECES / 2));
}

fn page(book: &Book, bare: &Connection, title: &str, after: (i64, i64)) {
    let request = match after {
        (0, 0) => json!({}),
        (lot, number) => json!({"after": format!("L{lot}.{number}")}),
    };
    compare(
        title,
        RUNS,
        "2",
        |_| {
            std::hint::black_box(ask::<GetShelf>(book, request.clone()));
        },
        |_| {
            let mut statement = bare.prepare_cached(PAGE).expect("the page's query");
            let mut rows = statement.query([after.0, after.1]).expect("the page");
            while let Some(row) = rows.next().expect("a row") {
                // The same columns are read out, as the service must.
                let texts: (Option<String>, Option<String>, String, String) = (
                    row.get(9).expect("text"),
                    row.get(11).expect("text"),
                    row.get(15).expect("text"),
                    row.get(17).expect("text"),
                );
                let numbers: (i64, i64, i64) =
                    (row.get(0).expect("number"), row.get(3).expect("number"), row.get(8).expect("number"));
                std::hint::black_box((texts, numbers));
            }
        },
    );
}

/// Splits of one lot, as many as it takes; consistent with the ledger.
fn fill(bare: &Connection) -> rusqlite::Result<()> {
    bare.execute_batch(&format!(
        "BEGIN IMMEDIATE;
         WITH RECURSIVE n(i) AS (SELECT 2 UNION ALL SELECT i + 1 FROM n WHERE i <= {PIECES})
         INSERT INTO pieces (id, lot_id, number, quantity, full_width_um, selvedges_um, value, held, longest_free, preparation, offcut, place, received, prepared, last_on, structure)
         SELECT i, 1, i, 10000, 1500000, 0, 0, 0, 10000, NULL, FALSE, 'A1', '2026-10-12', NULL, '2026-10-12', 0 FROM n;
         INSERT INTO stretches (piece_id, position, start_um, length, held) SELECT id, 0, 0, 10000, 0 FROM pieces WHERE id > 1;
         INSERT INTO movements (booking_id, from_kind, from_id, to_kind, to_id, quantity_out, quantity_in, value)
         SELECT 1, 'normal-loss', 0, 'piece', id, 10000, 10000, 0 FROM pieces WHERE id > 1;
         UPDATE counters SET next_number = {PIECES} + 2 WHERE kind = 'piece';
         UPDATE lots SET next_piece = {PIECES} + 2 WHERE id = 1;
         COMMIT;
         ANALYZE;"
    ))
}
