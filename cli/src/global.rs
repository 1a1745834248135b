//! Flags that every command takes.

use clap::Args;
use ellwand_domain::setting::UnitSystem;
use uuid::Uuid;

/// A form of the answer for other programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// One line a row, as RFC 4180 has it.
    Csv,
}

/// Flags that every command takes.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Everywhere")]
pub struct Global {
    /// Print the answer as JSON, exact to the millionth
    #[arg(long, global = true)]
    pub json: bool,
    /// Print a list as rows for a spreadsheet, with the fields of --json as columns: csv
    #[arg(long, global = true, value_name = "FORMAT", conflicts_with = "json")]
    pub format: Option<Format>,
    /// Show lengths and masses in these units: metric or imperial
    #[arg(long, global = true, value_name = "UNITS")]
    pub units: Option<UnitSystem>,
    /// Use this server instead of a book on this machine
    #[arg(long, global = true, value_name = "URL", conflicts_with = "database")]
    pub server: Option<String>,
    /// Use the book in this file
    #[arg(long, global = true, value_name = "FILE")]
    pub database: Option<String>,
    /// Answer yes to all questions
    #[arg(long, global = true)]
    pub yes: bool,
    /// Repeat the request with this id; it is booked only once
    #[arg(long, global = true, value_name = "UUID")]
    pub id: Option<Uuid>,
}
