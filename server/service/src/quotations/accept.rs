//! Accepting a version, and promising the materials in the same step.

use super::{
    made, of_garment,
    options::{self, Agreed},
    promised, row, show, supplement, version_of,
};
use crate::{
    context::{Context, Entry},
    failure::{Done, Failure, wrong_state},
    garments::{need::load_head, operation::is_same},
    perform::Perform,
    reservations::Promised,
};
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{AcceptQuotation, Quotation as View},
    text::counted,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, QuotationCode},
    setting::{BookingKind, GarmentState, QuotationState},
};
use ellwand_storage::{Quotation, QuotationVersion, Subject, Tx, Word};

impl Perform for AcceptQuotation {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let (code, mut quotation) = (self.quotation, row(tx, self.quotation)?);
        if let (QuotationState::Accepted, Some(by)) = (quotation.state.0, quotation.accepted_in) {
            let whose = match tx.booking(by)? {
                Some(booking) => tx.person(booking.person_id)?,
                None => None,
            };
            let who = whose.map_or_else(String::new, |person| format!(" by {}", person.name));
            let version = quotation.accepted.unwrap_or(quotation.version);
            let detail = format!(
                "version {version} of {code} was accepted already, in {}{who}",
                BookingCode::new(by)
            );
            return Err(wrong_state(detail, "nothing is left to do"));
        }
        if quotation.state.0 != QuotationState::Open {
            return Err(wrong_state(
                format!("{code} is {}", quotation.state.0),
                "make another quotation",
            ));
        }
        let version = version_of(tx, &quotation, self.version)?;
        if self.version > quotation.version {
            let detail = format!(
                "version {} of {code} was taken back, so that version {} counts",
                self.version, quotation.version
            );
            return Err(wrong_state(
                detail,
                "show the customer that one, and accept it",
            ));
        }
        if self.version != quotation.version {
            let detail = format!(
                "version {} of {code} was replaced by version {}",
                self.version, quotation.version
            );
            return Err(wrong_state(
                detail,
                "show the customer the newest one, and accept that",
            ));
        }
        of_garment::check_not_sold(tx, &quotation)?;
        supplement::rests(tx, &quotation)?;
        let day = context.day(self.date)?;
        let date = |detail: String, hint: &str| -> Failure {
            Problem::new(ProblemType::InvalidDate, detail)
                .field("date")
                .hint(hint)
                .into()
        };
        if day > version.valid_until {
            let detail = format!(
                "version {} of {code} was valid until {}",
                self.version, version.valid_until
            );
            return Err(date(detail, "make a new version with ellwand quote again"));
        }
        if day < version.on_date {
            let detail = format!(
                "version {} of {code} is of {}, after {day}",
                self.version, version.on_date
            );
            return Err(date(detail, "name its date or a later day"));
        }
        let garment = GarmentCode::new(quotation.garment_id);
        if load_head(tx, garment)?.state.0 == GarmentState::Cancelled {
            let hint = format!("close {code}, or take the cancelling back first");
            return Err(wrong_state(format!("{garment} is cancelled"), &hint));
        }
        check_priced(tx, &quotation, &version, self.option.as_deref())?;
        supplement::as_planned(tx, &quotation, &version)?;
        let booking = context.next_booking(tx)?;
        let Agreed {
            option,
            plan,
            mut notes,
        } = options::agree(
            tx,
            context,
            booking,
            garment,
            &version,
            self.option.as_deref(),
        )?;
        // What was promised while it was open stays, without an end.
        let (kept, more) = promised::lasting(tx, context, booking, quotation.id, None)?;
        notes.extend(more);
        let mut made = Promised::default();
        if self.reserve {
            let otherwise = "accept without reserving";
            made = promised::reserve(tx, context, booking, self.id, &quotation, None, otherwise)?;
        }
        let before = promised::trace(&quotation, &kept)?;
        quotation.state = Word(QuotationState::Accepted);
        (quotation.accepted, quotation.accepted_in) = (Some(self.version), Some(booking));
        quotation.accepted_option.clone_from(&option);
        tx.update_quotation(&quotation)?;
        let with = match made.ids.len().saturating_add(kept.len()) {
            0 => String::new(),
            count => format!(", with {}", counted(count, "promise")),
        };
        let of = option
            .map(|option| format!(", {option},"))
            .unwrap_or_default();
        let summary = format!(
            "Accepted version {}{of} of {code} for {garment}{with}.",
            self.version
        );
        let mut entry = Entry::new(BookingKind::Accepted, day, summary);
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        entry.subjects.extend(made.subjects);
        entry.traces.push(before);
        if let Some(plan) = plan {
            entry.traces.extend(plan.trace(quotation.garment_id)?);
        }
        context.book(tx, booking, entry)?;
        let mut view = show::view(tx, context, code, Some(self.version), Some(booking))?;
        notes.extend(made.notes);
        view.notes = notes;
        Ok(view)
    }
}

/// Refuses to accept what is no offer: something has no price yet, so that it is not known what is to be paid.
fn check_priced(
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    version: &QuotationVersion,
    option: Option<&str>,
) -> Done<()> {
    let mut frozen = show::frozen(tx, quotation, version.version)?;
    let sheet = match option.and_then(|name| {
        frozen
            .options
            .iter()
            .position(|offer| is_same(&offer.name, name))
    }) {
        Some(at) => frozen.options.swap_remove(at).sheet,
        None => frozen.sheet,
    };
    let Some(first) = sheet.to_be_priced.first() else {
        return Ok(());
    };
    let code = QuotationCode::new(quotation.id);
    let detail = format!(
        "version {} of {code} is no offer; not priced: {}",
        version.version,
        sheet.to_be_priced.join(", ")
    );
    let hint = match first.as_str() {
        made::THE_PRICE => {
            format!(
                "say how the price is made, for example: ellwand quote again {code} --markup 40%"
            )
        }
        name if tx
            .operations(quotation.garment_id)?
            .iter()
            .any(|operation| operation.name == name) =>
        {
            format!(
                "set the pay rate of whoever does it with ellwand workshop pay-rate, then ellwand quote again {code}"
            )
        }
        name => format!(
            "buy what is missing, then ellwand quote again {code}; or price it, for example --material-price '{name}=12.00'"
        ),
    };
    Err(wrong_state(detail, &hint))
}
