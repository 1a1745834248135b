//! Sets of a counted trim from the cards of one lot.

/// A card (or bag, or box) of a lot: which, and how many of it are free.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Card {
    /// The caller's own number for it.
    pub piece: usize,
    /// Free on it.
    pub free: i64,
}

/// What to take of a card: whole sets, or a part of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Share {
    /// So many whole sets.
    Sets {
        /// The card's number.
        piece: usize,
        /// How many sets.
        sets: i64,
    },
    /// So many trims of the set that the parts beside it in the list complete.
    Part {
        /// The card's number.
        piece: usize,
        /// How many trims.
        trims: i64,
    },
}

/// Trims that are missing of `sets` sets of `each` where `have` are there; 0 when they reach.
#[must_use]
pub fn lacking(each: i64, sets: i64, have: i64) -> i64 {
    each.saturating_mul(sets).saturating_sub(have).max(0)
}

/// Cards that `wanted` trims are taken from: the fewest, and of the last the smallest that will do, so that the fullest card
/// is left. `None` when all together do not reach.
///
/// ```
/// use ellwand_domain::trim::{Card, join};
/// let cards = [(0, 3), (1, 4), (2, 6)].map(|(piece, free)| Card { piece, free });
/// assert_eq!(join(&cards, 7), Some(vec![(2, 6), (0, 1)]));
/// ```
#[must_use]
pub fn join(cards: &[Card], wanted: i64) -> Option<Vec<(usize, i64)>> {
    let mut rest: Vec<Card> = cards.iter().copied().filter(|card| card.free > 0).collect();
    // The fullest last; of equals the first one.
    rest.sort_by_key(|card| (card.free, std::cmp::Reverse(card.piece)));
    let (mut left, mut taken) = (wanted, Vec::new());
    while left > 0 {
        if let Some(card) = rest
            .iter()
            .filter(|card| card.free >= left)
            .min_by_key(|card| (card.free, card.piece))
        {
            taken.push((card.piece, left));
            return Some(taken);
        }
        let card = rest.pop()?;
        taken.push((card.piece, card.free));
        left = left.saturating_sub(card.free);
    }
    Some(taken)
}

/// `sets` sets of `each` trims from the cards of one lot: whole ones from single cards as far as they reach, the fullest
/// first, the others joined from what is left on several. `None` when all together do not reach.
///
/// It reaches whenever `each × sets` are free in all: what whole sets leave on the cards adds up to the rest.
#[must_use]
pub fn fill(cards: &[Card], each: i64, sets: i64) -> Option<Vec<Share>> {
    if each < 1 || sets < 1 {
        return None;
    }
    let mut cards: Vec<Card> = cards.to_vec();
    cards.sort_by_key(|card| (std::cmp::Reverse(card.free), card.piece));
    let (mut open, mut shares) = (sets, Vec::new());
    for card in &mut cards {
        let whole = card.free.max(0).checked_div(each).unwrap_or(0).min(open);
        if whole > 0 {
            shares.push(Share::Sets {
                piece: card.piece,
                sets: whole,
            });
            card.free = card.free.saturating_sub(whole.saturating_mul(each));
            open = open.saturating_sub(whole);
        }
    }
    while open > 0 {
        for (piece, trims) in join(&cards, each)? {
            shares.push(Share::Part { piece, trims });
            let card = cards.iter_mut().find(|card| card.piece == piece)?;
            card.free = card.free.saturating_sub(trims);
        }
        open = open.saturating_sub(1);
    }
    Some(shares)
}
