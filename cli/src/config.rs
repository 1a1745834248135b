//! The configuration: `config.toml` in the user's configuration folder, or the file that `ELLWAND_CONFIG` names.
//!
//! | key | what | else |
//! |---|---|---|
//! | `server` | URL of a server: `http://127.0.0.1:8417` | no server: a book on this machine |
//! | `database` | file of a book, or a URL with its scheme | `book.sqlite3` in the user's data folder |
//! | `name` | who books | the user's name, else `owner` |
//! | `units` | `metric` or `imperial` | the workshop's |
//! | `authority` | PEM file of a certificate authority that a server's certificate may come from | the system's only |
//!
//! Flags win over the environment (`ELLWAND_SERVER`, `ELLWAND_DATABASE`), that over the file, the file over the server that
//! was signed in at last (`ellwand login`). Once a server was asked, the book on this machine is no longer the one that is
//! meant where nothing is named.

use crate::{
    command_error::CommandError, environment::Environment, file, global::Global,
    signed_in::SignedIn,
};
use ellwand_contract::text::redacted;
use ellwand_domain::setting::UnitSystem;
use serde::Deserialize;
use std::path::{Path, PathBuf};

/// Where the book is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// Behind a server at this URL.
    Server(String),
    /// In a file on this machine.
    File {
        /// Absolute path.
        path: PathBuf,
        /// Named by the user: never made by a command that only reads.
        named: bool,
    },
    /// In another database, by URL.
    Database(String),
    /// None was named, and the last one was behind this server: the book of this machine would be another one.
    Unsaid(String),
}

/// The settings of a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Config {
    /// Where the book is.
    pub target: Target,
    /// Who books.
    pub name: String,
    /// Units to show, unless the workshop's.
    pub units: Option<UnitSystem>,
    /// The token for the server, when there is one.
    pub token: Option<Token>,
    /// A certificate authority beside the system's.
    pub authority: Option<PathBuf>,
    /// The server used last, as recorded.
    pub last_server: Option<String>,
}

/// A token; it is never printed by accident.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(pub String);

impl std::fmt::Debug for Token {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("ellwand_…")
    }
}

/// The file.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct ConfigFile {
    server: Option<String>,
    database: Option<String>,
    name: Option<String>,
    units: Option<UnitSystem>,
    authority: Option<PathBuf>,
}

impl Config {
    /// Puts flags, environment, file and defaults together.
    ///
    /// # Errors
    /// Exit 2: an unreadable file, a server and a database at once, no place for the book.
    pub fn load(flags: &Global, environment: &Environment) -> Result<Self, CommandError> {
        let file = read_config(environment)?;
        let both = |place: &str| {
            CommandError::usage_hint(
                format!("{place} names both a server and a database"),
                "keep one of them; --server or --database on the command line overrides both",
            )
        };
        let flagged = (&flags.server, &flags.database);
        let set = (&environment.server, &environment.database);
        let written = (&file.server, &file.database);
        let places = [
            (flagged, "the command line"),
            (set, "the environment"),
            (written, "the configuration file"),
        ];
        let named = places
            .into_iter()
            .find(|((server, database), _)| server.is_some() || database.is_some());
        let signed_in = SignedIn::read(environment)?;
        let target = match named {
            None => match &signed_in.current {
                Some(server) => server_target(server)?,
                None => match &signed_in.last {
                    Some(server) => Target::Unsaid(server.clone()),
                    None => default_target(environment)?,
                },
            },
            Some(((Some(_), Some(_)), place)) => return Err(both(place)),
            Some(((Some(server), None), _)) => server_target(server)?,
            Some(((None, database), _)) => {
                database_target(database.as_deref().unwrap_or_default())?
            }
        };
        let user = environment.user.clone();
        let name = file.name.or(user).unwrap_or_else(|| "owner".to_owned());
        let token = match &target {
            Target::Server(url) => environment
                .token
                .clone()
                .or_else(|| signed_in.tokens.get(url).cloned())
                .map(Token),
            Target::File { .. } | Target::Database(_) | Target::Unsaid(_) => None,
        };
        let (units, last_server) = (flags.units.or(file.units), signed_in.last);
        Ok(Self {
            target,
            name,
            units,
            token,
            authority: file.authority,
            last_server,
        })
    }
}

