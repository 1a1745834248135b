//! A booking with its movements.

use super::{Shown, Table, Ui, left, right, sale};
use ellwand_contract::bookings::Booking;

/// One booking, whole.
pub fn booking(ui: &mut Ui<'_>, shown: Shown, booking: &Booking) {
    ui.heading(format!("{} {}", booking.booking, booking.summary));
    let booked = booking.booked_at.format("%Y-%m-%d %H:%M");
    ui.line(format!(
        "{} for {}, by {}, at {booked}",
        booking.kind, booking.on_date, booking.by
    ));
    if let Some(other) = booking.undone_by {
        ui.line(format!("undone by {other}"));
    }
    if let Some(other) = booking.undoes {
        ui.line(format!("undoes {other}"));
    }
    if let Some(sold) = &booking.sale {
        ui.line(sale::sentence(shown, sold));
    }
    if booking.movements.is_empty() {
        return;
    }
    let value = format!("value {}", shown.currency());
    let mut table = Table::new([
        right("no."),
        left("from"),
        left("to"),
        right("quantity"),
        right(&value),
    ]);
    for movement in &booking.movements {
        table.row([
            movement.sequence.to_string(),
            movement.from.clone(),
            movement.to.clone(),
            shown.taken(movement.quantity),
            movement
                .value
                .map(|value| value.0.decimal())
                .unwrap_or_default(),
        ]);
    }
    ui.table(&table);
}
