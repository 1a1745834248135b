//! Cutting cloth and taking trims.

mod all;
mod doubts;
mod draw;
mod order;

use self::{draw::Fills, order::reservation_of};
use crate::{
    desk::{
        Desk, Entry,
        context::Context,
        detail::{CutDetail, Detail},
        failure::{Done, Failure, invalid, wrong_state},
        perform::Perform,
        trace::Traced,
    },
    garments::need::{NeedRecord, load_garment},
    money::costs::{self, OpenPlan},
    promises::{
        self, Costs, Settled,
        reservations::{check_open, need_named},
    },
    shelf::{
        day,
        lots::measure,
        pooled,
        shelved::{NewPiece, Shelved},
        worth::Worth,
    },
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem,
    cuts::{Cut, CutDone, FromLayer},
};
use ellwand_domain::{
    certainty::Certainty,
    code::{BookingCode, GarmentCode},
    ledger::{Account, AccountKind, CutEffect, Flaw, Hold, LedgerError, Movement, Piece, Quantity},
    quantity::{Micrometres, Millionths},
    setting::{BookingKind, CutReason, Facet, Kind, ReservationState},
};
use ellwand_storage::{CutEntry, Garment, Reservation, Subject, Tx};
use std::collections::BTreeSet;

/// Everything a cut rests on.
struct Case<'a> {
    request: &'a Cut,
    garment: Garment,
    need: NeedRecord,
    reservation: Option<Reservation>,
    shelved: Shelved,
    booking: i64,
    day: NaiveDate,
    /// Found by `piece_was` less what the book had said.
    measured: i64,
    /// Flaws beyond that, counted from there.
    flaws_beyond: Vec<Flaw>,
    /// What its promise held would have cost just before.
    worth: Worth,
    /// The need was cut in full before.
    complete: bool,
    /// What was planned for the units that are open, where it takes free material for them.
    plan: Option<OpenPlan>,
    movements: Vec<Movement>,
    traces: Vec<Traced>,
    /// Width that is cut; none: the whole.
    panel: Option<Micrometres>,
    /// Its promises before it was cut.
    before: Vec<Hold>,
    /// Where the cost of thread and trims came from.
    layers: Vec<FromLayer>,
    notes: Vec<String>,
}

impl Perform for Cut {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<CutDone, Failure> {
        let mut case = Case::open(desk, self)?;
        case.check_pooled()?;
        case.check_enough(desk)?;
        case.check_doubts(desk)?;
        if let Some(was) = &self.piece_was {
            let found: Quantity = was.value().into();
            case.measured = found.get() - case.shelved.stored.piece.quantity.get();
            let stored = &case.shelved.stored;
            let was = (stored.estimated, stored.mass_factor_ppm);
            let traced = Traced::wrote(Facet::Length, stored.piece.id, &was)?;
            case.traces.push(traced);
            case.flaws_beyond = case.shelved.stored.piece.flaws_beyond(found);
            let widths = case.shelved.stored.piece.rectangle;
            measure::correct(
                &mut case.shelved,
                found,
                widths,
                false,
                self.really,
                &mut case.movements,
            )?;
        }
        let quantity = case.quantity()?;
        day::check(desk, &case.shelved, case.day, ("cutting", quantity))?;
        let fills = case.fills(desk, quantity)?;
        let order = case.order(desk, quantity, &fills)?;
        let what_for = format!("the {} of {}", case.need.row.role, self.garment);
        let before = case.shelved.stored.piece.holds.clone();
        let own = order.reservation;
        let cut = promises::with_room(desk, &mut case.shelved, own, |piece| piece.cut(&order))?;
        let mut effect = match cut {
            Ok(effect) => effect,
            Err(error) => {
                return Err(promises::refusal(desk, &case.shelved, &what_for, &error)?.into());
            }
        };
        case.before = before;
        case.finish(desk, quantity, &mut effect, &fills)
    }
}

