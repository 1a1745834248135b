//! The bare side: the statements of a reserve and a release, prepared once, on the same file with the same settings. It
//! knows nothing: no checks, no domain, no JSON, no answer.

use rusqlite::{Connection, params};
use std::path::Path;
use uuid::Uuid;

/// The same file with the same settings.
pub fn open(file: &Path) -> Connection {
    let bare = Connection::open(file).expect("the same file");
    bare.execute_batch("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA busy_timeout = 5000;")
        .expect("the same settings");
    bare.set_prepared_statement_cache_capacity(64);
    bare
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
pub fn bare_reserve(bare: &Connection, need: i64) -> rusqlite::Result<()> {
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

pub fn bare_release(bare: &Connection, need: i64) -> rusqlite::Result<()> {
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
