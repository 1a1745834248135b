//! Making promises: all of a request's picks, or none.

use super::{
    promise::{Asking, Behind, promise},
    set,
};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    promises::{self, Settled, Takes, Views},
    shelf::{shelved::Shelved, stiffness},
};
use ellwand_contract::{
    Problem, ProblemType,
    reservations::{Reservation as View, Reserve, Reserved},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    ledger::{Hold, Quantity},
    setting::{BookingKind, GarmentState, Kind},
};
use ellwand_storage::{Garment, Reservation, Subject};
use std::collections::BTreeSet;

impl Perform for Reserve {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Reserved, Failure> {
        let (garment, needs) = load_garment(desk, self.garment)?;
        check_open(&garment)?;
        if self.picks.is_empty() {
            return Err(invalid(
                "picks",
                "nothing is picked: choose a need and a piece",
            ));
        }
        let day = desk.context.day(self.date)?;
        if let Some(until) = self.until.filter(|until| *until < desk.context.today) {
            let detail = format!(
                "the promise would end on {until}; today is {}",
                desk.context.today
            );
            return Err(Problem::new(ProblemType::InvalidDate, detail)
                .field("until")
                .hint("choose today or a later day with --until")
                .with("day", until.to_string())
                .with("earliest", desk.context.today.to_string())
                .into());
        }
        let booking = desk.next_booking()?;
        let made = promise_all(desk, booking, self, &garment, &needs, None)?;
        let sources = made.sources.join(", ");
        let summary = format!("Reserved {sources} of {} {}.", self.garment, garment.name);
        let mut entry = Entry::new(BookingKind::Reserved, day, summary);
        entry.subjects = made.subjects;
        desk.book(booking, entry)?;
        let broken = promises::views(desk, &made.bound.broken)?;
        Ok(Reserved {
            booking: BookingCode::new(booking),
            reservations: made.views,
            broken,
            notes: made.notes,
        })
    }
}

/// Promises that one booking makes.
#[derive(Default)]
pub(crate) struct Promised {
    pub(crate) ids: Vec<i64>,
    pub(crate) views: Vec<View>,
    /// Promises that must be of this garment's lot, which may be another now.
    pub(crate) bound: Settled,
    pub(crate) notes: Vec<String>,
    pub(crate) subjects: Vec<(Subject, i64)>,
    sources: Vec<String>,
    /// Each with its piece and what it takes; parts of one that was divided share that.
    made: Vec<(Reservation, Shelved, Takes)>,
    shown: Views,
}

impl Promised {
    /// Lets the promises so far give up on a piece what comes of rounding.
    fn loosen(&self, shelved: &mut Shelved) -> Done<()> {
        for (row, _, takes) in &self.made {
            let Some(hold) = shelved.stored.piece.hold(row.id).copied() else {
                continue;
            };
            let (least, held) = (takes.least_of(&hold)?, hold.quantity);
            let loosened = shelved
                .stored
                .piece
                .resize_hold_between(row.id, least, held);
            loosened.map_err(|error| promises::internal(shelved, &error))?;
        }
        Ok(())
    }

    fn add(
        &mut self,
        desk: &mut Desk<'_>,
        row: &Reservation,
        need: &NeedRecord,
        shelved: &Shelved,
    ) -> Done<()> {
        let held = shelved.show_taken(desk.context, Quantity::new(row.held)?);
        self.sources.push(format!(
            "{held} of {} for the {}",
            shelved.code(),
            need.row.role
        ));
        let view = self.shown.view(desk, row, need, shelved)?;
        self.views.push(view);
        Ok(())
    }

    /// Shows the promises that were made. Where a later one `moved` an earlier one, that may have given up what came of rounding.
    fn show(&mut self, desk: &mut Desk<'_>, needs: &[NeedRecord], moved: bool) -> Done<()> {
        for (mut row, mut shelved, takes) in std::mem::take(&mut self.made) {
            let Some(need) = needs.iter().find(|need| need.row.id == row.need_id) else {
                continue;
            };
            if moved {
                row = promises::row(desk, row.id)?;
                shelved = Shelved::load_row(desk, row.piece_id)?;
            }
            if let Some(hold) = shelved.stored.piece.hold(row.id).filter(|_| moved) {
                let least = takes.least_of(hold)?;
                row = takes.write(desk, need, row, &Hold { least, ..*hold })?;
            }
            self.add(desk, &row, need, &shelved)?;
        }
        Ok(())
    }
}

/// Makes every promise of a request under a booking that the caller writes, with a quotation or without.
pub(crate) fn promise_all(
    desk: &mut Desk<'_>,
    booking: i64,
    request: &Reserve,
    garment: &Garment,
    needs: &[NeedRecord],
    quotation: Option<i64>,
) -> Done<Promised> {
    let behind = Behind {
        agreed: promises::agreed(desk, garment.id)?,
        quotation,
    };
    check_open_picks(request, needs)?;
    set::whole_or_nothing(desk, request, garment, needs)?;
    let mut all = Promised {
        subjects: vec![(Subject::Garment, garment.id)],
        ..Promised::default()
    };
    let mut moved = false;
    for pick in &request.picks {
        let need = need_named(needs, request.garment, &pick.need)?;
        let mut shelved = Shelved::load(desk, pick.piece)?;
        shelved.check_day(request.date.unwrap_or(desk.context.today))?;
        promises::end_overdue(desk, booking, &mut shelved)?;
        all.loosen(&mut shelved)?;
        let asking = Asking {
            request,
            garment,
            need,
            pick,
            behind,
            own: &all.ids,
        };
        let made = promise(desk, booking, &asking, &mut shelved)?;
        all.subjects.push((Subject::Lot, shelved.record.lot.id));
        all.notes.extend(
            made.notes
                .into_iter()
                .map(|note| format!("{}: {note}", need.row.role)),
        );
        for row in made.rows {
            all.ids.push(row.id);
            all.made.push((row, shelved.clone(), made.takes.clone()));
        }
        moved |= made.moved;
    }
    all.show(desk, needs, moved)?;
    all.notes
        .extend(beside_the_shell(desk, request, garment, needs)?);
    all.bound = promises::resettle_bound_to(desk, booking, &BTreeSet::from([garment.id]))?;
    Ok(all)
}

