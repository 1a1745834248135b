//! Promises, as lists of other commands show them.

use super::{Shown, Table, Ui};
use ellwand_contract::{reservations::Reservation, text::counted};
use ellwand_domain::setting::{LengthBy, ReservationState};

/// A table of promises: what is held for whom, and why one ended.
#[must_use]
pub fn table(shown: Shown, promises: &[Reservation]) -> Table {
    let mut table = Table::headed("promise | garment | need | piece | >held | state | why");
    for promise in promises {
        table.row([
            promise.reservation.to_string(),
            promise.garment.to_string(),
            promise.need.clone(),
            promise.piece.to_string(),
            match promise.state {
                ReservationState::Active => shown.taken(promise.held),
                _ => String::new(),
            },
            state(promise),
            promise.ended_because.clone().unwrap_or_default(),
        ]);
    }
    table
}

/// The state of a promise, and what one that was made by a kept lay goes by: `active, by Y7`.
#[must_use]
pub fn state(promise: &Reservation) -> String {
    let state = promise.state;
    let lay = promise.lay.filter(|_| state == ReservationState::Active);
    match (lay, promise.length_by) {
        (None, _) => state.to_string(),
        (Some(lay), Some(LengthBy::Kept)) => format!("{state}, by {lay}"),
        (Some(lay), _) => format!("{state}, too narrow for {lay}"),
    }
}

/// What an act did to promises: those that hold another length now, and those that no longer fit.
pub fn aftermath(ui: &mut Ui<'_>, shown: Shown, changed: &[Reservation], broken: &[Reservation]) {
    if !changed.is_empty() {
        ui.blank();
        ui.heading("Promises that hold another length now");
        ui.table(&table(shown, changed));
    }
    if !broken.is_empty() {
        ui.blank();
        ui.heading("Promises that no longer fit");
        ui.table(&table(shown, broken));
        let garments: std::collections::BTreeSet<String> =
            broken.iter().map(|b| b.garment.to_string()).collect();
        let garments: Vec<String> = garments.into_iter().collect();
        ui.warning(format!(
            "{} broken: {} is short of material",
            counted(broken.len(), "promise"),
            garments.join(", ")
        ));
        ui.hint(format!(
            "find something else with: ellwand candidates {}",
            garments.first().map_or("", String::as_str)
        ));
    }
}
