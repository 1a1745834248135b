//! `ellwand shelf`: what is left.

use super::watch;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::checked,
    ui::{Shown, Table, left, piece, right},
};
use ellwand_contract::{
    shelf::{GetShelf, Shelf, ShelfPiece},
    text::counted,
};
use ellwand_domain::{
    quantity::{Micrometres, MilligramsPerM2},
    setting::Kind,
};

/// Show what is left on the shelf, in lengths that can really be cut
///
/// What lies inside a flaw or is promised is not free. "longest" is the longest free length in one stretch: what a single cut
/// can still take. It is shown where flaws or promises make it shorter than what is free. A length that was worked out from a
/// mass is called estimated. The mass per area is shown when asked for by --mass-min or --mass-max;
/// `ellwand lot show` has all of the sheet.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand shelf
  ellwand shelf --kind cloth --fibre linen --free-min 1.20m
  ellwand shelf --mass-min 200gsm --mass-max 300gsm --width-min 140cm
  ellwand shelf --kind cloth --watch")]
pub struct Args {
    /// Only this kind: cloth, interlining, thread or trim
    #[arg(long, value_name = "KIND")]
    kind: Option<Kind>,
    /// Only what contains this fibre
    #[arg(long, value_name = "FIBRE")]
    fibre: Option<String>,
    /// Only names that contain this
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    /// Only colours that contain this
    #[arg(long, value_name = "TEXT")]
    colour: Option<String>,
    /// Only what lies here
    #[arg(long, value_name = "PLACE")]
    place: Option<String>,
    /// Only this mass per area or more
    #[arg(long, value_name = "MASS", value_parser = checked::<MilligramsPerM2>)]
    mass_min: Option<String>,
    /// Only this mass per area or less
    #[arg(long, value_name = "MASS", value_parser = checked::<MilligramsPerM2>)]
    mass_max: Option<String>,
    /// Only this usable width or more
    #[arg(long, value_name = "WIDTH", value_parser = checked::<Micrometres>)]
    width_min: Option<String>,
    /// Only pieces with a free stretch this long or longer
    #[arg(long, value_name = "LENGTH", value_parser = checked::<Micrometres>)]
    free_min: Option<String>,
    /// Rows to show, at most 500
    #[arg(long, value_name = "NUMBER")]
    limit: Option<u32>,
    /// Go on after this mark, which the page before names
    #[arg(long, value_name = "MARK")]
    after: Option<String>,
    /// Show all of them
    #[arg(long)]
    all: bool,
    /// Show it again whenever something is booked, by anyone, until interrupted
    #[arg(long, conflicts_with = "after")]
    watch: bool,
}

impl Args {
    fn filtered(&self) -> bool {
        let texts = [
            &self.fibre,
            &self.name,
            &self.colour,
            &self.place,
            &self.mass_min,
            &self.mass_max,
        ];
        let lengths = [&self.width_min, &self.free_min, &self.after];
        self.kind.is_some() || texts.into_iter().chain(lengths).any(Option::is_some)
    }
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    if args.watch {
        watch::follow(context, |context| once(args, context))
    } else {
        once(args, context)
    }
}

fn once(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let with_mass = args.mass_min.is_some() || args.mass_max.is_some();
    let mut act = GetShelf {
        kind: args.kind,
        fibre: args.fibre.clone(),
        name: args.name.clone(),
        colour: args.colour.clone(),
        place: args.place.clone(),
        mass_min: args.mass_min.clone(),
        mass_max: args.mass_max.clone(),
        width_min: args.width_min.clone(),
        free_min: args.free_min.clone(),
        after: args.after.clone(),
        limit: args.limit.or(args.all.then_some(500)),
    };
    let mut answer = context.call(&act)?;
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
        context.ui.status(match args.filtered() {
            true => "Nothing on the shelf is like that.",
            false => "The shelf is empty; log a purchase with `ellwand buy`.",
        });
        return Ok(());
    }
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
    // Whoever is told no prices is shown none; thread and trims have none of their own either.
    let told = answer.pieces.iter().any(|piece| piece.value.is_some());
    let values = if told {
        format!(", values in {}", shown.currency())
    } else {
        String::new()
    };
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

/// The name, with the colour where the name does not say it.
fn name(piece: &ShelfPiece) -> String {
    match &piece.colour {
        Some(colour) if !piece.name.to_lowercase().contains(&colour.to_lowercase()) => {
            format!("{}, {colour}", piece.name)
        }
        _ => piece.name.clone(),
    }
}

fn table(shown: Shown, pieces: &[ShelfPiece], with_mass: bool) -> Table {
    let columns = [
        left("piece"),
        left("kind"),
        left("material"),
        right("on hand"),
        right("reserved"),
        right("free"),
        right("longest"),
        right("usable"),
        right("mass"),
        left("state"),
        left("place"),
        left("owner"),
        right("value"),
    ];
    let mut table = Table::new(columns);
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
            shown.told(piece.value),
        ]);
    }
    table
}
