//! `ellwand shelf`: what is left.

use super::watch;
use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, piece},
    verb::Run,
};
use ellwand_contract::{
    Amount, Micro,
    shelf::{GetShelf, Shelf, ShelfPiece},
    text::counted,
};
use ellwand_domain::certainty::Certainty;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand shelf
  ellwand shelf --kind cloth --fibre linen --free-min 1.20m
  ellwand shelf --mass-min 200gsm --mass-max 300gsm --width-min 140cm
  ellwand shelf --on 2026-10-31
  ellwand shelf --kind cloth --watch

On a narrow terminal kind, on hand, state, usable, fibres, reserved and place
are left out, in this order, so that each piece keeps its one line; --json has
all.")]
pub struct Args {
    #[command(flatten)]
    act: GetShelf,
    /// Show all rows
    #[arg(long)]
    all: bool,
    /// Refresh whenever anyone books something, until interrupted
    #[arg(long, conflicts_with_all = ["after", "on"])]
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
            on: filter.on,
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
        context.ui.status(match (filter.on, *filter == unfiltered) {
            (Some(day), _) => format!("Nothing of that was on the shelf on {day}."),
            (None, false) => "Nothing on the shelf matches.".to_owned(),
            (None, true) => "The shelf is empty; log a purchase with `ellwand buy`.".to_owned(),
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
    if let Some(day) = answer.on {
        let heading = format!("The shelf at the end of {day}, without promises");
        context.ui.heading(heading);
    }
    let mut table = table(shown, &answer.pieces, with_mass);
    totals(shown, answer, &mut table);
    table.spare(match answer.on {
        Some(_) => &SPARE_THEN,
        None => &SPARE,
    });
    context.ui.table(&table);
    let pieces = counted(answer.pieces.len(), "piece");
    let remarks = remarks(shown, answer);
    match &answer.meta.next {
        Some(next) => {
            context
                .ui
                .status(format!("Showed the first {pieces}{remarks}."));
            context
                .ui
                .hint(format!("there are more: add --all, or --after {next}"));
        }
        None => context.ui.status(format!("Showed {pieces}{remarks}.")),
    }
    Ok(())
}

/// Below the pieces: all of each kind, and what all of it is worth.
fn totals(shown: Shown, answer: &Shelf, table: &mut Table) {
    if answer.totals.is_empty() {
        return;
    }
    table.rule();
    let mut total = |what: &str, on_hand: &str, value: Option<Micro>| {
        let value = &shown.optional_value(value);
        let none = "";
        table.row([
            none, none, what, none, on_hand, none, none, none, none, none, none, none, none, value,
        ]);
    };
    for of in &answer.totals {
        let on_hand = shown.net(of.on_hand);
        total(&format!("all {}", of.kind), &on_hand, of.value);
    }
    if answer.totals.len() > 1 && answer.in_all.is_some() {
        total("in all", "", answer.in_all);
    }
}

/// `, values in EUR; 2 pieces have no price and count as nothing`: what the numbers leave out.
fn remarks(shown: Shown, answer: &Shelf) -> String {
    let mut remarks = String::new();
    if answer.pieces.iter().any(|piece| piece.value.is_some()) {
        remarks.push_str(&format!(", values in {}", shown.currency()));
    }
    let unpriced = answer.totals.iter().filter_map(|of| of.unpriced);
    match unpriced.fold(0_i64, i64::saturating_add) {
        0 => {}
        1 => remarks.push_str("; 1 piece has no price and counts as nothing"),
        more => remarks.push_str(&format!(
            "; {more} pieces have no price and count as nothing"
        )),
    }
    let is_anothers = answer.pieces.iter().any(|piece| piece.owner.is_some());
    if is_anothers && !answer.totals.is_empty() {
        remarks.push_str("; what customers own is not added up");
    }
    remarks
}

/// Left out on a narrow screen, in this order.
const SPARE: [&str; 7] = [
    "kind", "on hand", "state", "usable", "fibres", "reserved", "place",
];
/// The same of an earlier day, where what was on hand is all that is known.
const SPARE_THEN: [&str; 3] = ["kind", "state", "fibres"];

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
        "piece | kind | material | fibres | >on hand | >reserved | >free | >longest | >usable \
         | >mass | state | place | owner | >value",
    );
    for piece in pieces {
        let amount = |amount: Option<Amount>| {
            amount
                .map(|of| shown.amount_of(piece.kind, of))
                .unwrap_or_default()
        };
        let prepared = piece
            .usable_width_m
            .map(|_| piece::preparation(piece.preparation));
        let mass = piece.mass_gsm.filter(|_| with_mass);
        let owner = piece.owner.map(|owner| owner.to_string());
        table.row([
            piece.piece.to_string(),
            piece.kind.to_string(),
            name(piece),
            piece.fibres.join(", "),
            shown.amount_of(piece.kind, piece.on_hand),
            piece
                .reserved
                .filter(|reserved| reserved.get() != 0)
                .map(|reserved| shown.taken_of(piece.kind, reserved))
                .unwrap_or_default(),
            amount(piece.free),
            amount(
                piece
                    .longest_free
                    .filter(|_| piece.longest_free != piece.free),
            ),
            piece
                .usable_width_m
                .map(|width| shown.width(width))
                .unwrap_or_default(),
            mass.map(|mass| shown.mass(mass)).unwrap_or_default(),
            piece::state(prepared, piece.offcut, piece.estimated),
            piece.place.clone().unwrap_or_default(),
            owner.unwrap_or_default(),
            match piece.unpriced {
                true => "no price".to_owned(),
                false if piece.value_estimated => shown.cost(piece.value, Certainty::Estimated),
                false => shown.optional_value(piece.value),
            },
        ]);
    }
    table
}
