//! The migrations of both dialects, embedded.

use diesel_migrations::{EmbeddedMigrations, embed_migrations};

/// SQLite's.
pub(crate) const SQLITE_MIGRATIONS: EmbeddedMigrations =
    embed_migrations!("../../migrations/sqlite");
/// PostgreSQL's.
#[cfg(feature = "postgresql")]
pub(crate) const POSTGRESQL_MIGRATIONS: EmbeddedMigrations =
    embed_migrations!("../../migrations/postgresql");

/// Number of migrations this program knows: a book's schema version. The build counts their folders.
pub const MIGRATIONS_KNOWN: i64 = match i64::from_str_radix(env!("MIGRATIONS_KNOWN"), 10) {
    Ok(known) => known,
    Err(_) => panic!("the build counts the migrations"),
};

/// Names of the embedded migrations of a dialect, in order.
#[must_use]
pub fn migration_names(sqlite: bool) -> Vec<String> {
    use diesel::migration::{Migration, MigrationSource};
    fn names<B: diesel::backend::Backend>(migrations: Vec<Box<dyn Migration<B>>>) -> Vec<String> {
        let mut names: Vec<String> = migrations
            .iter()
            .map(|migration| migration.name().to_string())
            .collect();
        names.sort();
        names
    }
    if sqlite {
        let all: Vec<Box<dyn Migration<diesel::sqlite::Sqlite>>> =
            SQLITE_MIGRATIONS.migrations().unwrap_or_default();
        return names(all);
    }
    #[cfg(feature = "postgresql")]
    {
        let all: Vec<Box<dyn Migration<diesel::pg::Pg>>> =
            POSTGRESQL_MIGRATIONS.migrations().unwrap_or_default();
        names(all)
    }
    #[cfg(not(feature = "postgresql"))]
    Vec::new()
}

/// Versions of PostgreSQL's migrations, as the database keeps them, in order.
#[cfg(feature = "postgresql")]
pub(crate) fn postgresql_versions() -> Vec<String> {
    use diesel::migration::{Migration, MigrationSource};
    let all: Vec<Box<dyn Migration<diesel::pg::Pg>>> =
        POSTGRESQL_MIGRATIONS.migrations().unwrap_or_default();
    let mut versions: Vec<String> = all
        .iter()
        .map(|migration| migration.name().version().to_string())
        .collect();
    versions.sort();
    versions
}

/// Asserts that [`MIGRATIONS_KNOWN`] counts the embedded migrations.
pub(crate) fn check_known() {
    debug_assert_eq!(
        i64::try_from(migration_names(true).len()),
        Ok(MIGRATIONS_KNOWN),
        "the number of known migrations is the number of folders"
    );
}
