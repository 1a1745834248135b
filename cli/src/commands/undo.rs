//! `ellwand undo`: takes one booking back.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{self, promise},
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::bookings::{GetLastBooking, Undo, Undone};
use ellwand_domain::code::BookingCode;
use uuid::Uuid;

/// Undo a booking by booking the opposite
///
/// Without a code it shows your own last booking and asks first. A booking that later ones depend on cannot be undone; the
/// refusal names them.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand undo
  ellwand undo --yes
  ellwand undo B104
  ellwand undo B104 --date yesterday")]
pub struct Args {
    /// Booking code, such as B104 [default: your own last one]
    #[arg(value_name = "BOOKING")]
    booking: Option<BookingCode>,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let booking = match self.booking {
            Some(booking) => booking,
            None => match context.sent_before::<Undo>()? {
                Some(sent) => return sent.run(context),
                None => last(context)?,
            },
        };
        let (id, date) = (Uuid::nil(), self.date);
        Undo { id, booking, date }.run(context)
    }
}

/// Shows the caller's last booking, asks, and names it in the command that would repeat the request.
fn last(context: &mut Context<'_, '_>) -> Result<BookingCode, CommandError> {
    let last = context.call(&GetLastBooking {})?;
    if !context.is_json() {
        let shown = context.shown()?;
        ui::booking::booking(context.ui, shown, &last);
        context.ui.blank();
    }
    context.confirm(&format!("Undo {}?", last.booking))?;
    context.add_to_command([last.booking.to_string()]);
    Ok(last.booking)
}

impl Verb for Undo {
    fn show(&self, answer: Undone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        ui::booking::booking(context.ui, shown, &answer.booking);
        if !answer.restored.is_empty() {
            context.ui.blank();
            context.ui.heading("Promises made again");
            context.ui.table(&promise::table(shown, &answer.restored));
        }
        promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
        context.ui.notes(&answer.notes);
        let (undone, booking) = (self.booking, answer.booking.booking);
        context.ui.status(format!("Undid {undone} ({booking})."));
        Ok(())
    }
}
