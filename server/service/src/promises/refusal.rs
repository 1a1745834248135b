//! Refusals of the ledger in the user's words, naming who holds the rest.

use super::{need_of, row};
use crate::{
    desk::{Desk, failure::Done},
    shelf::shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::{LedgerError, Quantity},
};

/// Tells a refusal of the ledger in the user's words, naming who holds the rest.
pub(crate) fn refusal(
    desk: &mut Desk<'_>,
    shelved: &Shelved,
    what_for: &str,
    error: &LedgerError,
) -> Done<Problem> {
    let code = shelved.code();
    // What is short is seen, however little it is.
    let beside =
        |has: &Quantity, wanted: &Quantity| shelved.show_beside(desk.context, *has, *wanted);
    Ok(match error {
        LedgerError::ExceedsOnHand { wanted, on_hand } => {
            let (has, needs) = beside(on_hand, wanted);
            Problem::new(
                ProblemType::ExceedsOnHand,
                format!("{code} has {has}; {what_for} needs {needs}"),
            )
            .hint("choose another piece with --from, or correct this one with ellwand lot measure")
            .with("wanted", wanted.get())
            .with("on_hand", on_hand.get())
        }
        LedgerError::ExceedsAvailable {
            wanted,
            free,
            longest_free,
            held_by,
        } => short(desk, shelved, what_for, (*wanted, *longest_free), held_by)?
            .with("wanted", wanted.get())
            .with("free", free.get())
            .with("longest_free", longest_free.get()),
        LedgerError::CrossesFlaw {
            wanted,
            longest_free,
        } => {
            let (longest, needs) = beside(longest_free, wanted);
            Problem::new(
                ProblemType::CrossesFlaw,
                format!(
                    "{what_for} needs {needs} in one length; the longest of {code} free of flaws is {longest}"
                ),
            )
            .hint("choose another piece with --from, or a part of it with --washed-length")
            .with("wanted", wanted.get())
            .with("longest_free", longest_free.get())
        }
        LedgerError::BeyondEnd { at, on_hand } => {
            let (wanted, (has, at)) = (at, beside(on_hand, at));
            Problem::new(
                ProblemType::ExceedsOnHand,
                format!("{at} is beyond the end of {code}, which has {has}"),
            )
            .hint("measure from the outer end, for example --at 1.20m")
            .with("wanted", wanted.get())
            .with("on_hand", on_hand.get())
        }
        LedgerError::TooWide { wanted, usable } => {
            let (width, narrow) = (wanted, usable);
            let (usable, wanted) = beside(usable, wanted);
            Problem::new(
                ProblemType::DoesNotServe,
                format!("the panel is {wanted} wide; {code} has {usable} usable"),
            )
            .hint("choose a wider piece with --from, or turn the panel")
            .with("wanted_um", width.get())
            .with("usable_um", narrow.get())
        }
        LedgerError::NoSuchPromise => Problem::new(
            ProblemType::WrongState,
            format!("{code} no longer holds that promise"),
        )
        .hint("see ellwand garment list, then ellwand garment promises for the garment")
        .with("piece", code.to_string()),
        LedgerError::Zero | LedgerError::NotARectangle | LedgerError::Quantity(_) => {
            Problem::new(ProblemType::InvalidValue, format!("{code}: {error}"))
        }
    })
}

/// Too little is free in one length: who holds the rest.
fn short(
    desk: &mut Desk<'_>,
    shelved: &Shelved,
    what_for: &str,
    (wanted, longest_free): (Quantity, Quantity),
    held_by: &[i64],
) -> Done<Problem> {
    let code = shelved.code();
    let holders = holders(desk, shelved, held_by)?;
    let codes: Vec<String> = held_by
        .iter()
        .map(|id| ReservationCode::new(*id).to_string())
        .collect();
    let held = match codes.as_slice() {
        [] => "a promise on it (ellwand shelf shows what is reserved)".to_owned(),
        held => format!("what holds it: ellwand release {}", held.join(" ")),
    };
    let (mut detail, hint) = if wanted.is_zero() {
        // Its own promise covers the cut, and there it leaves too little in one length for the others.
        (
            format!(
                "{what_for} cannot be cut there: no length left of {code} would hold what is promised"
            ),
            format!("choose another --at or --end, or release {held}"),
        )
    } else {
        let (has, needs) = shelved.show_beside(desk.context, longest_free, wanted);
        (
            format!("{code} has {has} free; {what_for} needs {needs}"),
            format!("choose another piece with --from, or release {held}"),
        )
    };
    if !holders.is_empty() {
        detail = format!("{detail} ({})", holders.join(", "));
    }
    Ok(Problem::new(ProblemType::ExceedsAvailable, detail)
        .hint(hint)
        .with("held_by", codes))
}

/// `R1 holds 2.05 m for the shell of G1`.
fn holders(desk: &mut Desk<'_>, shelved: &Shelved, held_by: &[i64]) -> Done<Vec<String>> {
    let mut holders = Vec::with_capacity(held_by.len());
    for id in held_by {
        let row = row(desk, *id)?;
        let (garment, need) = need_of(desk, &row)?;
        let held = shelved.show_taken(desk.context, Quantity::new(row.held)?);
        let (garment, id) = (GarmentCode::new(garment.id), ReservationCode::new(*id));
        holders.push(format!(
            "{id} holds {held} for the {} of {garment}",
            need.row.role
        ));
    }
    Ok(holders)
}
