//! Logging a purchase.

use super::{
    charge::{self, KeptShare, json},
    conversion, currency_of,
    line::{self, LineRead},
    opening,
    rate::{self, Converted},
    receive,
    reclaim::Reclaim,
    refused, twice, view,
};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        counter,
        failure::{Done, Failure, all_at_once, invalid},
        perform::Perform,
    },
    people::parties::{find_or_make_supplier, renamed_customer, renamed_supplier},
    shelf::{materials::within, shelved::Measure},
};
use ellwand_contract::purchases::{Buy, Purchase};
use ellwand_contract::text::{LINE, NOTE, clean_text};
use ellwand_domain::{
    allocation::round_alone,
    purchase::{Conversion, Landed, land},
    quantity::{Currency, Money, Rate},
    setting::BookingKind,
};
use ellwand_storage::{PurchaseCharge, Subject, Tx};

impl Perform for Buy {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchase, Failure> {
        log(self, desk)
    }
}

/// Logs a purchase.
fn log(buy: &Buy, desk: &mut Desk<'_>) -> Done<Purchase> {
    let day = desk.context.day(buy.date)?;
    let currency = currency_of(desk.context, buy.currency.as_deref())?;
    let conversion = conversion_of(buy, desk.context, currency)?;
    if buy.lines.is_empty() {
        return Err(invalid("line", "a purchase needs at least one line"));
    }
    if buy.opening {
        opening::check(buy)?;
    }
    let supplier = buy.supplier.as_ref();
    let supplier = supplier
        .map(|text| find_or_make_supplier(desk, text))
        .transpose()?;
    let lines = each(&buy.lines, "line", |input| {
        line::parse_line(desk, input, currency, buy)
    })?;
    let reclaims = each(&buy.charges, "charge", |input| {
        Reclaim::of(desk, input, day)
    })?;
    let landed = landed(buy, &lines, &reclaims, currency, conversion)?;
    check_rate(buy, desk, currency, &landed)?;
    let invoice = clean_text("invoice", "invoice number", LINE, buy.invoice.as_ref())?;
    let supplier_id = supplier.as_ref().map(|supplier| supplier.id);
    let like = (supplier_id, invoice.as_deref(), landed.invoice_total);
    twice::check(desk, buy, like)?;
    let booking = desk.next_booking()?;
    let id = desk.tx.next_numbers(counter::PURCHASE, 1)?;
    let mut row = ellwand_storage::Purchase {
        id,
        booking_id: booking,
        undone_by: None,
        supplier_id,
        on_date: day,
        invoice,
        currency: currency.code().to_owned(),
        rate: rate_of(buy)?.map(|rate| rate.to_string()),
        invoice_minor: landed.invoice_total,
        home_value: landed.home_total.get(),
        remarks: json(&Vec::<String>::new())?,
        note: clean_text("note", "note", NOTE, buy.note.as_ref())?,
        opening: buy.opening,
        file_sha256: buy.file_sha256.clone(),
    };
    desk.tx.insert_purchase(&row)?;
    let received = receive::receive(desk, &row, buy, &lines, &landed)?;
    keep_charges(desk, buy, &row, &landed, &reclaims)?;
    if !received.notes.is_empty() {
        row.remarks = json(&received.notes)?;
        desk.tx.update_purchase(&row)?;
    }
    fix_settings(desk, &lines)?;

    let from = supplier.as_ref().map(|supplier| supplier.name.as_str());
    let summary = summary(desk.context, &lines, from, buy.opening);
    let mut entry = Entry::new(BookingKind::Bought, day, summary);
    entry.subjects.push((Subject::Purchase, id));
    entry
        .subjects
        .extend(received.lots.iter().map(|lot| (Subject::Lot, *lot)));
    entry.movements = received.movements;
    desk.book(booking, entry)?;
    let mut view = view::view(desk, &row)?;
    note_renamed(desk, buy, &mut view.notes)?;
    Ok(view)
}

/// Whom an old name found, each once.
fn note_renamed(desk: &mut Desk<'_>, buy: &Buy, notes: &mut Vec<String>) -> Done<()> {
    notes.extend(renamed_supplier(desk, buy.supplier.as_ref())?);
    for line in &buy.lines {
        let note = renamed_customer(desk, line.owner.as_ref())?;
        notes.extend(note.filter(|note| !notes.contains(note)));
    }
    Ok(())
}

fn rate_of(buy: &Buy) -> Done<Option<Rate>> {
    buy.rate.as_deref().map(super::rate_of).transpose()
}

