//! Sums: what the booking moved goes back, to pieces, layers, purchases, minutes and payments.

use super::{Case, Effect, cannot, first, first_back};
use crate::{
    desk::{
        Desk,
        detail::{Detail, Segment},
        failure::{Done, Failure, not_found},
        trace,
    },
    money::overhead,
    promises,
    shelf::{pools, shelved::Shelved},
};
use ellwand_domain::{
    code::PurchaseCode,
    ledger::{Account, AccountKind, Quantity},
    quantity::Millionths,
    setting::{BookingKind, End, Facet},
};
use ellwand_storage::{Purchase, StoredPiece};
use std::collections::{BTreeMap, BTreeSet};

/// Quantity and value that reach a place.
type Sum = (i64, i64);

impl Case {
    /// Lengths that it took off pieces, in the order in which they are laid back.
    pub(super) fn segments(&self, desk: &mut Desk<'_>) -> Done<Vec<Segment>> {
        let cut = match &self.detail {
            Detail::Parted { off } => return Ok(vec![off.clone()]),
            Detail::Cut(cut) => cut,
            _ => return Ok(Vec::new()),
        };
        let off = |quantity, end, flaws: &[_], made| Segment {
            piece: cut.piece,
            quantity,
            end,
            flaws: flaws.to_vec(),
            made,
        };
        // A rest that was waste came off with the cut: it returns with it.
        let own = cut.quantity.saturating_add(cut.wasted);
        let mut segments = vec![off(own, cut.came_off, &cut.flaws, None)];
        if let Some(outer) = cut.outer
            && let Some(stored) = desk.tx.piece(outer)?
        {
            let quantity = stored.piece.quantity.get();
            segments.push(off(quantity, End::Outer, &[], Some(outer)));
        }
        if cut.measured < 0 {
            let missing = cut.measured.saturating_neg();
            segments.push(off(missing, End::Inner, &cut.flaws_beyond, None));
        }
        Ok(segments)
    }

    /// Applies the opposite movements to the balances, lays lengths back, and puts the facets of pieces back.
    pub(super) fn sums_back(
        &self,
        desk: &mut Desk<'_>,
        made: &BTreeSet<i64>,
        effect: &mut Effect,
    ) -> Done<()> {
        let mut pieces: BTreeMap<i64, Sum> = BTreeMap::new();
        let mut layers: BTreeMap<i64, Sum> = BTreeMap::new();
        for line in &effect.movements {
            let ends = [
                (line.from, -line.quantity_out.get(), -line.value.get()),
                (line.to, line.quantity_in.get(), line.value.get()),
            ];
            for (place, quantity, value) in ends {
                let sums = match place.kind {
                    AccountKind::Piece => &mut pieces,
                    AccountKind::Layer => &mut layers,
                    _ => continue,
                };
                let sum = sums.entry(place.id).or_default();
                *sum = (sum.0 + quantity, sum.1 + value);
            }
        }
        let facets = self.traces.iter().filter(|trace| of_piece(trace.facet));
        for piece in facets.map(|trace| trace.subject_id) {
            pieces.entry(piece).or_default();
        }
        for piece in effect.widths.keys() {
            pieces.entry(*piece).or_default();
        }
        let segments = self.segments(desk)?;
        let mut laid = BTreeMap::new();
        for piece in made {
            let sum = pieces.remove(piece).unwrap_or_default();
            let laid_back = segments.iter().any(|off| off.made == Some(*piece));
            let kept = self.emptied(
                desk,
                *piece,
                sum,
                laid_back && self.kind() == BookingKind::Cut,
            )?;
            laid.insert(*piece, kept);
        }
        for (piece, sum) in pieces {
            let mut shelved = Shelved::load_row(desk, piece)?;
            let own = segments.iter().filter(|off| off.piece == piece);
            let own: Vec<&Segment> = own.collect();
            self.piece_back(desk, &mut shelved, sum, (&own, &laid), effect)?;
        }
        for (layer, sum) in layers {
            self.layer_back(desk, layer, sum)?;
        }
        Ok(())
    }

