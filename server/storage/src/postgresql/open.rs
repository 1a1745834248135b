//! Opening a book on PostgreSQL: whose schema it is, which version it has, bringing it up to date.

use super::Conn;
use crate::db::OpenOptions;
use crate::error::StorageError;
use crate::migration::{MIGRATIONS_KNOWN, POSTGRESQL_MIGRATIONS, postgresql_versions};
use diesel::{
    connection::SimpleConnection,
    prelude::*,
    sql_types::{BigInt, Bool, Text},
};
use diesel_migrations::MigrationHarness;
use std::sync::LazyLock;

/// `Ellw` in ASCII: first half of the key that processes lock to migrate one after another.
const LOCK_KEY: i64 = 0x456c_6c77;

#[derive(QueryableByName)]
struct Tables {
    #[diesel(sql_type = BigInt)]
    all: i64,
    #[diesel(sql_type = BigInt)]
    migrations: i64,
}

#[derive(QueryableByName)]
struct Version {
    #[diesel(sql_type = Text)]
    version: String,
}

/// Compares the database's schema with the program's, and migrates if requested.
pub(super) fn bring_up(conn: &mut Conn, options: &OpenOptions) -> Result<(), StorageError> {
    let found = migrations_of(conn)?;
    if found == MIGRATIONS_KNOWN {
        return Ok(());
    }
    if !options.create {
        return Err(StorageError::Older {
            found,
            known: MIGRATIONS_KNOWN,
        });
    }
    let busy = options.busy.as_millis().max(1);
    conn.batch_execute(&format!(
        "SET lock_timeout = {busy}; SELECT pg_advisory_lock({LOCK_KEY}, hashtext(current_schema())); \
         SET lock_timeout = 0;"
    ))?;
    let done = migrate(conn, busy);
    // A connection that cannot unlock is broken, and its end unlocks.
    let _ = conn.batch_execute(&format!(
        "SELECT pg_advisory_unlock({LOCK_KEY}, hashtext(current_schema()));"
    ));
    done
}

/// All of it in one transaction, which holds up every writer: who got the queue's lock before it has ended by then, and
/// who gets it afterwards finds the new version.
fn migrate(conn: &mut Conn, busy: u128) -> Result<(), StorageError> {
    conn.transaction(|conn| {
        // Another process may have done it before the lock was got.
        let found = migrations_of(conn)?;
        if found < MIGRATIONS_KNOWN {
            conn.batch_execute(&format!("SET LOCAL lock_timeout = {busy}"))?;
            if found > 0 {
                conn.batch_execute(WAIT_FOR_WRITERS)?;
            }
            conn.run_pending_migrations(POSTGRESQL_MIGRATIONS)
                .map_err(StorageError::migrating)?;
        }
        Ok(())
    })
}

/// The lock of [`super::book::PostgresqlBook::write`], where its table is there already.
const WAIT_FOR_WRITERS: &str = "DO $$ BEGIN IF to_regclass('workshops') IS NOT NULL THEN \
     LOCK TABLE workshops IN SHARE UPDATE EXCLUSIVE MODE; END IF; END $$";

/// Fails, by a division, when the schema is not the one that this program knows: a statement beside others that begin a
/// transaction, so that it takes no round trip of its own. [`cause`] says what is the matter then.
pub(super) static CHECK: LazyLock<String> = LazyLock::new(|| {
    let last = postgresql_versions().pop().unwrap_or_default();
    format!(
        "SELECT 1 / (COUNT(*) = {MIGRATIONS_KNOWN} AND MAX(version) = '{last}')::int FROM __diesel_schema_migrations"
    )
});

#[derive(QueryableByName)]
struct ReadsOnly {
    #[diesel(sql_type = Bool)]
    reads_only: bool,
}

/// True when the server takes no writes from anyone.
pub(super) fn reads_only(conn: &mut Conn) -> Result<bool, StorageError> {
    let query = "SELECT pg_is_in_recovery() OR current_setting('default_transaction_read_only')::boolean AS reads_only";
    Ok(diesel::sql_query(query)
        .get_result::<ReadsOnly>(conn)?
        .reads_only)
}

/// Why a transaction did not begin: the schema, where it is another one by now, else the error itself.
pub(super) fn cause(conn: &mut Conn, error: StorageError) -> StorageError {
    if !matches!(error, StorageError::Other(_)) {
        return error;
    }
    match migrations_of(conn) {
        Ok(found) if found < MIGRATIONS_KNOWN => StorageError::Older {
            found,
            known: MIGRATIONS_KNOWN,
        },
        Ok(_) => error,
        Err(cause) => cause,
    }
}

/// How many of our migrations the schema has; never more than the program knows.
fn migrations_of(conn: &mut Conn) -> Result<i64, StorageError> {
    let Tables { all, migrations } = diesel::sql_query(
        "SELECT COUNT(*) AS \"all\", COUNT(*) FILTER (WHERE table_name = '__diesel_schema_migrations') AS migrations \
         FROM information_schema.tables WHERE table_schema = current_schema()",
    )
    .get_result(conn)?;
    if migrations == 0 {
        return if all == 0 { Ok(0) } else { Err(foreign()) };
    }
    let query = "SELECT version::text AS version FROM __diesel_schema_migrations ORDER BY version";
    let found: Vec<String> = diesel::sql_query(query)
        .load::<Version>(conn)?
        .into_iter()
        .map(|row| row.version)
        .collect();
    let known = postgresql_versions();
    if known.starts_with(&found) {
        return Ok(i64::try_from(found.len()).unwrap_or(i64::MAX));
    }
    if found.starts_with(&known) {
        let found = i64::try_from(found.len()).unwrap_or(i64::MAX);
        return Err(StorageError::Newer {
            found,
            known: MIGRATIONS_KNOWN,
        });
    }
    Err(foreign())
}

fn foreign() -> StorageError {
    StorageError::Damaged("the database's schema belongs to another program".to_owned())
}
