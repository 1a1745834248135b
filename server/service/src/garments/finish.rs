//! Finishing a garment or batch, and handing it over.

use super::{Balance, check_in_hand, need::load_head, show};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::Detail,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
        trace::Traced,
    },
    money::{costs, quotations::of_garment},
    promises,
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{DeliverGarment, FinishGarment, Garment as View, Need, Operation},
    text::counted,
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode},
    costing,
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
    setting::{BookingKind, Facet, GarmentState, ReservationState, Spoilage},
};
use ellwand_storage::{Garment, Subject};

impl Perform for FinishGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let mut garment = load_head(desk, self.garment)?;
        check_in_hand(&garment, "finished")?;
        let before = garment.clone();
        counts(self, desk.context, &mut garment)?;
        garment.state = GarmentState::Finished;
        if let Err(error) = costs::batch(desk, &garment)? {
            let field = if self.salvage.is_some() {
                "salvage"
            } else {
                "good"
            };
            return Err(invalid(field, error.to_string()));
        }
        if !self.really {
            ask_what_is_missing(self.garment, &show::view(desk, garment.id, None)?)?;
        }
        let balance = Balance::read(desk, garment.id)?;
        let lost = spoiled_share(&garment, balance.value)?;
        let day = balance.day(desk, &garment, self.date, lost)?;
        let booking = desk.next_booking()?;
        let released = release(desk, booking, self.garment)?;
        let (good, spoiled) = (garment.good.unwrap_or(0), garment.spoiled.unwrap_or(0));
        let summary = match spoiled {
            0 => format!("Finished {} {}, {good} good.", self.garment, garment.name),
            _ => format!(
                "Finished {} {}, {good} good and {spoiled} spoiled.",
                self.garment, garment.name
            ),
        };
        let mut entry = moved(BookingKind::Finished, day, summary, &garment, &before)?;
        if !lost.is_zero() {
            let to = Account::new(AccountKind::Spoiled, garment.id);
            entry.movements.push(Movement::new(
                Account::garment(garment.id),
                to,
                Quantity::new(spoiled)?,
                lost,
            ));
        }
        desk.tx.update_garment(&garment)?;
        desk.book(booking, entry)?;
        let mut view = show::view(desk, garment.id, Some(booking))?;
        let mut notes = open_notes(&view, released.len());
        notes.extend(of_garment::still_to_pay(desk, garment.id)?);
        view.notes.splice(0..0, notes);
        Ok(view)
    }
}

impl Perform for DeliverGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let finished = finish_first(self, desk)?;
        let mut garment = load_head(desk, self.garment)?;
        let good = to_hand_over(self.garment, &garment)?;
        let balance = Balance::read(desk, garment.id)?;
        let day = balance.day(desk, &garment, self.date, balance.value)?;
        let booking = desk.next_booking()?;
        // Bookings stay for good, and names can be erased: the code stands for the customer.
        let to = garment.customer_id.map_or_else(
            || "from stock".to_owned(),
            |id| format!("to {}", CustomerCode::new(id)),
        );
        let summary = format!("Delivered {} {} {to}.", self.garment, garment.name);
        let before = garment.clone();
        let mut entry = moved(BookingKind::Delivered, day, summary, &garment, &before)?;
        let delivered = Account::new(AccountKind::Delivered, garment.id);
        let from = Account::garment(garment.id);
        entry.movements.push(Movement::new(
            from,
            delivered,
            Quantity::new(good)?,
            balance.value,
        ));
        garment.state = GarmentState::Delivered;
        desk.tx.update_garment(&garment)?;
        desk.book(booking, entry)?;
        let mut view = show::view(desk, garment.id, Some(booking))?;
        let mut notes = of_garment::still_to_pay(desk, garment.id)?;
        // What a garment says by itself it says now, too.
        let of_finish = |note: &String| !notes.contains(note) && !view.notes.contains(note);
        notes.extend(finished.into_iter().filter(of_finish).collect::<Vec<_>>());
        view.notes.splice(0..0, notes);
        Ok(view)
    }
}

/// Finishes a garment that is handed over at once, as a booking of its own; what was noted at that.
fn finish_first(asked: &DeliverGarment, desk: &mut Desk<'_>) -> Done<Vec<String>> {
    let garment = load_head(desk, asked.garment)?;
    let in_hand = matches!(garment.state, GarmentState::Planned | GarmentState::CutInto);
    if !asked.finish || !in_hand {
        return Ok(Vec::new());
    }
    let finish = FinishGarment {
        id: asked.id,
        garment: asked.garment,
        good: None,
        spoiled: 0,
        spoilage: None,
        really: asked.really,
        salvage: None,
        date: asked.date,
    };
    let mut notes = finish.perform(desk)?.notes;
    // What is due is said of the delivery.
    let due = of_garment::still_to_pay(desk, garment.id)?;
    notes.retain(|note| !due.contains(note));
    Ok(notes)
}

/// How many are good, of a garment that can be handed over.
fn to_hand_over(code: GarmentCode, garment: &Garment) -> Done<i64> {
    if garment.state != GarmentState::Finished {
        check_in_hand(garment, "handed over")?;
        let detail = format!(
            "{code} is {}; only a finished garment can be handed over",
            garment.state
        );
        let todo = format!("finish it too with ellwand garment deliver {code} --finish");
        return Err(wrong_state(detail, &todo)
            .naming("garment", code)
            .naming("state", garment.state));
    }
    let good = garment.good.unwrap_or(garment.count);
    if good == 0 {
        let detail = format!(
            "no {} of {code} is good, so none can be handed over",
            garment.name
        );
        return Err(
            wrong_state(detail, "plan it again with ellwand garment copy")
                .naming("garment", code)
                .with("good", good),
        );
    }
    Ok(good)
}

