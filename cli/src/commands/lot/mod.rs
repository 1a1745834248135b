//! `ellwand lot`: a lot with its pieces, and what is done to a piece on the shelf.

mod edit;
mod flaw;
mod flaw_remove;
mod measure;
mod place;
mod price;
pub(crate) mod show;
mod split;
mod stiffness;
mod weigh;

use crate::{command_error::CommandError, context::Context, verb::runs};
use clap::Subcommand;
use ellwand_contract::{
    lots::{
        EditLot, GetLot, MarkFlaw, MeasurePiece, PieceChanged, PlacePiece, RemoveFlaw, SplitPiece,
    },
    purchases::PriceLot,
};

/// Show a lot; log its price; test its stiffness; edit, place, flaw, split, measure or weigh its pieces
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lot show L1
  ellwand lot edit L1 --shrinkage 5%/2% --dye-lot 4711
  ellwand lot price L7 24.00
  ellwand lot flaw L1.1 --at 1.20m --length 3cm --note 'slub'
  ellwand lot split L1.1 1.50m
  ellwand lot measure L1.1 3.95m --after resting
  ellwand lot weigh L3.1 212g --tare 18g
  ellwand lot stiffness L7 --lengthwise 62mm,60mm --crosswise 41mm,42mm")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    #[command(after_help = "Example:\n  ellwand lot show L1")]
    Show(GetLot),
    #[command(after_help = "Example:\n  ellwand lot edit L1 --shrinkage 5%/2% --mass 270gsm")]
    Edit(Box<EditLot>),
    #[command(after_help = "Example:\n  ellwand lot place L1.1 A2")]
    Place(PlacePiece),
    #[command(after_help = "Examples:
  ellwand lot price L7 24.00
  ellwand lot price L7 12.00/m --rate 1.1650")]
    Price(PriceLot),
    #[command(
        after_help = "Example:\n  ellwand lot flaw L1.1 --at 1.20m --length 3cm --note 'slub'"
    )]
    Flaw(MarkFlaw),
    #[command(after_help = "Example:\n  ellwand lot flaw-remove L1.1 1")]
    FlawRemove(RemoveFlaw),
    #[command(after_help = "Example:\n  ellwand lot split L1.1 1.50m --place A3")]
    Split(SplitPiece),
    #[command(after_help = "Examples:
  ellwand lot measure L1.1 3.95m
  ellwand lot measure L1.1 3.80m --width 147cm --after washing")]
    Measure(MeasurePiece),
    Weigh(weigh::Args),
    Stiffness(Box<stiffness::Args>),
}

runs!(Args, Verb: Show, Edit, Place, Price, Flaw, FlawRemove, Split, Measure, Weigh, Stiffness);

/// Shows a changed piece, then reports what was done.
pub(super) fn changed(
    context: &mut Context<'_, '_>,
    answer: &PieceChanged,
    done: &str,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    crate::ui::piece::changed(context.ui, shown, answer);
    context.ui.status(format!("{done} ({}).", answer.booking));
    Ok(())
}
