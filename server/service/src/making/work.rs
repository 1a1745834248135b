//! Minutes worked.

use crate::{
    desk::{
        Desk, Entry, counter,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
        person,
    },
    garments::{
        need::load_head,
        operation::{is_same, spelled},
    },
    money::rates::{Hour, Rates, hour},
    people::parties::clean_name,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType, Typed,
    text::nearest,
    work::{LogWork, WorkLogged},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    quantity::Minutes,
    setting::{BookingKind, GarmentState, Grant, WorkKind, WorkReason},
};
use ellwand_storage::{Garment, Operation, Person, Subject, Tx, WorkEntry};

/// Minutes of one entry, at most: 1000 h. A garment's whole work may be logged at once.
const LONGEST: i64 = 60_000;
/// Minutes of one entry that are believed: 100 h, a limit of ours that is only asked about.
const USUAL: i64 = 6_000;
/// Minutes of a day.
const DAY: i64 = 1_440;
/// Days that work may lie before its garment was planned without a question: plans are logged late, too, but beyond a year the year
/// is a slip (a limit of ours).
const BEFORE_ITS_PLAN: i64 = 366;

impl Perform for LogWork {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<WorkLogged, Failure> {
        let garment = load_head(desk, self.garment)?;
        check_open(&garment)?;
        let minutes = self.time.value();
        check_minutes(&self.time, self.really)?;
        let name = spelled(&self.operation);
        if name.is_empty() {
            return Err(invalid(
                "operation",
                "an operation needs a name, for example sewing",
            ));
        }
        let day = desk.context.day(self.date)?;
        check_day(desk, self, day)?;
        let operations = desk.tx.operations(garment.id)?;
        let planned = operations
            .iter()
            .find(|operation| operation.name.eq_ignore_ascii_case(&name));
        let booking = desk.next_booking()?;
        let own = desk.person()?;
        let person = worker(desk, own, self.person.as_deref())?;
        let entry = entry_of(
            desk,
            self,
            (&garment, &person),
            planned,
            name,
            (booking, day),
        )?;
        desk.tx.insert_work(&entry)?;
        let hour = hour(
            desk,
            &mut Rates::default(),
            (person.id, entry.kind),
            day,
            false,
        )?;
        let notes = remarks(&entry, &person, &hour, &operations);
        book(
            desk,
            &garment,
            &entry,
            Some(&person).filter(|person| person.id != own),
        )?;
        let worked = desk.tx.worked_minutes(garment.id, &entry.operation)?;
        Ok(WorkLogged {
            booking: BookingCode::new(booking),
            garment: self.garment,
            operation: entry.operation.clone(),
            minutes: minutes.get(),
            worked_minutes: worked,
            planned_minutes: planned.map(|operation| operation.minutes),
            detail: entry.detail.clone(),
            person: person.name,
            paid: person.paid,
            per_hour: if entry.billable {
                hour.per_hour()
            } else {
                None
            },
            notes,
        })
    }
}

/// Refuses work on what is finished, delivered or given up.
fn check_open(garment: &Garment) -> Done<()> {
    let hint = match garment.state {
        GarmentState::Planned | GarmentState::CutInto => return Ok(()),
        GarmentState::Finished => "its cost is final; take the finish back first with ellwand undo",
        GarmentState::Delivered | GarmentState::Cancelled => {
            "plan another one with ellwand garment copy"
        }
    };
    let code = GarmentCode::new(garment.id);
    let detail = format!("{code} is {}, so nobody works on it", garment.state);
    Err(wrong_state(detail, hint)
        .naming("garment", code)
        .naming("state", garment.state))
}

fn check_minutes(time: &Typed<Minutes>, really: bool) -> Done<()> {
    let (minutes, text) = (time.value(), time.text());
    if minutes == Minutes::ZERO {
        let detail = format!("\"{text}\" is no time at all; log a minute or more");
        return Err(invalid("time", detail)
            .with("wanted_minutes", 0)
            .with("least_minutes", 1));
    }
    if minutes.get() > LONGEST {
        let detail = format!("{text} is more than a person works in half a year");
        return Err(invalid("time", detail)
            .with("wanted_minutes", minutes.get())
            .with("most_minutes", LONGEST));
    }
    if minutes.get() > USUAL && !really {
        let detail = format!("{text} is more than 100 h at once");
        return Err(Problem::new(ProblemType::NeedsConfirmation, detail)
            .field("time")
            .hint("check the time, for example 2h30; if it is right, confirm with --really")
            .with("wanted_minutes", minutes.get())
            .with("usual_minutes", USUAL)
            .into());
    }
    Ok(())
}

/// Asks about a day long before the garment was planned.
fn check_day(desk: &mut Desk<'_>, asked: &LogWork, day: NaiveDate) -> Done<()> {
    let (of, kind) = (Subject::Garment, BookingKind::Planned);
    let planned = desk.tx.standing_bookings(of, asked.garment.get(), kind)?;
    let Some(planned) = planned.iter().map(|booking| booking.on_date).min() else {
        return Ok(());
    };
    let before = planned.signed_duration_since(day).num_days();
    if before <= BEFORE_ITS_PLAN || asked.really {
        return Ok(());
    }
    let detail = format!(
        "{day} is {before} days before {} was planned, on {planned}",
        asked.garment
    );
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("date")
        .hint("check the day; if it is right, confirm with --really")
        .with("day", day.to_string())
        .with("planned", planned.to_string())
        .into())
}