/// Takes over how many are good, how many spoiled and why.
fn counts(request: &FinishGarment, context: &Context<'_>, garment: &mut Garment) -> Done<()> {
    let (count, spoiled) = (garment.count, request.spoiled);
    if !(0..=count).contains(&spoiled) {
        return Err(invalid(
            "spoiled",
            format!("{spoiled} cannot be spoiled: {count} were started"),
        )
        .with("wanted", spoiled)
        .with("most", count));
    }
    let good = request.good.unwrap_or(count.saturating_sub(spoiled));
    if good < 0 || good.saturating_add(spoiled) != count {
        let detail = format!(
            "{good} good and {spoiled} spoiled do not add up to the {count} that were started"
        );
        return Err(invalid("good", detail)
            .with("good", good)
            .with("spoiled", spoiled)
            .with("started", count));
    }
    garment.spoilage = match (spoiled, request.spoilage) {
        (0, None) => None,
        (0, Some(_)) => {
            return Err(invalid(
                "spoilage",
                "none is spoiled, so leave the reason out",
            ));
        }
        (_, Some(reason)) => Some(reason),
        (_, None) => {
            let detail = format!(
                "why are {spoiled} spoiled? normal: the good ones carry it; own-mistake: a loss"
            );
            return Err(invalid("spoilage", detail).with("spoiled", spoiled));
        }
    };
    garment.salvage = match &request.salvage {
        Some(_) if spoiled == 0 => {
            return Err(invalid(
                "salvage",
                "none is spoiled, so nothing is salvaged",
            ));
        }
        Some(text) => context.home_money("salvage", text)?.get(),
        None => 0,
    };
    (garment.good, garment.spoiled) = (Some(good), Some(spoiled));
    Ok(())
}

/// The booking of a garment that goes from one state to another.
pub(super) fn moved(
    kind: BookingKind,
    day: chrono::NaiveDate,
    summary: String,
    garment: &Garment,
    before: &Garment,
) -> Done<Entry> {
    let mut entry = Entry::new(kind, day, summary);
    entry.subjects.push((Subject::Garment, garment.id));
    let trace = Traced::wrote(Facet::Garment, garment.id, before)?;
    entry.traces.push(trace);
    entry.detail = Detail::Moved {
        garment: garment.id,
    };
    Ok(entry)
}

/// Releases the promises that a garment still has, and keeps what was planned of what is never cut; their numbers.
pub(super) fn release(desk: &mut Desk<'_>, booking: i64, code: GarmentCode) -> Done<Vec<i64>> {
    let garment = load_head(desk, code)?;
    costs::keep_all(desk, booking, &garment)?;
    let rows = desk.tx.active_reservations_of_garment(code.get())?;
    // One whose last day has passed expires; it is not made again.
    let current = rows
        .iter()
        .filter(|row| row.until.is_none_or(|day| day >= desk.context.today));
    let released = current.map(|row| row.id).collect();
    promises::release_all(desk, booking, rows, ReservationState::Released, None)?;
    Ok(released)
}

/// What of a batch's material an own mistake spoiled: its equal share of the cost.
fn spoiled_share(garment: &Garment, value: Millionths) -> Done<Millionths> {
    let good = garment.good.unwrap_or(garment.count);
    match garment.spoilage {
        Some(reason @ Spoilage::OwnMistake) => {
            let cost = costing::per_good(value, garment.count, good, Millionths::ZERO, reason);
            Ok(cost
                .map_err(|error| invalid("good", error.to_string()))?
                .loss)
        }
        Some(Spoilage::Normal) | None => Ok(Millionths::ZERO),
    }
}

/// Asks about what a garment was planned with: needs of which nothing was cut, and hours where none are logged.
fn ask_what_is_missing(code: GarmentCode, view: &View) -> Done<()> {
    let untouched = |need: &&Need| need.units_cut == 0 && need.lots.is_empty();
    let uncut: Vec<&str> = view
        .needs
        .iter()
        .filter(untouched)
        .map(|need| need.role.as_str())
        .collect();
    let planned = |work: &Operation| work.planned_minutes > 0;
    let unworked = view.operations.iter().any(planned)
        && view.operations.iter().all(|work| work.worked_minutes == 0);
    let cut = match uncut.as_slice() {
        [] => None,
        all if all.len() == view.needs.len() => Some("nothing of it is cut".to_owned()),
        some => Some(format!("nothing is cut for its {}", some.join(", "))),
    };
    let worked = unworked.then(|| "no hours are logged on it".to_owned());
    let missing: Vec<String> = cut.into_iter().chain(worked).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let detail = format!("{code} is planned, but {}", missing.join(", and "));
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .hint("it would cost too little; log what it took first, or confirm with --really")
        .with("garment", code.to_string())
        .with("uncut", uncut)
        .into())
}

/// What was planned and not all cut, and promises that were given back.
fn open_notes(view: &View, released: usize) -> Vec<String> {
    let open: Vec<&str> = view
        .needs
        .iter()
        .filter(|need| need.units_cut < need.units)
        .map(|need| need.role.as_str())
        .collect();
    let mut notes = Vec::new();
    if !open.is_empty() {
        notes.push(format!("planned, but not all cut: {}", open.join(", ")));
    }
    if released > 0 {
        let are = if released == 1 {
            "was left is"
        } else {
            "were left are"
        };
        notes.push(format!(
            "{} that {are} released",
            counted(released, "promise")
        ));
    }
    notes
}