impl<'a> Case<'a> {
    fn open(desk: &mut Desk<'_>, request: &'a Cut) -> Done<Self> {
        let (garment, needs) = load_garment(desk, request.garment)?;
        check_open(&garment)?;
        let need = need_named(&needs, request.garment, &request.need)?.clone();
        let day = desk.context.day(request.date)?;
        let reservation = reservation_of(desk, request, &garment, &need)?;
        let booking = desk.next_booking()?;
        let mut shelved = match (&reservation, request.piece) {
            (Some(row), _) => Shelved::load_row(desk, row.piece_id)?,
            (None, Some(piece)) => Shelved::load(desk, piece)?,
            (None, None) => {
                let role = &need.row.role;
                let detail = format!(
                    "{} has no active promise to cut its {role} from",
                    request.garment
                );
                let hint = format!(
                    "choose a piece with --from, or reserve it first: ellwand candidates {}",
                    request.garment
                );
                return Err(wrong_state(detail, &hint)
                    .naming("garment", request.garment)
                    .with("need", role.as_str()));
            }
        };
        promises::end_overdue(desk, booking, &mut shelved)?;
        let mut reservation = reservation;
        if let Some(row) = &reservation
            && shelved.stored.piece.hold(row.id).is_none()
        {
            reservation = None;
        }
        let mut need = need;
        if let Some(row) = &reservation {
            need.rest_on(row.lay_id);
        }
        let worth = match &reservation {
            Some(row) => Costs::default().of(desk, row, &need, &shelved)?,
            None => Worth::NOTHING,
        };
        let plan = match reservation.is_none() && request.reason == CutReason::Planned {
            true => OpenPlan::read(desk, &garment, need.row.id)?,
            false => None,
        };
        Ok(Self {
            request,
            complete: false,
            plan,
            garment,
            need,
            reservation,
            shelved,
            booking,
            day,
            measured: 0,
            flaws_beyond: Vec::new(),
            panel: None,
            worth,
            movements: Vec::new(),
            traces: Vec::new(),
            before: Vec::new(),
            layers: Vec::new(),
            notes: Vec::new(),
        })
    }

    /// Thread and trims lie in cost layers, which only their own acts correct.
    fn check_pooled(&self) -> Done<()> {
        if self.shelved.stored.piece.rectangle.is_some() {
            return Ok(());
        }
        let (code, kind) = (self.shelved.code(), self.shelved.record.kind());
        if self.request.piece_was.is_some() {
            let hint = format!("correct it first with ellwand lot measure {code}, then cut");
            let detail =
                format!("{code} is {kind}: correcting its length changes what the rest costs, too");
            return Err(Problem::from(invalid("piece_was", detail))
                .hint(&hint)
                .into());
        }
        if self.request.reason == CutReason::Swatch {
            let hint =
                "choose another reason: planned, own-mistake, faulty-cloth or customer-change";
            let detail = format!("{code} is {kind}: a swatch is of cloth or interlining");
            return Err(Problem::from(invalid("reason", detail)).hint(hint).into());
        }
        Ok(())
    }

    /// Too little is said before all that could be confirmed.
    fn check_enough(&self, desk: &mut Desk<'_>) -> Done<()> {
        let (wanted, on_hand) = (self.quantity()?, self.shelved.stored.piece.quantity);
        if self.request.piece_was.is_some() || wanted <= on_hand {
            return Ok(());
        }
        let error = LedgerError::ExceedsOnHand { wanted, on_hand };
        let what_for = format!("the {} of {}", self.need.row.role, self.request.garment);
        Err(promises::refusal(desk, &self.shelved, &what_for, &error)?.into())
    }

    /// What to cut: as typed, else what the promise holds.
    fn quantity(&self) -> Done<Quantity> {
        match (&self.request.amount, &self.reservation) {
            (Some(text), _) => self.shelved.parse("amount", text),
            (None, Some(row)) => Ok(Quantity::new(row.held)?),
            (None, None) => {
                let record = &self.shelved.record;
                let example = match record.kind() {
                    _ if record.is_counted() => "count, for example 6",
                    Kind::Thread => "length, for example 50m",
                    _ => "length, for example 2.60m",
                };
                let detail = format!("how much is cut? give a {example}");
                Err(invalid("amount", detail))
            }
        }
    }

    /// Where the cut material's cost goes.
    fn target(&self) -> Account {
        let garment = self.garment.id;
        match self.request.reason {
            CutReason::Planned | CutReason::CustomerChange | CutReason::Toile => {
                Account::garment(garment)
            }
            CutReason::OwnMistake => Account::new(AccountKind::OwnMistake, garment),
            CutReason::FaultyCloth => Account::new(AccountKind::FaultyCloth, garment),
            CutReason::Swatch => Account::new(AccountKind::NormalLoss, 0),
        }
    }

