//! A purchase as it is shown.

use super::charge::{KeptShare, from_json};
use crate::{
    desk::{Desk, detail::Detail, failure::Done},
    shelf::shelved::{LotRecord, amount},
};
use ellwand_contract::{
    Micro,
    purchases::{Purchase, PurchaseCharge, PurchaseLine},
};
use ellwand_domain::{
    code::{BookingCode, LotCode, PieceCode, PurchaseCode, SupplierCode},
    ledger::Quantity,
    quantity::{Currency, Millionths, Money},
};
use ellwand_storage::{Supplier, Tx};

/// The supplier of a row.
pub(super) fn supplier(tx: &mut Tx<'_>, id: Option<i64>) -> Done<Option<Supplier>> {
    match id {
        Some(id) => Ok(tx.supplier(id)?),
        None => Ok(None),
    }
}

/// The purchase with its lines, charges and remarks.
pub(super) fn view(desk: &mut Desk<'_>, row: &ellwand_storage::Purchase) -> Done<Purchase> {
    let currency = currency(&row.currency)?;
    let supplier = supplier(desk, row.supplier_id)?;
    let mut notes: Vec<String> = from_json("the remarks of a purchase", &row.remarks)?;
    notes.extend(row.note.iter().cloned());
    if let Some(undo) = row.undone_by {
        notes.push(format!("taken back by {}", BookingCode::new(undo)));
    }
    let mut lines = Vec::new();
    for line in desk.tx.purchase_lines(row.id)? {
        lines.push(view_line(desk, &line, currency)?);
    }
    let (mut charges, mut reclaimed) = (Vec::new(), 0_i64);
    let mut invoice_home = Millionths::new(row.home_value)?;
    for charge in desk.tx.purchase_charges(row.id)? {
        let home = match charge.late && !charge.reclaimed {
            true => late_home(desk, charge.booking_id)?,
            false => None,
        };
        if charge.reclaimed && charge.currency == row.currency {
            reclaimed = reclaimed.saturating_add(charge.amount_minor);
        } else if charge.reclaimed {
            let tax = decimal(charge.amount_minor, self::currency(&charge.currency)?);
            notes.push(format!(
                "{tax} {} of late tax is reclaimed as well",
                charge.currency
            ));
        }
        invoice_home = invoice_home.minus(home.unwrap_or_default())?;
        charges.push(view_charge(&charge, home)?);
    }
    Ok(Purchase {
        purchase: PurchaseCode::new(row.id),
        booking: BookingCode::new(row.booking_id),
        supplier_code: supplier
            .as_ref()
            .map(|supplier| SupplierCode::new(supplier.id)),
        supplier: supplier.map(|supplier| supplier.name),
        date: row.on_date,
        invoice: row.invoice.clone(),
        opening: row.opening,
        currency: row.currency.clone(),
        rate: row.rate.clone(),
        invoice_total: decimal(row.invoice_minor, currency),
        reclaimed_total: decimal(reclaimed, currency),
        invoice_home: Micro(invoice_home),
        home_currency: desk.context.currency.code().to_owned(),
        home_total: Micro(Millionths::new(row.home_value)?),
        lines,
        charges,
        notes,
    })
}

/// A currency that the book holds.
pub(super) fn currency(code: &str) -> Done<Currency> {
    Ok(code.parse().map_err(|_| {
        let detail = format!("a purchase is in {code}, which is no currency");
        ellwand_contract::Problem::new(ellwand_contract::ProblemType::Internal, detail)
    })?)
}

fn decimal(minor: i64, currency: Currency) -> String {
    Money { minor, currency }.decimal()
}

fn view_line(
    tx: &mut Tx<'_>,
    line: &ellwand_storage::PurchaseLine,
    currency: Currency,
) -> Done<PurchaseLine> {
    let record = LotRecord::load(tx, line.lot_id)?;
    let lot = LotCode::new(line.lot_id);
    let pieces = tx.pieces_of_lot(line.lot_id)?;
    Ok(PurchaseLine {
        lot,
        pieces: pieces
            .iter()
            .map(|piece| PieceCode {
                lot,
                number: piece.number,
            })
            .collect(),
        measured: amount(record.is_counted(), Quantity::new(line.quantity)?),
        name: record.material.name,
        paid: record.lot.paid,
        price: (!record.lot.unpriced).then(|| decimal(line.price_minor, currency)),
        estimated: record.lot.value_estimated,
        invoice_amount: decimal(line.amount_minor, currency),
        landed: Micro(Millionths::new(line.landed)?),
    })
}

/// What the late charge of a booking came to in the workshop's currency.
fn late_home(tx: &mut Tx<'_>, booking: i64) -> Done<Option<Millionths>> {
    let Some(booking) = tx.booking(booking)? else {
        return Ok(None);
    };
    match Detail::of(&booking)? {
        Detail::Charged { home, .. } => Ok(Some(Millionths::new(home)?)),
        _ => Ok(None),
    }
}

fn view_charge(
    charge: &ellwand_storage::PurchaseCharge,
    home: Option<Millionths>,
) -> Done<PurchaseCharge> {
    let currency = currency(&charge.currency)?;
    let share: KeptShare = from_json("the key of a charge", &charge.share)?;
    let shares: Vec<i64> = from_json("the shares of a charge", &charge.shares)?;
    Ok(PurchaseCharge {
        kind: charge.kind,
        amount: decimal(charge.amount_minor, currency),
        currency: charge.currency.clone(),
        share: share.key,
        late: charge.late,
        home: home.map(Micro),
        shares: shares
            .into_iter()
            .map(|share| decimal(share, currency))
            .collect(),
        reclaimed: charge.reclaim_by.map(|_| charge.reclaimed),
        reclaim_by: charge.reclaim_by,
        reclaim_from: charge.reclaim_from,
    })
}
