//! The tables as they are, against what the queries were compiled for.

use crate::database::TestDatabase;
use std::collections::BTreeSet;

/// `table.column type nullable` for every column that `schema.rs` declares.
fn declared() -> BTreeSet<String> {
    let text = include_str!("../../server/storage/src/schema.rs");
    let (mut columns, mut table) = (BTreeSet::new(), None);
    for line in text.lines().map(str::trim) {
        if let Some((name, _)) = line.split_once(" (").filter(|_| line.ends_with(") {")) {
            table = Some(name);
        } else if let Some((name, kind)) = line.split_once(" -> ").filter(|_| line.ends_with(',')) {
            let kind = kind.trim_end_matches(',');
            let inner = kind
                .strip_prefix("Nullable<")
                .and_then(|kind| kind.strip_suffix('>'));
            let nullable = if inner.is_some() { "NULL" } else { "NOT NULL" };
            columns.insert(format!(
                "{}.{name} {} {nullable}",
                table.unwrap(),
                inner.unwrap_or(kind)
            ));
        } else if line == "}" && table.is_some() {
            table = None;
        }
    }
    columns
}

/// The same of the database.
fn there_is(book: &TestDatabase) -> BTreeSet<String> {
    let query = if book.is_sqlite() {
        "SELECT t.name || '.' || c.name || ' ' || c.type || CASE c.\"notnull\" WHEN 1 THEN ' NOT NULL' ELSE ' NULL' END \
         AS text FROM sqlite_schema t JOIN pragma_table_info(t.name) c \
         WHERE t.type = 'table' AND t.name NOT LIKE 'sqlite%'"
    } else {
        "SELECT table_name || '.' || column_name || ' ' || data_type || \
         CASE is_nullable WHEN 'NO' THEN ' NOT NULL' ELSE ' NULL' END AS text \
         FROM information_schema.columns WHERE table_schema = current_schema()"
    };
    let names = [
        ("BIGINT", "BigInt"),
        ("INTEGER", "BigInt"),
        ("bigint", "BigInt"),
        ("TEXT", "Text"),
        ("text", "Text"),
        ("BOOLEAN", "Bool"),
        ("boolean", "Bool"),
        ("DATE", "Date"),
        ("date", "Date"),
        ("TIMESTAMP", "Timestamp"),
        ("timestamp without time zone", "Timestamp"),
    ];
    let rows = book
        .texts(query)
        .into_iter()
        .filter(|row| !row.starts_with("__diesel"));
    rows.map(|row| {
        let (column, rest) = row.split_once(' ').unwrap();
        let (kind, nullable) =
            rest.split_at(rest.find(" NOT NULL").or(rest.find(" NULL")).unwrap());
        let (_, kind) = names.iter().find(|(name, _)| *name == kind).expect(kind);
        format!("{column} {kind}{nullable}")
    })
    .collect()
}

pub fn every_table_and_column_is_declared(book: &TestDatabase) {
    let (declared, there_is) = (declared(), there_is(book));
    assert!(
        declared.contains("lots.mass_mg_m2 BigInt NULL"),
        "the reader of schema.rs works"
    );
    assert_eq!(
        declared.difference(&there_is).collect::<Vec<_>>(),
        [""; 0],
        "declared, but not there"
    );
    assert_eq!(
        there_is.difference(&declared).collect::<Vec<_>>(),
        [""; 0],
        "there, but not declared"
    );
}

/// Columns that name a row of no single table.
const WITHOUT_FOREIGN_KEY: [(&str, &str); 5] = [
    (
        "booking_subjects.subject_id",
        "a garment, a lot or a purchase, as `subject` says",
    ),
    (
        "movements.from_id",
        "a row of the table that `from_kind` says, or none",
    ),
    (
        "movements.to_id",
        "a row of the table that `to_kind` says, or none",
    ),
    (
        "traces.subject_id",
        "a piece, a lot, a garment, a quotation or a booking, as `facet` says",
    ),
    (
        "pool_takings.to_id",
        "a row of the table that `to_kind` says, or none",
    ),
];

