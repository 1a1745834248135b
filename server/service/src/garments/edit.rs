//! Changing a garment's plan.

use super::{
    change, check_in_hand,
    need::{NeedRecord, load_garment, load_head, load_needs},
    operation::{self, check_names, is_same},
    outgrown, plan, show,
};
use crate::{
    desk::{
        Desk, Entry,
        detail::{PlanChange, PlanKept},
        failure::{Done, Failure, Refusals, invalid, wrong_state},
        perform::Perform,
        version,
    },
    garments::seams,
    money::quotations::of_garment,
    people::parties,
    promises::{self, Filled},
    shelf::shelved::Shelved,
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{
        EditGarment, Garment as View, NeedChange, NeedInput, OperationChange, PartName, PlanChanges,
    },
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, QuotationCode, ReservationCode},
    setting::{BookingKind, GarmentState, QuotationState, ReservationState},
};
use ellwand_storage::{Garment, Quotation, Reservation, Subject, Tx};

/// Newest quotations of a garment that are looked at for one that stands.
const LOOKED_AT: i64 = 50;

impl Perform for EditGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let garment = load_head(desk, self.garment)?;
        version::check(
            desk,
            (Subject::Garment, garment.id),
            &self.garment,
            self.if_version,
        )?;
        let day = desk.context.day(self.date)?;
        let booking = desk.next_booking()?;
        let Replanned {
            plan,
            changes,
            mut notes,
        } = replan(desk, booking, self)?;
        if !self.changes.is_nothing() {
            notes.extend(of_garment::price_stays(desk, garment.id)?);
        }
        let summary = format!(
            "Changed the plan of {}: {}.",
            self.garment,
            changes.join(", ")
        );
        let mut entry = Entry::new(BookingKind::Planned, day, summary);
        entry.subjects.push((Subject::Garment, garment.id));
        entry.traces.extend(plan.trace(garment.id)?);
        desk.book(booking, entry)?;
        let mut view = show::view(desk, garment.id, Some(booking))?;
        let changed = |role: &str| {
            let mut needs = self.changes.needs.iter();
            needs.any(|need| is_same(&operation::spelled(need.name()), role))
        };
        notes.extend(plan::unstated(&view, changed));
        view.notes.splice(0..0, notes);
        Ok(view)
    }
}

/// What a change of a plan did.
pub(crate) struct Replanned {
    pub(crate) plan: PlanChange,
    /// For the history.
    pub(crate) changes: Vec<String>,
    /// What became of promises.
    pub(crate) notes: Vec<String>,
}

/// Changes a plan under a booking that the caller writes.
pub(crate) fn replan(desk: &mut Desk<'_>, booking: i64, request: &EditGarment) -> Done<Replanned> {
    let (mut garment, mut needs) = load_garment(desk, request.garment)?;
    check_in_hand(&garment, "replanned")?;
    let changes = &request.changes;
    check_names("need", changes.needs.iter().map(NeedChange::name))?;
    check_names(
        "operation",
        changes.operations.iter().map(OperationChange::name),
    )?;
    let before = PlanKept::read(desk, &garment)?;
    let mut edit = Edit {
        promises: active(desk, garment.id)?,
        ..Edit::default()
    };
    let mut refusals = Refusals::default();
    refusals.keep(edit.head(request, &mut garment))?;
    refusals.keep(edit.customer(desk, request, &mut garment))?;
    desk.tx.update_garment(&garment)?;
    for role in &changes.drop_needs {
        refusals.keep(edit.drop_need(desk, booking, &garment, &mut needs, role))?;
    }
    let sewn = refusals.keep(seams::change(desk, garment.id, changes))?;
    edit.changes.extend(sewn.into_iter().flatten());
    let sewn = seams::Planned::load(desk, garment.id)?;
    for (index, (change, drop)) in needs_of(changes).iter().enumerate() {
        let done = change::need(request.garment, &needs, change, drop)
            .inspect(|input| {
                edit.notes
                    .extend(change::own_lay_stays(change, drop, input))
            })
            .and_then(|input| sewn.filled(&input))
            .and_then(|input| edit.need(desk, &garment, &needs, &input))
            .map_err(|failure| plan::in_need(index, failure));
        refusals.keep(done)?;
    }
    for name in &changes.drop_operations {
        refusals.keep(edit.drop_operation(desk, &garment, name))?;
    }
    edit.operations(desk, &garment, &changes.operations, &mut refusals)?;
    refusals.end()?;
    // Lengths that come from the seams follow them.
    let needs = load_needs(desk, &garment)?;
    for need in &needs {
        if let Some(input) = sewn.renewed(need)? {
            edit.need(desk, &garment, &needs, &input)?;
        }
    }
    sewn.check(desk, garment.id)?;
    if edit.changes.is_empty() {
        return Err(invalid(
            "need",
            format!("no change to {} was given", request.garment),
        ));
    }
    let notes = edit.settle(desk, booking, request.garment)?;
    let after = PlanKept::read(desk, &garment)?;
    Ok(Replanned {
        plan: PlanChange { before, after },
        changes: edit.changes,
        notes,
    })
}

