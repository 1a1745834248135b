//! Planning a garment, or the same one again.

use super::{
    edit,
    need::{NeedRecord, load_garment, load_head},
    operation::{self, check_names},
    show,
};
use crate::{
    desk::{
        Desk, Entry, counter,
        detail::PlanKept,
        failure::{Done, Failure, Refusals, invalid},
        perform::Perform,
        trace::Traced,
    },
    garments::seams,
    people::parties,
};
use chrono::NaiveDate;
use ellwand_contract::garments::{
    CopyGarment, EditGarment, Garment as View, GetCandidates, PlanChanges, PlanGarment, SeamChange,
};
use ellwand_contract::text::{NOTE, clean_text};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::GarmentCode,
    quantity::Millionths,
    setting::{BookingKind, Facet, GarmentState},
};
use ellwand_storage::{Garment, Subject, Tx};

/// The largest batch.
const COUNT_MAX: i64 = 10_000;

impl Perform for PlanGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let garment = head(
            desk,
            self.name.as_str(),
            self.customer.as_deref(),
            self.count,
        )?;
        let garment = Garment {
            due: self.due,
            note: clean_text("note", "note", NOTE, self.note.as_ref())?,
            ..garment
        };
        check_names("need", self.needs.iter().map(|need| need.role.as_str()))?;
        let operations = self.operations.iter();
        check_names("operation", operations.map(|row| row.name.as_str()))?;
        desk.tx.insert_garment(&garment)?;
        write(desk, &garment, self)?;
        let mut view = book(
            desk,
            (&garment, self.date),
            format!("Planned {}.", label(&garment)),
        )?;
        view.notes.extend(unstated(&view, |_| true));
        if self.check {
            view.booking = None;
            view.notes.splice(0..0, lacking(desk, &view)?);
        }
        renamed(desk, view, self.customer.as_ref())
    }
}

impl Perform for CopyGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let (model, needs) = load_garment(desk, self.garment)?;
        let name = self.name.as_deref().unwrap_or(&model.name);
        let count = self.count.unwrap_or(model.count);
        let garment = head(desk, name, self.customer.as_deref(), count)?;
        let garment = Garment {
            due: self.due,
            note: model.note.clone(),
            ..garment
        };
        desk.tx.insert_garment(&garment)?;
        for need in &needs {
            let copied = NeedRecord::new(desk, garment.id, garment.count, &need.to_input())?;
            desk.tx.save_need(&copied.row)?;
        }
        seams::copy(desk, model.id, garment.id)?;
        for mut operation in desk.tx.operations(model.id)? {
            operation.minutes = operation::scaled(operation.minutes, model.count, garment.count)?;
            operation.garment_id = garment.id;
            desk.tx.save_operation(&operation)?;
        }
        let summary = format!("Planned {} like {}", label(&garment), self.garment);
        let differs = changed(desk, garment.id, self)?;
        let garment = load_head(desk, GarmentCode::new(garment.id))?;
        let view = book(desk, (&garment, self.date), format!("{summary}{differs}."))?;
        renamed(desk, view, self.customer.as_ref())
    }
}

/// Writes needs, seams and operations of a new garment; all refusals at once.
fn write(desk: &mut Desk<'_>, garment: &Garment, plan: &PlanGarment) -> Done<()> {
    let mut refusals = Refusals::default();
    refusals.keep(seams::change(desk, garment.id, &sewn_in(plan)?))?;
    let (sewn, seams_read) = (seams::Planned::load(desk, garment.id)?, refusals.is_empty());
    for (index, input) in plan.needs.iter().enumerate() {
        if input.seams && !seams_read {
            continue;
        }
        let need = sewn
            .filled(input)
            .and_then(|input| NeedRecord::new(desk, garment.id, garment.count, &input))
            .map_err(|failure| in_need(index, failure));
        if let Some(need) = refusals.keep(need)? {
            desk.tx.save_need(&need.row)?;
        }
    }
    if refusals.is_empty() {
        refusals.keep(sewn.check(desk, garment.id))?;
    }
    for (index, input) in plan.operations.iter().enumerate() {
        let position = i64::try_from(index).unwrap_or(i64::MAX);
        let row = operation::read(desk, (garment.id, position), index, input);
        if let Some(row) = refusals.keep(row)? {
            desk.tx.save_operation(&row)?;
        }
    }
    refusals.end()
}

/// What a plan still lacks: pieces on the shelf that serve, and hours.
fn lacking(desk: &mut Desk<'_>, plan: &View) -> Done<Vec<String>> {
    let found = GetCandidates {
        garment: plan.garment,
        need: None,
    }
    .perform(desk)?;
    let none = found.needs.iter().filter(|need| need.serve.is_empty());
    let roles: Vec<&str> = none.map(|need| need.role.as_str()).collect();
    let mut notes = Vec::new();
    if !roles.is_empty() {
        let roles = roles.join(", ");
        notes.push(format!("nothing on the shelf serves yet: {roles}"));
    }
    if plan.operations.is_empty() {
        notes.push("no work is planned, so no hours are priced".to_owned());
    }
    Ok(notes)
}

