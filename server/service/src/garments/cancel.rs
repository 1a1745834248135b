//! Giving a garment up: promises go back, what was cut goes where the user says.

mod shelf;

use super::{Balance, check_in_hand, finish, need::load_head, show};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        failure::{Done, Failure, invalid, not_found},
        perform::Perform,
    },
    money::{overhead, quotations::of_garment},
    shelf::pools,
};
use ellwand_contract::{
    Problem, ProblemType,
    garments::{CancelGarment, CutMaterial, Garment as View},
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, QuotationCode},
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
    setting::{BookingKind, CutReason, GarmentState, Grant},
};
use ellwand_storage::{CutEntry, Garment, Subject, Tx};

impl Perform for CancelGarment {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let mut garment = load_head(desk, self.garment)?;
        check_in_hand(&garment, "cancelled")?;
        of_garment::check_not_agreed(desk, garment.id)?;
        let before = garment.clone();
        let mut balance = Balance::read(desk, garment.id)?;
        let day = balance.day(desk, &garment, self.date, balance.value)?;
        let cuts = cuts_with_it(desk, garment.id, &mut balance)?;
        let has_material = !cuts.is_empty() || !balance.value.is_zero();
        check_target(self, desk.context, has_material, balance.value)?;
        let booking = desk.next_booking()?;
        finish::release(desk, booking, self.garment)?;
        let (closed, traces) = of_garment::close_open(desk, garment.id)?;
        let summary = format!("Cancelled {} {}.", self.garment, garment.name);
        let mut entry = finish::moved(BookingKind::Cancelled, day, summary, &garment, &before)?;
        entry.traces.extend(traces);
        if let Some(target) = &self.cut_material {
            dispose(
                desk,
                booking,
                target,
                (&garment, &balance, &cuts),
                &mut entry,
            )?;
        }
        let mut notes = Vec::new();
        if !closed.is_empty() {
            let codes: Vec<String> = closed
                .iter()
                .map(|id| QuotationCode::new(*id).to_string())
                .collect();
            notes.push(format!("closed with it: {}", codes.join(", ")));
        }
        for work in desk.tx.work(garment.id)? {
            overhead::reverse(desk, &work, -1, true)?;
        }
        garment.state = GarmentState::Cancelled;
        desk.tx.update_garment(&garment)?;
        desk.book(booking, entry)?;
        let mut view = show::view(desk, garment.id, Some(booking))?;
        view.notes.splice(0..0, notes);
        Ok(view)
    }
}

/// What was cut for the garment and those whose material it took over; their movements join the balance.
fn cuts_with_it(desk: &mut Desk<'_>, garment: i64, balance: &mut Balance) -> Done<Vec<CutEntry>> {
    let mut cuts = desk.tx.cuts_of_garment(garment)?;
    for from in taken_over(desk, garment, balance)? {
        cuts.extend(desk.tx.cuts_of_garment(from)?);
        balance
            .movements
            .extend(Balance::read(desk, from)?.movements);
    }
    cuts.retain(|cut| {
        matches!(
            cut.reason,
            CutReason::Planned | CutReason::CustomerChange | CutReason::Toile
        )
    });
    Ok(cuts)
}

/// Refuses to leave open where material goes, and to say so where there is none.
fn check_target(
    request: &CancelGarment,
    context: &Context<'_>,
    has_material: bool,
    value: Millionths,
) -> Done<()> {
    let garment = request.garment;
    match (&request.cut_material, has_material) {
        (None, true) => {
            let worth = context.printed(value);
            let currency = context.currency;
            let detail = format!("material worth {worth} {currency} was cut for {garment}");
            Err(Problem::new(ProblemType::NeedsConfirmation, detail)
                .field("cut_material")
                .with("value_millionths", value.get())
                .hint("choose what happens to it with --cut-material: loss, garment=G7 or shelf")
                .into())
        }
        (Some(_), false) => {
            let detail =
                format!("nothing was cut for {garment}, so there is no material to pass on");
            Err(invalid("cut_material", detail))
        }
        _ => Ok(()),
    }
}

