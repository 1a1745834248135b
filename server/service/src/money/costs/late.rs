//! Bills that came too late to be a cost of a garment.

use crate::{
    desk::{Desk, failure::Done},
    shelf::lots::went,
};
use ellwand_domain::{code::BookingCode, quantity::Millionths, setting::BookingKind};
use ellwand_storage::{Garment, Subject};

/// Bills for its material that came once it was finished: they are no cost of it.
pub(crate) fn billed_late(desk: &mut Desk<'_>, garment: &Garment) -> Done<Vec<String>> {
    let finished =
        desk.tx
            .standing_bookings(Subject::Garment, garment.id, BookingKind::Finished)?;
    let Some(finished) = finished.first() else {
        return Ok(Vec::new());
    };
    let mut notes = Vec::new();
    for (charge, value) in went::charged_after(desk, garment.id, finished.id)? {
        let (code, size) = (
            BookingCode::new(charge.id),
            Millionths::new(value.get().abs())?,
        );
        let (what, changes) = if value.get() < 0 {
            ("a credit", "takes off its material")
        } else {
            ("a bill", "adds to its material")
        };
        notes.push(format!(
            "{what} after it was finished ({code}, {}) {changes} {}: an adjustment, not in these figures",
            charge.on_date,
            desk.context.printed(size)
        ));
    }
    Ok(notes)
}
