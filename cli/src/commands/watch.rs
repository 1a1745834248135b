//! Showing something again whenever the book changes, so that a screen at the cutting table is never stale.

use crate::{command_error::CommandError, config::Target, context::Context};
use ellwand_contract::bookings::{Change, Changes, GetChanges};
use std::{
    thread::sleep,
    time::{Duration, Instant},
};

/// Longest time between two refreshes: a promise ends with its day, and not everything shown depends on a booking.
const REFRESH: Duration = Duration::from_secs(60);
/// Longest wait of a server for news.
const WAIT_S: u32 = 30;
/// Pause between two looks into a local book, and between two tries to reach a server.
const LOOK_AGAIN: Duration = Duration::from_millis(500);
/// Most bookings to announce at a time.
const ANNOUNCED_MAX: usize = 3;

/// Shows it, and again after every change, until interrupted.
pub fn follow(
    context: &mut Context<'_, '_>,
    mut show: impl FnMut(&mut Context<'_, '_>) -> Result<(), CommandError>,
) -> Result<(), CommandError> {
    // The cursor comes first: what is booked while it is shown is news.
    let now = GetChanges {
        after: Some("now".to_owned()),
        ..GetChanges::default()
    };
    let mut cursor = context.call(&now)?.next;
    show(context)?;
    let mut lost = false;
    loop {
        context.ui.written()?;
        match news(context, &cursor)
            .and_then(|news| again(context, &news, &mut show).map(|()| news.next))
        {
            Ok(next) => (cursor, lost) = (next, false),
            Err(error) if error.exit_code() == 3 => {
                if !std::mem::replace(&mut lost, true) {
                    context.ui.warning(format!(
                        "{}; what is shown may be out of date, trying again",
                        error.message()
                    ));
                }
                sleep(LOOK_AGAIN);
            }
            Err(error) => return Err(error),
        }
    }
}

fn again(
    context: &mut Context<'_, '_>,
    news: &Changes,
    show: &mut impl FnMut(&mut Context<'_, '_>) -> Result<(), CommandError>,
) -> Result<(), CommandError> {
    context.ui.next_page();
    show(context)?;
    let first = news.changes.len().saturating_sub(ANNOUNCED_MAX);
    for change in news.changes.iter().skip(first) {
        context.ui.status(announcement(change));
    }
    Ok(())
}

/// `B12 by anna: Cut 1.00 m …`
fn announcement(change: &Change) -> String {
    format!("{} by {}: {}", change.booking, change.by, change.summary)
}

/// What was booked after a cursor, as soon as there is something; nothing when it is time to refresh anyway.
fn news(context: &mut Context<'_, '_>, after: &str) -> Result<Changes, CommandError> {
    let waits = matches!(context.config().target, Target::Server(_));
    let begun = Instant::now();
    let mut all = Changes {
        changes: Vec::new(),
        next: after.to_owned(),
    };
    loop {
        let wait_s = if waits && all.changes.is_empty() {
            WAIT_S
        } else {
            0
        };
        let ask = GetChanges {
            after: Some(all.next.clone()),
            limit: Some(500),
            wait_s,
        };
        let page = context.call(&ask)?;
        let more = page.changes.len() == 500;
        all.changes.extend(page.changes);
        all.next = page.next;
        if !more && (!all.changes.is_empty() || begun.elapsed() >= REFRESH) {
            return Ok(all);
        }
        if !waits {
            sleep(LOOK_AGAIN);
        }
    }
}