    fn finish(
        mut self,
        desk: &mut Desk<'_>,
        quantity: Quantity,
        effect: &mut CutEffect,
        fills: &Fills,
    ) -> Done<CutDone> {
        let piece_id = self.shelved.stored.piece.id;
        if self.request.reason == CutReason::Swatch {
            self.keep_swatch_value(effect)?;
        }
        let off = quantity.plus(effect.wasted)?;
        let from = Account::piece(piece_id);
        self.movements
            .push(Movement::new(from, self.target(), off, effect.value));
        let held_before = self.reservation.as_ref().map_or(0, |row| row.held);
        // Before the pieces: saving them writes where their promises are now.
        self.draw(desk, effect)?;
        let (strip, outer) = self.part(desk, effect)?;
        let cost = effect.value.plus(self.take_from_layers(desk, off)?)?;
        let own_promise = self.reservation.as_ref().map(|row| row.id);
        let broken = self.settle(desk, effect)?;
        let gave = self.gave_way(desk, outer.as_ref(), own_promise)?;
        self.shelved.save(desk, self.day)?;
        let mut cut = self.row(quantity, effect, fills);
        self.note_strip(desk.context, strip.as_ref());
        cut.strip_id = strip.as_ref().map(|strip| strip.stored.piece.id);
        cut.outer_id = outer.as_ref().map(|outer| outer.stored.piece.id);
        desk.tx.insert_cut(&cut)?;
        self.keep_plan(desk, held_before, (fills.units, quantity, cost))?;
        self.note(desk.context, effect);
        self.book(desk, &cut, effect)?;
        let own = self
            .reservation
            .as_ref()
            .map(|row| row.id)
            .filter(|_| self.request.last);
        let bound =
            promises::resettle_bound_to(desk, self.booking, &BTreeSet::from([self.garment.id]))?;
        if !bound.changed.is_empty() || !bound.broken.is_empty() {
            self.shelved = Shelved::load_row(desk, piece_id)?;
        }
        let mut settled = Settled {
            changed: gave,
            broken,
            ..Settled::default()
        };
        settled.add(bound);
        let touched: Vec<i64> = settled.broken.iter().copied().chain(own).collect();
        let incomplete = promises::notes(desk, &touched)?;
        self.notes.extend(incomplete);
        let made: Vec<Shelved> = strip.into_iter().chain(outer).collect();
        self.done(desk, (quantity, cost), &made, &settled)
    }

    /// Makes the pieces that the cut parts off: the strip beside it, and what was outside of it.
    fn part(
        &mut self,
        desk: &mut Desk<'_>,
        effect: &mut CutEffect,
    ) -> Done<(Option<Shelved>, Option<Shelved>)> {
        let from = Account::piece(self.shelved.stored.piece.id);
        let strip = self.make_piece(desk, effect.strip.take(), true)?;
        let outer = self.make_piece(desk, effect.outer.take(), false)?;
        let parted = |made: &Shelved| {
            let Piece {
                id,
                quantity,
                value,
                ..
            } = made.stored.piece;
            Movement::new(from, Account::piece(id), quantity, value)
        };
        // The strip lay beside what was cut: it takes no length.
        self.movements.extend(strip.as_ref().map(|strip| Movement {
            quantity_out: Quantity::ZERO,
            ..parted(strip)
        }));
        self.movements.extend(outer.as_ref().map(parted));
        Ok((strip, outer))
    }

    /// Promises of others that gave up their rounding to the cutting step, on the piece and on what was outside of the cut.
    fn gave_way(
        &self,
        desk: &mut Desk<'_>,
        outer: Option<&Shelved>,
        own: Option<i64>,
    ) -> Done<Vec<i64>> {
        let before = self.before.iter();
        let others = before.filter(|hold| Some(hold.reservation) != own);
        let others: Vec<Hold> = others.copied().collect();
        let mut gave = promises::gave_up(desk, &self.shelved, &others)?;
        if let Some(outer) = outer {
            gave.extend(promises::gave_up(desk, outer, &others)?);
        }
        Ok(gave)
    }

