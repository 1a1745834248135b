//! Settings, read once: flags over environment over file over default.
//!
//! | key | flag | environment | unit, default |
//! |---|---|---|---|
//! | `database` | `--database` | `ELLWAND_SERVER_DATABASE` | URL with its scheme; none |
//! | `database_password_file` | `--database-password-file` | `…_DATABASE_PASSWORD_FILE`, or the password in `…_DATABASE_PASSWORD` | of PostgreSQL; none |
//! | `listen` | `--listen` | `ELLWAND_SERVER_LISTEN` | address and port; 127.0.0.1:8417 |
//! | `log_format` | `--log-format` | `ELLWAND_SERVER_LOG_FORMAT` | `text` or `json`; text |
//! | `log` | `--log` | `ELLWAND_SERVER_LOG` | filter such as `info` or `debug`; `info,actix_server=warn` |
//! | `body_limit` | `--body-limit` | `ELLWAND_SERVER_BODY_LIMIT` | bytes a request's body may have; 262144 |
//! | `workers` | `--workers` | `ELLWAND_SERVER_WORKERS` | threads that read requests, 1 to 64; 2 |
//! | `max_connections` | `--max-connections` | `ELLWAND_SERVER_MAX_CONNECTIONS` | connections at a time; 512 |
//! | `connections` | `--connections` | `ELLWAND_SERVER_CONNECTIONS` | connections to the database, 1 to 200; 8 |
//! | `requests_per_minute` | `--requests-per-minute` | `ELLWAND_SERVER_REQUESTS_PER_MINUTE` | requests of one token; 1200 |
//! | `failures_per_minute` | `--failures-per-minute` | `ELLWAND_SERVER_FAILURES_PER_MINUTE` | failed sign-ins of one address; 20 |
//! | `open` | `--open` | `ELLWAND_SERVER_OPEN` | answer without tokens, on loopback only; no |
//! | `certificate`, `key` | `--certificate`, `--key` | `ELLWAND_SERVER_CERTIFICATE`, `…_KEY` | PEM files; plain HTTP |
//! | `token_file` | `--token-file` | `ELLWAND_SERVER_TOKEN_FILE` | file for the first owner's token; beside the book |
//! | `behind_proxy` | `--behind-proxy` | `ELLWAND_SERVER_BEHIND_PROXY` | a proxy in front does TLS; no |

mod arguments;
mod database;
mod file;
mod tls;

pub use arguments::{Arguments, BackupArguments, Command, ServeArguments, TokenCommand};
pub use database::{DatabasePassword, DatabaseUrl};
pub use tls::Tls;

use file::File;
use std::{
    net::{Ipv4Addr, SocketAddr},
    path::PathBuf,
};

/// Form of the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, clap::ValueEnum)]
#[serde(rename_all = "snake_case")]
pub enum LogFormat {
    /// Lines for people.
    Text,
    /// One JSON object per line.
    Json,
}

/// Settings of a server, from all sources together.
#[derive(Debug, Clone)]
pub struct Config {
    /// The book; absent only if none is opened.
    pub database: Option<DatabaseUrl>,
    /// Its password, where that is not in its URL.
    pub password: DatabasePassword,
    /// Address to listen on.
    pub listen: SocketAddr,
    /// Form of the log.
    pub log_format: LogFormat,
    /// What is logged.
    pub log: String,
    /// Bytes a request's body may have.
    pub body_limit: usize,
    /// Threads that read requests.
    pub workers: usize,
    /// Connections at a time.
    pub max_connections: usize,
    /// Connections to the database.
    pub connections: usize,
    /// Requests of one token in a minute.
    pub requests_per_minute: usize,
    /// Failed sign-ins of one address in a minute.
    pub failures_per_minute: usize,
    /// Answer without tokens: everyone who reaches the server is an owner.
    pub open: bool,
    /// Speak TLS itself.
    pub tls: Option<Tls>,
    /// A proxy in front speaks TLS and names the client's address.
    pub behind_proxy: bool,
    /// File for the first owner's token when there is no terminal.
    pub token_file: Option<PathBuf>,
}

impl Default for Config {
    fn default() -> Self {
        Self {
            database: None,
            password: DatabasePassword::default(),
            listen: SocketAddr::from((Ipv4Addr::LOCALHOST, 8417)),
            log_format: LogFormat::Text,
            log: "info,actix_server=warn".to_owned(),
            body_limit: 256 * 1024,
            workers: 2,
            max_connections: 512,
            connections: 8,
            requests_per_minute: 1_200,
            failures_per_minute: 20,
            open: false,
            tls: None,
            behind_proxy: false,
            token_file: None,
        }
    }
}

