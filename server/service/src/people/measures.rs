//! Customers' measurements: kept by their day, shown on the customer and on garments for them.

use super::{erasing::is_erased, parties::find_customer};
use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure, invalid, wrong_state},
    perform::Perform,
};
use ellwand_contract::{
    Metres, Problem, ProblemType,
    measures::{CustomerShown, GetCustomer, Measure, MeasureCustomer, NamedMeasure},
    text::{clean_name, counted},
};
use ellwand_domain::{
    code::{BookingCode, CustomerCode},
    measure,
    quantity::Micrometres,
    setting::BookingKind,
};
use ellwand_storage::{Customer, CustomerMeasure, Garment, Subject, Tx};
use std::collections::BTreeMap;

impl Perform for GetCustomer {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<CustomerShown, Failure> {
        let row = find_customer(desk, &self.customer)?;
        view(desk, row, self.all, None)
    }
}

impl Perform for MeasureCustomer {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<CustomerShown, Failure> {
        let row = find_customer(desk, &self.customer)?;
        let code = CustomerCode::new(row.id);
        if is_erased(&row) {
            let detail = format!("{code} has been erased");
            return Err(wrong_state(detail, "nothing more is kept of them"));
        }
        let day = desk.context.day(self.date)?;
        let named = named(&self.measures)?;
        check_lengths(&named, self.really)?;
        let booking = desk.next_booking()?;
        for (name, length) in &named {
            desk.tx.insert_measure(&CustomerMeasure {
                booking_id: booking,
                customer_id: row.id,
                name: name.clone(),
                length_um: length.length.value().get(),
                typed: length.length.text().to_owned(),
                on_date: day,
            })?;
        }
        // Names of measures are theirs, too: the book keeps the code alone.
        let summary = format!("Took {} of {code}.", counted(named.len(), "measure"));
        desk.book(booking, Entry::new(BookingKind::Measured, day, summary))?;
        view(desk, row, false, Some(booking))
    }
}

/// The measures by their names, each once.
fn named(measures: &[NamedMeasure]) -> Done<BTreeMap<String, &NamedMeasure>> {
    let mut named = BTreeMap::new();
    for measure in measures {
        let name = clean_name("measures", &measure.name)?.to_lowercase();
        if named.insert(name.clone(), measure).is_some() {
            return Err(invalid("measures", format!("{name} is measured twice")));
        }
    }
    if named.is_empty() {
        let detail = "which measures? for example chest=104cm,collar=41cm";
        return Err(invalid("measures", detail));
    }
    Ok(named)
}

/// Refuses what is no length, and asks about what no person measures.
fn check_lengths(named: &BTreeMap<String, &NamedMeasure>, really: bool) -> Done<()> {
    let mut doubts = Vec::new();
    for (name, measure) in named {
        let length = measure.length.value();
        if length == Micrometres::ZERO {
            let detail = format!("{name} must be more than zero");
            return Err(invalid("measures", detail));
        }
        if !measure::is_plausible(length) {
            doubts.push(format!("{name} {}", measure.length.text()));
        }
    }
    if doubts.is_empty() || really {
        return Ok(());
    }
    let detail = format!(
        "measures of a person lie between 1 cm and 3 m: {}",
        doubts.join(", ")
    );
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("measures")
        .hint("nothing was kept; correct the unit, or confirm with --really")
        .into())
}

fn view(
    desk: &mut Desk<'_>,
    row: Customer,
    all: bool,
    booking: Option<i64>,
) -> Done<CustomerShown> {
    let mut measures = Vec::new();
    for (_, rows) in by_name(desk, row.id)? {
        let newest = rows.len().saturating_sub(1);
        for (place, row) in rows.iter().enumerate().rev() {
            if all || place == newest {
                measures.push(shown(row, place < newest)?);
            }
        }
    }
    Ok(CustomerShown {
        customer: CustomerCode::new(row.id),
        name: row.name,
        note: row.note,
        measures,
        booking: booking.map(BookingCode::new),
    })
}

/// What a garment's customer measured when it was planned: of each name the latest by then, else the first since.
pub(crate) fn of_garment(desk: &mut Desk<'_>, garment: &Garment) -> Done<Vec<Measure>> {
    let Some(customer) = garment.customer_id else {
        return Ok(Vec::new());
    };
    let planned = desk
        .tx
        .standing_bookings(Subject::Garment, garment.id, BookingKind::Planned)?;
    let planned = planned.iter().min_by_key(|booking| booking.id);
    let day = planned.map_or(desk.context.today, |booking| booking.on_date);
    let mut measures = Vec::new();
    for (_, rows) in by_name(desk, customer)? {
        let by_then = rows.iter().rposition(|row| row.on_date <= day);
        let place = by_then.unwrap_or(0);
        if let Some(row) = rows.get(place) {
            measures.push(shown(row, place.saturating_add(1) < rows.len())?);
        }
    }
    Ok(measures)
}

/// Measurements that stand, by name, the oldest first.
fn by_name(tx: &mut Tx<'_>, customer: i64) -> Done<BTreeMap<String, Vec<CustomerMeasure>>> {
    let mut all: BTreeMap<String, Vec<CustomerMeasure>> = BTreeMap::new();
    for row in tx.measures_of(customer)? {
        all.entry(row.name.clone()).or_default().push(row);
    }
    Ok(all)
}

fn shown(row: &CustomerMeasure, newer: bool) -> Done<Measure> {
    Ok(Measure {
        name: row.name.clone(),
        length: row.typed.clone(),
        length_m: Metres(Micrometres::new(row.length_um)?),
        on_date: row.on_date,
        newer,
    })
}
