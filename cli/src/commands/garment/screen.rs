//! How a garment is shown.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, Ui, headed, left, paragraph, reservation, time::minutes},
};
use ellwand_contract::{
    Amount,
    garments::{Garment, Need, UsedLot},
    measures::Measure,
    reservations::Reservation,
};
use ellwand_domain::setting::ReservationState;

/// `6 x linen apron for the pilot`.
pub fn title(garment: &Garment) -> String {
    let count = if garment.count == 1 {
        String::new()
    } else {
        format!("{} x ", garment.count)
    };
    let customer = garment
        .customer
        .as_ref()
        .map_or_else(String::new, |customer| format!(" for {customer}"));
    format!("{count}{}{customer}", garment.name)
}

/// True for a promise that stands, or ended before it was cut and was not made again since.
fn is_open(need: &Need, promise: &Reservation) -> bool {
    let again = |other: &Reservation| {
        other.state == ReservationState::Active && other.reservation > promise.reservation
    };
    match promise.state {
        ReservationState::Active => true,
        ReservationState::Cut => false,
        _ => !need.reservations.iter().any(again),
    }
}

/// The head, the needs with their promises, and the work.
pub fn garment(context: &mut Context<'_, '_>, garment: &Garment) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    ui.line(head(garment));
    if let Some(note) = &garment.note {
        ui.line(note);
    }
    if !garment.measures.is_empty() {
        paragraph::show(ui, 0, &measures(&garment.measures));
    }
    let more = planned(ui, shown, garment);
    if more > 0 {
        let code = garment.garment;
        ui.line(format!(
            "promises that ended: {more} (ellwand garment promises {code})"
        ));
    }
    if garment.needs.iter().any(|need| !need.used.is_empty()) {
        ui.blank();
        ui.heading("Lots used, for repairs and repeats");
        ui.table(&kept(shown, garment));
    }
    made(ui, garment);
    if garment.material_cost.is_some_and(|cost| cost.get() != 0) || garment.worked_minutes != 0 {
        ui.blank();
        ui.line(used(shown, garment));
    }
    ui.notes(&garment.notes);
    Ok(())
}

/// The head and what is planned, without what was used.
pub fn plan(context: &mut Context<'_, '_>, garment: &Garment) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    ui.line(head(garment));
    let _ = planned(ui, shown, garment);
    made(ui, garment);
    ui.notes(&garment.notes);
    Ok(())
}

/// The needs with their promises that stand or have still to be made again; how many of the others ended before they were cut.
fn planned(ui: &mut Ui<'_>, shown: Shown, garment: &Garment) -> i64 {
    if !garment.needs.is_empty() {
        ui.blank();
        ui.table(&needs(garment));
    }
    let (promises, ended): (Vec<_>, Vec<_>) = garment
        .needs
        .iter()
        .flat_map(|need| need.reservations.iter().map(move |promise| (need, promise)))
        .partition(|(need, promise)| is_open(need, promise));
    if !promises.is_empty() {
        ui.blank();
        let promises = promises.into_iter().map(|(_, promise)| promise);
        ui.table(&reservation::table(shown, promises));
    }
    // What was cut is shown with its need.
    let is_cut = |promise: &Reservation| promise.state == ReservationState::Cut;
    let ended = ended.iter().filter(|(_, promise)| !is_cut(promise)).count();
    let ended = i64::try_from(ended).unwrap_or(i64::MAX);
    garment.more_ended.saturating_add(ended)
}

/// The work and the seams.
fn made(ui: &mut Ui<'_>, garment: &Garment) {
    if !garment.operations.is_empty() {
        ui.blank();
        ui.table(&operations(garment));
    }
    if !garment.seams.is_empty() {
        ui.blank();
        let (seams, code) = (garment.seams.join(", "), garment.garment);
        let seams = format!("seams: {seams} (ellwand garment seams {code})");
        paragraph::show(ui, 0, &seams);
    }
}

/// `measures: chest 104cm, collar 41cm (2026-11-02); waist 90cm (2026-10-01, a newer one is kept)`.
fn measures(measures: &[Measure]) -> String {
    let mut taken: Vec<(String, Vec<String>)> = Vec::new();
    for measure in measures {
        let newer = if measure.newer {
            ", a newer one is kept"
        } else {
            ""
        };
        let day = format!("{}{newer}", measure.on_date);
        let one = format!("{} {}", measure.name, measure.length);
        match taken.iter_mut().find(|(known, _)| *known == day) {
            Some((_, of_day)) => of_day.push(one),
            None => taken.push((day, vec![one])),
        }
    }
    let days = taken.iter();
    let days = days.map(|(day, of_day)| format!("{} ({day})", of_day.join(", ")));
    format!("measures: {}", days.collect::<Vec<_>>().join("; "))
}

/// The head and what was used.
pub fn summary(context: &mut Context<'_, '_>, garment: &Garment) -> Result<(), CommandError> {
    let shown = context.shown()?;
    context.ui.line(head(garment));
    context.ui.line(used(shown, garment));
    context.ui.notes(&garment.notes);
    Ok(())
}

