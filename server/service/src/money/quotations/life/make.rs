//! Making a quotation, and a new version of one.

use crate::money::quotations::{
    ask,
    freeze::{Frozen, Wish},
    house, internal, of_garment, options, promised, row, show, supplement, version_of,
};
use crate::{
    desk::{
        Desk, Entry, counter,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
        trace::Traced,
    },
    garments::need::load_head,
    promises::reservations::Promised,
};
use chrono::{Days, NaiveDate};
use ellwand_contract::text::{NOTE, clean_text};
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{MakeQuotation, Quotation as View, Requote},
};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    setting::{BookingKind, Facet, GarmentState, PriceFrom, QuotationState},
};
use ellwand_storage::{Quotation, QuotationVersion, Subject};
use uuid::Uuid;

/// Days that a quotation is valid where none is said (common practice).
const VALID_DAYS: u64 = 30;

impl Perform for MakeQuotation {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        tried((self.check, self.reserve), || make(self, desk))
    }
}

/// Makes a version; as a trial it is rolled back by whoever called it.
fn tried(
    (check, reserve): (bool, bool),
    make: impl FnOnce() -> Done<View>,
) -> Result<View, Failure> {
    if check && reserve {
        let detail = "a trial books nothing, so it promises nothing";
        return Err(Problem::from(invalid("try", detail))
            .hint("leave out --reserve, or leave out --try")
            .into());
    }
    let mut view = make()?;
    if check {
        (view.is_trial, view.booking) = (true, None);
    }
    Ok(view)
}

fn make(asked: &MakeQuotation, desk: &mut Desk<'_>) -> Done<View> {
    let garment = load_head(desk, asked.garment)?;
    if garment.state == GarmentState::Cancelled {
        return Err(wrong_state(
            format!("{} is cancelled", asked.garment),
            &format!("plan it again with ellwand garment copy {}", asked.garment),
        ));
    }
    let date = desk.context.day(asked.date)?;
    let valid_until = asked
        .valid_until
        .or_else(|| date.checked_add_days(Days::new(VALID_DAYS)));
    let (mut price, mut stage) = (asked.price.clone(), asked.stage.clone());
    let by_the_house = match asked.supplement_to {
        Some(_) => None,
        None => house::fill(desk.context, &mut price, Some(&mut stage))?,
    };
    let mut wish = Wish {
        from: asked.from.unwrap_or(PriceFrom::Plan),
        price,
        stage,
        terms: clean_text("terms", "text of the terms", NOTE, asked.terms.as_ref())?,
        description: clean_text(
            "description",
            "description",
            NOTE,
            asked.description.as_ref(),
        )?,
        delivery: asked.delivery,
        options: asked.options.clone(),
        plan_is: asked.plan_is.clone(),
        supplement_to: None,
    };
    let cloths = options::cloth::options(desk, asked.garment, &asked.with)?;
    wish.options.extend(cloths);
    let supplement_to = match asked.supplement_to {
        Some(to) => Some(supplement::check(desk, to, asked.garment, &mut wish)?.id),
        None => None,
    };
    options::check_names(&mut wish)?;
    if !desk.context.workshop.currency_fixed {
        let workshop = ellwand_storage::Workshop {
            currency_fixed: true,
            ..desk.context.workshop.clone()
        };
        desk.tx.save_workshop(&workshop)?;
    }
    let quotation = Quotation {
        id: desk.tx.next_numbers(counter::QUOTATION, 1)?,
        garment_id: garment.id,
        customer_id: garment.customer_id,
        state: QuotationState::Open,
        version: 1,
        accepted: None,
        accepted_in: None,
        keep: None,
        accepted_option: None,
        supplement_to,
        agreed_minor: None,
    };
    desk.tx.insert_quotation(&quotation)?;
    let reserve = asked.reserve.then_some(asked.id);
    let mut view = version(
        desk,
        (&quotation, None),
        &wish,
        (date, valid_until.unwrap_or(date)),
        reserve,
    )?;
    view.notes.extend(by_the_house);
    Ok(view)
}

impl Perform for Requote {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        tried((self.check, self.reserve), || again(self, desk))
    }
}

fn again(asked: &Requote, desk: &mut Desk<'_>) -> Done<View> {
    let mut quotation = row(desk, asked.quotation)?;
    if quotation.state != QuotationState::Open {
        let detail = format!("{} is {}", asked.quotation, quotation.state);
        let garment = GarmentCode::new(quotation.garment_id);
        let hint = format!("make another with ellwand quote make {garment}");
        return Err(wrong_state(detail, &hint)
            .naming("quotation", asked.quotation)
            .naming("state", quotation.state));
    }
    let former = version_of(desk, &quotation, quotation.version)?;
    let mut wish: Wish = serde_json::from_str(&former.asked).map_err(internal)?;
    let was_priced = ask::has_rule(&wish.price);
    wish = changed(wish, asked)?;
    let mut by_the_house = None;
    // What was priced stays as it was, unless it is priced anew.
    if quotation.supplement_to.is_none() && (asked.price.is_some() || !was_priced) {
        let stage = (!was_priced).then_some(&mut wish.stage);
        by_the_house = house::fill(desk.context, &mut wish.price, stage)?;
    }
    options::check_names(&mut wish)?;
    let date = desk.context.day(asked.date)?;
    let days = days_of(&former);
    let valid_until = asked.valid_until.or_else(|| date.checked_add_days(days));
    // Beyond one that was taken back, too.
    let made = desk.tx.quotation_versions(quotation.id)?;
    let made = made.last().map_or(0, |version| version.version);
    let before = quotation.clone();
    quotation.version = made.saturating_add(1);
    desk.tx.update_quotation(&quotation)?;
    let mut view = version(
        desk,
        (&quotation, Some(before)),
        &wish,
        (date, valid_until.unwrap_or(date)),
        asked.reserve.then_some(asked.id),
    )?;
    view.notes.extend(by_the_house);
    Ok(view)
}

