//! `ellwand operation set`.

use super::table;
use crate::{command_error::CommandError, context::Context, ui::time::minutes};
use ellwand_contract::{Typed, operations::SetOperation};
use ellwand_domain::{quantity::Minutes, setting::WorkKind};

/// Add a usual operation, or change the one of the same name
///
/// Capitals make no difference. What is not given stays.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand operation set hem --minutes 45m --kind hand
  ellwand operation set 'set in sleeves' --minutes 1h20 --kind machine
  ellwand operation set letters --minutes 15m --kind admin --unbillable")]
pub struct Args {
    /// Its name
    name: String,
    /// Typical time for one garment: 45m, 1h20
    #[arg(long, value_name = "TIME")]
    minutes: Typed<Minutes>,
    /// Kind of work: machine, hand, cutting, fitting, pressing, admin [default: as it was, else hand]
    #[arg(long)]
    kind: Option<WorkKind>,
    /// It carries labour and overhead [default: as it was, else all kinds but admin]
    #[arg(long, overrides_with = "unbillable")]
    billable: bool,
    /// It carries neither labour nor overhead
    #[arg(long, overrides_with = "billable")]
    unbillable: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let billable = if args.billable || args.unbillable {
        Some(args.billable)
    } else {
        None
    };
    let act = SetOperation {
        id: context.new_id(),
        name: args.name,
        minutes: args.minutes,
        kind: args.kind,
        billable,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    context.ui.table(&table(std::slice::from_ref(&answer)));
    context.ui.status(format!(
        "{} usually takes {} on a garment.",
        answer.name,
        minutes(answer.minutes)
    ));
    Ok(())
}
