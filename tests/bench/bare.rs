//! The bare side: the statements of a reserve and a release, prepared once, on the same file with the same settings. It
//! knows nothing: no checks, no domain, no JSON, no answer.

use crate::statements::{FILLERS, RELEASE, RESERVE, Statements};
use rusqlite::{Connection, types::Value};
use std::path::Path;
use uuid::Uuid;

/// The same file with the same settings.
pub fn open(file: &Path) -> Connection {
    let bare = Connection::open(file).expect("the same file");
    bare.execute_batch(
        "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON; PRAGMA busy_timeout = 5000;",
    )
    .expect("the same settings");
    bare.set_prepared_statement_cache_capacity(64);
    bare
}

pub fn bare_reserve(bare: &Connection, need: i64) -> rusqlite::Result<()> {
    run(bare, &RESERVE, need)
}

pub fn bare_release(bare: &Connection, need: i64) -> rusqlite::Result<()> {
    run(bare, &RELEASE, need)
}

fn run(bare: &Connection, act: &Statements, need: i64) -> rusqlite::Result<()> {
    let mut values: Vec<(String, Value)> = vec![
        (":need".to_owned(), need.into()),
        (":request".to_owned(), Uuid::now_v7().to_string().into()),
        (":kind".to_owned(), act.kind.to_owned().into()),
        (":held".to_owned(), act.held.into()),
    ];
    for (name, length) in FILLERS {
        values.push((
            name.to_owned(),
            format!("{{\"filler\":\"{}\"}}", "x".repeat(length)).into(),
        ));
    }
    bare.execute_batch("BEGIN IMMEDIATE")?;
    for sql in act.texts.iter().copied().flatten() {
        let mut statement = bare.prepare_cached(sql)?;
        for index in 1..=statement.parameter_count() {
            let value = values
                .iter()
                .find(|(name, _)| Some(name.as_str()) == statement.parameter_name(index));
            let (_, value) = value.expect("a value of that name");
            statement.raw_bind_parameter(index, value)?;
        }
        let returned = sql
            .contains("RETURNING")
            .then(|| format!(":{}", statement.column_names()[0]));
        let mut rows = statement.raw_query();
        while let Some(row) = rows.next()? {
            if let Some(name) = &returned {
                values.push((name.clone(), row.get(0)?));
            }
        }
    }
    bare.execute_batch("COMMIT")
}
