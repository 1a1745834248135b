//! Purchases: lines that become lots, charges that join their cost.

mod buy;
mod came;
pub(crate) mod charge;
mod gains;
mod late;
mod line;
mod opening;
mod price;
mod rate;
mod receive;
mod reclaim;
mod reels;
mod twice;
mod view;

use crate::desk::{
    Desk,
    context::Context,
    failure::{Done, Failure, invalid, not_found, too_early, wrong_state},
    page,
    perform::Perform,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Meta, Micro, Problem,
    purchases::{GetPurchase, ListPurchases, Purchase, PurchaseHead, Purchases},
};
use ellwand_domain::{
    code::{BookingCode, PurchaseCode},
    ledger::{Account, AccountKind},
    purchase::{Conversion, LandError},
    quantity::{Currency, Millionths, Rate},
};
use ellwand_storage::Tx;

/// Rows of a page of purchases, when none are asked for.
const USUAL_ROWS: u32 = 50;
/// Rows of a page of purchases, at most.
const MOST_ROWS: u32 = 200;

impl Perform for GetPurchase {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchase, Failure> {
        let row = load(desk, self.purchase)?;
        view::view(desk, &row)
    }
}

impl Perform for ListPurchases {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Purchases, Failure> {
        let limit = i64::from(page::rows(self.limit, USUAL_ROWS, MOST_ROWS)?);
        let before = match &self.after {
            None => i64::MAX,
            Some(cursor) => {
                let wrong = || {
                    page::refused(
                        "after",
                        format!("\"{cursor}\" is not a cursor of the purchases"),
                    )
                };
                cursor.parse::<PurchaseCode>().map_err(|_| wrong())?.get()
            }
        };
        let mut rows = desk.tx.purchases(before, limit + 1)?;
        let more = i64::try_from(rows.len()).is_ok_and(|found| found > limit);
        if more {
            rows.pop();
        }
        let next = rows
            .last()
            .filter(|_| more)
            .map(|row| PurchaseCode::new(row.id).to_string());
        let mut purchases = Vec::with_capacity(rows.len());
        for row in rows {
            purchases.push(PurchaseHead {
                purchase: PurchaseCode::new(row.id),
                supplier: view::supplier(desk, row.supplier_id)?.map(|supplier| supplier.name),
                date: row.on_date,
                invoice: row.invoice,
                opening: row.opening,
                home_total: Micro(Millionths::new(row.home_value)?),
                taken_back: row.undone_by.is_some(),
            });
        }
        Ok(Purchases {
            purchases,
            meta: Meta { next },
        })
    }
}

/// The purchase of a code.
fn load(tx: &mut Tx<'_>, code: PurchaseCode) -> Done<ellwand_storage::Purchase> {
    tx.purchase(code.get())?
        .ok_or_else(|| not_found(format!("purchase {code}"), "see ellwand buy list"))
}

/// Where the goods of a purchase come from.
fn source(row: &ellwand_storage::Purchase) -> Account {
    let kind = match row.opening {
        true => AccountKind::Opening,
        false => AccountKind::Supplier,
    };
    Account::new(kind, row.id)
}

/// The purchase of a code, refused where it was taken back.
fn load_standing(tx: &mut Tx<'_>, code: PurchaseCode) -> Done<ellwand_storage::Purchase> {
    let row = load(tx, code)?;
    let Some(undo) = row.undone_by else {
        return Ok(row);
    };
    let undo = BookingCode::new(undo);
    let detail = format!("{code} was taken back by {undo}");
    Err(wrong_state(detail, "log the purchase again")
        .naming("purchase", code)
        .naming("booking", undo))
}

/// The day of what comes after a purchase, today where none is said; refused before its goods came.
fn day_of(
    context: &Context<'_>,
    date: Option<NaiveDate>,
    row: &ellwand_storage::Purchase,
) -> Done<NaiveDate> {
    let day = context.day(date)?;
    if day >= row.on_date {
        return Ok(day);
    }
    let (code, came) = (PurchaseCode::new(row.id), row.on_date);
    let detail = format!("{code} had not come in on {day}: it came in on {came}");
    Err(too_early(detail, day, came))
}

/// Currency of an invoice: the workshop's, unless another is named.
fn currency_of(context: &Context<'_>, text: Option<&str>) -> Done<Currency> {
    match text {
        None => Ok(context.currency),
        Some(text) => text
            .parse()
            .map_err(|error| invalid("currency", format!("{error}"))),
    }
}

/// A day's rate.
fn rate_of(text: &str) -> Done<Rate> {
    text.parse()
        .map_err(|error| invalid("rate", format!("{error}")))
}

/// Conversion at a day's rate, or none within the workshop's own currency.
fn conversion(context: &Context<'_>, currency: Currency, rate: Option<&str>) -> Done<Conversion> {
    let home_digits = context.currency.digits();
    match rate {
        Some(_) if currency == context.currency => Err(invalid(
            "rate",
            format!(
                "the invoice is in {currency}, the workshop's own currency, so it needs no rate"
            ),
        )),
        None if currency == context.currency => Ok(Conversion::Same {
            digits: home_digits,
        }),
        Some(text) => {
            let rate = rate_of(text)?.get();
            Ok(Conversion::Rate {
                rate,
                invoice_digits: currency.digits(),
                home_digits,
            })
        }
        None => {
            let detail = format!(
                "the invoice is in {currency}; the workshop's currency is {}",
                context.currency
            );
            let hint = format!(
                "give the day's rate: {} for one {currency}",
                context.currency
            );
            Err(Problem::from(invalid("rate", detail)).hint(hint).into())
        }
    }
}

/// Tells why an invoice cannot be landed, with the line or charge that is at fault.
fn refused(error: LandError) -> Failure {
    let line = |number: usize| format!("line[{}]", number.saturating_sub(1));
    let charge =
        |number: usize, field: &str| format!("charge[{}].{field}", number.saturating_sub(1));
    let field = match &error {
        LandError::NoLines => "line".to_owned(),
        LandError::NegativeLine { line: number, .. } => line(*number),
        LandError::NegativeTotal { line: number, .. } => format!("{}.price", line(*number)),
        LandError::MissingKey { charge: number, .. } => charge(*number, "share"),
        LandError::UnknownLine { charge: number, .. }
        | LandError::NoLinesNamed { charge: number } => charge(*number, "lines"),
        LandError::NotEarlier { charge: number, .. }
        | LandError::NegativeTaxedAmount { charge: number, .. } => charge(*number, "on"),
        LandError::DiscountNotNegative { charge: number, .. } => charge(*number, "amount"),
        LandError::RateNotPositive { .. } | LandError::RateTooFine { .. } => "rate".to_owned(),
        LandError::HomeContradicts { .. } => "home_amount".to_owned(),
        LandError::MoreThanBought
        | LandError::OtherLines { .. }
        | LandError::Allocation(_)
        | LandError::Quantity(_) => "charge".to_owned(),
    };
    let detail = match &error {
        LandError::NegativeTotal { line, .. } => {
            format!("line {line} would cost less than nothing after its charges")
        }
        other => other.to_string(),
    };
    invalid(&field, detail)
}
