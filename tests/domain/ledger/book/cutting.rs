//! Cuts of every kind, with the layers that trims are taken from.

use super::acts::{Length, part};
use super::{Book, CutDeed, Deed, State, money, rules};
use ellwand_domain::{
    layer::{Taken, draw_down, take, take_own_first},
    ledger::{Account, AccountKind, CutEffect, CutOrder, Hold, Panel, Piece, Quantity},
    quantity::{Micrometres, Millionths},
    setting::{End, OffcutValue},
};

#[derive(Debug, Clone)]
pub struct CutAct {
    pub piece: u8,
    pub garment: u8,
    pub length: Length,
    pub end: End,
    pub at: Option<Length>,
    /// Draws from this promise of the piece.
    pub from_promise: Option<u8>,
    pub last: bool,
    /// One bit for each promise of the piece.
    pub may_break: u8,
    pub panel: Option<(Length, bool, OffcutValue)>,
    pub waste_up_to: Length,
    pub mistake: bool,
    /// Trims: at the cost of the lot that the piece came in with.
    pub own_lot: bool,
}

impl Book {
    fn order(&self, id: i64, act: &CutAct) -> CutOrder {
        let piece = &self.pieces[&id];
        let own = act
            .from_promise
            .and_then(|n| piece.holds.get(usize::from(n) % piece.holds.len().max(1)));
        let whole = own.map_or(piece.quantity, |hold| hold.quantity).get();
        let broken = piece
            .holds
            .iter()
            .enumerate()
            .filter(|(n, _)| act.may_break >> n & 1 == 1);
        let width = |thousandths| match piece.rectangle {
            Some(rectangle) => {
                Micrometres::new(part(thousandths, rectangle.full.get()).get()).unwrap()
            }
            None => Micrometres::METRE,
        };
        let cloth = piece.rectangle.is_some();
        CutOrder {
            quantity: part(act.length, whole),
            end: act.end,
            at: act.at.map(|at| part(at, piece.quantity.get())),
            reservation: own.map(|hold| hold.reservation),
            last: act.last,
            may_break: broken.map(|(_, hold)| hold.reservation).collect(),
            panel: act.panel.map(|(w, keep_strip, strip_value)| Panel {
                width: width(w),
                keep_strip,
                strip_value,
            }),
            waste_up_to: part(
                if cloth { act.waste_up_to } else { 0 },
                piece.quantity.get(),
            ),
            outer_waste_up_to: part(
                if cloth { act.waste_up_to } else { 0 },
                piece.quantity.get(),
            ),
        }
    }

    pub fn cut(&mut self, act: &CutAct) {
        let Some(id) = self.pick(act.piece) else {
            return;
        };
        let Some(garment) = self.open_garment(act.garment) else {
            return;
        };
        let before = self.pieces[&id].clone();
        let order = self.order(id, act);
        let mut piece = before.clone();
        let Ok(effect) = piece.cut(&order) else {
            assert_eq!(piece, before, "a refusal changes nothing");
            check_refusal(&before, &order);
            return;
        };
        let Some(taken) = self.layers_for(id, &before, order.quantity.get(), act.own_lot) else {
            return;
        };
        check_cut(&before, &piece, &order, &effect);
        let first = self.movements.len();
        self.layers = draw_down(&self.layers, &taken).unwrap();
        self.pieces.insert(id, piece);
        let to = match act.mistake {
            true => Account::new(AccountKind::OwnMistake, garment),
            false => Account::garment(garment),
        };
        let gone = order.quantity.plus(effect.wasted).unwrap();
        self.post(Account::piece(id), to, gone, gone, effect.value);
        for taken in &taken {
            let quantity = Quantity::new(taken.quantity).unwrap();
            self.post(
                Account::layer(taken.layer),
                to,
                quantity,
                quantity,
                taken.value,
            );
        }
        let strip = effect.strip.clone().map(|strip| {
            let (length, value) = (strip.quantity, strip.value);
            let made = self.shelve(strip, Some(id));
            self.post(
                Account::piece(id),
                Account::piece(made),
                Quantity::ZERO,
                length,
                value,
            );
            made
        });
        let outer = effect.outer.clone().map(|outer| {
            let (length, value) = (outer.quantity, outer.value);
            let made = self.shelve(outer, Some(id));
            self.post(
                Account::piece(id),
                Account::piece(made),
                length,
                length,
                value,
            );
            made
        });
        self.after_cut(&order, &effect);
        let (quantity, reservation) = (order.quantity, order.reservation);
        let deed = CutDeed {
            piece: id,
            before,
            quantity,
            effect,
            reservation,
            garment,
            strip,
            outer,
            taken,
        };
        self.book(Deed::Cut(Box::new(deed)), first);
    }

    /// What the layers give for a cut of trims; nothing for cloth; `None` when the lot's own layer is short.
    fn layers_for(
        &self,
        id: i64,
        piece: &Piece,
        quantity: i64,
        own_lot: bool,
    ) -> Option<Vec<Taken>> {
        if piece.rectangle.is_some() {
            return Some(Vec::new());
        }
        if own_lot {
            let lot = self
                .lots
                .iter()
                .find(|(_, (pieces, _))| pieces.contains(&id))
                .map(|(lot, _)| *lot)?;
            return take_own_first(&self.layers, self.method, Some(lot), quantity).ok();
        }
        Some(take(&self.layers, self.method, quantity).unwrap())
    }