/// Days that a version was valid.
fn days_of(version: &QuotationVersion) -> Days {
    let days = version.valid_until.signed_duration_since(version.on_date);
    Days::new(u64::try_from(days.num_days()).unwrap_or(VALID_DAYS))
}

/// What was wished before, with what is given now over it.
fn changed(mut wish: Wish, asked: &Requote) -> Done<Wish> {
    let text = |field: &str, what: &str, text: &Option<String>| {
        clean_text(field, what, NOTE, text.as_ref())
    };
    wish.price = asked.price.clone().unwrap_or(wish.price);
    wish.stage = asked.stage.clone().unwrap_or(wish.stage);
    wish.terms = text("terms", "text of the terms", &asked.terms)?.or(wish.terms);
    wish.description = text("description", "description", &asked.description)?.or(wish.description);
    wish.delivery = asked.delivery.or(wish.delivery);
    if let Some(options) = &asked.options {
        wish.options.clone_from(options);
        wish.plan_is = wish.plan_is.filter(|_| !options.is_empty());
    }
    wish.plan_is = asked.plan_is.clone().or(wish.plan_is);
    Ok(wish)
}

/// Freezes the newest version of a quotation. What is promised with it ends with its last day; `reserve`: the request that
/// promises what is still open.
fn version(
    desk: &mut Desk<'_>,
    (quotation, before): (&Quotation, Option<Quotation>),
    wish: &Wish,
    (date, valid_until): (NaiveDate, NaiveDate),
    reserve: Option<Uuid>,
) -> Done<View> {
    if valid_until < date {
        let detail = format!("it would be valid until {valid_until}, but its date is {date}");
        let problem = Problem::new(ProblemType::InvalidDate, detail).field("valid_until");
        return Err(problem
            .hint("choose a later day with --valid-until")
            .with("day", valid_until.to_string())
            .with("earliest", date.to_string())
            .into());
    }
    let garment = GarmentCode::new(quotation.garment_id);
    let booking = desk.next_booking()?;
    // Promises come first, so that the price is that of the promised pieces.
    let until = Some(valid_until);
    let (moved, mut notes) = promised::lasting(desk, booking, quotation.id, until)?;
    let mut made = Promised::default();
    if let Some(request) = reserve {
        let otherwise = "make it without reserving";
        made = promised::reserve(desk, booking, request, quotation, until, otherwise)?;
    }
    let frozen = Frozen::make(desk, garment, wish, (date, valid_until))?;
    let schedule = frozen.basis.schedule()?;
    desk.tx.insert_quotation_version(&QuotationVersion {
        quotation_id: quotation.id,
        version: quotation.version,
        on_date: date,
        valid_until,
        currency: frozen.sheet.currency.clone(),
        gross_minor: schedule.total().minor,
        is_offer: frozen.sheet.to_be_priced.is_empty(),
        asked: serde_json::to_string(wish).map_err(internal)?,
        frozen: serde_json::to_string(&frozen).map_err(internal)?,
        booking_id: booking,
        undone_by: None,
        made_by: desk.context.caller.name.clone(),
        made_at: desk.context.now.naive_utc(),
    })?;
    let (code, number) = (QuotationCode::new(quotation.id), quotation.version);
    let summary = format!(
        "Quoted {garment} {}: version {number} of {code}.",
        frozen.sheet.title
    );
    let mut entry = Entry::new(BookingKind::Quoted, date, summary);
    entry
        .subjects
        .push((Subject::Garment, quotation.garment_id));
    entry.subjects.extend(made.subjects);
    let before = before.map(|before| (before, moved));
    let trace = Traced::wrote(Facet::Quotation, quotation.id, &before)?;
    entry.traces.push(trace);
    desk.book(booking, entry)?;
    let mut view = show::view(desk, code, None, Some(booking))?;
    notes.extend(made.notes);
    if quotation.supplement_to.is_none()
        && let Some(sold) = of_garment::sold_by(desk, quotation.garment_id)?
    {
        let sold = QuotationCode::new(sold.id);
        notes.push(format!(
            "{garment} is sold by {sold}: this one can be accepted only once {sold} is cancelled; what changed is priced with \
             --supplement-to {sold}"
        ));
    }
    view.notes = notes;
    Ok(view)
}
