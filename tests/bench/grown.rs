//! Books of any size: one purchase, its cuts and its garments booked by the acts themselves, and copied row by row with new
//! numbers. They are in order: `audit` finds nothing. What the details of the copied bookings name is the first one's.

use ellwand_contract::{
    audit::RunAudit, cuts::Cut, garments::PlanGarment, purchases::Buy, work::LogWork,
};
use ellwand_service::{Book, Caller, Clock, Options, Perform};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::path::Path;
use uuid::Uuid;

/// Pieces of the first lot.
const PIECES: i64 = 10;
/// Cuts of each; with its receipt that makes 20 movements a piece.
const CUTS: i64 = 19;
/// Numbers that one copy takes of each kind.
const STEP: i64 = 1_000;

/// Asks an act that must be accepted.
pub fn ask<A: Perform>(book: &Book, request: Value) -> A::Answer {
    let act: A = serde_json::from_value(request).expect("the request is well formed");
    book.call(&Caller::owner("owner"), &act)
        .expect("the act is accepted")
        .answer
}

/// Opens the book of a file.
pub fn open(file: &Path) -> Book {
    let url = format!("sqlite://{}", file.display());
    Book::open_for_many(
        &url,
        Options {
            clock: Clock::system(),
            create: true,
        },
        8,
    )
    .expect("a book")
}

/// A book of this many pieces and 20 times as many movements.
pub fn grown(file: &Path, pieces: i64) -> Book {
    let book = open(file);
    first(&book);
    let copies = pieces / PIECES - 1;
    let rows = Connection::open(file).expect("the same file");
    rows.execute_batch("PRAGMA synchronous = OFF; PRAGMA foreign_keys = OFF; BEGIN IMMEDIATE;")
        .expect("a start");
    for (table, numbers) in NUMBERS {
        copy(&rows, table, numbers, copies).expect("copies");
    }
    let counted = "UPDATE counters SET next_number = next_number + ?1 WHERE kind <> 'material'";
    let _ = rows.execute(counted, [copies * STEP]).expect("counters");
    let months = format!(
        "UPDATE month_totals SET quantity_out = quantity_out * {times}, quantity_in = quantity_in * {times}, \
         value = value * {times}; UPDATE month_stock SET quantity = quantity * {times};",
        times = copies + 1
    );
    rows.execute_batch(&months).expect("totals");
    rows.execute_batch("COMMIT").expect("an end");
    let stray: i64 = rows
        .query_row("SELECT COUNT(*) FROM pragma_foreign_key_check", [], |row| {
            row.get(0)
        })
        .expect("a check");
    assert_eq!(stray, 0, "every copy names copies");
    let audit = ask::<RunAudit>(&book, json!({}));
    assert!(
        audit.findings.is_empty(),
        "{:?}",
        audit.findings.first().map(|finding| &finding.detail)
    );
    let movements: i64 = rows
        .query_row("SELECT COUNT(*) FROM movements", [], |row| row.get(0))
        .expect("a count");
    assert_eq!(movements, (copies + 1) * PIECES * (CUTS + 1));
    book
}

/// What is copied, by acts.
fn first(book: &Book) {
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm",
        "shrinkage": {"length": "5%", "width": "2%"}});
    // 4 m to 13 m; 3.80 m are cut off each.
    let pieces: Vec<String> = (4..4 + PIECES).map(|metres| format!("{metres}m")).collect();
    let line = json!([{"material": linen, "paid": "85m", "pieces": pieces, "price": "850"}]);
    ask::<Buy>(book, json!({"id": Uuid::now_v7(), "line": line}));
    let need = json!([{"role": "shell", "kind": "cloth", "length": "2m", "width": "140cm", "preparation": "none"}]);
    for number in 1..=PIECES {
        ask::<PlanGarment>(
            book,
            json!({"id": Uuid::now_v7(), "name": "apron", "need": need}),
        );
        let garment = format!("G{number}");
        for _ in 0..CUTS {
            ask::<Cut>(
                book,
                json!({"id": Uuid::now_v7(), "garment": garment, "need": "shell", "piece": format!("L1.{number}"),
                    "amount": "20cm"}),
            );
        }
        ask::<LogWork>(
            book,
            json!({"id": Uuid::now_v7(), "garment": garment, "operation": "sewing", "kind": "machine", "time": "2h"}),
        );
    }
}

/// Tables, and the columns whose numbers are those of a copy.
const NUMBERS: [(&str, &[&str]); 13] = [
    ("bookings", &["id"]),
    ("booking_subjects", &["booking_id", "subject_id"]),
    ("movements", &["booking_id", "from_id", "to_id"]),
    ("purchases", &["id", "booking_id"]),
    ("lots", &["id", "purchase_id"]),
    ("lot_fibres", &["lot_id"]),
    ("purchase_lines", &["purchase_id", "lot_id"]),
    ("pieces", &["id", "lot_id"]),
    ("stretches", &["piece_id"]),
    ("garments", &["id"]),
    ("needs", &["id", "garment_id"]),
    ("cuts", &["booking_id", "need_id", "piece_id"]),
    ("work_entries", &["id", "booking_id", "garment_id"]),
];

fn copy(rows: &Connection, table: &str, numbers: &[&str], copies: i64) -> rusqlite::Result<()> {
    let mut statement = rows.prepare(&format!("SELECT name FROM pragma_table_info('{table}')"))?;
    let columns: Vec<String> = statement
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<Vec<String>>>()?;
    let columns: Vec<&str> = columns
        .iter()
        .map(String::as_str)
        .filter(|name| *name != "sequence")
        .collect();
    let values = columns.iter().map(|name| {
        if numbers.contains(name) {
            format!("t.{name} + c.number * {STEP}")
        } else {
            format!("t.{name}")
        }
    });
    let (into, values) = (columns.join(", "), values.collect::<Vec<_>>().join(", "));
    rows.execute_batch(&format!(
        "CREATE TEMP TABLE template AS SELECT * FROM {table};
         WITH RECURSIVE c(number) AS (SELECT 1 UNION ALL SELECT number + 1 FROM c WHERE number < {copies})
         INSERT INTO {table} ({into}) SELECT {values} FROM c CROSS JOIN template t;
         DROP TABLE template;"
    ))
}