fn used(shown: Shown, garment: &Garment) -> String {
    let materials = garment
        .material_cost
        .map(|cost| format!("materials {}, ", shown.money(cost)));
    format!(
        "used so far: {}work {}",
        materials.unwrap_or_default(),
        minutes(garment.worked_minutes)
    )
}

fn head(garment: &Garment) -> String {
    let mut parts = vec![
        format!("{}  {}", garment.garment, title(garment)),
        garment.state.to_string(),
    ];
    if let (Some(good), Some(spoiled)) = (garment.good, garment.spoiled) {
        parts.push(format!("{good} good, {spoiled} spoiled"));
    }
    if let Some(due) = garment.due {
        parts.push(format!("due {due}"));
    }
    parts.join(", ")
}

fn needs(garment: &Garment) -> Table {
    let per_garment = if garment.count == 1 {
        "needed"
    } else {
        "needed for each"
    };
    let columns = [
        left("need"),
        left("kind"),
        left(per_garment),
        left("conditions"),
    ];
    let counts = headed(">units | >promised | >cut | from");
    let details = garment.needs.iter().any(|need| need.detail.is_some());
    let mut table = Table::new(
        columns
            .into_iter()
            .chain(counts)
            .chain(details.then(|| left("detail"))),
    );
    for need in &garment.needs {
        let detail = details.then(|| need.detail.clone().unwrap_or_default());
        table.row(need_row(need).into_iter().chain(detail));
    }
    table
}

fn need_row(need: &Need) -> [String; 8] {
    let lots: Vec<String> = need.lots.iter().map(ToString::to_string).collect();
    let some = |count: i64| {
        if count == 0 {
            String::new()
        } else {
            count.to_string()
        }
    };
    [
        need.role.clone(),
        need.kind.to_string(),
        need.amount.clone(),
        need.conditions.join("; "),
        need.units.to_string(),
        some(need.units_reserved),
        some(need.units_cut),
        lots.join(", "),
    ]
}

/// The lots that went into it, and what is left of each now.
fn kept(shown: Shown, garment: &Garment) -> Table {
    let mut table = Table::headed(
        "need | lot | pieces | material | dye lot | supplier | >took | >left | >free",
    );
    for need in &garment.needs {
        for lot in &need.used {
            let pieces: Vec<String> = lot.pieces.iter().map(ToString::to_string).collect();
            let nothing = match lot.left {
                Amount::Count(count) => count == 0,
                Amount::LengthM(length) => length.0.is_zero(),
            };
            let strips = match lot.strips {
                0 => None,
                1 => Some("1 strip".to_owned()),
                more => Some(format!("{more} strips")),
            };
            let left = (!nothing).then(|| shown.amount(lot.left));
            let left: Vec<String> = left.into_iter().chain(strips).collect();
            table.row([
                need.role.clone(),
                lot.lot.to_string(),
                pieces.join(", "),
                material(lot),
                lot.dye_lot.clone().unwrap_or_default(),
                lot.supplier.clone().unwrap_or_default(),
                shown.taken(lot.taken),
                match left.as_slice() {
                    [] => "used up".to_owned(),
                    left => left.join(", "),
                },
                if nothing {
                    String::new()
                } else {
                    free(shown, lot)
                },
            ]);
        }
    }
    table
}

/// `10.00 m, 6.20 m in one length`: cloth is never cut from sums.
fn free(shown: Shown, lot: &UsedLot) -> String {
    let all = shown.amount(lot.free);
    match lot.longest_free.filter(|longest| *longest != lot.free) {
        Some(longest) => format!("{all}, {} in one length", shown.amount(longest)),
        None => all,
    }
}

/// `horn button, brown, 24 L = 15.24 mm`.
fn material(lot: &UsedLot) -> String {
    let traits = [Some(&lot.name), lot.colour.as_ref(), lot.size.as_ref()];
    traits
        .into_iter()
        .flatten()
        .map(String::as_str)
        .collect::<Vec<_>>()
        .join(", ")
}

fn operations(garment: &Garment) -> Table {
    let details = garment
        .operations
        .iter()
        .any(|operation| operation.detail.is_some());
    let columns = headed("work | kind | by | >planned | >worked |");
    let mut table = Table::new(columns.into_iter().chain(details.then(|| left("detail"))));
    for operation in &garment.operations {
        let row = [
            operation.name.clone(),
            operation.kind.to_string(),
            operation.person.clone(),
            minutes(operation.planned_minutes),
            if operation.worked_minutes == 0 {
                String::new()
            } else {
                minutes(operation.worked_minutes)
            },
            if operation.billable {
                String::new()
            } else {
                "not billable".to_owned()
            },
        ];
        let detail = details.then(|| operation.detail.clone().unwrap_or_default());
        table.row(row.into_iter().chain(detail));
    }
    table
}
