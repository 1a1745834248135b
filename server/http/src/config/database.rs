//! The URL of a book.

use super::ConfigError;
use ellwand_contract::text::redacted;
use ellwand_service::Password;
use serde::Deserialize;
use std::{convert::Infallible, fmt, path::PathBuf, str::FromStr};

/// Schemes of books that can be opened.
const SCHEMES: [&str; 3] = ["sqlite://", "postgres://", "postgresql://"];

/// URL of a book, with its scheme, or what was given for one. Shown without a password, and so are complaints about it:
/// whoever parses a command line would repeat what was given word for word.
#[derive(Clone, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub struct DatabaseUrl(String);

impl DatabaseUrl {
    /// The whole URL, to open the book with.
    #[must_use]
    pub fn expose(&self) -> &str {
        &self.0
    }

    /// The same with its password, unless it has one.
    ///
    /// # Errors
    /// [`ConfigError::Password`], when its file cannot be used.
    pub fn with(&self, password: &DatabasePassword) -> Result<Self, ConfigError> {
        let given = Password {
            text: password.text.as_deref(),
            file: password.file.as_deref(),
        };
        given
            .put_into(&self.0)
            .map(Self)
            .map_err(ConfigError::Password)
    }

    /// Refuses what is not the URL of a book.
    ///
    /// # Errors
    /// [`ConfigError::Database`], without what may be a secret.
    pub(crate) fn check(&self) -> Result<(), ConfigError> {
        let rest = SCHEMES
            .iter()
            .find_map(|scheme| self.0.strip_prefix(scheme));
        match rest.filter(|rest| !rest.is_empty()) {
            Some(_) => Ok(()),
            None => Err(ConfigError::Database {
                text: self.to_string(),
            }),
        }
    }
}

impl FromStr for DatabaseUrl {
    type Err = Infallible;
    fn from_str(text: &str) -> Result<Self, Infallible> {
        Ok(Self(text.to_owned()))
    }
}

impl From<String> for DatabaseUrl {
    fn from(text: String) -> Self {
        Self(text)
    }
}

impl fmt::Display for DatabaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&redacted(&self.0))
    }
}

impl fmt::Debug for DatabaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "DatabaseUrl({self})")
    }
}

/// Where the password of a database is, if not in its URL. Never shown.
#[derive(Clone, Default)]
pub struct DatabasePassword {
    text: Option<String>,
    file: Option<PathBuf>,
}

impl DatabasePassword {
    /// A file of the flags or their variable, else the password in the environment, else a file of the settings.
    #[expect(
        clippy::disallowed_methods,
        reason = "a password is never an argument, so that no flag reads it"
    )]
    pub(super) fn new(named: Option<PathBuf>, settings: Option<PathBuf>) -> Self {
        let text = std::env::var("ELLWAND_SERVER_DATABASE_PASSWORD")
            .ok()
            .filter(|text| !text.is_empty());
        let file = if text.is_some() {
            named
        } else {
            named.or(settings)
        };
        Self { text, file }
    }
}

impl fmt::Debug for DatabasePassword {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("DatabasePassword(…)")
    }
}

#[cfg(test)]
mod tests {
    use super::DatabaseUrl;

    #[test]
    fn a_database_url_carries_its_scheme() {
        for text in [
            "sqlite:///srv/book.sqlite3",
            "postgres://anna@db/book",
            "postgresql:///book",
        ] {
            assert!(DatabaseUrl(text.to_owned()).check().is_ok(), "{text}");
        }
        for text in [
            "",
            "book.sqlite3",
            "/srv/book.sqlite3",
            "sqlite:book",
            "sqlite://",
            "mysql://db/book",
        ] {
            assert!(DatabaseUrl(text.to_owned()).check().is_err(), "{text}");
        }
    }

    #[test]
    fn a_database_url_is_shown_without_its_password() {
        let url: DatabaseUrl = "postgres://anna:s3cr3t@db:5432/book".parse().unwrap();
        assert_eq!(url.to_string(), "postgres://anna@db:5432/book");
        assert_eq!(
            format!("{url:?}"),
            "DatabaseUrl(postgres://anna@db:5432/book)"
        );
        assert_eq!(url.expose(), "postgres://anna:s3cr3t@db:5432/book");
    }
}
