//! A quotation as it is shown.

use crate::money::quotations::{
    cash, close,
    freeze::{Frozen, Offer},
    internal, list, promised, row, supplement, version_of,
};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::{need::load_head, operation::is_same},
    promises,
};
use ellwand_contract::{
    options::QuotedOption,
    quotations::{
        CustomerSheet, PaidStage, Payment, Payments, Quotation as View, QuotedChange, VersionHead,
    },
};
use ellwand_domain::{
    code::{BookingCode, CustomerCode, GarmentCode, QuotationCode},
    pricing::{PaidSums, Standing},
    quantity::Currency,
    setting::{GarmentState, QuotationState},
};
use ellwand_storage::{Quotation, Tx};

/// One of its versions, the newest where none is named; `booking`: of the act that answers with it.
pub(in crate::money::quotations) fn view(
    desk: &mut Desk<'_>,
    code: QuotationCode,
    version: Option<i64>,
    booking: Option<i64>,
) -> Done<View> {
    let quotation = row(desk, code)?;
    let version = version.unwrap_or(quotation.version);
    let whole = whole(desk, &quotation, version)?;
    let agreed = frozen(desk, &quotation, quotation.accepted.unwrap_or(version))?;
    let standing = standing(desk, &quotation, &agreed)?;
    let versions = heads(desk, &quotation, &agreed)?;
    let former = versions
        .iter()
        .rfind(|head| head.version < version && !head.taken_back);
    let before = match former.map(|head| head.version) {
        None => None,
        Some(former) => Some(self::whole(desk, &quotation, former)?),
    };
    let changes = before.as_ref().map(|before| changed(before, &whole));
    let promised = promised::promises_of(desk, quotation.id)?;
    let rows = desk.tx.supplements(quotation.id)?;
    let is_accepted = quotation.state == QuotationState::Accepted;
    let together = match is_accepted && !rows.is_empty() {
        true => Some(supplement::together(
            desk,
            quotation.id,
            agreed.basis.currency,
        )?),
        false => None,
    };
    let supplements = rows.iter().map(|row| list::head(desk, row));
    let supplements = supplements.collect::<Done<_>>()?;
    let customer = match quotation.customer_id {
        Some(id) => desk.tx.customer(id)?,
        None => None,
    };
    Ok(View {
        quotation: code,
        is_trial: false,
        state: quotation.state,
        garment: GarmentCode::new(quotation.garment_id),
        customer: quotation.customer_id.map(CustomerCode::new),
        customer_name: customer.map(|customer| customer.name),
        version,
        versions,
        accepted: quotation.accepted,
        accepted_option: quotation.accepted_option,
        supplement_to: quotation.supplement_to.map(QuotationCode::new),
        supplements,
        together,
        sheet: whole.sheet,
        inside: Some(whole.inside),
        plan_is: whole.plan_is,
        options: whole
            .options
            .into_iter()
            .map(|offer| option(offer, before.as_ref()))
            .collect(),
        comparison: Some(whole.comparison),
        changes: changes.unwrap_or_default(),
        standing,
        reservations: promises::views(desk, &promised)?,
        booking: booking.map(BookingCode::new),
        notes: Vec::new(),
    })
}

/// All versions, oldest first; of the accepted one what the accepted option comes to.
fn heads(tx: &mut Tx<'_>, quotation: &Quotation, agreed: &Frozen) -> Done<Vec<VersionHead>> {
    let mut versions = Vec::new();
    for row in tx.quotation_versions(quotation.id)? {
        let is_chosen =
            quotation.accepted_option.is_some() && quotation.accepted == Some(row.version);
        let currency: Currency = row.currency.parse().map_err(internal)?;
        let minor = row.gross_minor;
        versions.push(VersionHead {
            version: row.version,
            date: row.on_date,
            valid_until: row.valid_until,
            gross: match is_chosen {
                true => agreed.sheet.gross.clone(),
                false => currency.money(minor).decimal(),
            },
            taken_back: row.undone_by.is_some(),
        });
    }
    Ok(versions)
}

/// What a version froze, the plan and its options.
fn whole(tx: &mut Tx<'_>, quotation: &Quotation, version: i64) -> Done<Frozen> {
    serde_json::from_str(&version_of(tx, quotation, version)?.frozen).map_err(internal)
}

