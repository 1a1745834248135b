//! Whether quoted and booked lengths can be held against each other.
//!
//! A wash shortens the cloth and leaves its value: held against a raw length, both a smaller quantity and a higher price
//! would come of it, and mean nothing. What was quoted raw is shortened with its piece, or its length is not compared.

use super::{
    super::washed::{length_after, prepared_since},
    Agreed,
    lines::{Line, Lines, Side},
};
use crate::{
    desk::{Desk, failure::Done},
    money::costs::extent_text,
};
use ellwand_domain::{
    code::{BookingCode, LotCode},
    costing::{CostItem, Extent, LossReason},
    pricing::PriceGroup,
};
use ellwand_storage::{Booking, CutEntry, Garment, Tx};

/// Settles what lengths are compared with, and tells of other lots than were quoted.
pub(super) fn settle(
    desk: &mut Desk<'_>,
    agreed: &Agreed,
    garment: &Garment,
    lines: &mut Lines,
    notes: &mut Vec<String>,
) -> Done<()> {
    let cuts = cuts(desk, garment)?;
    let of_materials = |line: &&mut Line| line.group() == Some(PriceGroup::Materials);
    for line in lines.0.iter_mut().filter(of_materials) {
        let (Some(quoted), Some(actual)) = (line.cell(Side::Quoted), line.cell(Side::Actual))
        else {
            continue;
        };
        if quoted.lots.is_empty() || actual.lots.is_empty() {
            continue;
        }
        let name = &quoted.name;
        let strange: Vec<i64> = actual
            .lots
            .iter()
            .copied()
            .filter(|lot| !quoted.lots.contains(lot))
            .collect();
        if !strange.is_empty() {
            let (from, to) = (codes(&quoted.lots), codes(&strange));
            notes.push(format!("{name} was quoted from {from} and cut from {to}"));
        }
        // Of the quoted lots what was prepared before was quoted as it was; of others nothing is known.
        let since = if strange.is_empty() {
            agreed.booking
        } else {
            0
        };
        let lots: Vec<i64> = quoted.lots.iter().chain(&strange).copied().collect();
        let prepared = prepared_since(desk, &lots, since)?;
        if prepared.is_empty() {
            continue;
        }
        let shortened = match prepared.as_slice() {
            [one] if strange.is_empty() => shortened(desk, one, quoted, &cuts)?,
            _ => None,
        };
        notes.push(match shortened {
            Some(length) => {
                let text = extent_text(desk.context, Some(length))?.unwrap_or_default();
                let code = prepared.first().map_or(0, |booking| booking.id);
                let code = BookingCode::new(code);
                format!(
                    "{name} was quoted raw; after {code} as much is {text} long, which is what was allowed"
                )
            }
            None => format!(
                "{name}: lengths before and after a wash or steam are not compared, only their cost"
            ),
        });
        line.allowed = shortened;
        line.comparable = shortened.is_some();
    }
    Ok(())
}

/// The quoted length as it is after its piece was prepared; `None` where something else was cut.
fn shortened(
    tx: &mut Tx<'_>,
    prepared: &Booking,
    quoted: &CostItem,
    cuts: &[CutEntry],
) -> Done<Option<Extent>> {
    let Some(Extent::Length(length)) = quoted.extent else {
        return Ok(None);
    };
    let Some((piece, after)) = length_after(tx, prepared, length)? else {
        return Ok(None);
    };
    let mut own = cuts.iter().filter(|cut| cut.role == quoted.name).peekable();
    let after_it = |cut: &CutEntry| cut.booking_id > prepared.id && cut.piece_id == piece;
    let is_all = own.peek().is_some() && own.all(after_it);
    Ok(is_all.then_some(Extent::Length(after)))
}

/// Cuts for the good garment that stand.
fn cuts(tx: &mut Tx<'_>, garment: &Garment) -> Done<Vec<CutEntry>> {
    let mut cuts = tx.cuts_of_garment(garment.id)?;
    cuts.retain(|cut| LossReason::of_cut(cut.reason).is_none());
    Ok(cuts)
}

fn codes(lots: &[i64]) -> String {
    let codes: Vec<String> = lots
        .iter()
        .map(|lot| LotCode::new(*lot).to_string())
        .collect();
    codes.join(", ")
}
