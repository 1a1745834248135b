//! Taking a customer's name out of the book. Frozen quotations and bookings name customers by their code alone.

use super::parties;
use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure, not_found, wrong_state},
    perform::Perform,
    trace::Traced,
};
use ellwand_contract::parties::{EraseCustomer, Erased};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, LotCode, QuotationCode},
    setting::{BookingKind, Facet},
};
use ellwand_storage::{Customer, Tx};
use std::fmt::Display;

/// What stands in place of the name; it reads as no code and is nobody's name.
fn stand_in(code: CustomerCode) -> String {
    format!("{code} (erased)")
}

/// True for a customer whose name is gone.
pub(super) fn is_erased(row: &Customer) -> bool {
    row.name == stand_in(CustomerCode::new(row.id))
}

impl Perform for EraseCustomer {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Erased, Failure> {
        let code = self.customer;
        let row = desk.tx.customer(code.get())?;
        let row =
            row.ok_or_else(|| not_found(format!("customer {code}"), "see ellwand customer list"))?;
        if is_erased(&row) {
            return Err(wrong_state(
                format!("{code} has already been erased"),
                "see ellwand customer list",
            ));
        }
        unneeded(desk, code)?;
        let mut names = desk.tx.former_names(code.get())?;
        names.push(row.name);
        // As they stand in the JSON of requests and answers, in the fields that hold customers.
        let mut texts = Vec::new();
        for name in names {
            let quoted = serde_json::Value::from(name).to_string();
            for field in ["customer", "customer_name", "owner"] {
                texts.push(format!("\"{field}\":{quoted}"));
            }
        }
        texts.push(format!("\"customer\":\"{code}\",\"name\":"));
        texts.push(format!("\"customer\":\"{code}\",\"note\":"));
        texts.push(format!("\"customer\":\"{code}\",\"measures\":"));
        let requests = desk
            .tx
            .erase_requests(&texts, desk.context.now.naive_utc())?;
        let name = stand_in(code);
        desk.tx.save_customer(&Customer {
            id: row.id,
            name: name.clone(),
            note: String::new(),
        })?;
        desk.tx.forget_names(row.id)?;
        desk.tx.blank_traces(Facet::Customer, row.id)?;
        let summary = format!("Erased the name of {code} for good.");
        let mut entry = Entry::new(BookingKind::Erased, desk.context.today, summary);
        // What was edited before is not taken back any more.
        for part in parties::PARTS {
            let nothing = Traced::wrote(Facet::Customer, row.id, &"")?;
            entry.traces.push(nothing.part(part));
        }
        let booking = desk.next_booking()?;
        desk.book(booking, entry)?;
        desk.tx.delete_measures(row.id)?;
        let notes = vec![
            "names typed into garments, operations and remarks stay as they are".to_owned(),
            "backups made before this still hold the name".to_owned(),
        ];
        Ok(Erased {
            customer: code,
            name,
            requests: u32::try_from(requests).unwrap_or(u32::MAX),
            notes,
        })
    }
}

/// Refused while the customer is needed: something of theirs is being made, lies here, or is agreed.
fn unneeded(tx: &mut Tx<'_>, code: CustomerCode) -> Done<()> {
    let garments = first_few(
        tx.open_garments_of(code.get())?
            .into_iter()
            .map(GarmentCode::new),
    );
    let lots = first_few(
        tx.shelved_lots_of(code.get())?
            .into_iter()
            .map(LotCode::new),
    );
    let mut live = Vec::new();
    for id in tx.live_quotations_of(code.get())? {
        if crate::money::quotations::is_unsettled(tx, id)? {
            live.push(QuotationCode::new(id));
        }
    }
    let quotations = first_few(live.into_iter());
    let (detail, hint) = if let Some(garments) = garments {
        (
            format!("{garments} for {code} is not delivered yet"),
            "deliver or cancel it first",
        )
    } else if let Some(lots) = lots {
        (
            format!("cloth belonging to {code} is still on the shelf: {lots}"),
            "use it up or give it back first",
        )
    } else if let Some(quotations) = quotations {
        (
            format!("{quotations} for {code} is not settled"),
            "close it, or log what was paid",
        )
    } else {
        return Ok(());
    };
    Err(wrong_state(detail, hint).naming("customer", code))
}

/// The first few of them, where there are any.
fn first_few(codes: impl Iterator<Item = impl Display>) -> Option<String> {
    const FEW: usize = 3;
    let codes: Vec<String> = codes.map(|code| code.to_string()).collect();
    let few = codes.get(..FEW).unwrap_or(&codes).join(", ");
    match codes.len().saturating_sub(FEW) {
        _ if codes.is_empty() => None,
        0 => Some(few),
        more => Some(format!("{few} and {more} more")),
    }
}