/// What differs of each need, with the parts of it that go.
fn needs_of(changes: &PlanChanges) -> Vec<(NeedChange, Vec<&PartName>)> {
    let mut needs: Vec<(NeedChange, Vec<&PartName>)> = changes
        .needs
        .iter()
        .map(|need| (need.clone(), Vec::new()))
        .collect();
    for part in &changes.drop_parts {
        let role = operation::spelled(&part.need);
        let found = needs
            .iter_mut()
            .find(|(need, _)| is_same(&operation::spelled(need.name()), &role));
        match found {
            Some((_, parts)) => parts.push(part),
            None => needs.push((NeedChange::of(&role), vec![part])),
        }
    }
    needs
}

/// Active promises of a garment.
fn active(tx: &mut Tx<'_>, garment: i64) -> Done<Vec<Reservation>> {
    Ok(tx.active_reservations_of_garment(garment)?)
}

/// Why a garment stays with its customer: it is quoted, or cut into.
pub(crate) fn keeps_customer(tx: &mut Tx<'_>, garment: &Garment) -> Done<Option<String>> {
    let stands = |quotation: &Quotation| {
        let state = quotation.state;
        matches!(state, QuotationState::Open | QuotationState::Accepted)
    };
    let quoted = tx.quotations(None, Some(garment.id), i64::MAX, LOOKED_AT)?;
    Ok(match quoted.into_iter().find(stands) {
        Some(quotation) => Some(format!(
            "it is quoted as {}",
            QuotationCode::new(quotation.id)
        )),
        None if garment.state == GarmentState::CutInto => Some("it is cut into".to_owned()),
        None => None,
    })
}

/// What an edit did so far.
#[derive(Default)]
struct Edit {
    promises: Vec<Reservation>,
    /// For the history.
    changes: Vec<String>,
    /// Pieces whose promises must be looked at again.
    pieces: Vec<i64>,
    /// What is worth telling.
    notes: Vec<String>,
}

impl Edit {
    fn head(&mut self, request: &EditGarment, garment: &mut Garment) -> Done<()> {
        if let Some(name) = &request.name {
            let name = operation::spelled(name);
            if name.is_empty() {
                return Err(invalid(
                    "name",
                    "a garment needs a name, for example wool waistcoat",
                ));
            }
            self.changes.push(format!("name {name}"));
            garment.name = name;
        }
        if let Some(due) = request.due {
            self.changes.push(format!("due {due}"));
            garment.due = Some(due);
            self.pieces
                .extend(self.promises.iter().map(|row| row.piece_id));
        }
        Ok(())
    }

