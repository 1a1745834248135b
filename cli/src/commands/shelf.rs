//! `ellwand shelf`: what is left.

use super::watch;
use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, piece},
    verb::Run,
};
use ellwand_contract::{
    Micro,
    shelf::{GetShelf, Shelf, ShelfPiece},
    text::counted,
};
use ellwand_domain::{certainty::Certainty, quantity::Millionths};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand shelf
  ellwand shelf --kind cloth --fibre linen --free-min 1.20m
  ellwand shelf --mass-min 200gsm --mass-max 300gsm --width-min 140cm
  ellwand shelf --kind cloth --watch

On a narrow terminal kind, on hand, state, usable, reserved and place are left out, in this order, so that each piece keeps
its one line; --json has all.")]
pub struct Args {
    #[command(flatten)]
    act: GetShelf,
    /// Show all rows
    #[arg(long)]
    all: bool,
    /// Refresh whenever anyone books something, until interrupted
    #[arg(long, conflicts_with = "after")]
    watch: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.watch {
            watch::follow(context, |context| once(&self, context))
        } else {
            once(&self, context)
        }
    }
}

fn once(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let filter = &args.act;
    let narrowed = *filter
        != GetShelf {
            kind: filter.kind,
            limit: filter.limit,
            ..GetShelf::default()
        };
    let mut act = GetShelf {
        limit: filter.limit.or(args.all.then_some(500)),
        totals: !narrowed,
        ..filter.clone()
    };
    let mut answer = context.call(&act)?;
    act.totals = false;
    while let Some(after) = answer.meta.next.take_if(|_| args.all) {
        act.after = Some(after);
        let page = context.call(&act)?;
        answer.pieces.extend(page.pieces);
        answer.meta = page.meta;
    }
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.pieces.is_empty() {
        let unfiltered = GetShelf {
            limit: filter.limit,
            ..GetShelf::default()
        };
        context.ui.status(match *filter == unfiltered {
            false => "Nothing on the shelf matches.",
            true => "The shelf is empty; log a purchase with `ellwand buy`.",
        });
        return Ok(());
    }
    let with_mass = filter.mass_min.is_some() || filter.mass_max.is_some();
    show(context, &answer, with_mass)
}

fn show(
    context: &mut Context<'_, '_>,
    answer: &Shelf,
    with_mass: bool,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    context.ui.table(&table(shown, &answer.pieces, with_mass));
    let pieces = counted(answer.pieces.len(), "piece");
    let values = worth(shown, answer).unwrap_or_default();
    match &answer.meta.next {
        Some(next) => {
            context
                .ui
                .status(format!("Showed the first {pieces}{values}."));
            context
                .ui
                .hint(format!("there are more: add --all, or --after {next}"));
        }
        None => context.ui.status(format!("Showed {pieces}{values}.")),
    }
    Ok(())
}

/// `; the shelf is worth 396.79 EUR: cloth 334.60, thread 9.00`; readers who may not see prices get none.
fn worth(shown: Shown, answer: &Shelf) -> Option<String> {
    let currency = shown.currency();
    let values = answer.totals.iter().map(|of| of.value.map(|value| value.0));
    let values = values.collect::<Option<Vec<_>>>()?;
    let all = Millionths::sum(values).ok().map(Micro)?;
    if answer.totals.is_empty() {
        // Thread and trims have no value of their own.
        let priced = answer.pieces.iter().any(|piece| piece.value.is_some());
        return priced.then(|| format!(", values in {currency}"));
    }
    let kinds = answer.totals.iter();
    let kinds = kinds.map(|of| format!("{} {}", of.kind, shown.optional_value(of.value)));
    let kinds = kinds.collect::<Vec<_>>().join(", ");
    let unpriced = answer.totals.iter().map(|of| of.unpriced);
    let unpriced = match unpriced.fold(0_i64, i64::saturating_add) {
        0 => String::new(),
        1 => "; 1 piece has no price and counts as nothing".to_owned(),
        more => format!("; {more} pieces have no price and count as nothing"),
    };
    Some(format!(
        "; all is worth {} {currency}: {kinds}{unpriced}",
        shown.value(all)
    ))
}

/// Left out on a narrow screen, in this order.
const SPARE: [&str; 6] = ["kind", "on hand", "state", "usable", "reserved", "place"];

/// The name, with the colour unless the name contains it.
fn name(piece: &ShelfPiece) -> String {
    match &piece.colour {
        Some(colour) if !piece.name.to_lowercase().contains(&colour.to_lowercase()) => {
            format!("{}, {colour}", piece.name)
        }
        _ => piece.name.clone(),
    }
}

fn table(shown: Shown, pieces: &[ShelfPiece], with_mass: bool) -> Table {
    let mut table = Table::headed(
        "piece | kind | material | >on hand | >reserved | >free | >longest | >usable \
         | >mass | state | place | owner | >value",
    );
    for piece in pieces {
        let empty_if = |zero: bool, text: String| if zero { String::new() } else { text };
        let prepared = piece
            .usable_width_m
            .map(|_| piece::preparation(piece.preparation));
        table.row([
            piece.piece.to_string(),
            piece.kind.to_string(),
            name(piece),
            shown.amount(piece.on_hand),
            empty_if(piece.reserved.get() == 0, shown.amount(piece.reserved)),
            shown.amount(piece.free),
            empty_if(
                piece.longest_free == piece.free,
                shown.amount(piece.longest_free),
            ),
            piece
                .usable_width_m
                .map(|width| shown.width(width))
                .unwrap_or_default(),
            piece
                .mass_gsm
                .filter(|_| with_mass)
                .map(|mass| shown.mass(mass))
                .unwrap_or_default(),
            piece::state(prepared, piece.offcut, piece.estimated),
            piece.place.clone().unwrap_or_default(),
            piece
                .owner
                .map(|owner| owner.to_string())
                .unwrap_or_default(),
            match piece.unpriced {
                true => "no price".to_owned(),
                false if piece.value_estimated => shown.cost(piece.value, Certainty::Estimated),
                false => shown.optional_value(piece.value),
            },
        ]);
    }
    table.spare(&SPARE);
    table
}
