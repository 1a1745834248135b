//! `ellwand reserve`: promises pieces to needs.

mod all;
mod from;

use self::from::From;
use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{promise, reservation},
    verb::Run,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    reservations::{Reserve, Reserved},
};
use ellwand_domain::{code::GarmentCode, quantity::Micrometres};

/// Promise cloth, thread or trims to a garment
///
/// Promises a named piece to one need, or with --all the best piece to every open need: you see them with the working, then
/// confirm all or nothing. Needs that share pieces are served together, with the least waste: the fewest ends too short to
/// keep. The length held includes the shrinkage of the preparation and the end allowance, rounded up to the cutting step.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand reserve G5 shell --from L1.1\n  \
    ellwand reserve G6 shell --from L2.1 --count 4\n  \
    ellwand reserve G5 lining --from L3.2 --washed-length 1.2m\n  \
    ellwand reserve G5 buttons --from L5.1:4 --from L5.2:3\n  \
    ellwand reserve G5 'overlock thread' --from L2.1 --from L2.2\n  \
    ellwand reserve G5 --all --until 2026-11-30")]
pub struct Args {
    /// Garment code, such as G5
    garment: GarmentCode,
    /// Role of the need, such as shell
    #[arg(required_unless_present = "all", conflicts_with = "all")]
    need: Option<String>,
    /// Piece to promise, such as L2.1
    ///
    /// For a set of trims add how many, L5.1:4, and repeat until the set is whole; for reels that run at once, repeat for each.
    #[arg(long, value_name = "PIECE[:N]", required_unless_present = "all", conflicts_with = "all", value_parser = from::parse)]
    from: Vec<From>,
    /// How many lengths (or trims) [default: all open ones]
    #[arg(long, value_name = "N", conflicts_with = "all", value_parser = clap::value_parser!(i64).range(1..))]
    count: Option<i64>,
    /// Promise only this much of each unit, measured after the preparation; the need's longest part must fit
    #[arg(long, value_name = "LENGTH", conflicts_with = "all")]
    washed_length: Option<Typed<Micrometres>>,
    /// Promise the best piece for every open need
    #[arg(long)]
    all: bool,
    /// Last day of the promise: 2026-11-30
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    until: Option<NaiveDate>,
    /// Show the working: what is added for the wash and the ends, and how it is rounded
    #[arg(long)]
    sum: bool,
    /// Business date; default today. Who comes first is decided by when it was booked
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let garment = self.garment;
        let (picks, previewed) = match self.need {
            Some(need) => {
                let wanted = from::NeedShare {
                    need,
                    count: self.count,
                    washed_length: self.washed_length,
                };
                (from::picks(&wanted, &self.from)?, None)
            }
            None => match context.sent_before::<Reserve>()? {
                Some(sent) => (sent.picks, None),
                None => {
                    let (picks, remarks) = all::picks(garment, self.sum, context)?;
                    (picks, Some(remarks))
                }
            },
        };
        let act = Reserve {
            id: context.new_id(),
            garment,
            picks,
            until: self.until,
            date: self.date,
        };
        match context.answer(&act)? {
            Some(answer) => show(&answer, (garment, self.sum), previewed.as_deref(), context),
            None => Ok(()),
        }
    }
}

/// Shows what was promised; the sums that were asked for, and remarks, only where a preview has not shown them.
fn show(
    answer: &Reserved,
    (garment, sums): (GarmentCode, bool),
    previewed: Option<&[String]>,
    context: &mut Context<'_, '_>,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    context
        .ui
        .table(&reservation::table(shown, &answer.reservations));
    if sums && previewed.is_none() {
        reservation::sums(context.ui, &answer.reservations);
    }
    let is_shown = |note: &&String| {
        previewed
            .unwrap_or_default()
            .iter()
            .any(|remark| note.ends_with(remark.as_str()))
    };
    let notes: Vec<String> = answer
        .notes
        .iter()
        .filter(|note| !is_shown(note))
        .cloned()
        .collect();
    promise::aftermath(context.ui, shown, &[], &answer.broken);
    context.ui.notes(&notes);
    match answer.reservations.as_slice() {
        [one] => context.ui.status(format!(
            "Reserved {} of {} for the {} of {garment}.",
            shown.taken(one.held),
            one.piece,
            one.need
        )),
        many => context
            .ui
            .status(format!("Reserved {} pieces for {garment}.", many.len())),
    }
    Ok(())
}