    /// Gives the garment to a customer, as long as nothing rests on whose it was: a quotation, or what is cut.
    fn customer(
        &mut self,
        desk: &mut Desk<'_>,
        request: &EditGarment,
        garment: &mut Garment,
    ) -> Done<()> {
        let Some(text) = request.customer.as_ref() else {
            return Ok(());
        };
        let customer = parties::named_customer(desk, text)?;
        if garment.customer_id == Some(customer) {
            return Ok(());
        }
        if let Some(reason) = keeps_customer(desk, garment)? {
            let code = request.garment;
            let detail = format!("{code} stays with whom it was planned for: {reason}");
            let hint = format!("plan one for them with ellwand garment copy {code} --for {text}");
            return Err(wrong_state(detail, &hint).naming("garment", code));
        }
        self.changes
            .push(format!("for {}", CustomerCode::new(customer)));
        garment.customer_id = Some(customer);
        // Cloth that belongs to somebody is only for them.
        let promised = self.promises.iter().map(|row| row.piece_id);
        self.pieces.extend(promised);
        self.notes
            .extend(parties::renamed_customer(desk, Some(text))?);
        Ok(())
    }

    fn drop_need(
        &mut self,
        desk: &mut Desk<'_>,
        booking: i64,
        garment: &Garment,
        needs: &mut Vec<NeedRecord>,
        role: &str,
    ) -> Done<()> {
        let spelled = operation::spelled(role);
        let Some(at) = needs
            .iter()
            .position(|need| need.row.role.eq_ignore_ascii_case(&spelled))
        else {
            let code = GarmentCode::new(garment.id);
            return Err(
                Problem::new(ProblemType::NotFound, format!("{code} has no need {role}"))
                    .field("drop_needs")
                    .hint(format!("see ellwand garment show {code}"))
                    .into(),
            );
        };
        let mut need = needs.remove(at);
        let filled = Filled::read(desk, &need)?;
        if filled.is_cut_into() {
            let cut = match filled.cut() {
                0 => "a part".to_owned(),
                cut => cut.to_string(),
            };
            let detail = format!(
                "{cut} of the {} is already cut, so it stays in the plan",
                need.row.role
            );
            let code = GarmentCode::new(garment.id);
            let hint = format!(
                "take the cut back: ellwand history --garment {code} shows it; or ellwand garment cancel {code}"
            );
            return Err(wrong_state(detail, &hint)
                .with("need", need.row.role.as_str())
                .with("cut", filled.cut()));
        }
        let (ended, kept) = std::mem::take(&mut self.promises)
            .into_iter()
            .partition(|row| row.need_id == need.row.id);
        self.promises = kept;
        let ended = promises::release_all(
            desk,
            booking,
            ended,
            ReservationState::Released,
            Some("its need was dropped".to_owned()),
        )?;
        for (row, shelved) in ended {
            self.notes.push(format!(
                "{} on {} is {}: {} is no longer in the plan",
                ReservationCode::new(row.id),
                shelved.code(),
                row.state,
                need.row.role
            ));
        }
        need.row.dropped = true;
        desk.tx.save_need(&need.row)?;
        self.changes.push(format!("without {}", need.row.role));
        Ok(())
    }

