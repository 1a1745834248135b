//! What a promise keeps of its asking.

use crate::{desk::failure::Done, garments::need::NeedRecord, promises::fit::UnitFit};
use ellwand_contract::{Problem, ProblemType, wash::Shrinkage};
use ellwand_domain::{
    code::ReservationCode,
    quantity::Micrometres,
    setting::{Basis, LengthBy},
    shrinkage::Preparation,
};
use ellwand_storage::Reservation;
use serde::{Deserialize, Serialize};

/// What a promise keeps of its asking, as JSON in its row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Asked {
    pub(crate) washed_um: Option<i64>,
    pub(crate) width_um: Option<i64>,
    /// Usable width of cloth when it is cut.
    pub(crate) usable_um: Option<i64>,
    pub(crate) preparation: Option<Preparation>,
    /// What one length, or the share, takes off the piece as it is now.
    pub(crate) per_length: i64,
    pub(crate) basis: Option<Basis>,
    /// What the length of parts comes from.
    pub(crate) length_by: Option<LengthBy>,
    pub(crate) shrinkage: Option<String>,
    pub(crate) directions: Option<Shrinkage>,
    pub(crate) steps: Vec<String>,
}

impl Asked {
    /// Of a new promise.
    pub(crate) fn new(need: &NeedRecord, fit: &UnitFit) -> Self {
        let mut asked = Self {
            washed_um: None,
            width_um: None,
            usable_um: None,
            preparation: need.demand.as_ref().and_then(|demand| demand.preparation),
            per_length: 0,
            basis: None,
            length_by: None,
            shrinkage: None,
            directions: None,
            steps: Vec::new(),
        };
        asked.take_over(fit);
        asked
    }

    pub(crate) fn read(row: &Reservation) -> Done<Self> {
        serde_json::from_str(&row.asked).map_err(|error| {
            let code = ReservationCode::new(row.id);
            Problem::new(
                ProblemType::Internal,
                format!("the stored promise {code} cannot be read: {error}"),
            )
            .into()
        })
    }

    pub(crate) fn text(&self) -> Done<String> {
        serde_json::to_string(self)
            .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()).into())
    }

    /// Takes over what a fit found.
    pub(crate) fn take_over(&mut self, fit: &UnitFit) {
        self.washed_um = fit.washed.map(Micrometres::get);
        self.width_um = fit.width.map(Micrometres::get);
        self.usable_um = fit.usable.map(Micrometres::get);
        self.per_length = fit.takes.get();
        self.basis = fit.basis;
        self.length_by = fit.length_by;
        self.shrinkage.clone_from(&fit.shrinkage);
        self.directions.clone_from(&fit.directions);
        self.steps = fit.all_steps();
    }
}
