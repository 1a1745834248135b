//! `ellwand token`: who may use the book over a server.

mod create;
mod list;
mod revoke;

use crate::{ui::Table, verb::runs};
use clap::Subcommand;
use ellwand_contract::people::{ListTokens, Token, may};

/// Create, list or revoke the tokens with which people sign in to a server
///
/// For owners, and whoever has the grant people. What is created and revoked stands in the history.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand token create anna --role maker --label 'workshop tablet'
  ellwand token list
  ellwand token revoke T3")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Create(create::Args),
    #[command(after_help = "Example:\n  ellwand token list")]
    List(ListTokens),
    Revoke(revoke::Args),
}

runs!(Args, Verb: Create, List, Revoke);

fn table(tokens: &[Token]) -> Table {
    let mut table = Table::headed("token | person | role | label | last use | expires | revoked");
    let day = |day: Option<chrono::NaiveDate>| day.map_or_else(String::new, |day| day.to_string());
    for token in tokens {
        table.row([
            token.token.to_string(),
            token.person.clone(),
            may(token.role, &token.grants),
            token.label.clone().unwrap_or_default(),
            day(token.used_on),
            day(token.until),
            day(token.revoked_at.map(|at| at.date_naive())),
        ]);
    }
    table
}