/// Refuses several pieces for one need that do not say what comes from each: only a reel stands for one unit by itself.
fn check_open_picks(request: &Reserve, needs: &[NeedRecord]) -> Done<()> {
    for need in needs.iter().filter(|need| need.plan.reels().is_none()) {
        let role = &need.row.role;
        let silent = request.picks.iter().filter(|pick| {
            pick.need.trim().eq_ignore_ascii_case(role)
                && pick.units.is_none()
                && pick.trims.is_none()
                && pick.washed_length.is_none()
        });
        let silent: Vec<_> = silent.collect();
        let [first, _, ..] = silent.as_slice() else {
            continue;
        };
        let piece = first.piece;
        let hint = match need.row.kind {
            Kind::Trim if need.counted => {
                format!("give the number of trims from each, for example --from {piece}:4")
            }
            Kind::Thread => format!(
                "give the length from each, for example --from {piece}:100m, or set reels=2 in the need if the machine \
                 runs from two at once"
            ),
            Kind::Trim => {
                "a length comes from one piece; reserve each in its own command, with --count".to_owned()
            }
            Kind::Cloth | Kind::Lining | Kind::Interlining => {
                "reserve each in its own command, with --count for whole lengths or --washed-length for a part"
                    .to_owned()
            }
        };
        let detail =
            format!("several pieces are given for the {role}, but not how much comes from each");
        return Err(Problem::from(invalid("picks", detail)).hint(hint).into());
    }
    Ok(())
}

/// What is to be said of interlinings on their shell: of those promised now, or of all when cloth is.
fn beside_the_shell(
    desk: &mut Desk<'_>,
    request: &Reserve,
    garment: &Garment,
    needs: &[NeedRecord],
) -> Done<Vec<String>> {
    let picked = |need: &NeedRecord| {
        request
            .picks
            .iter()
            .any(|pick| pick.need.trim().eq_ignore_ascii_case(&need.row.role))
    };
    let cloth = needs
        .iter()
        .any(|need| need.row.kind == Kind::Cloth && picked(need));
    let mut notes: Vec<String> = Vec::new();
    for need in needs
        .iter()
        .filter(|need| need.row.kind == Kind::Interlining && (cloth || picked(need)))
    {
        let Some(shell) = stiffness::shell_of(desk, garment)? else {
            continue;
        };
        for row in active_of(desk, garment.id, need.row.id)? {
            let shelved = Shelved::load_row(desk, row.piece_id)?;
            for note in stiffness::layer_notes(desk, need, &shelved, &shell)? {
                let note = format!("{}: {note}", need.row.role);
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
    }
    Ok(notes)
}

/// Refuses a garment that is finished, delivered or cancelled.
pub(crate) fn check_open(garment: &Garment) -> Done<()> {
    match garment.state {
        GarmentState::Planned | GarmentState::CutInto => Ok(()),
        state => {
            let detail = format!("{} is {state}", GarmentCode::new(garment.id));
            Err(
                wrong_state(detail, "plan another one with ellwand garment copy")
                    .naming("garment", GarmentCode::new(garment.id))
                    .naming("state", state),
            )
        }
    }
}

/// The need of a role.
pub(crate) fn need_named<'a>(
    needs: &'a [NeedRecord],
    garment: GarmentCode,
    role: &str,
) -> Done<&'a NeedRecord> {
    needs
        .iter()
        .find(|need| need.row.role.eq_ignore_ascii_case(role.trim()))
        .ok_or_else(|| {
            let roles: Vec<&str> = needs.iter().map(|need| need.row.role.as_str()).collect();
            let has = if roles.is_empty() {
                "it has none yet".to_owned()
            } else {
                format!("it has {}", roles.join(", "))
            };
            Problem::new(
                ProblemType::NotFound,
                format!("{garment} has no need \"{role}\"; {has}"),
            )
            .field("need")
            .hint(match ellwand_contract::text::nearest(role.trim(), &roles) {
                Some(near) => format!("did you mean {near}?"),
                None => format!("add it with ellwand garment edit {garment}"),
            })
            .with("needs", roles)
            .into()
        })
}

/// Active promises of a need; those whose last day has passed are none any more, whether a write has ended them or not.
pub(crate) fn active_of(desk: &mut Desk<'_>, garment: i64, need: i64) -> Done<Vec<Reservation>> {
    let mut rows = desk.tx.active_reservations_of_garment(garment)?;
    rows.retain(|row| row.need_id == need);
    rows.retain(|row| row.until.is_none_or(|day| day >= desk.context.today));
    Ok(rows)
}
