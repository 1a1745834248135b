//! `ellwand cut --all`: shows what is promised, asks, and cuts it.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, promise, reservation},
};
use ellwand_contract::{
    cuts::{Cut, CutPromises, CutsDone},
    reservations::{ListReservations, Reservation},
};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    setting::ReservationState,
};

/// Cuts every active promise of the garment, once they were shown and confirmed.
pub(super) fn run(act: &Cut, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let promises = match context.sent_before::<CutPromises>()? {
        Some(sent) => sent.promises,
        None => confirmed(act.garment, context)?,
    };
    let request = CutPromises {
        id: context.new_id(),
        garment: act.garment,
        promises,
        really: act.really,
        date: act.date,
    };
    match context.answer(&request)? {
        Some(answer) => show(&answer, context),
        None => Ok(()),
    }
}

fn confirmed(
    garment: GarmentCode,
    context: &mut Context<'_, '_>,
) -> Result<Vec<ReservationCode>, CommandError> {
    let promises = active(garment, context)?;
    // Why there is none, the book says.
    if promises.is_empty() {
        return Ok(Vec::new());
    }
    if !context.is_json() {
        let shown = context.shown()?;
        context.ui.table(&reservation::table(shown, &promises));
    }
    context.confirm(&format!("Cut all of it for {garment}?"))?;
    Ok(promises.iter().map(|one| one.reservation).collect())
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

fn show(answer: &CutsDone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let mut table = Table::headed("booking | need | piece | >cut | >left | >cost");
    for cut in &answer.cuts {
        table.row([
            cut.booking.to_string(),
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
    ui.status(format!(
        "Cut all that was promised to {}{}.",
        answer.garment,
        answer
            .cost_printed
            .as_ref()
            .map_or_else(String::new, |cost| format!(": {cost} {}", shown.currency()))
    ));
    Ok(())
}
