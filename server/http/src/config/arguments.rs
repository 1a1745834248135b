//! The command line.

use super::{DatabaseUrl, LogFormat};
use clap::{Args, Parser, Subcommand};
use ellwand_domain::{
    code::TokenCode,
    setting::{Grant, Role},
};
use std::{net::SocketAddr, path::PathBuf};

/// Serve a workshop's book over HTTP
#[derive(Debug, Clone, Parser)]
#[command(name = "ellwand-server", version)]
pub struct Arguments {
    /// Read settings from this TOML file
    ///
    /// Flags win over the environment, the environment over the file.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "ELLWAND_SERVER_CONFIG"
    )]
    pub config: Option<PathBuf>,

    /// Open this book
    ///
    /// The scheme is needed: sqlite:///path/to/book.sqlite3 or postgres://user@host/name.
    #[arg(
        long,
        global = true,
        value_name = "URL",
        env = "ELLWAND_SERVER_DATABASE",
        hide_env_values = true
    )]
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
    /// Say what is wrong with the settings, the book or the machine before anyone relies on them
    ///
    /// Takes what `serve` takes; one line a finding, and status 1 when something is wrong.
    Check(ServeArguments),
    /// Prove the book's rules from its ledger alone
    ///
    /// Prints what is off, one finding a line, and ends with status 1 when there is any.
    Audit,
    /// Give out tokens and take them back
    #[command(subcommand)]
    Token(TokenCommand),
    /// Copy a whole book into an empty place, in a file or on PostgreSQL
    ///
    /// Everything is copied and proved, or nothing is: number and hash of every table's rows, and the audit on both sides.
    /// Nobody else may have a file open meanwhile; stop the servers of a PostgreSQL book first. The old book stays as it
    /// is.
    Move {
        /// The book: sqlite:///path/to/book.sqlite3 or postgres://user@host/name
        #[arg(long, value_name = "URL")]
        from: DatabaseUrl,
        /// Where to: an empty database, or a file that is not there yet
        #[arg(long, value_name = "URL")]
        to: DatabaseUrl,
    },
    /// Write a copy of the book into a new file, while people work
    ///
    /// It is read back and proved before it gets its name.
    Backup {
        /// The new file
        file: PathBuf,
    },
    /// Put a backup into an empty place: the book of --database
    Restore {
        /// The backup
        file: PathBuf,
    },
    /// Print the OpenAPI document
    Openapi,
    /// Write the manual pages into a folder
    Manual {
        /// The folder
        folder: PathBuf,
    },
}

/// What `token` does.
#[derive(Debug, Clone, Subcommand)]
pub enum TokenCommand {
    /// Let a person in: prints their token, which is shown only now
    Create {
        /// Name that will stand on their bookings
        person: String,
        /// Owner (everything), maker (daily work) or viewer (reading, without prices)
        #[arg(long, value_name = "ROLE", default_value = "maker")]
        role: Role,
        /// Grant beside the role: prices, pay-rates, write-offs, settings, books or people; may be repeated
        #[arg(long = "grant", value_name = "GRANT")]
        grants: Vec<Grant>,
        /// It is another token of the person of this name, who has one
        #[arg(long)]
        same_person: bool,
    },
    /// List all tokens; never their secrets
    List {
        /// Print them as JSON
        #[arg(long)]
        json: bool,
    },
    /// Take a token back: from now on it opens nothing
    Revoke {
        /// Its code, as `token list` shows it: T3
        token: TokenCode,
    },
}

/// Flags of `serve`.
#[derive(Debug, Clone, Default, Args)]
pub struct ServeArguments {
    /// Listen here [default: 127.0.0.1:8417]
    ///
    /// An address that other machines can reach needs --certificate and --key, or --behind-proxy.
    #[arg(long, value_name = "ADDRESS:PORT", env = "ELLWAND_SERVER_LISTEN")]
    pub listen: Option<SocketAddr>,

    /// Log in this form [default: text]
    #[arg(
        long,
        value_enum,
        value_name = "FORM",
        env = "ELLWAND_SERVER_LOG_FORMAT"
    )]
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

    /// Hold at most this many connections to the database [default: 8]
    #[arg(long, value_name = "COUNT", env = "ELLWAND_SERVER_CONNECTIONS")]
    pub connections: Option<usize>,

    /// Answer at most this many requests of one token in a minute [default: 1200]
    #[arg(long, value_name = "COUNT", env = "ELLWAND_SERVER_REQUESTS_PER_MINUTE")]
    pub requests_per_minute: Option<usize>,

    /// Let an address fail to sign in this many times in a minute before it has to wait [default: 20]
    #[arg(long, value_name = "COUNT", env = "ELLWAND_SERVER_FAILURES_PER_MINUTE")]
    pub failures_per_minute: Option<usize>,

    /// Ask nobody for a token: everyone on this machine is an owner
    #[arg(long, env = "ELLWAND_SERVER_OPEN", value_parser = clap::builder::FalseyValueParser::new())]
    pub open: bool,

    /// Speak TLS with the certificate chain in this PEM file
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_CERTIFICATE")]
    pub certificate: Option<PathBuf>,

    /// The certificate's private key, in PEM
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_KEY")]
    pub key: Option<PathBuf>,

    /// Keep the first owner's token in this file, where there is no terminal to say it on [default: BOOK.owner-token beside the book]
    ///
    /// Of a book on PostgreSQL it is owner-token in the working folder. Only the server's own user can read the file.
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_TOKEN_FILE")]
    pub token_file: Option<PathBuf>,

    /// A proxy in front speaks TLS, and names each client in X-Forwarded-For
    #[arg(long, env = "ELLWAND_SERVER_BEHIND_PROXY", value_parser = clap::builder::FalseyValueParser::new())]
    pub behind_proxy: bool,
}
