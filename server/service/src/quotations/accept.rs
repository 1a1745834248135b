//! Accepting a version, and promising the materials in the same step.

use super::{
    options::{self, Agreed},
    row, show, version_of,
};
use crate::{
    candidates,
    context::{Context, Entry},
    detail::Detail,
    failure::{Done, Failure, wrong_state},
    garments::need::load_garment,
    perform::Perform,
    reservations::{Promised, check_open, promise_all},
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::Pick,
    quotations::{AcceptQuotation, Quotation as View},
    reservations::Reserve,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    setting::{BookingKind, QuotationState},
};
use ellwand_storage::{Subject, Tx, Word};

impl Perform for AcceptQuotation {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let (code, mut quotation) = (self.quotation, row(tx, self.quotation)?);
        if let (QuotationState::Accepted, Some(by)) = (quotation.state.0, quotation.accepted_in) {
            let who = tx.booking(by)?.map_or_else(String::new, |booking| format!(" by {}", booking.by_name));
            let version = quotation.accepted.unwrap_or(quotation.version);
            let detail =
                format!("version {version} of {code} was accepted already, in {}{who}", BookingCode::new(by));
            return Err(wrong_state(detail, "nothing is left to do"));
        }
        if quotation.state.0 != QuotationState::Open {
            return Err(wrong_state(format!("{code} is {}", quotation.state.0), "make another quotation"));
        }
        let version = version_of(tx, &quotation, self.version)?;
        if self.version != quotation.version {
            let detail =
                format!("version {} of {code} was replaced by version {}", self.version, quotation.version);
            return Err(wrong_state(detail, "show the customer the newest one, and accept that"));
        }
        let day = context.day(self.date)?;
        let date = |detail: String, hint: &str| -> Failure {
            Problem::new(ProblemType::InvalidDate, detail).field("date").hint(hint).into()
        };
        if day > version.valid_until {
            let detail =
                format!("version {} of {code} was valid until {}", self.version, version.valid_until);
            return Err(date(detail, "make a new version with ellwand quote again"));
        }
        if day < version.on_date {
            let detail = format!("version {} of {code} is of {}, after {day}", self.version, version.on_date);
            return Err(date(detail, "name its date or a later day"));
        }
        let booking = context.next_booking(tx)?;
        let garment = GarmentCode::new(quotation.garment_id);
        let Agreed { option, plan, mut notes } =
            options::agree(tx, context, booking, garment, &version, self.option.as_deref())?;
        let mut promised = Promised::default();
        if self.reserve {
            promised = reserve(tx, context, booking, self, garment)?;
        }
        quotation.state = Word(QuotationState::Accepted);
        (quotation.accepted, quotation.accepted_in) = (Some(self.version), Some(booking));
        quotation.accepted_option.clone_from(&option);
        tx.update_quotation(&quotation)?;
        let with = match promised.ids.len() {
            0 => String::new(),
            count => format!(", with {count} promises"),
        };
        let of = option.map(|option| format!(", {option},")).unwrap_or_default();
        let summary = format!("Accepted version {}{of} of {code} for {garment}{with}.", self.version);
        let mut entry = Entry::new(BookingKind::Accepted, day, summary);
        entry.subjects.push((Subject::Garment, quotation.garment_id));
        entry.subjects.extend(promised.subjects);
        entry.detail = Detail::Accepted { quotation: quotation.id, reservations: promised.ids, plan };
        context.book(tx, booking, entry)?;
        let mut view = show::view(tx, context, code, Some(self.version), Some(booking))?;
        notes.extend(promised.notes);
        view.notes = notes;
        Ok(view)
    }
}

/// Promises the best pieces to every open need; refused as a whole where one cannot be served.
fn reserve(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    act: &AcceptQuotation,
    code: GarmentCode,
) -> Done<Promised> {
    let (garment, needs) = load_garment(tx, code)?;
    check_open(&garment)?;
    let all: Vec<_> = needs.iter().collect();
    let found = candidates::for_needs(tx, context, &garment, &all)?;
    let without = found.iter().filter(|need| need.units_open > 0 && need.picks.is_empty());
    let without: Vec<&str> = without.map(|need| need.role.as_str()).collect();
    if !without.is_empty() {
        let detail = format!("nothing on the shelf serves the {} of {code}", without.join(", "));
        let hint = "see ellwand candidates for why, or accept without reserving";
        return Err(Problem::new(ProblemType::DoesNotServe, detail).field("reserve").hint(hint).into());
    }
    let picks: Vec<Pick> = found.into_iter().flat_map(|need| need.picks).collect();
    let request = Reserve { id: act.id, garment: code, picks, until: None };
    promise_all(tx, context, booking, &request, &garment, &needs)
}
