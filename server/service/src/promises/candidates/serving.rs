//! A piece that serves, with what ranks it.

use crate::{promises::fit::UnitFit, shelf::shelved::Shelved};
use ellwand_contract::{Micro, garments::Candidate};
use ellwand_domain::{certainty::Certainty, ledger::Quantity, quantity::Micrometres};

/// A piece that serves, with what ranks it.
pub(super) struct Serving {
    pub(super) shelved: Shelved,
    pub(super) fit: UnitFit,
    pub(super) view: Candidate,
    pub(super) longest: Quantity,
    /// What a unit takes of it, in the measure of a share.
    pub(super) size: i64,
    /// How large a share of a unit it can give, where units may be joined.
    pub(super) gives: i64,
    /// Why it fills no unit alone.
    pub(super) short: Option<String>,
    /// Trims: how far the size is from the one that is asked for; within the tolerance all serve. A little more where the need
    /// names no material and this one is not called as its role is.
    pub(super) off: Micrometres,
}

impl Serving {
    /// Best first: the nearest size, a material that is called like the need's role, known shrinkage, all open units in one piece, least left over, cheapest, code.
    pub(super) fn rank(&self, open: i64) -> (Micrometres, bool, bool, i64, i64, i64, i64) {
        let used =
            Quantity::new(self.fit.takes.get().saturating_mul(self.view.units)).unwrap_or_default();
        (
            self.off,
            self.fit.certainty > Certainty::Stated,
            self.view.units < open,
            self.longest.less(used).get(),
            // What is not known is not cheap.
            self.view.cost.map_or(i64::MAX, Micro::get),
            self.shelved.stored.lot_id,
            self.shelved.stored.number,
        )
    }
}
