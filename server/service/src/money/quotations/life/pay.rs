//! Logging payments; nothing is collected.

use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure, all_or_none, invalid, wrong_state},
    perform::Perform,
};
use crate::money::quotations::{cash, internal, refused, row, show};
use chrono::NaiveDate;
use ellwand_contract::text::{NOTE, clean_text};
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{LogPayment, Quotation as View},
};
use ellwand_domain::{
    code::{BookingCode, QuotationCode},
    pricing::{Schedule, Standing},
    quantity::Money,
    setting::{BookingKind, QuotationState},
};
use ellwand_storage::{Payment, Quotation, Subject, Tx};

impl Perform for LogPayment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let (code, quotation) = (self.quotation, row(desk, self.quotation)?);
        // What goes back after a cancellation is logged, too.
        let agreed = matches!(
            quotation.state,
            QuotationState::Accepted | QuotationState::Cancelled
        );
        let Some(accepted) = quotation.accepted.filter(|_| agreed) else {
            let detail = format!(
                "{code} is {}, so there is nothing to pay on it",
                quotation.state
            );
            let todo = format!("accept it first: ellwand quote accept {code}");
            return Err(wrong_state(detail, &todo)
                .naming("quotation", code)
                .naming("state", quotation.state));
        };
        let agreed = show::frozen(desk, &quotation, accepted)?;
        let currency = agreed.basis.currency;
        let money = Money::parse_signed(&self.amount, Some(currency));
        let money = money.map_err(|error| invalid("amount", error.to_string()))?;
        if money.minor == 0 {
            return Err(invalid("amount", "a payment of zero changes nothing"));
        }
        let day = desk.context.day(self.date)?;
        let schedule = agreed.basis.schedule()?;
        let rounding = match cash::step(agreed.basis.cash_step, currency)? {
            Some(step) if self.cash => cash::rounding(desk, &quotation, &schedule, step, money)?,
            _ => 0,
        };
        all_or_none([
            check(self, desk, &quotation, &schedule, (money, rounding)),
            check_twice(self, desk, &quotation, money, day),
        ])?;
        let booking = desk.next_booking()?;
        desk.tx.insert_payment(&Payment {
            booking_id: booking,
            quotation_id: quotation.id,
            minor: money.minor,
            on_date: day,
            note: clean_text("note", "note", NOTE, self.note.as_ref())?,
            cash: self.cash,
            rounding_minor: rounding,
        })?;
        let what = match (money.minor < 0, self.cash) {
            (false, false) => "a payment",
            (false, true) => "a payment in cash",
            (true, false) => "a payment back",
            (true, true) => "a payment back in cash",
        };
        let mut entry = Entry::new(BookingKind::Paid, day, format!("Logged {what} on {code}."));
        entry
            .subjects
            .push((Subject::Garment, quotation.garment_id));
        desk.book(booking, entry)?;
        show::view(desk, code, Some(accepted), Some(booking))
    }
}

/// Refuses what goes back beyond what came in but for the rounding of cash, and what comes in beyond the whole unless it is meant.
fn check(
    request: &LogPayment,
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    schedule: &Schedule,
    (money, rounding): (Money, i64),
) -> Done<()> {
    let before = cash::sums(&tx.payments(quotation.id)?);
    let paid = before.paid.saturating_add(money.minor);
    let settled = before
        .settled
        .saturating_add(money.minor)
        .saturating_add(rounding);
    let in_all = |minor: i64| Money { minor, ..money };
    let left = in_all(paid.max(settled));
    schedule.standing(0, &[left]).map_err(refused("amount"))?;
    let standing = schedule.standing(0, &[in_all(settled.max(0))]);
    let standing = standing.map_err(internal)?;
    if money.minor > 0 && standing.over.minor > 0 && !request.really {
        return Err(too_much(tx, quotation, &standing)?.into());
    }
    Ok(())
}

/// Asks about a payment that was logged already: the same amount, a day apart at most.
fn check_twice(
    request: &LogPayment,
    tx: &mut Tx<'_>,
    quotation: &Quotation,
    money: Money,
    day: NaiveDate,
) -> Done<()> {
    let rows = tx.payments(quotation.id)?;
    let is_same = |row: &&Payment| {
        row.minor == money.minor && (row.on_date - day).num_days().unsigned_abs() <= 1
    };
    let Some(row) = rows.iter().find(is_same).filter(|_| !request.really) else {
        return Ok(());
    };
    let (code, booking) = (
        QuotationCode::new(quotation.id),
        BookingCode::new(row.booking_id),
    );
    let detail = format!(
        "{money} was already logged on {code}, for {} ({booking})",
        row.on_date
    );
    Err(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("amount")
        .hint("if it was paid twice, confirm with --really")
        .with("booking", booking.to_string())
        .into())
}

/// Refuses a payment beyond the whole.
fn too_much(tx: &mut Tx<'_>, quotation: &Quotation, standing: &Standing) -> Done<Problem> {
    let code = QuotationCode::new(quotation.id);
    let detail = format!(
        "with it {} would be paid on {code}, {} more than its total",
        standing.paid, standing.over
    );
    let accepted = |row: &Quotation| row.state == QuotationState::Accepted;
    let supplement = tx.supplements(quotation.id)?.into_iter().find(accepted);
    let hint = match supplement.map(|row| QuotationCode::new(row.id)) {
        Some(other) => {
            format!("log what is for {other} on that; if it is right, confirm with --really")
        }
        None => {
            "check what is logged with ellwand quote show; if it is right, confirm with --really"
                .to_owned()
        }
    };
    let over = standing.over.decimal();
    Ok(Problem::new(ProblemType::NeedsConfirmation, detail)
        .field("amount")
        .hint(hint)
        .with("over", over))
}
