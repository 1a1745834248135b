//! Accepting a version, and promising the materials in the same step.

use crate::money::quotations::{
    made, of_garment, options, promised, row, show, supplement, version_of,
};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, wrong_state},
        perform::Perform,
    },
    garments::{need::load_head, operation::is_same},
    promises::reservations::Promised,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{AcceptQuotation, Quotation as View},
    text::counted,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, QuotationCode},
    setting::{BookingKind, GarmentState, QuotationState},
};
use ellwand_storage::{Quotation, QuotationVersion, Subject, Tx};
use std::cmp::Ordering;

impl Perform for AcceptQuotation {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let (code, mut quotation) = (self.quotation, row(desk, self.quotation)?);
        check_open(desk, &quotation)?;
        let asked = self.version.unwrap_or(quotation.version);
        let version = version_of(desk, &quotation, asked)?;
        check_newest(self, asked, &quotation)?;
        of_garment::check_not_sold(desk, &quotation)?;
        supplement::rests(desk, &quotation)?;
        let day = desk.context.day(self.date)?;
        check_day(self, &version, day)?;
        let garment = GarmentCode::new(quotation.garment_id);
        if load_head(desk, garment)?.state == GarmentState::Cancelled {
            let hint = format!("close {code}, or take the cancelling back first");
            return Err(
                wrong_state(format!("{garment} is cancelled"), &hint).naming("garment", garment)
            );
        }
        let option = self.option.as_deref();
        check_priced(desk, &quotation, &version, option)?;
        supplement::as_planned(desk, &quotation, &version)?;
        let booking = desk.next_booking()?;
        let agreed = options::agree(desk, booking, garment, &version, option)?;
        let mut notes = agreed.notes;
        // What was promised while it was open stays, without an end.
        let (kept, more) = promised::lasting(desk, booking, quotation.id, None)?;
        notes.extend(more);
        let mut made = Promised::default();
        if self.reserve {
            let otherwise = "accept without reserving";
            made = promised::reserve(desk, booking, self.id, &quotation, None, otherwise)?;
        }
        if self.version.is_none() {
            return Err(is_it(code, asked));
        }
        let before = promised::trace(&quotation, &kept)?;
        quotation.state = QuotationState::Accepted;
        (quotation.accepted, quotation.accepted_in) = (Some(asked), Some(booking));
        quotation.accepted_option.clone_from(&agreed.option);
        let total = show::agreed(desk, &quotation)?.basis.schedule()?.total();
        quotation.agreed_minor = Some(total.minor);
        desk.tx.update_quotation(&quotation)?;
        let promises = made.ids.len().saturating_add(kept.len());
        let summary = summary((code, asked), garment, agreed.option.as_deref(), promises);
        let mut entry = Entry::new(BookingKind::Accepted, day, summary);
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        entry.subjects.extend(made.subjects);
        entry.traces.push(before);
        if let Some(plan) = agreed.plan {
            entry.traces.extend(plan.trace(quotation.garment_id)?);
        }
        desk.book(booking, entry)?;
        let mut view = show::view(desk, code, Some(asked), Some(booking))?;
        notes.extend(made.notes);
        view.notes = notes;
        Ok(view)
    }
}

/// Asks for the version by its number: another one may come before the answer.
fn is_it(code: QuotationCode, newest: i64) -> Failure {
    let detail = format!("which version of {code} is accepted? the newest is {newest}");
    Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("version")
        .hint(format!("accept it with --version {newest}"))
        .with("version", newest)
        .into()
}

/// Refuses a version that another one has replaced, or that was taken back.
fn check_newest(request: &AcceptQuotation, asked: i64, quotation: &Quotation) -> Done<()> {
    let newest = quotation.version;
    let (detail, hint) = match asked.cmp(&newest) {
        Ordering::Equal => return Ok(()),
        Ordering::Greater => (
            format!("was taken back, so version {newest} counts"),
            "show that one with ellwand quote show, and accept it",
        ),
        Ordering::Less => (
            format!("was replaced by version {newest}"),
            "show the newest one with ellwand quote show, and accept that",
        ),
    };
    let detail = format!("version {asked} of {} {detail}", request.quotation);
    Err(wrong_state(detail, hint)
        .naming("quotation", request.quotation)
        .with("wanted", asked)
        .with("newest", newest))
}

/// Refuses a day on which the version did not hold.
fn check_day(request: &AcceptQuotation, version: &QuotationVersion, day: NaiveDate) -> Done<()> {
    let (detail, hint) = if day > version.valid_until {
        (
            format!("was valid until {}", version.valid_until),
            "make a new version with ellwand quote again",
        )
    } else if day < version.on_date {
        (
            format!("is dated {}, after {day}", version.on_date),
            "choose its date or a later day",
        )
    } else {
        return Ok(());
    };
    let detail = format!(
        "version {} of {} {detail}",
        version.version, request.quotation
    );
    let problem = Problem::new(ProblemType::InvalidDate, detail).field("date");
    Err(problem
        .hint(hint)
        .with("day", day.to_string())
        .with("earliest", version.on_date.to_string())
        .with("latest", version.valid_until.to_string())
        .into())
}

fn summary(
    (code, version): (QuotationCode, i64),
    garment: GarmentCode,
    option: Option<&str>,
    promises: usize,
) -> String {
    let with = match promises {
        0 => String::new(),
        count => format!(", with {}", counted(count, "promise")),
    };
    let of = option.map_or_else(String::new, |option| format!(", {option},"));
    format!("Accepted version {version}{of} of {code} for {garment}{with}.")
}

/// Refuses what is accepted already, or came to nothing.
fn check_open(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    let code = QuotationCode::new(quotation.id);
    let state = quotation.state;
    let Some(by) = quotation
        .accepted_in
        .filter(|_| state == QuotationState::Accepted)
    else {
        return match state {
            QuotationState::Open => Ok(()),
            _ => Err(wrong_state(
                format!("{code} is {state}"),
                "make another with ellwand quote make",
            )
            .naming("quotation", code)
            .naming("state", state)),
        };
    };
    let whose = match tx.booking(by)? {
        Some(booking) => tx.person(booking.person_id)?,
        None => None,
    };
    let who = whose.map_or_else(String::new, |person| format!(" by {}", person.name));
    let version = quotation.accepted.unwrap_or(quotation.version);
    let by = BookingCode::new(by);
    let detail = format!("version {version} of {code} was accepted already, in {by}{who}");
    let hint = format!("see ellwand quote show {code}");
    Err(wrong_state(detail, &hint)
        .naming("quotation", code)
        .naming("booking", by))
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
        "version {} of {code} is not an offer yet; not priced: {}",
        version.version,
        sheet.to_be_priced.join(", ")
    );
    let hint = match first.as_str() {
        made::THE_PRICE => {
            format!(
                "choose how the price is made, for example: ellwand quote again {code} --markup 40%"
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