pub fn every_identifier_refers_to_its_row(book: &TestDatabase) {
    let query = if book.is_sqlite() {
        "SELECT t.name || '.' || f.\"from\" || ' ' || f.\"table\" AS text \
         FROM sqlite_schema t JOIN pragma_foreign_key_list(t.name) f WHERE t.type = 'table'"
    } else {
        "SELECT c.conrelid::regclass::text || '.' || a.attname || ' ' || c.confrelid::regclass::text AS text \
         FROM pg_constraint c JOIN pg_attribute a ON a.attrelid = c.conrelid AND a.attnum = c.conkey[1] \
         WHERE c.contype = 'f' AND c.connamespace = current_schema()::regnamespace"
    };
    let found: BTreeSet<String> = book.texts(query).into_iter().collect();
    let tables = [
        ("booking_id", "bookings"),
        ("undoes", "bookings"),
        ("ended_by", "bookings"),
        ("undone_by", "bookings"),
        ("accepted_in", "bookings"),
        ("supplier_id", "suppliers"),
        ("customer_id", "customers"),
        ("owner_id", "customers"),
        ("material_id", "materials"),
        ("purchase_id", "purchases"),
        ("lot_id", "lots"),
        ("piece_id", "pieces"),
        ("layer_id", "layers"),
        ("garment_id", "garments"),
        ("need_id", "needs"),
        ("lay_id", "lays"),
        ("strip_id", "pieces"),
        ("outer_id", "pieces"),
        ("reservation_id", "reservations"),
        ("token_id", "tokens"),
        ("person_id", "people"),
        ("request_id", "requests"),
        ("work_id", "work_entries"),
        ("quotation_id", "quotations"),
        ("first_id", "reservations"),
        ("reservation_id", "reservations"),
        ("undone_by", "bookings"),
        ("supplement_to", "quotations"),
        ("same_lot_as", "garments"),
    ];
    let mut expected = BTreeSet::new();
    for declared in declared() {
        let (place, _) = declared.split_once(' ').unwrap();
        let (_, column) = place.split_once('.').unwrap();
        let beside = [
            "undoes",
            "ended_by",
            "undone_by",
            "accepted_in",
            "supplement_to",
            "same_lot_as",
        ];
        let named = column.ends_with("_id") || beside.contains(&column);
        if !named
            || WITHOUT_FOREIGN_KEY
                .iter()
                .any(|(without, _)| *without == place)
        {
            continue;
        }
        let (_, table) = tables
            .iter()
            .find(|(name, _)| *name == column)
            .expect(place);
        expected.insert(format!("{place} {table}"));
    }
    assert_eq!(found, expected);
}

/// A table that is declared and not copied would be lost when a book moves.
pub fn every_table_is_copied(book: &TestDatabase) {
    let declared: BTreeSet<String> = declared()
        .iter()
        .map(|column| column.split('.').next().unwrap().to_owned())
        .collect();
    let copied: BTreeSet<String> = book
        .get(|tx| tx.content())
        .iter()
        .map(|content| content.table.to_owned())
        .collect();
    assert_eq!(copied, declared);
}

/// Without an index on a column that refers to another table, each change of that table reads this one whole: on SQLite a
/// booking does, which is written after the rows that name it.
#[test]
fn every_reference_has_an_index() {
    let book = TestDatabase::sqlite();
    let without = book.texts(
        "SELECT t.name || '.' || f.\"from\" AS text FROM sqlite_schema t JOIN pragma_foreign_key_list(t.name) f \
         WHERE t.type = 'table' AND NOT EXISTS ( \
             SELECT 1 FROM pragma_index_list(t.name) l JOIN pragma_index_info(l.name) i ON i.seqno = 0 \
             WHERE i.name = f.\"from\")",
    );
    assert_eq!(without, [""; 0]);
}