/// Asks about a rate that may be the wrong way round.
fn check_rate(buy: &Buy, desk: &mut Desk<'_>, currency: Currency, landed: &Landed) -> Done<()> {
    let home = round_alone(landed.home_total, desk.context.currency.digits());
    let home = home.map_err(|error| invalid("rate", error.to_string()))?;
    let money = |minor, currency| Money { minor, currency };
    let converted = Converted {
        amount: money(landed.invoice_total, currency),
        home: money(home, desk.context.currency),
        typed: rate_of(buy)?.map(Rate::get),
    };
    rate::check(desk, &converted, buy.really)
}

/// Reads each of a list; refusals name its place in it, and all of them are told at once.
fn each<I, T>(inputs: &[I], list: &str, mut read: impl FnMut(&I) -> Done<T>) -> Done<Vec<T>> {
    let read = inputs.iter().enumerate().map(|(index, input)| {
        read(input).map_err(|failure| within(&format!("{list}[{index}]"), failure))
    });
    all_at_once(read)
}

fn conversion_of(buy: &Buy, context: &Context<'_>, currency: Currency) -> Done<Conversion> {
    let Some(text) = &buy.home_amount else {
        return conversion(context, currency, buy.rate.as_deref());
    };
    if buy.rate.is_some() {
        return Err(invalid(
            "home_amount",
            "the rate and the home amount both set the conversion; give one of them",
        ));
    }
    if currency == context.currency {
        let detail = format!(
            "the invoice is in {currency}, the workshop's own currency, so it needs no home amount"
        );
        return Err(invalid("home_amount", detail));
    }
    let digits = context.currency.digits();
    let minor = context.home_money("home_amount", text)?.minor(digits);
    Ok(Conversion::Home { minor, digits })
}

fn landed(
    buy: &Buy,
    lines: &[LineRead],
    reclaims: &[Reclaim],
    currency: Currency,
    conversion: Conversion,
) -> Done<Landed> {
    let owned: Vec<bool> = lines.iter().map(|line| line.owner.is_some()).collect();
    let mut charges = Vec::with_capacity(buy.charges.len());
    for (index, (input, reclaim)) in buy.charges.iter().zip(reclaims).enumerate() {
        let read = charge::parse_charge(input, currency, false, &owned, *reclaim);
        charges.push(read.map_err(|failure| within(&format!("charge[{index}]"), failure))?);
    }
    let keys: Vec<_> = lines.iter().map(|line| line.keys.clone()).collect();
    land(&keys, &charges, conversion).map_err(refused)
}

fn keep_charges(
    tx: &mut Tx<'_>,
    buy: &Buy,
    purchase: &ellwand_storage::Purchase,
    landed: &Landed,
    reclaims: &[Reclaim],
) -> Done<()> {
    for (index, (input, reclaim)) in buy.charges.iter().zip(reclaims).enumerate() {
        let shares: Vec<i64> = landed
            .per_line
            .iter()
            .filter_map(|line| line.shares.get(index).copied())
            .collect();
        tx.insert_purchase_charge(&PurchaseCharge {
            purchase_id: purchase.id,
            position: i64::try_from(index).unwrap_or(i64::MAX).saturating_add(1),
            booking_id: purchase.booking_id,
            kind: input.kind,
            amount_minor: shares.iter().sum(),
            currency: purchase.currency.clone(),
            share: json(&KeptShare::of(input))?,
            late: false,
            shares: json(&shares)?,
            reclaimed: reclaim.reclaimed,
            reclaim_by: reclaim.by,
            reclaim_from: reclaim.from,
        })?;
    }
    Ok(())
}

/// A purchase fixes the currency; the first receipt into layers fixes how they are valued.
fn fix_settings(desk: &mut Desk<'_>, lines: &[LineRead]) -> Done<()> {
    let mut workshop = desk.context.workshop.clone();
    workshop.currency_fixed = true;
    workshop.pooled_method_fixed |= lines
        .iter()
        .any(|line| line.owner.is_none() && line.rectangle.is_none());
    if workshop != desk.context.workshop {
        desk.tx.save_workshop(&workshop)?;
    }
    Ok(())
}

/// `Bought 4.00 m navy wool and 2 more from Harbour Cloth Stall.`
fn summary(
    context: &Context<'_>,
    lines: &[LineRead],
    supplier: Option<&str>,
    opening: bool,
) -> String {
    let Some(first) = lines.first() else {
        return "Bought nothing.".to_owned();
    };
    let what = format!(
        "{} {}",
        Measure::of(first.material.kind, first.counted).show(context, first.total),
        first.material.name
    );
    let more = match lines.len().saturating_sub(1) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let from = supplier.map_or_else(String::new, |name| format!(" from {name}"));
    let verb = if lines
        .iter()
        .all(|line| line.keys.price.is_none_or(|price| price == 0))
    {
        "Took in"
    } else {
        "Bought"
    };
    match opening {
        true => format!("Opening stock: {what}{more}."),
        false => format!("{verb} {what}{more}{from}."),
    }
}