/// What was agreed to: the version that was accepted, with the option that was; the newest one before.
pub(in crate::money::quotations) fn agreed(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Frozen> {
    frozen(
        tx,
        quotation,
        quotation.accepted.unwrap_or(quotation.version),
    )
}

/// What a version froze; of the one that was accepted, the option that was.
pub(in crate::money::quotations) fn frozen(
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    version: i64,
) -> Done<Frozen> {
    let whole = whole(tx, quotation, version)?;
    Ok(
        match quotation
            .accepted_option
            .as_deref()
            .filter(|_| quotation.accepted == Some(version))
        {
            Some(option) => whole.chosen(option),
            None => whole,
        },
    )
}

fn option(offer: Offer, before: Option<&Frozen>) -> QuotedOption {
    let former = before.and_then(|before| {
        before
            .options
            .iter()
            .find(|former| is_same(&former.name, &offer.name))
    });
    QuotedOption {
        changes: former
            .map(|former| changes(&former.sheet, &offer.sheet))
            .unwrap_or_default(),
        name: offer.name,
        differs: offer.differs,
        sheet: offer.sheet,
        inside: Some(offer.inside),
    }
}

/// What changed of the plan's sheet, and which options came or went.
fn changed(before: &Frozen, now: &Frozen) -> Vec<QuotedChange> {
    let mut all = changes(&before.sheet, &now.sheet);
    let has = |offers: &[Offer], name: &str| offers.iter().any(|offer| is_same(&offer.name, name));
    let text = |offer: &Offer| format!("option {}, to be paid", offer.name);
    let gone = before
        .options
        .iter()
        .filter(|offer| !has(&now.options, &offer.name));
    all.extend(gone.map(|offer| QuotedChange {
        text: text(offer),
        before: Some(offer.sheet.gross.clone()),
        now: None,
    }));
    let new = now
        .options
        .iter()
        .filter(|offer| !has(&before.options, &offer.name));
    all.extend(new.map(|offer| QuotedChange {
        text: text(offer),
        before: None,
        now: Some(offer.sheet.gross.clone()),
    }));
    all
}

/// Line by line, then what is to be paid and when.
fn changes(before: &CustomerSheet, now: &CustomerSheet) -> Vec<QuotedChange> {
    let texts = |sheet: &CustomerSheet| -> Vec<(String, String)> {
        let lines = sheet
            .lines
            .iter()
            .map(|line| (line.text.clone(), line.amount.clone()));
        let stages = sheet
            .stages
            .iter()
            .map(|stage| (stage.name.clone(), stage.amount.clone()));
        let rates = sheet
            .rates
            .iter()
            .map(|rate| (rate.name.clone(), rate.tax.clone()));
        let total = std::iter::once(("To be paid".to_owned(), sheet.gross.clone()));
        let made_of = sheet
            .made_of
            .iter()
            .filter_map(|part| Some((part.role.clone(), part.material.clone()?)));
        let delivery = sheet
            .delivery
            .map(|day| ("Delivery".to_owned(), day.to_string()));
        let amounts = lines.chain(rates).chain(total).chain(stages);
        amounts.chain(made_of).chain(delivery).collect()
    };
    let (mut old, mut all) = (texts(before), Vec::new());
    for (text, now) in texts(now) {
        let same = old.iter().position(|(known, _)| *known == text);
        let before = same.map(|position| old.remove(position).1);
        if before.as_ref() != Some(&now) {
            all.push(QuotedChange {
                text,
                before,
                now: Some(now),
            });
        }
    }
    all.extend(old.into_iter().map(|(text, before)| QuotedChange {
        text,
        before: Some(before),
        now: None,
    }));
    all
}

/// What is due and left of the schedule, by what was paid.
fn reached(
    context: &Context<'_>,
    quotation: &Quotation,
    agreed: &Frozen,
    delivered: bool,
    paid: &[ellwand_storage::Payment],
) -> Done<Standing> {
    let schedule = agreed.basis.schedule()?;
    let reached = match quotation.state {
        QuotationState::Accepted => {
            let due: Vec<_> = agreed.sheet.stages.iter().map(|stage| stage.due).collect();
            schedule.reached(&due, context.today, delivered)
        }
        _ => 0,
    };
    schedule
        .standing(reached, &[cash::settled(paid, agreed.basis.currency)])
        .map_err(internal)
}

/// The same for an accepted quotation of a garment.
pub(in crate::money::quotations) fn to_pay(
    desk: &mut Desk<'_>,
    quotation: &Quotation,
    agreed: &Frozen,
) -> Done<Standing> {
    let garment = load_head(desk, GarmentCode::new(quotation.garment_id))?;
    let delivered = garment.state == GarmentState::Delivered;
    reached(
        desk.context,
        quotation,
        agreed,
        delivered,
        &desk.tx.payments(quotation.id)?,
    )
}

/// The payments as they came, each with what was paid and left once it was there.
fn payments(
    quotation: &Quotation,
    agreed: &Frozen,
    rows: &[ellwand_storage::Payment],
) -> Done<Vec<Payment>> {
    let money = |minor| agreed.basis.currency.money(minor);
    let schedule = agreed.basis.schedule()?;
    let mut all = Vec::with_capacity(rows.len());
    for (at, row) in rows.iter().enumerate() {
        let PaidSums {
            paid,
            settled,
            rounding,
            ..
        } = cash::sums(rows.get(..=at).unwrap_or_default());
        let standing = schedule.standing(0, &[money(settled)]).map_err(internal)?;
        let left = standing.left;
        all.push(Payment {
            date: row.on_date,
            amount: money(row.minor).decimal(),
            cash: row.cash,
            rounding: (row.rounding_minor != 0).then(|| money(row.rounding_minor).decimal()),
            note: row.note.clone(),
            paid: money(paid).decimal(),
            rounding_so_far: (rounding != 0).then(|| money(rounding).decimal()),
            left: (quotation.state == QuotationState::Accepted).then(|| left.decimal()),
            booking: BookingCode::new(row.booking_id),
        });
    }
    Ok(all)
}

/// Payments against the stages.
pub(in crate::money::quotations) fn standing(
    desk: &mut Desk<'_>,
    quotation: &Quotation,
    agreed: &Frozen,
) -> Done<Payments> {
    let money = |minor| agreed.basis.currency.money(minor);
    let rows = desk.tx.payments(quotation.id)?;
    let PaidSums { paid, rounding, .. } = cash::sums(&rows);
    let step = cash::step(agreed.basis.cash_step, agreed.basis.currency)?;
    let garment = load_head(desk, GarmentCode::new(quotation.garment_id))?;
    let delivered = garment.state == GarmentState::Delivered;
    let standing = reached(desk.context, quotation, agreed, delivered, &rows)?;
    let stages = standing.stages.iter().map(|stage| PaidStage {
        name: stage.name.clone(),
        amount: stage.amount.decimal(),
        paid: stage.paid.decimal(),
    });
    let stages = match quotation.state {
        QuotationState::Accepted => stages.collect(),
        _ => Vec::new(),
    };
    let ended = matches!(
        quotation.state,
        QuotationState::Closed | QuotationState::Cancelled
    );
    let is_offer = agreed.sheet.to_be_priced.is_empty();
    let left = if ended || !is_offer {
        money(0)
    } else {
        standing.left
    };
    let over = if ended { money(0) } else { standing.over };
    let cancelled = match quotation.state {
        QuotationState::Cancelled => Some(close::settled(desk, quotation)?),
        _ => None,
    };
    let owed = match &cancelled {
        Some(settled) => settled.returned,
        None if delivered => money(0),
        None => money(paid.max(0)),
    };
    Ok(Payments {
        payments: payments(quotation, agreed, &rows)?,
        stages,
        paid: money(paid).decimal(),
        rounding: (rounding != 0).then(|| money(rounding).decimal()),
        due_now: standing.open.decimal(),
        due_now_cash: cash::in_cash(step, standing.open)?,
        left: left.decimal(),
        left_cash: cash::in_cash(step, left)?,
        over: over.decimal(),
        owed: owed.decimal(),
        kept: cancelled.as_ref().map(|settled| settled.kept.decimal()),
        not_covered: cancelled
            .as_ref()
            .map(|settled| settled.uncovered.decimal()),
        returned: cancelled.as_ref().map(|settled| settled.returned.decimal()),
    })
}