/// Settings that cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum ConfigError {
    /// No database was named.
    #[error("no database is named; give --database sqlite:///path/to/book.sqlite3")]
    NoDatabase,
    /// Not a database URL.
    #[error(
        "\"{text}\" is not a database URL; write sqlite:///path/to/book.sqlite3 or postgres://user@host/name, with the scheme"
    )]
    Database {
        /// What was given.
        text: String,
    },
    /// The password cannot be read.
    #[error("{0}")]
    Password(String),
    /// Others could reach an open server.
    #[error(
        "{listen} can be reached from other machines, and an open server lets everyone in; \
         remove open, or listen on 127.0.0.1 or [::1]"
    )]
    OpenToOthers {
        /// The address.
        listen: SocketAddr,
    },
    /// A proxy would let everyone in.
    #[error("an open server lets everyone in, also through a proxy; remove open or behind_proxy")]
    OpenBehindProxy,
    /// Tokens would travel in the clear.
    #[error(
        "{listen} can be reached from other machines, and tokens would travel there in the clear; \
         give a certificate and its key, or set behind_proxy if a proxy in front does TLS"
    )]
    Clear {
        /// The address.
        listen: SocketAddr,
    },
    /// A certificate without its key, or the other way round.
    #[error("certificate and key go together; {missing} is not given")]
    HalfTls {
        /// What is missing.
        missing: &'static str,
    },
    /// Certificate or key cannot be used.
    #[error("{}: {cause}", path.display())]
    Tls {
        /// Path of the file.
        path: PathBuf,
        /// Cause, as reported by the reader.
        cause: String,
    },
    /// The file cannot be read.
    #[error("{}: {cause}", path.display())]
    File {
        /// Path of the settings file.
        path: PathBuf,
        /// Why, with the line where there is one.
        cause: String,
    },
    /// Out of its range.
    #[error("{key} is {value}; it must be from {min} to {max}")]
    Range {
        /// Name of the setting.
        key: &'static str,
        /// What was given.
        value: usize,
        /// Smallest accepted.
        min: usize,
        /// Largest accepted.
        max: usize,
    },
}

impl Config {
    /// Settings from parsed arguments (which hold the environment too) and the file that they name.
    ///
    /// # Errors
    /// [`ConfigError`] for a file that cannot be read and for values that cannot be used.
    pub fn new(arguments: &Arguments) -> Result<Self, ConfigError> {
        let file = arguments
            .config
            .as_deref()
            .map(File::read)
            .transpose()?
            .unwrap_or_default();
        let flags = match &arguments.command {
            Command::Serve(flags) | Command::Check(flags) => flags.clone(),
            _ => ServeArguments::default(),
        };
        let default = Self::default();
        macro_rules! first {
            ($setting:ident) => {
                flags.$setting.or(file.$setting).unwrap_or(default.$setting)
            };
        }
        let mut config = Self {
            database: arguments.database.clone().or(file.database),
            password: DatabasePassword::new(
                arguments.database_password_file.clone(),
                file.database_password_file,
            ),
            listen: first!(listen),
            log_format: first!(log_format),
            log: first!(log),
            body_limit: first!(body_limit),
            workers: first!(workers),
            max_connections: first!(max_connections),
            connections: first!(connections),
            requests_per_minute: first!(requests_per_minute),
            failures_per_minute: first!(failures_per_minute),
            open: flags.open || file.open.unwrap_or(default.open),
            tls: Tls::of(
                flags.certificate.or(file.certificate),
                flags.key.or(file.key),
            )?,
            behind_proxy: flags.behind_proxy || file.behind_proxy.unwrap_or(default.behind_proxy),
            token_file: flags.token_file.or(file.token_file),
        };
        config
            .database
            .as_ref()
            .map_or(Ok(()), DatabaseUrl::check)?;
        config.database = config
            .database
            .map(|url| url.with(&config.password))
            .transpose()?;
        config.check_listen(config.listen)?;
        check_range("body_limit", config.body_limit, 1024, 64 * 1024 * 1024)?;
        check_range("workers", config.workers, 1, 64)?;
        check_range("max_connections", config.max_connections, 1, 100_000)?;
        check_range("connections", config.connections, 1, 200)?;
        check_range(
            "failures_per_minute",
            config.failures_per_minute,
            1,
            10_000_000,
        )?;
        check_range(
            "requests_per_minute",
            config.requests_per_minute,
            1,
            10_000_000,
        )?;
        Ok(config)
    }

    /// The book's URL.
    ///
    /// # Errors
    /// [`ConfigError::NoDatabase`] when none was named.
    pub fn database(&self) -> Result<&DatabaseUrl, ConfigError> {
        self.database.as_ref().ok_or(ConfigError::NoDatabase)
    }

    /// The file for the first owner's token: the one that was named, else beside a book in a file, else in the working
    /// folder.
    ///
    /// # Errors
    /// [`ConfigError::NoDatabase`] when neither was named.
    pub(crate) fn token_file(&self) -> Result<PathBuf, ConfigError> {
        if let Some(file) = &self.token_file {
            return Ok(file.clone());
        }
        let beside = self.database()?.expose().strip_prefix("sqlite://");
        Ok(beside.map_or_else(
            || PathBuf::from("owner-token"),
            |book| PathBuf::from(format!("{book}.owner-token")),
        ))
    }

    /// Refuses an address that others can reach where no token is needed, or tokens would travel in the clear.
    ///
    /// # Errors
    /// [`ConfigError::OpenBehindProxy`], [`ConfigError::OpenToOthers`], [`ConfigError::Clear`].
    pub(crate) fn check_listen(&self, listen: SocketAddr) -> Result<(), ConfigError> {
        if self.open && self.behind_proxy {
            return Err(ConfigError::OpenBehindProxy);
        }
        if listen.ip().is_loopback() {
            return Ok(());
        }
        if self.open {
            return Err(ConfigError::OpenToOthers { listen });
        }
        if self.tls.is_none() && !self.behind_proxy {
            return Err(ConfigError::Clear { listen });
        }
        Ok(())
    }
}

fn check_range(key: &'static str, value: usize, min: usize, max: usize) -> Result<(), ConfigError> {
    if (min..=max).contains(&value) {
        Ok(())
    } else {
        Err(ConfigError::Range {
            key,
            value,
            min,
            max,
        })
    }
}
