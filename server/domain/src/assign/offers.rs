//! What is known of offers before the search: which pieces stand for one another.

use super::{Claim, Source};
use std::collections::HashMap;

/// What a need would take of a piece: need, least, rounded, off, estimated.
type Offered = (usize, i64, i64, i64, bool);

/// For each source a number that is the same for those that no need can tell apart: of one lot, as long, and with the same offers.
pub(super) fn alike(sources: &[Source], claims: &[Claim]) -> Vec<usize> {
    let mut offered: Vec<Vec<Offered>> = vec![Vec::new(); sources.len()];
    for (number, claim) in claims.iter().enumerate() {
        for offer in &claim.offers {
            if let Some(offered) = offered.get_mut(offer.source) {
                offered.push((
                    number,
                    offer.least,
                    offer.rounded,
                    offer.off,
                    offer.estimated,
                ));
            }
        }
    }
    let mut classes = HashMap::new();
    let mut alike = Vec::with_capacity(sources.len());
    for (source, offered) in sources.iter().zip(offered) {
        let next = classes.len();
        let known = (source.lot, source.width, &source.free, offered);
        alike.push(*classes.entry(known).or_insert(next));
    }
    alike
}