    /// Adds a need, or puts it in the place of the one of its role.
    fn need(
        &mut self,
        desk: &mut Desk<'_>,
        garment: &Garment,
        needs: &[NeedRecord],
        input: &NeedInput,
    ) -> Done<()> {
        let mut need = NeedRecord::new(desk, garment.id, garment.count, input)?;
        let role = need.row.role.clone();
        if let Some(old) = needs
            .iter()
            .find(|old| old.row.role.eq_ignore_ascii_case(&role))
        {
            let mut promised = self
                .promises
                .iter()
                .filter(|row| row.need_id == old.row.id)
                .peekable();
            let filled = Filled::read(desk, old)?;
            let used = filled.is_cut_into() || promised.peek().is_some();
            if used && (old.row.units != need.row.units || old.row.kind != need.row.kind) {
                let detail = format!(
                    "the {role} is promised or cut as {} of {}",
                    old.row.units, old.row.kind
                );
                return Err(wrong_state(
                    detail,
                    "release its promises first, or plan another role",
                )
                .with("need", role)
                .with("wanted", need.row.units)
                .with("units", old.row.units));
            }
            self.pieces.extend(promised.map(|row| row.piece_id));
            need.row.id = old.row.id;
            need.row.role.clone_from(&old.row.role);
            self.notes
                .extend(outgrown::note(desk, (old, &filled), &need)?);
        } else if let Some(dropped) = desk
            .tx
            .needs(garment.id)?
            .into_iter()
            .find(|row| row.dropped && row.role == role)
        {
            need.row.id = dropped.id;
        }
        desk.tx.save_need(&need.row)?;
        self.changes.push(role);
        Ok(())
    }

    /// Takes an operation out of the plan; what was worked on it stays.
    fn drop_operation(&mut self, tx: &mut Tx<'_>, garment: &Garment, name: &str) -> Done<()> {
        let spelled = operation::spelled(name);
        let known = tx.operations(garment.id)?;
        let Some(known) = known
            .into_iter()
            .find(|known| is_same(&known.name, &spelled))
        else {
            let code = GarmentCode::new(garment.id);
            let detail = format!("{code} has no operation {name}");
            return Err(Problem::new(ProblemType::NotFound, detail)
                .field("drop_operations")
                .hint(format!("see ellwand garment show {code}"))
                .into());
        };
        tx.delete_operation(garment.id, &known.name)?;
        self.changes.push(format!("without {}", known.name));
        Ok(())
    }

    fn operations(
        &mut self,
        desk: &mut Desk<'_>,
        garment: &Garment,
        changes: &[OperationChange],
        refusals: &mut Refusals,
    ) -> Done<()> {
        let known = desk.tx.operations(garment.id)?;
        let mut next = known
            .iter()
            .map(|operation| operation.position)
            .max()
            .map_or(0, |last| last.saturating_add(1));
        for (index, change) in changes.iter().enumerate() {
            let read = change::operation(desk, GarmentCode::new(garment.id), &known, change)
                .and_then(|input| operation::read(desk, (garment.id, next), index, &input));
            let Some(mut operation) = refusals.keep(read)? else {
                continue;
            };
            match known
                .iter()
                .find(|known| is_same(&known.name, &operation.name))
            {
                Some(known) => {
                    operation.position = known.position;
                    operation.name.clone_from(&known.name);
                }
                None => next = next.saturating_add(1),
            }
            self.changes.push(operation.name.clone());
            desk.tx.save_operation(&operation)?;
        }
        Ok(())
    }

    /// Looks at the promises again and says what became of them.
    fn settle(
        &mut self,
        desk: &mut Desk<'_>,
        booking: i64,
        code: GarmentCode,
    ) -> Done<Vec<String>> {
        self.pieces.sort_unstable();
        self.pieces.dedup();
        let mut notes = std::mem::take(&mut self.notes);
        for piece in &self.pieces {
            let mut shelved = Shelved::load_row(desk, *piece)?;
            let because = format!("the plan of {code} changed");
            let settled = promises::resettle(desk, booking, &mut shelved, &because)?;
            let last_on = shelved.stored.last_on;
            shelved.save(desk, last_on)?;
            for id in settled.changed {
                notes.push(format!(
                    "{} now holds another length of {}",
                    ReservationCode::new(id),
                    shelved.code()
                ));
            }
            for id in settled.broken {
                let row = promises::row(desk, id)?;
                let why = row.ended_because.unwrap_or(because.clone());
                notes.push(format!(
                    "{} no longer fits: {why}",
                    ReservationCode::new(id)
                ));
            }
        }
        Ok(notes)
    }
}
