//! A need with all that bounds it.

use super::sets;
use crate::{
    context::Context,
    failure::Done,
    garments::need::NeedRecord,
    promises::{self, set::Set},
    reservations::{PromisedParts, active_of, reels_given},
    stiffness::{self, Shell},
};
use ellwand_domain::{quantity::Micrometres, setting::Kind};
use ellwand_storage::{Garment, Reservation, Tx};

/// A need with all that bounds it.
pub(super) struct Question<'a> {
    pub(super) garment: &'a Garment,
    pub(super) need: &'a NeedRecord,
    /// Lots that it has cloth of already, when they may not be mixed.
    pub(super) bound: Vec<i64>,
    /// Its promises.
    pub(super) active: Vec<Reservation>,
    /// Pieces that gave one of its units, where those are reels.
    pub(super) given: Vec<i64>,
    pub(super) open: i64,
    /// What promised parts leave of the last open length.
    pub(super) missing: Option<Micrometres>,
    /// For an interlining: the cloth that it will be put to.
    pub(super) shell: Option<Shell>,
    /// Its sets of counted trims that are incomplete.
    pub(super) begun: Vec<Set>,
}

impl<'a> Question<'a> {
    pub(super) fn new(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        garment: &'a Garment,
        need: &'a NeedRecord,
    ) -> Done<Self> {
        let active = active_of(tx, context, garment.id, need.row.id)?;
        let open = need.open_units(active.iter().map(|row| row.units).sum());
        let bound = match need.input.mixing {
            true => Vec::new(),
            false => promises::lots_of_need(tx, &need.row, &active)?,
        };
        let missing = missing_part(need, &active, open)?;
        let shell = match need.row.kind.0 {
            Kind::Interlining => stiffness::shell_of(tx, garment)?,
            _ => None,
        };
        let begun = sets::begun(tx, context, need)?;
        Ok(Self {
            garment,
            need,
            bound,
            active,
            given: reels_given(tx, need)?,
            open,
            missing,
            shell,
            begun,
        })
    }
}

/// What parts that are promised already leave of the last open length: no less than its longest part.
fn missing_part(need: &NeedRecord, active: &[Reservation], open: i64) -> Done<Option<Micrometres>> {
    let promised = PromisedParts::read(active)?;
    if need.demand.is_none() || promised.lengths.is_empty() || open != 1 {
        return Ok(None);
    }
    let missing = need.missing_of(promised.narrowest, &promised.lengths)?;
    Ok(Some(missing.max(need.longest_part.unwrap_or_default())))
}
