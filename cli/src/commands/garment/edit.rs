//! `ellwand garment edit`.

use super::{
    needs,
    parts::{self, PartOf},
    screen, seam_pairs,
};
use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::{
    garments::{EditGarment, NeedInput, OperationInput},
    seams::SeamInput,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    quantity::{Micrometres, PartsPerMillion},
};

/// Change a garment's plan
///
/// A need, operation or seam of the same name is put in the place of the former one. Promises are looked at again:
/// those that no longer fit are broken, and said.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment edit G5 --due 2026-11-02\n  \
    ellwand garment edit G5 --need 'role=lining,kind=cloth,length=1.70m,width=140cm,preparation=none'\n  \
    ellwand garment edit G5 --drop-need buttons\n  \
    ellwand garment edit G5 --seam 'name=hem,length=1.40m,stitch=301,per-cm=4,thickness=1.2mm'"
)]
#[group(id = "change", required = true, multiple = true, args = ["name", "due", "need", "drop_need", "operation", "drop_operation", "seam",
    "drop_seam", "seam_ends", "seam_waste"])]
pub struct Args {
    /// Which
    garment: GarmentCode,
    /// New name
    #[arg(long)]
    name: Option<String>,
    /// New due day
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    due: Option<NaiveDate>,
    /// A need to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = needs::need)]
    need: Vec<NeedInput>,
    /// A part of a need, by the measures of its shell part, as key=value pairs; once a part; its need is said anew
    #[arg(long, value_name = "PAIRS", requires = "need", value_parser = parts::part)]
    part: Vec<PartOf>,
    /// Role of a need to take out; may be repeated
    #[arg(long, value_name = "ROLE")]
    drop_need: Vec<String>,
    /// An operation to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = needs::operation)]
    operation: Vec<OperationInput>,
    /// Name of an operation to take out; may be repeated
    #[arg(long, value_name = "NAME")]
    drop_operation: Vec<String>,
    /// A seam to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = seam_pairs::named)]
    seam: Vec<SeamInput>,
    /// Name of a seam to take out; may be repeated
    #[arg(long, value_name = "NAME")]
    drop_seam: Vec<String>,
    /// Tail of each thread at each start and finish of a seam
    #[arg(long, value_name = "LENGTH", value_parser = typed::checked::<Micrometres>, allow_hyphen_values = true)]
    seam_ends: Option<String>,
    /// Share of thread that is wasted
    #[arg(long, value_name = "PERCENT", value_parser = typed::checked::<PartsPerMillion>, allow_hyphen_values = true)]
    seam_waste: Option<String>,
    /// Only if no later booking than this one has touched it: the "version" of `garment show --json`
    #[arg(long, value_name = "BOOKING")]
    if_version: Option<BookingCode>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let mut needs = args.need;
    parts::join(&mut needs, args.part, ("--part", "--need"))?;
    let act = EditGarment {
        id: context.new_id(),
        garment: args.garment,
        name: args.name,
        due: args.due,
        needs,
        drop_needs: args.drop_need,
        operations: args.operation,
        drop_operations: args.drop_operation,
        seams: args.seam,
        drop_seams: args.drop_seam,
        seam_ends: args.seam_ends,
        seam_waste: args.seam_waste,
        if_version: args.if_version,
    };
    let garment = context.call(&act)?;
    if context.json(&garment)? {
        return Ok(());
    }
    screen::garment(context, &garment)?;
    context.ui.status(format!(
        "Changed the plan of {}, {}.",
        garment.garment,
        screen::title(&garment)
    ));
    Ok(())
}
