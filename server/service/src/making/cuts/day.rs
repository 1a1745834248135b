//! A cut that is booked for an earlier day must have been possible then and since.

use super::Case;
use crate::desk::{Desk, failure::Done};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::ledger::{Account, Quantity};

/// Refuses a business date on which the piece was not there, or a day since on which it would go negative.
pub(super) fn check_day(desk: &mut Desk<'_>, case: &Case<'_>, quantity: Quantity) -> Done<()> {
    case.shelved.check_day(case.day)?;
    if case.day >= case.shelved.stored.last_on {
        return Ok(());
    }
    let account = Account::piece(case.shelved.stored.piece.id);
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
        if ends_the_day && *day >= case.day {
            least = least.min(balance);
        }
    }
    // Days before the cut's own: the balance that it found.
    let found: i64 = days
        .iter()
        .filter(|(day, _)| *day <= case.day)
        .map(|(_, change)| change)
        .sum();
    let least = least.min(found);
    if least < quantity.get() {
        let (had, wanted) =
            case.shelved
                .show_beside(desk.context, Quantity::new(least.max(0))?, quantity);
        let detail = format!(
            "cutting {wanted} on {} does not fit: {} would have had only {had}",
            case.day,
            case.shelved.code()
        );
        return Err(Problem::new(ProblemType::InvalidDate, detail)
            .field("date")
            .hint("choose a later day")
            .with("day", case.day.to_string())
            .with("wanted", quantity.get())
            .with("on_hand", least.max(0))
            .into());
    }
    Ok(())
}
