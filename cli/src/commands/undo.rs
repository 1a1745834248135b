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
use ellwand_domain::code::{
    BookingCode, GarmentCode, LotCode, PurchaseCode, QuotationCode, ReservationCode,
};
use uuid::Uuid;

/// Undo a booking by booking the opposite
///
/// Without a code it shows your own last booking and asks first; with the code of a purchase, lot, garment, promise or
/// quotation the last one of it that stands, whoever booked it. A booking that later ones depend on cannot be undone; the
/// refusal names them.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand undo
  ellwand undo --yes
  ellwand undo B104
  ellwand undo P5
  ellwand undo B104 --date yesterday")]
pub struct Args {
    /// Booking code, such as B104; or P5, L17, G4, R3, Q2 for the last booking of it [default: your own last one]
    #[arg(value_name = "BOOKING", value_parser = booked)]
    booking: Option<String>,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let named = self.booking.as_ref().and_then(|text| text.parse().ok());
        let booking = match named {
            Some(booking) => booking,
            None => match context.sent_before::<Undo>()? {
                Some(sent) => return sent.run(context),
                None => last(self.booking, context)?,
            },
        };
        let (id, date) = (Uuid::nil(), self.date);
        Undo { id, booking, date }.run(context)
    }
}

/// Reads the code of a booking, or of a thing that bookings touch.
fn booked(text: &str) -> Result<String, String> {
    let is = [
        text.parse::<PurchaseCode>().is_ok(),
        text.parse::<LotCode>().is_ok(),
        text.parse::<GarmentCode>().is_ok(),
        text.parse::<ReservationCode>().is_ok(),
        text.parse::<QuotationCode>().is_ok(),
    ];
    match text.parse::<BookingCode>() {
        Err(error) if !is.contains(&true) => Err(error.to_string()),
        _ => Ok(text.to_owned()),
    }
}

/// Shows the last booking of the caller, or of a thing, and asks; the command that would repeat the request names the booking.
fn last(of: Option<String>, context: &mut Context<'_, '_>) -> Result<BookingCode, CommandError> {
    let named = of.is_some();
    let last = context.call(&GetLastBooking { of })?;
    if !context.is_json() {
        let shown = context.shown()?;
        ui::booking::booking(context.ui, shown, &last);
        context.ui.blank();
    }
    context.confirm(&format!("Undo {}?", last.booking))?;
    if !named {
        context.add_to_command([last.booking.to_string()]);
    }
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
