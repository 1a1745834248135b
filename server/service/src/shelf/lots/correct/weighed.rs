//! Lengths by weight that follow the figures they were worked out with.

use super::widths::Widths;
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, invalid},
    },
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_contract::sheets::Sheet;
use ellwand_domain::{
    cloth::{self, ClothError},
    ledger::{Account, Quantity},
    purchase::Paid,
    quantity::{Micrometres, Milligrams},
    setting::BookingKind,
    thread,
    weighed::{Weight, length_anew},
};
use ellwand_storage::{StoredPiece, Tx};
use std::collections::BTreeMap;

/// Where the length of a piece comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum From {
    /// What its purchase weighed.
    Receipt,
    /// What it weighed later.
    Scales,
    /// It was cut or split since.
    Cut,
}

/// Lengths that were worked out from a mass, as they are by the sheet now: those that change, by piece. A piece that was cut
/// since keeps its length, and a note says so.
pub(super) fn anew(
    desk: &mut Desk<'_>,
    record: &LotRecord,
    older: &Sheet,
    widths: &Widths,
    notes: &mut Vec<String>,
) -> Done<BTreeMap<i64, Quantity>> {
    let mut lengths = BTreeMap::new();
    let mut reels = Vec::new();
    let pieces = desk.tx.pieces_of_lot(record.lot.id)?;
    let weighed = |stored: &&StoredPiece| stored.estimated && !stored.piece.quantity.is_zero();
    for stored in pieces.iter().filter(weighed) {
        let Some((was, now)) = weights(record, older, stored, widths)? else {
            continue;
        };
        let from = origin(desk, stored.piece.id)?;
        let heavier = heavier(record, older, stored, from)?;
        if was == now && heavier == 0 {
            continue;
        }
        let shelved = Shelved {
            stored: stored.clone(),
            record: record.clone(),
        };
        if from == From::Cut {
            let (code, length) = (
                shelved.code(),
                shelved.show(desk.context, stored.piece.quantity),
            );
            notes.push(format!(
                "{code} has been cut since it was weighed and keeps its {length}: weigh or measure it"
            ));
            continue;
        }
        let length = Micrometres::new(stored.piece.quantity.get())?;
        let anew =
            length_anew(length, was, now, heavier).map_err(|error| refuse(&shelved, &error))?;
        lengths.insert(stored.piece.id, Quantity::from(anew));
        if from == From::Receipt {
            reels.push((stored.piece.id, length, (was, now, heavier)));
        }
    }
    if reels.len() == pieces.len() && reels.len() > 1 {
        lengths.extend(together(&reels).unwrap_or_default());
    }
    lengths.retain(|id, length| {
        !pieces
            .iter()
            .any(|stored| stored.piece.id == *id && stored.piece.quantity == *length)
    });
    Ok(lengths)
}

/// Reels that were weighed together share what they hold anew, as when they came.
fn together(reels: &[(i64, Micrometres, (Weight, Weight, i64))]) -> Option<Vec<(i64, Quantity)>> {
    let (_, _, (was, now, heavier)) = *reels.first()?;
    let count = i64::try_from(reels.len()).ok()?;
    let mut all = Micrometres::ZERO;
    for (_, length, _) in reels {
        all = all.plus(*length).ok()?;
    }
    let anew = length_anew(all, was, now, heavier.checked_mul(count)?).ok()?;
    let shares = thread::over_reels(anew, count).ok()?;
    Some(
        reels
            .iter()
            .zip(shares)
            .map(|((id, ..), share)| (*id, share.into()))
            .collect(),
    )
}

/// What the length of a piece weighed by the sheet as it was, and by the sheet as it is.
fn weights(
    record: &LotRecord,
    older: &Sheet,
    stored: &StoredPiece,
    widths: &Widths,
) -> Done<Option<(Weight, Weight)>> {
    let Some(rectangle) = stored.piece.rectangle else {
        let counts = older.count().zip(record.sheet.count());
        return Ok(counts.map(|(was, now)| (Weight::Thread(was), Weight::Thread(now))));
    };
    let Some((was, now)) = older.mass_gsm.zip(record.sheet.mass_gsm) else {
        return Ok(None);
    };
    let factor = stored.mass_factor_ppm;
    let wide = widths.get(&stored.piece.id).unwrap_or(&rectangle).full;
    let of = |mass, full_width| -> Done<_> {
        Ok(Weight::Cloth {
            mass: cloth::mass_now(mass, factor)?,
            full_width,
        })
    };
    Ok(Some((of(was.0, rectangle.full)?, of(now.0, wide)?)))
}

/// By how much an empty reel, or the core of a roll that was weighed, is heavier than it was taken for, where the sheet said what it weighs.
fn heavier(record: &LotRecord, older: &Sheet, stored: &StoredPiece, from: From) -> Done<i64> {
    let net = || {
        let paid = record
            .lot
            .paid
            .as_deref()
            .and_then(|text| Paid::parse(text, false).ok());
        from == From::Receipt && matches!(paid, Some(Paid::Mass(_)))
    };
    let unweighed = stored.piece.rectangle.is_some() && from != From::Scales;
    if unweighed || stored.tare.is_some() || net() {
        return Ok(0);
    }
    let grams = |sheet: &Sheet| -> Done<i64> {
        let tare = sheet
            .tare_g
            .as_deref()
            .map(Milligrams::from_decimal_g)
            .transpose()?;
        Ok(tare.map_or(0, Milligrams::get))
    };
    Ok(grams(&record.sheet)? - grams(older)?)
}

/// Where a piece's length comes from: what moved it last, corrections of its sheet apart.
fn origin(tx: &mut Tx<'_>, piece: i64) -> Done<From> {
    let moved = tx
        .movements_at(Account::piece(piece))?
        .into_iter()
        .map(|(stored, _)| stored);
    let moved = moved.filter(|line| {
        !line.movement.quantity_out.is_zero() || !line.movement.quantity_in.is_zero()
    });
    let bookings: Vec<i64> = moved.map(|line| line.booking).collect();
    let undone = tx.undone_among(&bookings)?;
    let stands = |id: &&i64| {
        !undone
            .iter()
            .any(|(first, second)| *id == first || *id == second)
    };
    for id in bookings.iter().filter(stands).rev() {
        match tx.booking(*id)?.map(|booking| booking.kind) {
            Some(BookingKind::Edited) => {}
            Some(BookingKind::Bought) => return Ok(From::Receipt),
            Some(BookingKind::Measured) => return Ok(From::Scales),
            _ => return Ok(From::Cut),
        }
    }
    Ok(From::Receipt)
}

fn refuse(shelved: &Shelved, error: &ClothError) -> Failure {
    let detail = format!(
        "{} was bought or measured by its weight, and {error}",
        shelved.code()
    );
    ellwand_contract::Problem::from(invalid("sheet", detail))
        .hint("check the figure, or measure the piece with ellwand lot measure first")
        .into()
}