fn read_config(environment: &Environment) -> Result<ConfigFile, CommandError> {
    if let Some(path) = &environment.config {
        return file::read_toml(path);
    }
    match environment
        .config_dir
        .as_ref()
        .map(|folder| folder.join("config.toml"))
    {
        Some(path) if path.exists() => file::read_toml(&path),
        _ => Ok(ConfigFile::default()),
    }
}

fn default_target(environment: &Environment) -> Result<Target, CommandError> {
    let folder = environment.data_dir.as_ref().ok_or_else(|| {
        CommandError::usage_hint(
            "there is no home folder to keep the book in",
            "name a file with --database FILE",
        )
    })?;
    Ok(Target::File {
        path: folder.join("book.sqlite3"),
        named: false,
    })
}

pub(crate) fn server_target(text: &str) -> Result<Target, CommandError> {
    let sound = text
        .strip_prefix("http://")
        .or_else(|| text.strip_prefix("https://"));
    match sound.filter(|rest| !rest.is_empty()) {
        Some(rest) if rest.contains('@') => Err(CommandError::usage_hint(
            format!(
                "\"{}\" contains a user name, but a server needs a token",
                redacted(text)
            ),
            "leave out everything before the @, and sign in with ellwand login URL",
        )),
        Some(_) => Ok(Target::Server(text.trim_end_matches('/').to_owned())),
        None => Err(CommandError::usage_hint(
            format!("\"{}\" is not the URL of a server", redacted(text)),
            "write it with its scheme, for example http://127.0.0.1:8417",
        )),
    }
}

fn database_target(text: &str) -> Result<Target, CommandError> {
    let file = match text.split_once("://") {
        Some(("sqlite", path)) => path,
        Some(("postgres" | "postgresql", _)) => return Ok(Target::Database(text.to_owned())),
        Some((scheme, _)) => {
            return Err(CommandError::usage_hint(
                format!("{scheme}:// is not a kind of database that can hold a book"),
                "use a file, sqlite:///path/to/book.sqlite3 or postgres://…",
            ));
        }
        None => text,
    };
    let path = std::path::absolute(Path::new(file)).map_err(|error| {
        CommandError::usage(format!("\"{file}\" is not the path of a file: {error}"))
    })?;
    Ok(Target::File { path, named: true })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn environment() -> Environment {
        Environment {
            data_dir: Some("/data".into()),
            ..Environment::default()
        }
    }

    fn flags(server: Option<&str>, database: Option<&str>) -> Global {
        Global {
            server: server.map(str::to_owned),
            database: database.map(str::to_owned),
            ..Global::default()
        }
    }

    #[test]
    fn without_anything_the_book_lies_in_the_data_folder_and_the_owner_books() {
        let config = Config::load(&Global::default(), &environment()).expect("defaults");
        assert_eq!(
            config.target,
            Target::File {
                path: "/data/book.sqlite3".into(),
                named: false
            }
        );
        assert_eq!((config.name.as_str(), config.units), ("owner", None));
    }

    #[test]
    fn a_flag_wins_over_the_environment() {
        let mut set = environment();
        set.server = Some("http://127.0.0.1:1".to_owned());
        let config = Config::load(&flags(None, Some("/b.sqlite3")), &set).expect("a file");
        assert_eq!(
            config.target,
            Target::File {
                path: "/b.sqlite3".into(),
                named: true
            }
        );
        let config = Config::load(&Global::default(), &set).expect("a server");
        assert_eq!(
            config.target,
            Target::Server("http://127.0.0.1:1".to_owned())
        );
    }

    #[test]
    fn a_server_without_scheme_an_unknown_database_and_both_at_once_are_refused() {
        for (server, database) in [
            (Some("localhost"), None),
            (None, Some("mysql://x")),
            (Some("http://x"), Some("x")),
        ] {
            let error =
                Config::load(&flags(server, database), &environment()).expect_err("refused");
            assert_eq!(error.exit_code(), 2, "{server:?} {database:?}");
        }
    }
}
