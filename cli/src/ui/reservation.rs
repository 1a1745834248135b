//! Promises of a garment, with their sums.

use super::{Shown, Table, Ui, paragraph};
use ellwand_contract::reservations::Reservation;
use ellwand_domain::setting::ReservationState;

/// A table of a garment's promises: what each holds and what it costs.
#[must_use]
pub fn table<'r>(shown: Shown, promises: impl IntoIterator<Item = &'r Reservation>) -> Table {
    let mut table =
        Table::headed("promise | need | piece | >units | >held | >cost | state | until | why");
    for promise in promises {
        // An ended promise holds nothing any more.
        let held = |text: String| {
            if promise.state == ReservationState::Active {
                text
            } else {
                String::new()
            }
        };
        table.row([
            promise.reservation.to_string(),
            promise.need.clone(),
            promise.piece.to_string(),
            held(match promise.share {
                Some(_) if promise.units == 0 => "share".to_owned(),
                _ => promise.units.to_string(),
            }),
            held(shown.taken(promise.held)),
            held(shown.cost(promise.cost, promise.cost_certainty)),
            super::promise::state(promise),
            promise
                .until
                .map_or_else(String::new, |until| until.to_string()),
            promise.ended_because.clone().unwrap_or_default(),
        ]);
    }
    table
}

/// The sum of each promise, step by step.
pub fn sums(ui: &mut Ui<'_>, promises: &[Reservation]) {
    for promise in promises.iter().filter(|promise| !promise.steps.is_empty()) {
        ui.blank();
        let heading = format!(
            "{}, {} from {}",
            promise.reservation, promise.need, promise.piece
        );
        sum(ui, &heading, promise.shrinkage.as_deref(), &promise.steps);
    }
}

/// A sum under its heading: the shrinkage it rests on, then a step a line.
pub fn sum(ui: &mut Ui<'_>, heading: &str, shrinkage: Option<&str>, steps: &[String]) {
    ui.heading(heading);
    if let Some(shrinkage) = shrinkage {
        paragraph::show(ui, 2, &format!("shrinkage {shrinkage}"));
    }
    for step in steps {
        paragraph::show(ui, 2, step);
    }
}
