//! Planning a garment, or the same one again.

use super::{
    need::{NeedRecord, load_garment},
    operation, show,
};
use crate::{
    desk::{
        Desk, Entry, counter,
        detail::PlanKept,
        failure::{Done, Failure, invalid},
        perform::Perform,
        trace::Traced,
    },
    garments::seams,
    people::parties,
};
use chrono::NaiveDate;
use ellwand_contract::garments::{CopyGarment, Garment as View, NeedInput, PlanGarment};
use ellwand_contract::text::{NOTE, clean_text};
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
        check_roles(&self.needs)?;
        operation::check_names(&self.operations)?;
        desk.tx.insert_garment(&garment)?;
        seams::change(desk, garment.id, self.into())?;
        let sewn = seams::Planned::load(desk, garment.id)?;
        for (index, input) in self.needs.iter().enumerate() {
            let need = sewn
                .filled(input)
                .and_then(|input| NeedRecord::new(desk, garment.id, garment.count, &input))
                .map_err(|failure| in_need(index, failure))?;
            desk.tx.save_need(&need.row)?;
        }
        sewn.check(desk, garment.id)?;
        for (index, input) in self.operations.iter().enumerate() {
            let position = i64::try_from(index).unwrap_or(i64::MAX);
            let row = operation::read(desk, (garment.id, position), index, input)?;
            desk.tx.save_operation(&row)?;
        }
        let summary = format!("Planned {}.", label(&garment));
        let view = book(desk, (&garment, self.date), summary)?;
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
        let summary = format!("Planned {} like {}.", label(&garment), self.garment);
        let view = book(desk, (&garment, self.date), summary)?;
        renamed(desk, view, self.customer.as_ref())
    }
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
    let customer_id = match customer.map(str::trim) {
        Some("") => {
            return Err(invalid(
                "customer",
                "the customer has no name; leave it out to make it for stock",
            ));
        }
        Some(text) => Some(parties::find_or_make_customer(tx, text)?.id),
        None => None,
    };
    Ok(Garment {
        id: tx.next_numbers(counter::GARMENT, 1)?,
        name,
        customer_id,
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

/// Refuses a role that stands in the list twice.
pub(super) fn check_roles(needs: &[NeedInput]) -> Done<()> {
    for (index, need) in needs.iter().enumerate() {
        let role = operation::spelled(&need.role);
        if needs
            .iter()
            .take(index)
            .any(|known| operation::spelled(&known.role).eq_ignore_ascii_case(&role))
        {
            return Err(invalid(
                &format!("need[{index}].role"),
                format!("the role {role} is in the plan twice"),
            ));
        }
    }
    Ok(())
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
