//! What is taken from a piece on an earlier day must have been there then and since.

use super::shelved::Shelved;
use crate::desk::{Desk, failure::Done};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::ledger::{Account, Quantity};

/// Refuses a business date on which the piece was not there, or a day since on which it would go negative without what is taken:
/// `("cutting", 2 m)`.
pub(crate) fn check(
    desk: &mut Desk<'_>,
    shelved: &Shelved,
    day: NaiveDate,
    (taking, quantity): (&str, Quantity),
) -> Done<()> {
    shelved.check_day(day)?;
    if day >= shelved.stored.last_on {
        return Ok(());
    }
    let least = least_since(desk, Account::piece(shelved.stored.piece.id), day)?;
    if least >= quantity.get() {
        return Ok(());
    }
    let (had, wanted) = shelved.show_beside(desk.context, Quantity::new(least.max(0))?, quantity);
    let detail = format!(
        "{taking} {wanted} on {day} does not fit: {} would have had only {had}",
        shelved.code()
    );
    Err(Problem::new(ProblemType::InvalidDate, detail)
        .field("date")
        .hint("choose a later day with --date")
        .with("day", day.to_string())
        .with("wanted", quantity.get())
        .with("on_hand", least.max(0))
        .into())
}

/// The least that the account held at the end of a day from this one on.
fn least_since(desk: &mut Desk<'_>, account: Account, since: NaiveDate) -> Done<i64> {
    let mut days: Vec<(NaiveDate, i64)> = Vec::new();
    for (stored, day) in desk.tx.movements_at(account)? {
        let change = match stored.movement.to == account {
            true => stored.movement.quantity_in.get(),
            false => -stored.movement.quantity_out.get(),
        };
        days.push((day, change));
    }
    days.sort_by_key(|(day, _)| *day);
    let mut balance = 0_i64;
    let mut least = i64::MAX;
    for (index, (day, change)) in days.iter().enumerate() {
        balance += change;
        let ends_the_day = days.get(index + 1).is_none_or(|next| next.0 != *day);
        if ends_the_day && *day >= since {
            least = least.min(balance);
        }
    }
    // Days before its own: the balance that it found.
    let found: i64 = days
        .iter()
        .filter(|(day, _)| *day <= since)
        .map(|(_, change)| change)
        .sum();
    Ok(least.min(found))
}