/// Who worked: whoever logs it, unless another is named, which is for those who set what hours cost.
fn worker(desk: &mut Desk<'_>, own: i64, named: Option<&str>) -> Done<Person> {
    let person = match named {
        Some(name) => person::find_by_name(desk, "person", name)?,
        None => {
            let missing =
                || Problem::new(ProblemType::Internal, format!("there is no person {own}"));
            desk.tx.person(own)?.ok_or_else(missing)?
        }
    };
    if person.id != own {
        desk.context.caller.needs(Grant::PayRates)?;
    }
    Ok(person)
}

/// The minutes with what the planned operation of the same name lends.
fn entry_of(
    tx: &mut Tx<'_>,
    request: &LogWork,
    (garment, person): (&Garment, &Person),
    planned: Option<&Operation>,
    name: String,
    (booking, day): (i64, NaiveDate),
) -> Done<WorkEntry> {
    let Some(kind) = request.kind.or(planned.map(|operation| operation.kind)) else {
        let known: Vec<&str> = WorkKind::ALL.iter().map(|kind| kind.word()).collect();
        let operations = tx.operations(garment.id)?.into_iter();
        let names: Vec<String> = operations.map(|operation| operation.name).collect();
        let near = nearest(&name, &names);
        let near = near.map_or_else(String::new, |near| format!("; did you mean {near}?"));
        let detail = format!("{name} is not in the plan{near}");
        let hint = format!("other work needs its kind, --kind {}", known.join(", "));
        return Err(Problem::from(invalid("kind", detail)).hint(hint).into());
    };
    let detail = detail_of(request, planned)?;
    let lent = planned.map(|operation| operation.billable);
    let billable = request.billable.or(lent).unwrap_or(kind != WorkKind::Admin);
    Ok(WorkEntry {
        id: tx.next_numbers(counter::WORK, 1)?,
        booking_id: booking,
        garment_id: garment.id,
        operation: planned.map_or(name, |operation| operation.name.clone()),
        kind,
        minutes: request.time.value().get(),
        person_id: person.id,
        billable,
        reason: request.reason,
        on_date: day,
        detail,
    })
}

/// The detail that the minutes belong to: the planned operation's, else the one that is named.
fn detail_of(request: &LogWork, planned: Option<&Operation>) -> Done<Option<String>> {
    let named = request
        .detail
        .as_deref()
        .map(|detail| clean_name("detail", detail))
        .transpose()?;
    let lent =
        planned.and_then(|operation| operation.detail.as_ref().map(|detail| (operation, detail)));
    match (named, lent) {
        (Some(named), Some((operation, lent))) if !is_same(&named, lent) => {
            let detail = format!(
                "{} is planned for the {lent}, not for the {named}",
                operation.name
            );
            Err(Problem::from(invalid("detail", detail))
                .hint("leave --detail out, or name other work that is not in the plan")
                .into())
        }
        (_, Some((_, lent))) => Ok(Some(lent.clone())),
        (named, None) => Ok(named),
    }
}

fn book(
    desk: &mut Desk<'_>,
    garment: &Garment,
    entry: &WorkEntry,
    other: Option<&Person>,
) -> Done<()> {
    let time = Minutes::new(entry.minutes)?;
    let reason = match entry.reason {
        WorkReason::Planned => String::new(),
        reason => format!(" ({reason})"),
    };
    let code = ellwand_domain::code::GarmentCode::new(garment.id);
    let by = other
        .map(|person| format!(" by {}", person.name))
        .unwrap_or_default();
    let summary = format!(
        "Worked {time} on {} of {code} {}{by}{reason}.",
        entry.operation, garment.name
    );
    let mut booked = Entry::new(BookingKind::Worked, entry.on_date, summary);
    booked.subjects.push((Subject::Garment, garment.id));
    desk.book(entry.booking_id, booked)
}

/// What should be known of these minutes.
fn remarks(
    entry: &WorkEntry,
    person: &Person,
    hour: &Hour,
    operations: &[Operation],
) -> Vec<String> {
    let mut notes = Vec::new();
    if entry.minutes > DAY {
        notes.push(format!(
            "more than 24 h of work are booked on {}",
            entry.on_date
        ));
    }
    if !entry.billable {
        notes.push("not billable: these minutes carry neither labour nor overhead".to_owned());
    } else if matches!(hour, Hour::Free | Hour::Unknown) {
        notes.push(format!(
            "{} has no pay rate on {}: these minutes are not priced until there is one",
            person.name, entry.on_date
        ));
    }
    if !operations.is_empty()
        && !operations
            .iter()
            .any(|operation| operation.name == entry.operation)
    {
        notes.push(format!("{} is not in the plan", entry.operation));
    }
    notes
}
