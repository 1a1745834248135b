//! `ellwand cut --all`: shows what is promised, asks, and cuts it.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, promise},
};
use ellwand_contract::{
    cuts::{Cut, CutPromises, CutsDone},
    reservations::{ListReservations, Reservation},
};
use ellwand_domain::{code::GarmentCode, setting::ReservationState};

/// Cuts every active promise of the garment, once what comes of it was shown and confirmed.
pub(super) fn run(act: &Cut, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let sent = context.sent_before::<CutPromises>()?;
    let promises = match &sent {
        Some(sent) => sent.promises.clone(),
        None => active(act.garment, context)?
            .iter()
            .map(|one| one.reservation)
            .collect(),
    };
    let mut request = CutPromises {
        id: context.new_id(),
        garment: act.garment,
        promises,
        really: act.really,
        date: act.date,
        check: false,
    };
    // Why there is none, the book says.
    let asks = sent.is_none() && !request.promises.is_empty() && !context.is_confirmed();
    if asks {
        request.check = true;
        let tried = context.call(&request)?;
        if !context.is_json() {
            show(&tried, true, context)?;
        }
        context.confirm(&format!("Cut all of it for {}?", act.garment))?;
        request.check = false;
    }
    let Some(answer) = context.answer(&request)? else {
        return Ok(());
    };
    if !asks {
        show(&answer, false, context)?;
    }
    let shown = context.shown()?;
    let cost = answer.cost_printed.as_ref();
    let cost = cost.map_or_else(String::new, |cost| format!(": {cost} {}", shown.currency()));
    let bookings = match answer.cuts.as_slice() {
        [first, .., last] => format!("{} to {}", first.booking, last.booking),
        [one] => one.booking.to_string(),
        [] => String::new(),
    };
    let garment = answer.garment;
    let sentence = format!("Cut all that was promised to {garment}{cost} ({bookings}).");
    context.ui.status(sentence);
    Ok(())
}

/// Its active promises, oldest first.
fn active(
    garment: GarmentCode,
    context: &mut Context<'_, '_>,
) -> Result<Vec<Reservation>, CommandError> {
    let (mut promises, mut after) = (Vec::new(), None);
    loop {
        let page = context.call(&ListReservations {
            garment,
            state: Some(ReservationState::Active),
            after,
            limit: None,
        })?;
        promises.extend(page.reservations);
        after = page.meta.next;
        if after.is_none() {
            promises.reverse();
            return Ok(promises);
        }
    }
}

/// What each cut takes and leaves; of a trial, under the promise that it would be cut from.
fn show(
    answer: &CutsDone,
    is_trial: bool,
    context: &mut Context<'_, '_>,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let mut table = Table::headed(match is_trial {
        true => "promise | need | piece | >to cut | >left | >cost",
        false => "booking | need | piece | >cut | >left | >cost",
    });
    for cut in &answer.cuts {
        let promise = cut.reservation.as_ref().filter(|_| is_trial);
        table.row([
            promise.map_or_else(
                || cut.booking.to_string(),
                |row| row.reservation.to_string(),
            ),
            cut.need.clone(),
            cut.piece.piece.to_string(),
            shown.taken(cut.taken),
            shown.amount(cut.piece.on_hand),
            cut.cost_printed.clone().unwrap_or_default(),
        ]);
    }
    ui.table(&table);
    for cut in &answer.cuts {
        promise::aftermath(ui, shown, &cut.changed, &cut.broken);
        ui.notes(&cut.notes);
    }
    Ok(())
}