    fn book(&mut self, desk: &mut Desk<'_>, cut: &CutEntry, effect: &CutEffect) -> Done<()> {
        let summary = self.summary(desk.context, Quantity::new(cut.quantity)?);
        let mut entry = Entry::new(BookingKind::Cut, self.day, summary);
        entry.subjects = vec![
            (Subject::Garment, self.garment.id),
            (Subject::Lot, self.shelved.record.lot.id),
        ];
        entry.detail = Detail::Cut(Box::new(self.kept(cut, effect)));
        entry.movements = std::mem::take(&mut self.movements);
        entry.traces = std::mem::take(&mut self.traces);
        desk.book(self.booking, entry)
    }

    /// The row of the cut, but for what is known of it later.
    fn row(&self, quantity: Quantity, effect: &CutEffect, fills: &Fills) -> CutEntry {
        CutEntry {
            booking_id: self.booking,
            need_id: self.need.row.id,
            garment_id: self.garment.id,
            role: self.need.row.role.clone(),
            piece_id: self.shelved.stored.piece.id,
            lot_id: self.shelved.record.lot.id,
            reason: self.request.reason,
            quantity: quantity.get(),
            wasted: effect.wasted.get(),
            panel_width_um: self.panel.map(Micrometres::get),
            strip_id: None,
            outer_id: None,
            reservation_id: self.reservation.as_ref().map(|row| row.id),
            drawn: effect.drawn.get(),
            fills: fills.amount,
            width_um: fills.width,
            lay_id: fills.lay,
        }
    }

    /// What its undo needs.
    fn kept(&mut self, cut: &CutEntry, effect: &CutEffect) -> CutDetail {
        CutDetail {
            piece: cut.piece_id,
            quantity: cut.quantity,
            measured: self.measured,
            flaws_beyond: std::mem::take(&mut self.flaws_beyond),
            wasted: cut.wasted,
            came_off: effect.came_off,
            flaws: effect.flaws.clone(),
            outer: cut.outer_id,
            reservation: cut.reservation_id,
            drawn: cut.drawn,
        }
    }

    /// Keeps what was planned of this cut: of a promise its worth before less what it is worth now, of free material the share of
    /// the units that it serves; where nothing was known of them, what was cut.
    fn keep_plan(
        &self,
        desk: &mut Desk<'_>,
        held: i64,
        (units, quantity, cost): (i64, Quantity, Millionths),
    ) -> Done<()> {
        let ended = match (&self.reservation, &self.plan) {
            (Some(row), _) => {
                let row = promises::row(desk, row.id)?;
                let (left, worth) = match row.state {
                    ReservationState::Active => {
                        let shelved = Shelved::load_row(desk, row.piece_id)?;
                        let worth = Costs::default().of(desk, &row, &self.need, &shelved)?;
                        (row.held, worth.value)
                    }
                    _ => (0, Millionths::ZERO),
                };
                let planned = self.worth.known().map(|before| before.minus(worth));
                (Some(held.saturating_sub(left)), planned.transpose()?)
            }
            (None, Some(plan)) => plan.share(units)?,
            (None, None) if units > 0 && !self.complete => {
                let worth = Worth::of_lot(&self.shelved.record.lot, cost, quantity.get())?;
                (Some(quantity.get()), worth.known())
            }
            (None, None) => return Ok(()),
        };
        let of = (self.need.row.id, self.shelved.record.lot.id);
        costs::keep_cut(desk, self.booking, of, ended)
    }

    /// A swatch takes quantity, not value: what it would have cost stays on the piece.
    fn keep_swatch_value(&mut self, effect: &mut CutEffect) -> Done<()> {
        let piece = &mut self.shelved.stored.piece;
        if piece.quantity.is_zero() {
            return Err(invalid(
                "amount",
                "a swatch cannot take the whole piece: nothing would be left to carry its cost",
            ));
        }
        piece.value = piece.value.plus(effect.value)?;
        effect.value = Millionths::ZERO;
        Ok(())
    }

    fn make_piece(
        &self,
        tx: &mut Tx<'_>,
        made: Option<ellwand_domain::ledger::Piece>,
        strip: bool,
    ) -> Done<Option<Shelved>> {
        let Some(made) = made else { return Ok(None) };
        let own = &self.shelved.stored;
        let new = NewPiece {
            offcut: strip || own.offcut,
            ..NewPiece::of(own, &made, self.day)
        };
        let mut stored = new.number(tx)?;
        stored.piece.holds = made.holds;
        tx.insert_piece(&stored)?;
        Ok(Some(Shelved {
            stored,
            record: self.shelved.record.clone(),
        }))
    }

