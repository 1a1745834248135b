//! `ellwand undo`: takes back what one command booked, or one booking.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{self, Table, promise},
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::bookings::{Booking, GetBooking, GetLastBooking, Undo, Undone};
use ellwand_domain::code::{
    BookingCode, GarmentCode, LotCode, PurchaseCode, QuotationCode, ReservationCode,
};
use uuid::Uuid;

/// Undo a booking by booking the opposite
///
/// Without a code it shows all that your own last command booked and asks first; with the code of a purchase, lot, garment,
/// promise or quotation the last booking of it that stands, whoever booked it. A booking that later ones depend on cannot be
/// undone; the refusal names them.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand undo
  ellwand undo --yes
  ellwand undo B104
  ellwand undo B104 --together
  ellwand undo P5
  ellwand undo B104 --date yesterday")]
pub struct Args {
    /// Booking code, such as B104; or P5, L17, G4, R3, Q2 for the last booking of it [default: all of your own last command]
    #[arg(value_name = "BOOKING", value_parser = booked)]
    booking: Option<String>,
    /// Also undo all else that the same command booked: all of it or nothing
    #[arg(long)]
    together: bool,
    /// Business date [default: the last day on which something was booked on what it touches, so that it stands in no month;
    /// today where those books are closed]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let named = self.booking.as_ref().and_then(|text| text.parse().ok());
        let (booking, together) = match named {
            Some(booking) => (booking, self.together),
            None => match context.sent_before::<Undo>()? {
                Some(sent) => return sent.run(context),
                None => last(self.booking, self.together, context)?,
            },
        };
        let undo = Undo {
            id: Uuid::nil(),
            booking,
            together,
            date: self.date,
        };
        undo.run(context)
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

/// Shows what the last command of the caller booked, or the last booking of a thing, and asks; the command that would repeat the
/// request names the booking.
fn last(
    of: Option<String>,
    together: bool,
    context: &mut Context<'_, '_>,
) -> Result<(BookingCode, bool), CommandError> {
    let named = of.is_some();
    let last = context.call(&GetLastBooking { of })?;
    let together = (together || !named) && !last.together.is_empty();
    let (booking, mut all) = (last.booking, vec![last.booking]);
    all.extend(last.together.iter().filter(|_| together));
    if !context.is_json() {
        let mut bookings = vec![last];
        for booking in all.iter().skip(1) {
            bookings.push(context.call(&GetBooking { booking: *booking })?);
        }
        show(&bookings, context)?;
        context.ui.blank();
    }
    context.confirm(&format!("Undo {}?", codes(&all)))?;
    if !named {
        context.add_to_command([booking.to_string()]);
        context.add_to_command(together.then(|| "--together".to_owned()));
    }
    Ok((booking, together))
}

/// One booking in full, several of them in a line each.
fn show(all: &[Booking], context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let shown = context.shown()?;
    if let [booking] = all {
        ui::booking::booking(context.ui, shown, booking);
        return Ok(());
    }
    let mut table = Table::headed("booking | what");
    for booking in all {
        table.row([booking.booking.to_string(), booking.summary.clone()]);
    }
    context.ui.table(&table);
    Ok(())
}

fn codes(codes: &[BookingCode]) -> String {
    let codes: Vec<String> = codes.iter().map(ToString::to_string).collect();
    codes.join(", ")
}

impl Verb for Undo {
    fn show(&self, answer: Undone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(&answer.bookings, context)?;
        let shown = context.shown()?;
        if !answer.restored.is_empty() {
            context.ui.blank();
            context.ui.heading("Promises made again");
            context.ui.table(&promise::table(shown, &answer.restored));
        }
        promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
        context.ui.notes(&answer.notes);
        let made: Vec<BookingCode> = answer.bookings.iter().map(|row| row.booking).collect();
        let undone: Vec<BookingCode> = answer
            .bookings
            .iter()
            .filter_map(|row| row.undoes)
            .collect();
        let done = format!("Undid {} ({}).", codes(&undone), codes(&made));
        context.ui.status(done);
        if let [first, ..] = answer.left.as_slice() {
            let (left, stand) = match answer.left.len() {
                1 => (first.to_string(), "stands"),
                _ => (codes(&answer.left), "stand"),
            };
            let hint =
                format!("{left} of the same command {stand}: ellwand undo {first} --together");
            context.ui.hint(&hint);
        }
        Ok(())
    }
}
