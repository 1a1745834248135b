//! `ellwand history`: what was booked, when and by whom.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{self, Table, left},
};
use ellwand_contract::bookings::{GetBooking, ListBookings};
use ellwand_domain::code::{BookingCode, GarmentCode, LotCode};

/// List what was booked, newest first, or show one booking with its movements
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand history
  ellwand history --garment G5 --limit 20
  ellwand history B104")]
pub struct Args {
    /// Show this booking with its movements in the ledger
    #[arg(value_name = "BOOKING", conflicts_with_all = ["garment", "lot", "limit", "after", "all"])]
    booking: Option<BookingCode>,
    /// Only bookings that touched this garment
    #[arg(long, value_name = "GARMENT")]
    garment: Option<GarmentCode>,
    /// Only bookings that touched this lot
    #[arg(long, value_name = "LOT")]
    lot: Option<LotCode>,
    /// Rows to show, at most 500
    #[arg(long, value_name = "NUMBER")]
    limit: Option<u32>,
    /// Go on after this mark, which the page before names
    #[arg(long, value_name = "MARK")]
    after: Option<String>,
    /// Show all of them
    #[arg(long)]
    all: bool,
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.booking {
        Some(booking) => one(booking, context),
        None => list(args, context),
    }
}

fn one(booking: BookingCode, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetBooking { booking })?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    ui::booking::booking(context.ui, shown, &answer);
    Ok(())
}

fn list(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let filtered = args.garment.is_some() || args.lot.is_some() || args.after.is_some();
    let limit = args.limit.or(args.all.then_some(500));
    let mut act = ListBookings {
        garment: args.garment,
        lot: args.lot,
        after: args.after,
        limit,
    };
    let mut answer = context.call(&act)?;
    while let Some(after) = answer.meta.next.take_if(|_| args.all) {
        act.after = Some(after);
        let page = context.call(&act)?;
        answer.bookings.extend(page.bookings);
        answer.meta = page.meta;
    }
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.bookings.is_empty() {
        let text = if filtered {
            "No bookings like that."
        } else {
            "Nothing has been booked yet."
        };
        context.ui.status(text);
        return Ok(());
    }
    let mut table = Table::new([
        left("booking"),
        left("date"),
        left("what"),
        left("by"),
        left(""),
    ]);
    for booking in &answer.bookings {
        let undone = booking
            .undone_by
            .map(|other| format!("taken back by {other}"))
            .unwrap_or_default();
        let undoes = booking
            .undoes
            .map(|other| format!("takes {other} back"))
            .unwrap_or_default();
        table.row([
            booking.booking.to_string(),
            booking.on_date.to_string(),
            booking.summary.clone(),
            booking.by.clone(),
            [undone, undoes].concat(),
        ]);
    }
    context.ui.table(&table);
    if let Some(next) = &answer.meta.next {
        context
            .ui
            .hint(format!("there are more: add --all, or --after {next}"));
    }
    Ok(())
}
