//! Sets that may be joined from several pieces of a lot.

use super::{Filling, Search};
use crate::{
    assign::Take,
    trim::{Card, Share, fill},
};

impl Search<'_> {
    /// Takes sets of a lot, as many as it has and then fewer. Which of its pieces they come from changes nothing for the others: sets may
    /// be joined.
    pub(super) fn fill_sets(&mut self, filling: Filling<'_>) {
        let Some(claim) = self.claims.get(filling.claim) else {
            return;
        };
        let each = claim.offers.first().map_or(1, |offer| offer.least.max(1));
        let mut lots: Vec<i64> = Vec::new();
        for offer in &claim.offers {
            let lot = self.lot(offer.source);
            if !lots.contains(&lot) {
                lots.push(lot);
            }
        }
        for (index, lot) in lots.into_iter().enumerate().skip(filling.from) {
            let cards: Vec<Card> = claim
                .offers
                .iter()
                .filter(|offer| self.lot(offer.source) == lot)
                .map(|offer| Card {
                    piece: offer.source,
                    free: self.longest(offer.source),
                })
                .collect();
            let free = cards
                .iter()
                .fold(0_i64, |sum, card| sum.saturating_add(card.free));
            let most = free.checked_div(each).unwrap_or(0).min(filling.units);
            let fewest = if claim.one_lot { filling.units } else { 1 };
            for sets in (fewest..=most).rev() {
                self.steps = self.steps.saturating_sub(cards.len());
                if self.is_stopped() {
                    return;
                }
                let before = self.takes.len();
                for share in fill(&cards, each, sets).unwrap_or_default() {
                    let (source, units, trims) = match share {
                        Share::Sets { piece, sets } => (piece, sets, sets.saturating_mul(each)),
                        Share::Part { piece, trims } => (piece, 0, trims),
                    };
                    let (claim, quantity) = (filling.claim, trims);
                    self.push(Take {
                        claim,
                        source,
                        stretch: 0,
                        units,
                        quantity,
                        least: trims,
                        rounded: trims,
                    });
                }
                let units = filling.units.saturating_sub(sets);
                self.fill(Filling {
                    units,
                    from: index.saturating_add(1),
                    ..filling
                });
                while self.takes.len() > before {
                    self.pop();
                }
            }
        }
    }
}
