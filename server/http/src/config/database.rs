//! The URL of a book.

use super::ConfigError;
use serde::Deserialize;
use std::{fmt, str::FromStr};

/// Schemes of books that can be opened.
const SCHEMES: [&str; 3] = ["sqlite://", "postgres://", "postgresql://"];

/// URL of a book, with its scheme. Shown without a password.
#[derive(Clone, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub struct DatabaseUrl(String);

impl DatabaseUrl {
    /// The whole URL, to open the book with.
    #[must_use]
    pub fn expose(&self) -> &str {
        &self.0
    }
}

impl FromStr for DatabaseUrl {
    type Err = ConfigError;
    fn from_str(text: &str) -> Result<Self, ConfigError> {
        let named =
            SCHEMES.iter().any(|scheme| text.strip_prefix(scheme).is_some_and(|rest| !rest.is_empty()));
        if named { Ok(Self(text.to_owned())) } else { Err(ConfigError::Database { text: text.to_owned() }) }
    }
}

impl TryFrom<String> for DatabaseUrl {
    type Error = ConfigError;
    fn try_from(text: String) -> Result<Self, ConfigError> {
        text.parse()
    }
}

impl fmt::Display for DatabaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let parts =
            self.0.split_once("://").and_then(|(scheme, rest)| Some((scheme, rest.rsplit_once('@')?)));
        match parts {
            Some((scheme, (user, place))) if scheme != "sqlite" => {
                let name = user.split(':').next().unwrap_or_default();
                write!(f, "{scheme}://{name}@{place}")
            }
            _ => f.write_str(&self.0),
        }
    }
}

impl fmt::Debug for DatabaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "DatabaseUrl({self})")
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::DatabaseUrl;

    #[test]
    fn a_database_url_carries_its_scheme() {
        for text in ["sqlite:///srv/book.sqlite3", "postgres://anna@db/book", "postgresql:///book"] {
            assert!(text.parse::<DatabaseUrl>().is_ok(), "{text}");
        }
        for text in ["", "book.sqlite3", "/srv/book.sqlite3", "sqlite:book", "sqlite://", "mysql://db/book"] {
            assert!(text.parse::<DatabaseUrl>().is_err(), "{text}");
        }
    }

    #[test]
    fn a_database_url_is_shown_without_its_password() {
        let url: DatabaseUrl = "postgres://anna:s3cr3t@db:5432/book".parse().unwrap();
        assert_eq!(url.to_string(), "postgres://anna@db:5432/book");
        assert_eq!(format!("{url:?}"), "DatabaseUrl(postgres://anna@db:5432/book)");
        assert_eq!(url.expose(), "postgres://anna:s3cr3t@db:5432/book");
    }
}