/// Says of which needs, those among them that count, nobody has stated how the cloth is prepared.
pub(super) fn unstated(plan: &View, counts: impl Fn(&str) -> bool) -> Option<String> {
    let needs = plan.needs.iter().filter(|need| need.kind.is_rectangle());
    let needs = needs.filter(|need| need.preparation.is_none() && counts(&need.role));
    let roles: Vec<&str> = needs.map(|need| need.role.as_str()).collect();
    (!roles.is_empty()).then(|| {
        format!(
            "{}: the preparation is not stated, so no shrinkage is added and no raw cloth can be promised; state it in \
             the need: preparation=washed, steamed or none",
            roles.join(", ")
        )
    })
}

/// What a new plan says of seams.
fn sewn_in(plan: &PlanGarment) -> Done<PlanChanges> {
    let seams = plan.seams.iter().map(SeamChange::all_of);
    let seams = seams.collect::<Result<_, _>>();
    Ok(PlanChanges {
        seams: seams.map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?,
        seam_ends: plan.seam_ends.clone(),
        seam_waste: plan.seam_waste.clone(),
        ..PlanChanges::default()
    })
}

/// Changes a copy where it differs; says what, for the history.
fn changed(desk: &mut Desk<'_>, garment: i64, request: &CopyGarment) -> Done<String> {
    if request.changes.is_nothing() {
        return Ok(String::new());
    }
    let booking = desk.next_booking()?;
    let edit = EditGarment {
        id: request.id,
        garment: GarmentCode::new(garment),
        name: None,
        due: None,
        customer: None,
        changes: request.changes.clone(),
        if_version: None,
        date: request.date,
    };
    let replanned = edit::replan(desk, booking, &edit)?;
    Ok(format!(", but for {}", replanned.changes.join(", ")))
}

/// Says first how the customer is called now.
fn renamed(desk: &mut Desk<'_>, mut view: View, customer: Option<&String>) -> Done<View> {
    let note = parties::renamed_customer(desk, customer)?;
    view.notes.splice(0..0, note);
    Ok(view)
}

/// A new garment with the next number.
fn head(tx: &mut Tx<'_>, name: &str, customer: Option<&str>, count: i64) -> Done<Garment> {
    let name = operation::spelled(name);
    if name.is_empty() {
        return Err(invalid(
            "name",
            "a garment needs a name, for example wool waistcoat",
        ));
    }
    if !(1..=COUNT_MAX).contains(&count) {
        return Err(invalid(
            "count",
            format!("a batch of {count} cannot be planned; it has from 1 to {COUNT_MAX}"),
        )
        .with("wanted", count)
        .with("least", 1)
        .with("most", COUNT_MAX));
    }
    let customer = customer.map(|text| parties::named_customer(tx, text));
    Ok(Garment {
        id: tx.next_numbers(counter::GARMENT, 1)?,
        name,
        customer_id: customer.transpose()?,
        count,
        good: None,
        spoiled: None,
        spoilage: None,
        salvage: Millionths::ZERO.get(),
        due: None,
        state: GarmentState::Planned,
        note: None,
    })
}

/// `G5 linen apron`, `6 alike, G5 linen apron`.
fn label(garment: &Garment) -> String {
    let code = GarmentCode::new(garment.id);
    match garment.count {
        1 => format!("{code} {}", garment.name),
        count => format!("{code} {}, {count} alike", garment.name),
    }
}

fn book(
    desk: &mut Desk<'_>,
    (garment, date): (&Garment, Option<NaiveDate>),
    summary: String,
) -> Done<View> {
    let day = desk.context.day(date)?;
    let booking = desk.next_booking()?;
    let mut entry = Entry::new(BookingKind::Planned, day, summary);
    entry.subjects.push((Subject::Garment, garment.id));
    let nothing = Traced::wrote(Facet::Plan, garment.id, &None::<PlanKept>)?;
    entry.traces.push(nothing);
    desk.book(booking, entry)?;
    show::view(desk, garment.id, Some(booking))
}

/// Puts the need's place in the request before the field that a refusal names.
pub(super) fn in_need(index: usize, failure: Failure) -> Failure {
    match failure {
        Failure::Refused(mut problem) => {
            problem.field = Some(match problem.field {
                Some(field) => format!("need[{index}].{field}"),
                None => format!("need[{index}]"),
            });
            Failure::Refused(problem)
        }
        stopped @ Failure::Storage(_) => stopped,
    }
}