    fn after_cut(&mut self, order: &CutOrder, effect: &CutEffect) {
        self.count("cut");
        for (what, happened) in [
            ("cut a strip", effect.strip.is_some()),
            ("cut in the middle", effect.outer.is_some()),
            ("cut at the inner end", effect.came_off == End::Inner),
            ("wasted", !effect.wasted.is_zero()),
            (
                "cut into a promise",
                effect
                    .broken
                    .iter()
                    .any(|broken| order.may_break.contains(broken)),
            ),
            ("drawn", !effect.drawn.is_zero()),
        ] {
            if happened {
                self.count(what);
            }
        }
        for broken in &effect.broken {
            self.end(*broken, State::Broken);
        }
        if let Some(own) = order.reservation
            && effect.still_held.is_zero()
        {
            self.end(own, State::Cut);
        }
    }
}

fn gives_way(order: &CutOrder, hold: &Hold) -> bool {
    order.may_break.contains(&hold.reservation) || order.reservation == Some(hold.reservation)
}

/// Rule 6 after a cut: promises that must be kept come first, and all of them are.
fn check_cut(before: &Piece, after: &Piece, order: &CutOrder, effect: &CutEffect) {
    let own = order
        .reservation
        .and_then(|own| before.hold(own))
        .map_or(Quantity::ZERO, |hold| hold.quantity);
    assert_eq!(
        effect.drawn,
        own.min(order.quantity),
        "the own promise is used first"
    );
    let left = if order.last {
        Quantity::ZERO
    } else {
        own.less(effect.drawn)
    };
    assert_eq!(
        effect.still_held, left,
        "the rest stays promised unless it is the last cut"
    );
    let mut waiting = before.holds.clone();
    waiting
        .retain(|hold| order.reservation != Some(hold.reservation) || !effect.still_held.is_zero());
    for hold in waiting
        .iter_mut()
        .filter(|hold| order.reservation == Some(hold.reservation))
    {
        hold.quantity = effect.still_held;
    }
    waiting.sort_by_key(|hold| (gives_way(order, hold), hold.rank));
    if effect.wasted.is_zero() {
        let pieces: Vec<&Piece> = effect.outer.iter().chain([after]).collect();
        let broken = rules::breaks(&rules::stretch_lengths(&pieces), &waiting);
        let mut expected: Vec<Hold> = waiting
            .iter()
            .filter(|h| broken.contains(&h.reservation))
            .copied()
            .collect();
        expected.sort_by_key(|hold| hold.rank);
        let expected: Vec<i64> = expected.into_iter().map(|hold| hold.reservation).collect();
        assert_eq!(
            effect.broken, expected,
            "broken are those that do not fit, in the order"
        );
    }
    for hold in waiting
        .iter()
        .filter(|hold| effect.broken.contains(&hold.reservation))
    {
        assert!(gives_way(order, hold), "R{} must be kept", hold.reservation);
    }
    let outer = effect.outer.as_ref();
    let kept: usize = outer.map_or(0, |outer| outer.holds.len()) + after.holds.len();
    assert_eq!(
        kept + effect.broken.len(),
        waiting.len(),
        "nothing vanishes"
    );
    let parts = [
        Some(effect.value),
        effect.strip.as_ref().map(|s| s.value),
        outer.map(|o| o.value),
    ];
    let total = Millionths::sum(parts.into_iter().flatten().chain([after.value])).unwrap();
    assert_eq!(total, before.value, "a cut moves value and makes none");
    let (gone, width) = (
        order.quantity.get(),
        before.rectangle.map(|rectangle| rectangle.full.get()),
    );
    if effect.wasted.is_zero()
        && effect.strip.is_none()
        && effect.outer.is_none()
        && width.is_some()
    {
        let exact = i128::from(before.value.get()) * i128::from(gone);
        let booked = i128::from(effect.value.get()) * i128::from(before.quantity.get());
        let (off, half) = (
            (2 * (exact - booked)).abs(),
            i128::from(before.quantity.get()),
        );
        assert!(off <= half, "a cut costs its share, rounded once");
    }
    assert!(effect.value >= money(0), "no cut costs less than nothing");
}

/// A cut that nothing stands in the way of is not refused.
fn check_refusal(piece: &Piece, order: &CutOrder) {
    let panel_fits = match (order.panel, piece.rectangle) {
        (Some(panel), Some(rectangle)) => panel.width <= rectangle.usable(),
        (Some(_), None) => false,
        (None, _) => true,
    };
    let place = order
        .at
        .is_none_or(|at| at.get() + order.quantity.get() <= piece.quantity.get());
    let possible =
        !order.quantity.is_zero() && order.quantity <= piece.quantity && panel_fits && place;
    let whole = piece.flaws.is_empty() && (order.at.is_none() || piece.holds.is_empty());
    let held: i64 = piece
        .holds
        .iter()
        .filter(|hold| !gives_way(order, hold))
        .map(|hold| hold.quantity.get())
        .sum();
    let room = held + order.quantity.get() <= piece.quantity.get();
    let allowed = piece
        .holds
        .iter()
        .all(|hold| gives_way(order, hold) || order.may_break.is_empty());
    let free = order.quantity <= piece.longest_free().unwrap();
    assert!(
        !(possible && whole && room && allowed && free),
        "nothing stood in the way: {piece:?} {order:?}"
    );
}
