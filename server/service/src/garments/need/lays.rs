//! Lays that are kept of a need.

use super::NeedRecord;
use crate::desk::{context::Context, failure::Done};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::LayCode,
    lay::{LaidParts, LayPart},
    need::{ClothDemand, KeptRung},
    quantity::Micrometres,
};
use ellwand_storage::{Garment, Lay, Need, Tx};
use std::borrow::Cow;

/// A kept lay of a need.
#[derive(Debug, Clone)]
pub(crate) struct LayOfNeed {
    pub(crate) code: LayCode,
    /// False once the parts of the need are others than it was laid for.
    pub(crate) is_current: bool,
    /// The widest first.
    pub(crate) rungs: Vec<KeptRung>,
}

impl NeedRecord {
    /// Reads a stored need with the lays that are kept of its parts.
    pub(crate) fn load(tx: &mut Tx<'_>, row: Need, garment: &Garment) -> Done<Self> {
        let mut need = Self::read(row, garment.count)?;
        if let Some(parts) = need.demand.as_ref().and_then(ClothDemand::parts) {
            let parts = parts.lay_parts().unwrap_or_default();
            need.lays = of_need(tx, need.row.id, &parts)?;
        }
        let current = need.lays.iter().filter(|lay| lay.is_current);
        let kept: Vec<KeptRung> = current.flat_map(|lay| &lay.rungs).copied().collect();
        if let Some(demand) = need.demand.as_mut().filter(|_| !kept.is_empty()) {
            demand.keep(kept);
        }
        Ok(need)
    }

    /// Lets only the kept lays count that a promise or a cut was made by.
    pub(crate) fn rest_on(&mut self, lay: Option<i64>) {
        if let Some(demand) = &mut self.demand {
            demand.rest_on(lay.map(LayCode::new));
        }
    }

    /// The same of a copy, where there are any.
    pub(crate) fn resting_on(&self, lay: Option<i64>) -> Cow<'_, Self> {
        if self.lays.is_empty() {
            return Cow::Borrowed(self);
        }
        let mut resting = self.clone();
        resting.rest_on(lay);
        Cow::Owned(resting)
    }

    /// What one garment needs: with the kept lays, where its parts are not laid together with those of others.
    pub(crate) fn of_one(&self) -> Option<ClothDemand> {
        let alone =
            |demand: &&ClothDemand| demand.parts().is_some_and(|parts| parts.garments() == 1);
        match self.demand.as_ref().filter(alone) {
            Some(demand) => Some(demand.clone()),
            None => self.plan.demand(1).ok().flatten(),
        }
    }

    /// Its kept lays, each in a few words.
    pub(super) fn lay_conditions(&self, context: &Context<'_>) -> Vec<String> {
        let units = context.units();
        let say = |lay: &LayOfNeed| {
            let rungs = lay.rungs.iter().map(|rung| {
                let width = rung.width.show_width(units);
                format!("{} at {width}", rung.length.show_taken(units))
            });
            let rungs = rungs.collect::<Vec<_>>().join(", ");
            match lay.is_current {
                true => format!("kept lay {}: {rungs}", lay.code),
                false => format!("kept lay {} is of other parts: lay it again", lay.code),
            }
        };
        self.lays.iter().map(say).collect()
    }
}

fn of_need(tx: &mut Tx<'_>, need: i64, parts: &[LayPart]) -> Done<Vec<LayOfNeed>> {
    let lays = tx.lays_of_need(need)?;
    if lays.is_empty() {
        return Ok(Vec::new());
    }
    let lengths = tx.lay_lengths(need)?;
    let read = |row: Lay| {
        let code = LayCode::new(row.id);
        let own = lengths.iter().filter(|(lay, ..)| *lay == row.id);
        let rungs = own.map(|(_, width, length)| {
            Ok(KeptRung {
                lay: code,
                width: Micrometres::new(*width)?,
                length: Micrometres::new(*length)?,
            })
        });
        Ok(LayOfNeed {
            code,
            is_current: laid(&row)?.parts == parts,
            rungs: rungs.collect::<Done<_>>()?,
        })
    };
    lays.into_iter().map(read).collect()
}

/// What a stored lay is of.
pub(crate) fn laid(row: &Lay) -> Done<LaidParts> {
    serde_json::from_str(&row.laid).map_err(|error| {
        let code = LayCode::new(row.id);
        let detail = format!("the stored lay {code} cannot be read: {error}");
        Problem::new(ProblemType::Internal, detail).into()
    })
}
