//! A need that grew after it was cut.

use super::need::NeedRecord;
use crate::{
    desk::{Desk, failure::Done},
    promises::Filled,
};
use ellwand_domain::{ledger::Quantity, need::WidthLength, setting::CutReason};

/// Says that what is cut already was for less than the need asks for now: thread and trims by what was taken, cloth by what
/// the plan said before.
pub(super) fn note(
    desk: &mut Desk<'_>,
    (before, filled): (&NeedRecord, &Filled),
    now: &NeedRecord,
) -> Done<Option<String>> {
    let units = filled.cut();
    if units == 0 {
        return Ok(None);
    }
    let (cut, needed) = match (before.per_unit, now.per_unit) {
        (Some(was), Some(one)) => {
            let taken = desk
                .tx
                .cuts_of_need(before.row.id)?
                .iter()
                .filter(|cut| cut.reason == CutReason::Planned)
                .fold(0_i64, |sum, cut| sum.saturating_add(cut.quantity));
            let (taken, needed) = (
                Quantity::new(taken)?,
                Quantity::new(one.get().saturating_mul(units))?,
            );
            if was == one || taken >= needed {
                return Ok(None);
            }
            now.measure().show_beside(desk.context, taken, needed)
        }
        _ if grew(planned_size(before)?, planned_size(now)?) => (
            before.amount_text(desk.context),
            now.amount_text(desk.context),
        ),
        _ => return Ok(None),
    };
    let (role, of) = (&now.row.role, before.row.units);
    let share = if of == 1 {
        String::new()
    } else {
        format!(" ({units} of {of})")
    };
    Ok(Some(format!(
        "{role}: what is already cut{share} is less than the plan now needs: {cut} cut, {needed} needed; plan the rest as another role, or \
         take the cut back"
    )))
}

fn planned_size(need: &NeedRecord) -> Done<Option<WidthLength>> {
    Ok(need
        .demand
        .as_ref()
        .map(ellwand_domain::need::ClothDemand::shown)
        .transpose()?
        .flatten())
}

fn grew(before: Option<WidthLength>, now: Option<WidthLength>) -> bool {
    before
        .zip(now)
        .is_some_and(|(before, now)| now.length > before.length || now.width > before.width)
}