    /// Empties a piece that the booking had made; as it was. `holds`: its promises go back with it.
    fn emptied(&self, desk: &mut Desk<'_>, id: i64, sum: Sum, holds: bool) -> Done<StoredPiece> {
        let mut shelved = Shelved::load_row(desk, id)?;
        let (before, code) = (shelved.stored.clone(), shelved.code());
        let piece = &mut shelved.stored.piece;
        if !holds && !piece.holds.is_empty() {
            return Err(cannot(
                format!("{code} is promised"),
                "release that promise first, with ellwand release",
            )
            .naming("piece", code));
        }
        if (piece.quantity.get() + sum.0, piece.value.get() + sum.1) != (0, 0) {
            let detail = format!("what {} made of {code} has changed since", self.code());
            return Err(first(detail));
        }
        (piece.quantity, piece.value) = (Quantity::ZERO, Millionths::ZERO);
        piece.flaws.clear();
        piece.holds.clear();
        let last_on = shelved.stored.last_on;
        shelved.save(desk, last_on)?;
        Ok(before)
    }

    fn piece_back(
        &self,
        desk: &mut Desk<'_>,
        shelved: &mut Shelved,
        (quantity, value): Sum,
        (segments, laid): (&[&Segment], &BTreeMap<i64, StoredPiece>),
        effect: &mut Effect,
    ) -> Done<()> {
        if !segments.is_empty() {
            promises::end_overdue(desk, self.booking, shelved)?;
        }
        let back = |error| promises::internal(shelved, &error);
        let mut piece = shelved.stored.piece.clone();
        let mut left = quantity;
        for off in segments {
            let made = off.made.and_then(|made| laid.get(&made));
            let flaws = made.map_or(&off.flaws, |made| &made.piece.flaws);
            let length = Quantity::new(off.quantity)?;
            piece
                .put_back(length, Millionths::ZERO, off.end, flaws)
                .map_err(back)?;
            left -= off.quantity;
            piece.holds.extend(
                made.iter()
                    .flat_map(|made| made.piece.holds.iter().cloned()),
            );
        }
        let now = piece.quantity.get() + left;
        if now > 0 && left != 0 && !segments.is_empty() {
            // What `piece_was` had found lies at the inner end.
            let rectangle = piece.rectangle;
            piece
                .remeasure(Quantity::new(now)?, rectangle, false)
                .map_err(back)?;
        }
        let worth = piece.value.get() + value;
        if now < 0 || worth < 0 || (now == 0 && worth != 0) {
            let (place, code) = (Account::piece(piece.id), shelved.code().to_string());
            return Err(self.used(desk, place, &code)?);
        }
        (piece.quantity, piece.value) = (Quantity::new(now)?, Millionths::new(worth)?);
        shelved.stored.piece = piece;
        let id = shelved.stored.piece.id;
        let own = |trace: &&ellwand_storage::Trace| of_piece(trace.facet) && trace.subject_id == id;
        let mut reshaped = false;
        for trace in self.traces.iter().filter(own) {
            reshaped |= trace.facet != Facet::Place;
            trace::put_back(&mut shelved.stored, trace)?;
        }
        if let Some(widths) = effect.widths.get(&id) {
            shelved.stored.piece.rectangle = Some(*widths);
            reshaped = true;
        }
        self.keep_promises(desk, shelved, (reshaped, left), effect)?;
        let day = match quantity {
            0 => shelved.stored.last_on,
            _ => self.day,
        };
        shelved.save(desk, day)
    }

