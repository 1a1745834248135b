//! The command line.

use super::{DatabaseUrl, LogFormat};
use clap::{Args, Parser, Subcommand};
use std::{net::SocketAddr, path::PathBuf};

/// Serve a workshop's book over HTTP
#[derive(Debug, Clone, Parser)]
#[command(name = "ellwand-server", version)]
pub struct Arguments {
    /// Read settings from this TOML file
    ///
    /// Flags win over the environment, the environment over the file.
    #[arg(long, global = true, value_name = "FILE", env = "ELLWAND_SERVER_CONFIG")]
    pub config: Option<PathBuf>,

    /// Open this book
    ///
    /// The scheme is needed: sqlite:///path/to/book.sqlite3 or postgres://user@host/name.
    #[arg(long, global = true, value_name = "URL", env = "ELLWAND_SERVER_DATABASE", hide_env_values = true)]
    pub database: Option<DatabaseUrl>,

    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What the program does.
#[derive(Debug, Clone, Subcommand)]
pub enum Command {
    /// Answer requests until stopped
    ///
    /// The book must exist: `ellwand-server migrate` makes it.
    Serve(ServeArguments),
    /// Make the book, or bring it up to date
    Migrate,
    /// Prove the book's rules from its ledger alone
    ///
    /// Prints what is off, one finding a line, and ends with status 1 when there is any.
    Audit,
    /// Print the OpenAPI document
    Openapi,
}

/// Flags of `serve`.
#[derive(Debug, Clone, Default, Args)]
pub struct ServeArguments {
    /// Listen here; only loopback is accepted [default: 127.0.0.1:8417]
    #[arg(long, value_name = "ADDRESS:PORT", env = "ELLWAND_SERVER_LISTEN")]
    pub listen: Option<SocketAddr>,

    /// Log in this form [default: text]
    #[arg(long, value_enum, value_name = "FORM", env = "ELLWAND_SERVER_LOG_FORMAT")]
    pub log_format: Option<LogFormat>,

    /// Log what passes this filter, such as `info`, `debug`, `warn` [default: info,actix_server=warn]
    #[arg(long, value_name = "FILTER", env = "ELLWAND_SERVER_LOG")]
    pub log: Option<String>,

    /// Refuse request bodies above this many bytes [default: 262144]
    #[arg(long, value_name = "BYTES", env = "ELLWAND_SERVER_BODY_LIMIT")]
    pub body_limit: Option<usize>,

    /// Read requests on this many threads [default: 2]
    #[arg(long, value_name = "COUNT", env = "ELLWAND_SERVER_WORKERS")]
    pub workers: Option<usize>,

    /// Hold at most this many connections at a time [default: 512]
    #[arg(long, value_name = "COUNT", env = "ELLWAND_SERVER_MAX_CONNECTIONS")]
    pub max_connections: Option<usize>,
}
