//! How the units of a need are filled.

use super::NeedRecord;
use crate::desk::failure::Done;
use ellwand_domain::{
    code::LayCode,
    ledger::Quantity,
    need::{ClothDemand, Joining},
    quantity::{Micrometres, QuantityError},
    setting::Kind,
};

impl NeedRecord {
    /// How amounts come together to its units.
    pub(crate) fn joining(&self) -> Joining<'_> {
        let one_lot = !self.plan.conditions.mixing;
        match self.longest_part {
            _ if self.plan.reels().is_some() => Joining::PieceEach,
            // Each set of trims is of one lot, even where several sets are of several.
            _ if self.counted => Joining::Joined {
                one_lot: true,
                longest: None,
                rows: None,
            },
            _ if self.row.kind == Kind::Thread => Joining::Joined {
                one_lot,
                longest: None,
                rows: None,
            },
            Some(longest) => Joining::Joined {
                one_lot,
                longest: Some(longest.get()),
                rows: self.demand.as_ref().and_then(|demand| demand.parts()),
            },
            None => Joining::Apart,
        }
    }

    /// True where a unit may be filled by shares of several pieces.
    pub(crate) fn is_joined(&self) -> bool {
        matches!(self.joining(), Joining::Joined { .. })
    }

    /// What one unit takes in the measure of a share: of cloth the washed length at a usable width, where that is known.
    pub(crate) fn size_at(&self, usable: Option<i64>) -> Done<i64> {
        self.size(usable, ClothDemand::length_at)
    }

    /// The same of what was promised or cut by a kept lay, or by none.
    pub(crate) fn size_on(&self, lay: Option<i64>, usable: Option<i64>) -> Done<i64> {
        let lay = lay.map(LayCode::new);
        self.size(usable, |demand, usable| demand.length_on(lay, usable))
    }

    fn size(
        &self,
        usable: Option<i64>,
        at: impl Fn(&ClothDemand, Micrometres) -> Result<Option<Micrometres>, QuantityError>,
    ) -> Done<i64> {
        if let Some(per_unit) = self.per_unit {
            return Ok(per_unit.get());
        }
        let Some(demand) = &self.demand else {
            return Ok(0);
        };
        let length = match usable {
            Some(usable) => at(demand, Micrometres::new(usable)?)?,
            None => demand.shortest()?,
        };
        Ok(length.map_or(0, Micrometres::get))
    }

    /// A number of micrometres or trims as a share of the need.
    pub(crate) fn share_text(
        &self,
        context: &crate::desk::context::Context<'_>,
        share: i64,
    ) -> Done<String> {
        Ok(self.measure().show_taken(context, Quantity::new(share)?))
    }
}
