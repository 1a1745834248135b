//! The command line.

use super::{DatabaseUrl, LogFormat};
use clap::{Args, Parser, Subcommand};
use ellwand_contract::people::CreateToken;
use ellwand_domain::code::TokenCode;
use std::{net::SocketAddr, num::NonZeroUsize, path::PathBuf};

/// Serve a workshop's book over HTTP
#[derive(Debug, Clone, Parser)]
#[command(name = "ellwand-server", version)]
pub struct Arguments {
    /// Read settings from this TOML file
    ///
    /// Flags override the environment, the environment overrides the file.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "ELLWAND_SERVER_CONFIG"
    )]
    pub config: Option<PathBuf>,

    /// Open this book
    ///
    /// Include the scheme: sqlite:///path/to/book.sqlite3 or postgres://user@host/name.
    #[arg(
        long,
        global = true,
        value_name = "URL",
        env = "ELLWAND_SERVER_DATABASE",
        hide_env_values = true
    )]
    pub database: Option<DatabaseUrl>,

    /// Read the password of a book on PostgreSQL from this file
    ///
    /// For an address without one: everyone on the machine can read a command line. ELLWAND_SERVER_DATABASE_PASSWORD may hold
    /// the password itself.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "ELLWAND_SERVER_DATABASE_PASSWORD_FILE"
    )]
    pub database_password_file: Option<PathBuf>,

    /// The command.
    #[command(subcommand)]
    pub command: Command,
}

/// What the program does.
#[derive(Debug, Clone, Subcommand)]
pub enum Command {
    /// Answer requests until stopped
    ///
    /// The book must exist: create it with `ellwand-server migrate`.
    Serve(ServeArguments),
    /// Create the book, or bring it up to date
    Migrate {
        /// Keep a book of an older program, as it was, in a new file of this folder first
        ///
        /// A new book, or one that is up to date, needs none. One on PostgreSQL is refused: back it up with pg_dump.
        #[arg(long, value_name = "FOLDER")]
        backup_into: Option<PathBuf>,
    },
    /// Check the settings, the book and the machine before anyone relies on them
    ///
    /// Takes the flags of `serve`; prints one finding per line, and ends with status 1 if something is wrong.
    Check(ServeArguments),
    /// Prove the book's rules from its ledger alone
    ///
    /// Prints one finding per line, and ends with status 1 if there are any.
    Audit,
    /// Create, list and revoke tokens
    #[command(subcommand)]
    Token(TokenCommand),
    /// Copy a whole book into an empty place, in a file or on PostgreSQL
    ///
    /// Copies and verifies everything or nothing: number and hash of every table's rows, and the audit on both sides.
    /// Nobody else may have a file open meanwhile; stop the servers of a PostgreSQL book first. The old book does not
    /// change.
    Move {
        /// The book: sqlite:///path/to/book.sqlite3 or postgres://user@host/name
        #[arg(long, value_name = "URL")]
        from: DatabaseUrl,
        /// Target: an empty database, or a new file
        #[arg(long, value_name = "URL")]
        to: DatabaseUrl,
    },
    /// Write a copy of the book to a new file, while people work
    ///
    /// Reads it back and verifies it before it gets its name.
    Backup(BackupArguments),
    /// Restore a backup into the empty book of --database
    Restore {
        /// Backup file, such as monday.backup
        file: PathBuf,
    },
    /// Print the OpenAPI document
    Openapi,
    /// Write the manual pages into a folder
    Manual {
        /// Folder to write to
        folder: PathBuf,
    },
}

/// Where `backup` writes to.
#[derive(Debug, Clone, Args)]
pub struct BackupArguments {
    /// New file, such as monday.backup
    #[arg(required_unless_present = "into", conflicts_with = "into")]
    pub file: Option<PathBuf>,
    /// Folder for a new file that is named after the instant, such as ellwand-2026-11-30T021500Z.backup
    #[arg(long, value_name = "FOLDER")]
    pub into: Option<PathBuf>,
    /// Keep the newest so many of these in the folder, and remove the older ones once the new one is proved
    #[arg(long, value_name = "COUNT", requires = "into")]
    pub keep: Option<NonZeroUsize>,
    /// Print nothing unless it fails
    #[arg(long)]
    pub quiet: bool,
}

/// What `token` does.
#[derive(Debug, Clone, Subcommand)]
pub enum TokenCommand {
    /// Create a token for a person, and print it this once
    Create {
        /// Whom it lets in
        #[command(flatten)]
        token: CreateToken,
        /// Write the token into this new file, readable by you alone, instead of printing it
        #[arg(long, value_name = "FILE")]
        to_file: Option<PathBuf>,
    },
    /// List all tokens; never their secrets
    List {
        /// Print them as JSON
        #[arg(long)]
        json: bool,
    },
    /// Revoke a token, or all of a person: from now on they open nothing
    Revoke {
        /// Token code, such as T3, as `token list` shows it
        #[arg(required_unless_present = "person", conflicts_with = "person")]
        token: Option<TokenCode>,
        /// All tokens of this person
        #[arg(long, value_name = "NAME")]
        person: Option<String>,
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

    /// Require no tokens: everyone on this machine is an owner
    #[arg(long, env = "ELLWAND_SERVER_OPEN", value_parser = clap::builder::FalseyValueParser::new())]
    pub open: bool,

    /// Serve TLS with the certificate chain in this PEM file
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_CERTIFICATE")]
    pub certificate: Option<PathBuf>,

    /// Private key of the certificate, in PEM
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_KEY")]
    pub key: Option<PathBuf>,

    /// Write the first owner's token to this file if there is no terminal [default: BOOK.owner-token beside the book]
    ///
    /// For a book on PostgreSQL the default is owner-token in the working folder. Only the server's own user can read the file.
    #[arg(long, value_name = "FILE", env = "ELLWAND_SERVER_TOKEN_FILE")]
    pub token_file: Option<PathBuf>,

    /// Trust a proxy in front to do TLS and to name each client in X-Forwarded-For
    #[arg(long, env = "ELLWAND_SERVER_BEHIND_PROXY", value_parser = clap::builder::FalseyValueParser::new())]
    pub behind_proxy: bool,
}
