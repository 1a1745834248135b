//! A reserve and a release, durable, and a page of a large shelf, in process: against the bare SQL of the same rows on
//! the same file with the same settings, in turn in one run.
//!
//! The bare side prepares its statements once and knows nothing: no checks, no domain, no JSON, no answer.

mod bare;
mod pairs;
mod statements;

use bare::{bare_release, bare_reserve};
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
use rusqlite::Connection;
use serde_json::{Value, json};
use uuid::Uuid;

fn ask<A: Perform>(book: &Book, request: Value) -> A::Answer {
    let act: A = serde_json::from_value(request).expect("the request is well formed");
    book.call(&Caller::owner("owner"), &act)
        .expect("the act is accepted")
        .answer
}

fn main() {
    let folder = tempfile::TempDir::new().expect("a temporary folder");
    let file = folder.path().join("book.sqlite3");
    let clock = Clock::fixed(Utc.with_ymd_and_hms(2026, 10, 12, 9, 0, 0).unwrap());
    let book = Book::open(
        &format!("sqlite://{}", file.display()),
        Options {
            clock,
            create: true,
        },
    )
    .expect("a new book");
    let bare = bare::open(&file);
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
        ask::<PlanGarment>(
            book,
            json!({"id": Uuid::now_v7(), "name": "dress", "need": need}),
        );
    }
    compare(
        "reserve and release",
        RUNS,
        "1.5",
        "bare",
        |run| {
            let garment = format!("G{}", 2 * run + 1);
            let picks = json!([{"need": "shell", "piece": "L1.1"}]);
            ask::<Reserve>(
                book,
                json!({"id": Uuid::now_v7(), "garment": garment, "picks": picks}),
            );
            ask::<Release>(book, json!({"id": Uuid::now_v7(), "garment": garment}));
        },
        |run| {
            let need = i64::try_from(2 * run + 2).unwrap_or(1);
            bare_reserve(bare, need).expect("the bare reserve");
            bare_release(bare, need).expect("the bare release");
        },
    );
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
        "bare",
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
                let numbers: (i64, i64, i64) = (
                    row.get(0).expect("number"),
                    row.get(3).expect("number"),
                    row.get(8).expect("number"),
                );
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
         INSERT INTO pieces (id, lot_id, number, quantity, full_width_um, selvedges_um, value, held, longest_free, preparation, offcut, place, received, prepared, last_on, mass_factor_ppm, estimated)
         SELECT i, 1, i, 10000, 1500000, 0, 0, 0, 10000, NULL, FALSE, 'A1', '2026-10-12', NULL, '2026-10-12', 1000000, FALSE FROM n;
         INSERT INTO stretches (piece_id, position, start_um, length, held) SELECT id, 0, 0, 10000, 0 FROM pieces WHERE id > 1;
         INSERT INTO movements (booking_id, from_kind, from_id, to_kind, to_id, quantity_out, quantity_in, value)
         SELECT 1, 'normal-loss', 0, 'piece', id, 10000, 10000, 0 FROM pieces WHERE id > 1;
         UPDATE counters SET next_number = {PIECES} + 2 WHERE kind = 'piece';
         UPDATE lots SET next_piece = {PIECES} + 2 WHERE id = 1;
         COMMIT;
         ANALYZE;"
    ))
}
