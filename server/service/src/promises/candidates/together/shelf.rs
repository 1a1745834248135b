//! The shelf and the needs as the search sees them.

use crate::{
    desk::failure::Done,
    promises::{
        self,
        candidates::{Question, Serving},
    },
};
use ellwand_contract::garments::Pick;
use ellwand_domain::{
    assign::{Claim, Offer, Source, Split},
    certainty::Certainty,
    code::PieceCode,
    ledger::Quantity,
};
use std::collections::BTreeMap;

/// The pieces that serve any of the needs.
#[derive(Default)]
pub(super) struct Shelf {
    pub(super) sources: Vec<Source>,
    pub(super) pieces: Vec<(i64, PieceCode)>,
    places: BTreeMap<i64, usize>,
}

impl Shelf {
    fn place(&mut self, serving: &Serving) -> Done<usize> {
        let stored = &serving.shelved.stored;
        let id = stored.piece.id;
        if let Some(place) = self.places.get(&id) {
            return Ok(*place);
        }
        let stretches = stored.piece.stretches();
        let stretches = stretches.map_err(|error| promises::internal(&serving.shelved, &error))?;
        self.sources.push(Source {
            lot: stored.lot_id,
            number: stored.number,
            width: stored
                .piece
                .rectangle
                .map_or(0, |rectangle| rectangle.full.get()),
            free: stretches
                .iter()
                .map(|stretch| stretch.free().get())
                .collect(),
        });
        self.pieces.push((id, serving.shelved.code()));
        let place = self.sources.len().saturating_sub(1);
        self.places.insert(id, place);
        Ok(place)
    }

    pub(super) fn code(&self, source: usize) -> String {
        self.pieces
            .get(source)
            .map(|(_, code)| code.to_string())
            .unwrap_or_default()
    }
}

/// What is open of a need, with the pieces that serve it; they join the shelf.
pub(super) fn claim(asked: &Question<'_>, serve: &[Serving], shelf: &mut Shelf) -> Done<Claim> {
    let &Question { need, open, .. } = asked;
    // Cloth that is joined by its longest part is looked for piece by piece.
    let set = match need.demand {
        None if need.is_joined() => need.per_unit.map(Quantity::get),
        _ => None,
    };
    let mut offers = Vec::with_capacity(serve.len());
    for serving in serve {
        if set.is_none() && serving.view.units < 1 {
            continue;
        }
        let fit = &serving.fit;
        offers.push(Offer {
            source: shelf.place(serving)?,
            least: set.unwrap_or(fit.least.get()),
            rounded: set.unwrap_or(fit.takes.get()),
            off: serving.off.get(),
            estimated: fit.certainty > Certainty::Stated,
        });
    }
    let split = match (set, need.plan.reels()) {
        (Some(_), _) => Split::Joined,
        (None, Some(_)) => Split::Apart,
        (None, None) => Split::Lengths,
    };
    Ok(Claim {
        units: open,
        one_lot: !need.plan.conditions.mixing,
        split,
        offers,
    })
}

/// True for thread and trims when each need may take what it would take alone: nothing of them becomes waste.
pub(super) fn fit_beside_each_other(shelf: &Shelf, claims: &[Claim], alone: &[Vec<Pick>]) -> bool {
    let mut left: BTreeMap<String, i64> = BTreeMap::new();
    for (place, source) in shelf.sources.iter().enumerate() {
        if source.width > 0 {
            return false;
        }
        left.insert(
            shelf.code(place),
            source.free.iter().copied().max().unwrap_or(0),
        );
    }
    claims.iter().zip(alone).all(|(claim, picks)| {
        let each = claim.offers.first().map_or(0, |offer| offer.least);
        !picks.is_empty()
            && picks.iter().all(|pick| {
                let length = pick.washed_length.as_ref();
                let takes = pick
                    .trims
                    .or(length.map(|length| length.value().get()))
                    .unwrap_or_else(|| each.saturating_mul(pick.units.unwrap_or(1)));
                let Some(left) = left.get_mut(&pick.piece.to_string()) else {
                    return false;
                };
                *left = left.saturating_sub(takes);
                *left >= 0
            })
    })
}
