//! `ellwand garment`: plans, and the life of what is made.

mod cancel;
pub(super) mod changes;
mod copy;
mod deliver;
mod edit;
mod estimate;
mod finish;
mod list;
pub(super) mod parts;
mod plan;
pub(super) mod plan_file;
mod promises;
mod prompts;
mod rate;
mod screen;
mod seams;
mod show;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::{
    details::RateDetail,
    garments::{DeliverGarment, FinishGarment, GetGarment, ListGarments},
    reservations::ListReservations,
    seams::GetSeams,
};

/// Plan, list, show, estimate, finish, deliver, rate or cancel garments
///
/// A garment is one article, planned or made, or a batch of the same one. Its needs are per garment.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Plan(Box<plan::Args>),
    #[command(
        after_help = "Examples:\n  ellwand garment list\n  ellwand garment list --state cut-into"
    )]
    List(ListGarments),
    #[command(after_help = "Example:\n  ellwand garment show G5")]
    Show(GetGarment),
    #[command(
        after_help = "Examples:\n  ellwand garment promises G5\n  ellwand garment promises G5 --state released --limit 20"
    )]
    Promises(ListReservations),
    #[command(
        after_help = "See `ellwand seam --help` for what to measure.\n\nExamples:\n  ellwand garment seams G5\n  \
        ellwand garment edit G5 \\\n    --seam 'name=hem,length=1.40m,stitch=301,per-cm=4,thickness=1.2mm' \\\n    \
        --need 'role=thread,kind=thread,seams=yes'"
    )]
    Seams(GetSeams),
    Edit(Box<edit::Args>),
    Copy(Box<copy::Args>),
    Estimate(estimate::Args),
    #[command(after_help = "Examples:\n  ellwand garment finish G5\n  \
        ellwand garment finish G6 --good 5 --spoiled 1 --spoilage own-mistake \\\n    --salvage 2.00")]
    Finish(FinishGarment),
    #[command(after_help = "Example:\n  ellwand garment deliver G5")]
    Deliver(DeliverGarment),
    #[command(after_help = "Example:\n  ellwand garment rate G5 'hand-rolled hem' 4")]
    Rate(RateDetail),
    Cancel(cancel::Args),
}

runs!(
    Args, Verb: Plan, List, Show, Promises, Seams, Edit, Copy, Estimate, Finish, Deliver, Rate,
    Cancel
);
