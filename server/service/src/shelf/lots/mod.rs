//! Lots and their pieces.

pub(crate) mod correct;
mod edit;
mod flaw;
pub(crate) mod measure;
mod place;
pub(crate) mod show;
mod split;
mod weigh;
pub(crate) mod weights;
pub(crate) mod went;

use crate::{
    desk::{Desk, failure::Done},
    promises::{self, Settled},
    shelf::shelved::Shelved,
};
use ellwand_contract::lots::PieceChanged;
use ellwand_domain::code::BookingCode;

/// The answer of an act on a piece.
pub(crate) fn changed(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &Shelved,
    made: Vec<Shelved>,
    settled: Settled,
    mut notes: Vec<String>,
) -> Done<PieceChanged> {
    notes.extend(promises::notes(desk, &settled.broken)?);
    let mut views = Vec::with_capacity(made.len());
    for piece in &made {
        views.push(piece.view(desk.context.today)?);
    }
    Ok(PieceChanged {
        booking: BookingCode::new(booking),
        piece: shelved.view(desk.context.today)?,
        made: views,
        changed: promises::views(desk, &settled.changed)?,
        broken: promises::views(desk, &settled.broken)?,
        notes,
    })
}
