//! `ellwand history`: what was booked, when and by whom.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{self, Table},
    verb::{Run, Verb},
};
use ellwand_contract::bookings::{Booking, GetBooking, ListBookings};
use ellwand_domain::code::BookingCode;

/// List what was booked, newest first, or show one booking with its movements
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand history
  ellwand history --garment G5 --limit 20
  ellwand history --by anna --from 2026-11-01 --kind cut
  ellwand history B104")]
pub struct Args {
    /// Show this booking, such as B104, with its movements in the ledger
    #[arg(value_name = "BOOKING", conflicts_with_all = ["garment", "lot", "by", "kind", "from", "to", "limit", "after", "all"])]
    booking: Option<BookingCode>,
    #[command(flatten)]
    list: ListBookings,
    /// Show all rows
    #[arg(long)]
    all: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        match self.booking {
            Some(booking) => GetBooking { booking }.run(context),
            None => list(self.list, self.all, context),
        }
    }
}

impl Verb for GetBooking {
    fn show(&self, answer: Booking, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        ui::booking::booking(context.ui, shown, &answer);
        Ok(())
    }
}

fn list(
    mut act: ListBookings,
    all: bool,
    context: &mut Context<'_, '_>,
) -> Result<(), CommandError> {
    let plain = ListBookings {
        limit: act.limit,
        ..ListBookings::default()
    };
    let filtered = act != plain;
    act.limit = act.limit.or(all.then_some(500));
    let mut answer = context.call(&act)?;
    while let Some(after) = answer.meta.next.take_if(|_| all) {
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
            "No bookings match."
        } else {
            "Nothing has been booked yet."
        };
        context.ui.status(text);
        return Ok(());
    }
    let mut table = Table::headed("booking | date | what | by |");
    for booking in &answer.bookings {
        let undone = booking
            .undone_by
            .map(|other| format!("undone by {other}"))
            .unwrap_or_default();
        let undoes = booking
            .undoes
            .map(|other| format!("undoes {other}"))
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