    /// Takes the value of thread and trims from their layers.
    fn take_from_layers(&mut self, desk: &mut Desk<'_>, off: Quantity) -> Done<Millionths> {
        if self.shelved.stored.piece.rectangle.is_some() || self.request.reason == CutReason::Swatch
        {
            return Ok(Millionths::ZERO);
        }
        let taken = pooled::take(
            desk,
            self.booking,
            &self.shelved,
            (off, self.need.own_lot()),
            self.target(),
        )?;
        self.layers = taken.layers;
        self.movements.extend(taken.movements);
        Ok(taken.cost)
    }

    /// Writes the promises as the cut left them.
    fn settle(&self, tx: &mut Tx<'_>, effect: &CutEffect) -> Done<Vec<i64>> {
        let by = format!(
            "{} was cut into for {}",
            self.shelved.code(),
            GarmentCode::new(self.garment.id)
        );
        promises::break_all(tx, self.booking, &effect.broken, &by)?;
        Ok(effect.broken.clone())
    }

    /// That the strip beside the rows of its parts was kept.
    fn note_strip(&mut self, context: &Context<'_>, strip: Option<&Shelved>) {
        if let (Some(width), None, Some(strip)) = (self.panel, &self.request.panel_width, strip) {
            self.notes.push(format!(
                "its parts take {} of the width; the strip beside them is kept as {} (--no-keep-strip cuts the whole width)",
                width.show_width(context.units()),
                strip.code()
            ));
        }
    }

    fn note(&mut self, context: &Context<'_>, effect: &CutEffect) {
        if !effect.wasted.is_zero() {
            let rest = self.shelved.show_taken(context, effect.wasted);
            let why = if self.request.keep_rest == Some(false) {
                "is not kept"
            } else {
                "is too short to keep"
            };
            self.notes.push(format!(
                "the rest of {}, {rest}, {why} and counts as waste of this cut",
                self.shelved.code()
            ));
        }
        if self.request.reason == CutReason::Swatch {
            self.notes
                .push("a swatch takes length, not value: the piece keeps its cost".to_owned());
        }
    }

    /// True where what it cost rests on an estimate.
    fn is_estimate(&self) -> bool {
        let lot = &self.shelved.record.lot;
        let by_value = lot.value_estimated || self.worth.certainty == Certainty::Estimated;
        !lot.unpriced && (by_value || self.shelved.stored.estimated)
    }

    fn summary(&self, context: &Context<'_>, quantity: Quantity) -> String {
        let reason = match self.request.reason {
            CutReason::Planned => String::new(),
            reason => format!(" ({reason})"),
        };
        format!(
            "Cut {} of {} {} for the {} of {} {}{reason}.",
            self.shelved.show_taken(context, quantity),
            self.shelved.code(),
            self.shelved.record.material.name,
            self.need.row.role,
            GarmentCode::new(self.garment.id),
            self.garment.name
        )
    }

    fn done(
        self,
        desk: &mut Desk<'_>,
        (quantity, cost): (Quantity, Millionths),
        made: &[Shelved],
        settled: &Settled,
    ) -> Done<CutDone> {
        let today = desk.context.today;
        let reservation = match &self.reservation {
            Some(row) => {
                let row = promises::row(desk, row.id)?;
                Some(promises::view(desk, &row)?)
            }
            None => None,
        };
        Ok(CutDone {
            booking: BookingCode::new(self.booking),
            garment: GarmentCode::new(self.garment.id),
            need: self.need.row.role.clone(),
            taken: self.shelved.amount(quantity),
            cost: Some(Micro(cost)),
            cost_printed: Some(desk.context.printed(cost)),
            unpriced: self.shelved.record.lot.unpriced,
            cost_estimated: self.is_estimate(),
            reason: self.request.reason,
            from_layers: self.layers,
            piece: self.shelved.view(desk.context.today)?,
            made: made
                .iter()
                .map(|piece| piece.view(today))
                .collect::<Done<_>>()?,
            reservation,
            changed: promises::views(desk, &settled.changed)?,
            broken: promises::views(desk, &settled.broken)?,
            notes: self.notes,
        })
    }
}
