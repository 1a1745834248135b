//! Refusals of the ledger in the user's words, naming who holds the rest.

use super::{need_of, row};
use crate::{context::Context, failure::Done, shelved::Shelved};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::{LedgerError, Quantity},
};
use ellwand_storage::Tx;

/// Tells a refusal of the ledger in the user's words, naming who holds the rest.
pub(crate) fn refusal(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    what_for: &str,
    error: &LedgerError,
) -> Done<Problem> {
    let code = shelved.code();
    let show = |quantity: Quantity| shelved.show(context, quantity);
    Ok(match error {
        LedgerError::ExceedsOnHand { wanted, on_hand } => Problem::new(
            ProblemType::ExceedsOnHand,
            format!("{code} has {}, {what_for} needs {}", show(*on_hand), show(*wanted)),
        )
        .hint("choose another piece; if it measures otherwise, say so with ellwand lot measure")
        .with("wanted", wanted.get())
        .with("on_hand", on_hand.get()),
        LedgerError::ExceedsAvailable { wanted, free, longest_free, held_by } => {
            let mut holders = Vec::new();
            for id in held_by {
                let row = row(tx, *id)?;
                let (garment, need) = need_of(tx, &row)?;
                let held = show(Quantity::new(row.held)?);
                let (garment, id) = (GarmentCode::new(garment.id), ReservationCode::new(*id));
                holders.push(format!("{id} holds {held} for the {} of {garment}", need.row.role));
            }
            let mut detail =
                format!("{code} has {} free, {what_for} needs {}", show(*longest_free), show(*wanted));
            if !holders.is_empty() {
                detail = format!("{detail}; {}", holders.join(", "));
            }
            Problem::new(ProblemType::ExceedsAvailable, detail)
                .hint("choose another piece, or release a promise first")
                .with("wanted", wanted.get())
                .with("free", free.get())
                .with("longest_free", longest_free.get())
                .with(
                    "held_by",
                    held_by.iter().map(|id| ReservationCode::new(*id).to_string()).collect::<Vec<_>>(),
                )
        }
        LedgerError::CrossesFlaw { wanted, longest_free } => Problem::new(
            ProblemType::CrossesFlaw,
            format!(
                "{code} has no {} free without a flaw, the longest is {}; {what_for} needs it in one length",
                show(*wanted),
                show(*longest_free)
            ),
        )
        .hint("choose another piece, or reserve the parts of the need apart")
        .with("wanted", wanted.get())
        .with("longest_free", longest_free.get()),
        LedgerError::BeyondEnd { at, on_hand } => Problem::new(
            ProblemType::ExceedsOnHand,
            format!("{} is beyond the end of {code}, which has {}", show(*at), show(*on_hand)),
        )
        .hint("positions run from the outer end"),
        LedgerError::TooWide { wanted, usable } => Problem::new(
            ProblemType::DoesNotServe,
            format!("the panel is {} wide, {code} has {} usable", show(*wanted), show(*usable)),
        )
        .hint("choose a wider piece, or turn the panel"),
        LedgerError::NoSuchPromise => {
            Problem::new(ProblemType::WrongState, format!("{code} holds no such promise any more"))
                .hint("see the garment for its promises")
        }
        LedgerError::Zero | LedgerError::NotARectangle | LedgerError::Quantity(_) => {
            Problem::new(ProblemType::InvalidValue, format!("{code}: {error}"))
        }
    })
}
