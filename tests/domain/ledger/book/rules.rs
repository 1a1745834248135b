//! The rules of the ledger, recomputed from the movements and the state alone.

use super::{Book, State};
use ellwand_domain::ledger::{Account, AccountKind, Hold, Movement, Piece};
use std::collections::{BTreeMap, BTreeSet};

/// Area of a rectangle in square micrometres, else the number.
pub fn weight(piece: &Piece) -> i128 {
    let width = piece.rectangle.map_or(1, |rectangle| rectangle.full.get());
    i128::from(piece.quantity.get()) * i128::from(width)
}

/// Lengths between the flaws, read off without the ledger's own reckoning.
pub fn stretch_lengths(pieces: &[&Piece]) -> Vec<i64> {
    let mut lengths = Vec::new();
    for piece in pieces {
        let mut from = 0;
        for flaw in &piece.flaws {
            lengths.push(flaw.at - from);
            from = flaw.at + flaw.length;
        }
        lengths.push(piece.quantity.get() - from);
    }
    lengths.retain(|length| *length > 0);
    lengths
}

fn packs(free: &mut [i64], quantities: &[i64]) -> bool {
    let Some((first, rest)) = quantities.split_first() else {
        return true;
    };
    (0..free.len()).any(|index| {
        if free[index] < *first {
            return false;
        }
        free[index] -= first;
        let done = packs(free, rest);
        free[index] += first;
        done
    })
}

/// Which promises break when each, in the order given, stays if it can be laid beside those that stay.
pub fn breaks(lengths: &[i64], waiting: &[Hold]) -> Vec<i64> {
    let (mut kept, mut broken) = (Vec::new(), Vec::new());
    for hold in waiting {
        kept.push(hold.quantity.get());
        if !packs(&mut lengths.to_vec(), &kept) {
            kept.pop();
            broken.push(hold.reservation);
        }
    }
    broken
}

impl Book {
    /// Rules 1 to 4 and 6 after an act; `before` are the movements before it.
    pub fn check(&self, before: &[Movement]) {
        assert!(
            self.movements.starts_with(before),
            "rule 4: movements are only appended"
        );
        let (quantities, values) = self.balances();
        let balance = |account: Account| {
            let quantity = quantities.get(&account).copied().unwrap_or(0);
            (quantity, values.get(&account).copied().unwrap_or(0))
        };
        let (mut stock, mut counted) = (0_i128, 0_i128);
        for (id, piece) in &self.pieces {
            let state = (
                i128::from(piece.quantity.get()),
                i128::from(piece.value.get()),
            );
            assert_eq!(balance(Account::piece(*id)), state, "rule 1: piece {id}");
            assert!(
                state.0 >= 0 && state.1 >= 0,
                "rule 1: piece {id} is not negative: {state:?}"
            );
            assert!(
                state.0 > 0 || state.1 == 0,
                "an empty piece has no value: {id}"
            );
            stock += state.1;
            counted += if piece.rectangle.is_none() {
                state.0
            } else {
                0
            };
            check_stretches(piece);
        }
        for layer in &self.layers {
            let state = (i128::from(layer.quantity), i128::from(layer.value.get()));
            assert_eq!(
                balance(Account::layer(layer.id)),
                state,
                "rule 1: layer {}",
                layer.id
            );
            assert!(
                state.0 >= 0 && state.1 >= 0,
                "rule 1: layer {} is not negative: {state:?}",
                layer.id
            );
            assert!(state.0 > 0 || state.1 == 0, "an empty layer has no value");
            stock += state.1;
            counted -= state.0;
        }
        assert_eq!(
            counted, 0,
            "pieces of trims and their layers hold the same number"
        );
        let elsewhere: i128 = values
            .iter()
            .filter(|(account, _)| is_elsewhere(account.kind))
            .map(|(_, v)| v)
            .sum();
        assert_eq!(
            self.paid,
            stock + elsewhere,
            "rule 2: what came in is somewhere"
        );
        for (account, value) in values
            .iter()
            .filter(|(account, _)| account.kind == AccountKind::Garment)
        {
            assert!(*value >= 0, "{account} is not negative");
        }
        self.check_promises();
    }

    fn balances(&self) -> (BTreeMap<Account, i128>, BTreeMap<Account, i128>) {
        let (mut quantities, mut values) = (BTreeMap::new(), BTreeMap::new());
        for movement in &self.movements {
            *quantities.entry(movement.from).or_insert(0) -=
                i128::from(movement.quantity_out.get());
            *quantities.entry(movement.to).or_insert(0) += i128::from(movement.quantity_in.get());
            *values.entry(movement.from).or_insert(0) -= i128::from(movement.value.get());
            *values.entry(movement.to).or_insert(0) += i128::from(movement.value.get());
        }
        (quantities, values)
    }

    /// Active reservations are exactly the promises on the pieces, each there once.
    fn check_promises(&self) {
        let mut held = BTreeSet::new();
        for hold in self.pieces.values().flat_map(|piece| &piece.holds) {
            assert!(
                held.insert(hold.reservation),
                "R{} is promised once",
                hold.reservation
            );
            assert!(
                !hold.quantity.is_zero(),
                "R{} holds something",
                hold.reservation
            );
        }
        let active = self
            .reservations
            .iter()
            .filter(|(_, state)| **state == State::Active);
        assert_eq!(
            held,
            active.map(|(reservation, _)| *reservation).collect(),
            "rule 6: nothing vanishes"
        );
    }
}

fn is_elsewhere(kind: AccountKind) -> bool {
    !matches!(
        kind,
        AccountKind::Supplier | AccountKind::Opening | AccountKind::Piece | AccountKind::Layer
    )
}

/// Rule 3, and that stretches and flaws together are the piece.
fn check_stretches(piece: &Piece) {
    let mut end = -1;
    for flaw in &piece.flaws {
        assert!(
            flaw.at > end && flaw.length >= 0,
            "flaws lie apart: {:?}",
            piece.flaws
        );
        end = flaw.at + flaw.length;
    }
    assert!(end <= piece.quantity.get(), "flaws lie in the piece");
    let stretches = piece.stretches().unwrap();
    let lengths: Vec<i64> = stretches
        .iter()
        .map(|s| s.length.get())
        .filter(|length| *length > 0)
        .collect();
    assert_eq!(
        lengths,
        stretch_lengths(&[piece]),
        "stretches are what lies between the flaws"
    );
    let mut held = vec![0; stretches.len()];
    for hold in &piece.holds {
        assert!(
            hold.stretch < held.len(),
            "R{} lies in a stretch",
            hold.reservation
        );
        held[hold.stretch] += hold.quantity.get();
    }
    for (held, stretch) in held.into_iter().zip(stretches) {
        assert!(
            held <= stretch.length.get(),
            "rule 3: {held} promised in {stretch:?}"
        );
    }
}
