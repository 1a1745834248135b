//! What was set is taken back: each part is what it was.

use super::{Part, columns};
use crate::{
    desk::{Desk, failure::Done, trace},
    ledger::undo::cannot,
    workshop::{FinalCosts, fault, save, settles},
};
use ellwand_contract::json;
use ellwand_domain::{code::BookingCode, setting::BookingKind};
use ellwand_storage::{Subject, Trace, Workshop};
use serde_json::Value;

/// Refuses what the caller may not set, and what closed books keep as it is. Whoever was named stays.
pub(crate) fn may_go_back(desk: &mut Desk<'_>, code: BookingCode, traces: &[Trace]) -> Done<()> {
    let mut someone_new = true;
    for row in traces {
        let part = Part::of(row)?;
        desk.context.caller.may_do(part.needs())?;
        if let Some(day) = part.day() {
            let hint = "set it anew from a later day on, or undo the closing first";
            settles(desk.context, day, "booking", hint)?;
        }
        someone_new &= matches!(part, Part::Person(_)) && row.was.as_deref() == Some("null");
    }
    if someone_new {
        let hint = "mark them as own or paid with ellwand person set";
        return Err(cannot(format!("{code} named someone new, who stays"), hint));
    }
    Ok(())
}

/// Puts back what a booking set over. What garments cost that were finished since rests on it, and stays.
pub(crate) fn put_back(desk: &mut Desk<'_>, code: BookingCode, traces: &[Trace]) -> Done<()> {
    let mut parts = Vec::new();
    for row in traces {
        parts.push((Part::of(row)?, trace::was::<Option<Value>>(row)?));
    }
    let from = parts.iter().filter_map(|(part, _)| part.costs_from()).min();
    let before = from.map(|from| FinalCosts::read(desk, from)).transpose()?;
    let now = desk.tx.workshop()?;
    let now = now.as_ref().unwrap_or(&desk.context.workshop);
    let mut columns = columns(now)?;
    for (part, was) in parts {
        match part {
            Part::Column(name) => drop(columns.insert(name, was.unwrap_or_default())),
            part => part.put(desk, was)?,
        }
    }
    let then: Workshop = json::read(&Value::Object(columns).to_string()).map_err(fault)?;
    fixed(now, &then)?;
    save(desk, then, &format!("settings by undoing {code}"))?;
    match before {
        Some(before) => finished_since(desk, code, &before),
        None => Ok(()),
    }
}

fn finished_since(desk: &mut Desk<'_>, code: BookingCode, before: &FinalCosts) -> Done<()> {
    let (of, kind) = (Subject::Garment, BookingKind::Finished);
    for garment in before.changed(desk)? {
        let finished = desk.tx.standing_bookings(of, garment.get(), kind)?;
        if finished.iter().any(|finished| finished.id > code.get()) {
            let detail = format!("{garment} was finished since, and its cost rests on that rate");
            let hint = "set the rate anew; --really recounts the hours of what is finished";
            return Err(cannot(detail, hint).naming("garment", garment));
        }
    }
    Ok(())
}

/// Refuses to change what is fixed by now, and a currency whose coins are set.
fn fixed(now: &Workshop, then: &Workshop) -> Done<()> {
    let other = now.currency != then.currency;
    if other && now.cash_step_minor.is_some() && now.cash_step_minor == then.cash_step_minor {
        let detail = format!("the step of cash is set in {}", now.currency);
        let hint = "remove it first: ellwand workshop set --cash-step none";
        return Err(cannot(detail, hint));
    }
    let what = if now.currency_fixed && other {
        "currency"
    } else if now.pooled_method_fixed && now.pooled_method != then.pooled_method {
        "way thread and trims are valued"
    } else {
        return Ok(());
    };
    let detail = format!("the {what} is fixed: purchases or quotations use it since");
    Err(cannot(detail, "it stays as it is"))
}