/// Moves what was cut where the user says.
fn dispose(
    desk: &mut Desk<'_>,
    booking: i64,
    target: &CutMaterial,
    (garment, balance, cuts): (&Garment, &Balance, &[CutEntry]),
    entry: &mut Entry,
) -> Done<()> {
    let account = Account::garment(garment.id);
    match target {
        CutMaterial::Loss => {
            desk.context.caller.needs(Grant::WriteOffs)?;
            entry.movements.extend(lost(garment, balance.value));
        }
        CutMaterial::Garment(code) => {
            let lots: Vec<i64> = cuts.iter().map(|cut| cut.lot_id).collect();
            let other = receiver(desk, garment, *code, &lots)?;
            entry.subjects.push((Subject::Garment, other));
            entry.summary = format!("{} Its material went to {code}.", entry.summary);
            let to = Account::garment(other);
            entry
                .movements
                .push(Movement::new(account, to, Quantity::ZERO, balance.value));
        }
        CutMaterial::Shelf(lengths) => {
            let back = shelf::put_back(desk, garment, balance, cuts, lengths, entry.on)?;
            pools::bring_back(desk, booking, &back.shares, account)?;
            entry
                .subjects
                .extend(back.lots.iter().map(|lot| (Subject::Lot, *lot)));
            entry.summary = format!("{} {} back on the shelf.", entry.summary, back.text);
            if !back.rest.is_zero() {
                desk.context.caller.needs(Grant::WriteOffs)?;
            }
            entry.movements.extend(back.movements);
            entry.movements.extend(lost(garment, back.rest));
        }
    }
    Ok(())
}

/// Cancelled garments whose material the garment took over, and those that they had it from.
fn taken_over(tx: &mut Tx<'_>, garment: i64, balance: &Balance) -> Done<Vec<i64>> {
    let mut all: Vec<i64> = Vec::new();
    let mut waiting = givers(tx, garment, balance)?;
    while let Some(from) = waiting.pop() {
        if from != garment && !all.contains(&from) {
            all.push(from);
            let balance = Balance::read(tx, from)?;
            waiting.extend(givers(tx, from, &balance)?);
        }
    }
    Ok(all)
}

/// Garments that gave this one their material, and did not get it back.
fn givers(tx: &mut Tx<'_>, garment: i64, balance: &Balance) -> Done<Vec<i64>> {
    let account = Account::garment(garment);
    let mut from = Vec::new();
    for (stored, _) in &balance.movements {
        let given =
            stored.movement.to == account && stored.movement.from.kind == AccountKind::Garment;
        if given && tx.undone_by(stored.booking)?.is_none() {
            from.push(stored.movement.from.id);
        }
    }
    Ok(from)
}

/// What is lost with the garment; nothing of no value.
fn lost(garment: &Garment, value: Millionths) -> Option<Movement> {
    let (from, to) = (
        Account::garment(garment.id),
        Account::new(AccountKind::Abandoned, garment.id),
    );
    (!value.is_zero()).then(|| Movement::new(from, to, Quantity::ZERO, value))
}

/// The garment that takes the material over; it is cut into then.
fn receiver(tx: &mut Tx<'_>, garment: &Garment, code: GarmentCode, lots: &[i64]) -> Done<i64> {
    let field = "cut_material";
    if code.get() == garment.id {
        return Err(invalid(
            field,
            format!("the material of {code} cannot go to {code} itself"),
        ));
    }
    let hint = "see ellwand garment list";
    let mut other = tx
        .garment(code.get())?
        .ok_or_else(|| not_found(format!("garment {code}"), hint))?;
    check_in_hand(&other, "given material")?;
    for lot in lots {
        let owner = tx.lot(*lot)?.and_then(|lot| lot.owner_id);
        if let Some(owner) = owner.filter(|owner| other.customer_id != Some(*owner)) {
            let owner = CustomerCode::new(owner);
            return Err(Problem::new(
                ProblemType::DoesNotServe,
                format!("the cloth belongs to {owner}; {code} is not for them"),
            )
            .field(field)
            .hint("put it back with --cut-material shelf, or choose a garment of the same customer")
            .with("garment", code.to_string())
            .with("customer", owner.to_string())
            .into());
        }
    }
    other.state = GarmentState::CutInto;
    tx.update_garment(&other)?;
    Ok(other.id)
}