    /// Finds room for the promises on a piece that is as it was.
    fn keep_promises(
        &self,
        desk: &mut Desk<'_>,
        shelved: &mut Shelved,
        (reshaped, left): (bool, i64),
        effect: &mut Effect,
    ) -> Done<()> {
        let because = self.because();
        let cut = self.kind() == BookingKind::Cut;
        if reshaped && !cut {
            let settled = promises::resettle(desk, self.booking, shelved, &because)?;
            effect.settled(settled);
            return Ok(());
        }
        if shelved.stored.piece.holds.is_empty() {
            return Ok(());
        }
        effect.pieces.insert(shelved.stored.piece.id);
        let broken = shelved
            .stored
            .piece
            .settle()
            .map_err(|error| promises::internal(shelved, &error))?;
        if !broken.is_empty() && left < 0 {
            let detail = format!(
                "what {} had brought to {} has been promised since",
                self.code(),
                shelved.code()
            );
            return Err(
                cannot(detail, "release that promise first, with ellwand release")
                    .naming("piece", shelved.code()),
            );
        }
        promises::break_all(desk, self.booking, &broken, &because)?;
        effect.broken.extend(broken);
        Ok(())
    }

    /// Why what the booking brought cannot be taken off a place again.
    fn used(&self, desk: &mut Desk<'_>, place: Account, what: &str) -> Done<Failure> {
        let by = self.since(desk, place, |line| line.from == place)?;
        let detail = format!("{what} has been used or credited since");
        Ok(match by {
            Some(by) => first_back(format!("{detail}, by {by}"), by),
            None => first(detail),
        })
    }

    fn layer_back(&self, desk: &mut Desk<'_>, id: i64, (quantity, value): Sum) -> Done<()> {
        let Some(mut layer) = desk.tx.layer(id)? else {
            return Ok(());
        };
        (layer.quantity, layer.value) = (layer.quantity + quantity, layer.value + value);
        if layer.quantity < 0 || layer.value < 0 || (layer.quantity == 0 && layer.value != 0) {
            return Err(self.used(desk, Account::layer(id), "the thread or trim")?);
        }
        Ok(desk.tx.save_layer(&layer)?)
    }

    /// Rows that count by themselves: the purchase, minutes, payments, wash tests, shares of pools.
    pub(super) fn rows_back(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let id = self.target.id;
        match self.kind() {
            BookingKind::Bought => self.purchase_back(desk)?,
            BookingKind::Charged => self.charge_rows_back(desk, effect)?,
            BookingKind::Tested => {
                effect.lots.extend(self.lots(desk)?);
            }
            BookingKind::Worked => {
                for work in self.work(desk)? {
                    overhead::reverse(desk, &work, -1, false)?;
                }
            }
            BookingKind::Cancelled => {
                for garment in self.garments(desk)?.into_iter().take(1) {
                    for work in desk.tx.work(garment)? {
                        overhead::reverse(desk, &work, 1, true)?;
                    }
                }
            }
            _ => {}
        }
        pools::taken_back(desk, id)?;
        Ok(desk.tx.mark_undone(id, self.booking)?)
    }

    fn purchase_back(&self, desk: &mut Desk<'_>) -> Done<()> {
        let Some(supplier) = self.bought() else {
            return Ok(());
        };
        for mut line in desk.tx.purchase_lines(supplier)? {
            line.landed = 0;
            desk.tx.update_purchase_line(&line)?;
            if let Some(mut lot) = desk.tx.lot(line.lot_id)? {
                lot.landed = 0;
                desk.tx.update_lot(&lot)?;
            }
            desk.tx.delete_pool_share(line.lot_id)?;
        }
        let mut row = self.purchase(desk, supplier)?;
        row.home_value = 0;
        Ok(desk.tx.update_purchase(&row)?)
    }

    /// The purchase that the booking logged.
    pub(super) fn bought(&self) -> Option<i64> {
        let mut from = self.movements.iter().map(|line| line.from);
        from.find(|from| from.kind.is_source()).map(|from| from.id)
    }

    pub(super) fn purchase(&self, desk: &mut Desk<'_>, purchase: i64) -> Done<Purchase> {
        let code = PurchaseCode::new(purchase);
        desk.tx
            .purchase(purchase)?
            .ok_or_else(|| not_found(format!("purchase {code}"), "see ellwand buy list"))
    }
}

/// True for what is traced of pieces.
const fn of_piece(facet: Facet) -> bool {
    matches!(
        facet,
        Facet::Place
            | Facet::Length
            | Facet::Flaws
            | Facet::Widths
            | Facet::Preparation
            | Facet::Tare
    )
}
