//! Widths of pieces that follow those of their lot's sheet.

use super::history::History;
use crate::{
    desk::failure::Done,
    promises::internal,
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{ledger::Rectangle, quantity::Micrometres};
use ellwand_storage::{StoredPiece, Tx};
use std::collections::BTreeMap;

/// By piece.
pub(crate) type Widths = BTreeMap<i64, Rectangle>;

fn rectangle(sheet: &Sheet) -> Option<Rectangle> {
    let full = sheet.full_width_m?.0;
    Some(Rectangle {
        full,
        selvedges: sheet.selvedges_m.unwrap_or_default().0,
    })
}

/// What the pieces of a lot measure across now that its sheet says other widths; those that stay as they are, too.
///
/// A full width that was measured stays. One that the sheet gave follows it, and so does what was worked out from that: after
/// a wash of which the width was computed, and of the strip beside a panel. Selvedges always come from the sheet.
pub(crate) fn anew(tx: &mut Tx<'_>, record: &LotRecord, older: &Sheet) -> Done<Widths> {
    let mut widths = Widths::new();
    let (Some(was), Some(now)) = (rectangle(older), rectangle(&record.sheet)) else {
        return Ok(widths);
    };
    if was == now {
        return Ok(widths);
    }
    let history = History::load(tx, record.lot.id)?;
    let mut pieces = tx.pieces_of_lot(record.lot.id)?;
    // What came from another piece has the higher number.
    pieces.sort_by_key(|stored| stored.piece.id);
    for stored in &pieces {
        let Some(before) = stored.piece.rectangle else {
            continue;
        };
        let full =
            full_width(&history, &pieces, stored, (was, now), &widths)?.unwrap_or(before.full);
        let after = match was.selvedges == now.selvedges && full == before.full {
            true => before,
            false => {
                let changed = history.changed(stored, &pieces);
                let shelved = || Shelved {
                    stored: stored.clone(),
                    record: record.clone(),
                };
                Rectangle::with_selvedges(full, now.selvedges, changed)
                    .map_err(|error| internal(&shelved(), &error))?
            }
        };
        widths.insert(stored.piece.id, after);
    }
    Ok(widths)
}

/// The full width of a piece that follows the sheet; none where it was measured.
fn full_width(
    history: &History,
    pieces: &[StoredPiece],
    stored: &StoredPiece,
    (was, now): (Rectangle, Rectangle),
    widths: &Widths,
) -> Done<Option<Micrometres>> {
    let (Some(full), Some(first)) = (
        stored.piece.rectangle.map(|before| before.full),
        history.first_width(stored),
    ) else {
        return Ok(None);
    };
    let origin = history.origin(stored.piece.id);
    let panel = origin.and_then(|origin| origin.panel).unwrap_or_default();
    let beside = first.plus(panel)?;
    let from_parent = origin.and_then(|origin| {
        let parent = pieces
            .iter()
            .find(|other| other.piece.id == origin.parent)?;
        let same = parent
            .piece
            .rectangle
            .is_some_and(|before| before.full == beside);
        widths
            .get(&origin.parent)
            .filter(|_| same)
            .map(|after| after.full)
    });
    let parent = match from_parent {
        Some(width) => width,
        None if beside == was.full => now.full,
        None => return Ok(None),
    };
    let anew = parent.less(panel);
    if anew.is_zero() {
        // A panel as wide as the cloth leaves no strip: what lies there was not as the sheet says.
        return Ok(None);
    }
    Ok(Some(anew.scale_down(full.get(), first.get())?))
}
