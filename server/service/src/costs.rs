//! The cost sheet of a garment: planned beside actual.

mod answer;
mod flows;
mod labour;
mod material;

use crate::{
    context::Context,
    failure::{Done, Failure},
    garments::need::load_head,
    perform::Perform,
    stiffness,
};
use ellwand_contract::{
    Amount, Problem, ProblemType,
    costs::{CostSheet as View, GetCost},
};
use ellwand_domain::{
    code::GarmentCode,
    costing::{self, BatchCost, CostError, CostSheet, SheetInput, Spoilage},
    quantity::Millionths,
};
use ellwand_storage::{Garment, Tx};

/// How a line of the sheet is told to people.
#[derive(Debug, Clone, Default)]
pub(crate) struct Shown {
    pub(crate) name: String,
    pub(crate) detail: String,
    pub(crate) planned: Option<String>,
    pub(crate) actual: Option<String>,
    /// The same of a material, exact.
    pub(crate) amounts: Option<(Amount, Amount)>,
    pub(crate) planned_known: bool,
    /// Not all of its hours have a rate.
    pub(crate) actual_unknown: bool,
    /// Lot of a material, and how much of it was planned and taken.
    pub(crate) taken: Option<Taken>,
}

/// How much of a lot.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Taken {
    pub(crate) lot: i64,
    pub(crate) planned: i64,
    pub(crate) actual: i64,
}

/// A garment's costs, worked out, with what its lines say beside the amounts.
pub(crate) struct Costed {
    pub(crate) sheet: CostSheet,
    /// Shape: one for each of the sheet's lines but overhead.
    pub(crate) lines: Vec<Shown>,
    /// Shape: one for each of the sheet's losses but overhead.
    pub(crate) losses: Vec<Shown>,
    /// Planned and worked minutes that carry overhead, for people.
    overhead: (Option<String>, Option<String>),
    notes: Vec<String>,
    /// Hours without a rate in the plan, in what the job took, in what was lost: there is no total.
    unpriced: Unpriced,
}

/// Where hours have no rate.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Unpriced {
    pub(crate) planned: bool,
    pub(crate) job: bool,
    pub(crate) lost: bool,
}

impl Perform for GetCost {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<View, Failure> {
        let garment = load_head(tx, self.garment)?;
        let costed = Costed::work_out(tx, context, &garment)?;
        let mut sheet = answer::of(context, &garment, costed)?;
        sheet.stiffness = stiffness::on_cost_sheet(tx, context, &garment)?;
        Ok(sheet)
    }
}

impl Costed {
    pub(crate) fn work_out(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        garment: &Garment,
    ) -> Done<Self> {
        let mut notes = Vec::new();
        let flows = flows::Flows::read(tx, garment.id)?;
        let materials = material::lines(tx, context, garment, flows, &mut notes)?;
        let labour = labour::lines(tx, context, garment, &mut notes)?;
        let (mut lines, mut losses) = (materials.shown, materials.losses);
        lines.extend(labour.shown);
        losses.extend(labour.losses);
        let input = SheetInput {
            materials: materials.lines,
            labour: labour.lines,
            overhead: labour.rate,
        };
        let sheet = CostSheet::build(&input).map_err(|error| refused(garment, &error))?;
        if !lines.iter().all(|line| line.planned_known) {
            notes.push("the planned cost leaves out what is not priced".to_owned());
        }
        Ok(Self {
            sheet,
            lines,
            losses,
            overhead: labour.minutes,
            notes,
            unpriced: labour.unpriced,
        })
    }

    /// Cost of the job with the customer's changes, which the customer's garment carries; losses are not in it.
    fn job(&self) -> Done<Millionths> {
        Ok(self.sheet.job_cost.plus(self.sheet.customer_changes)?)
    }

    /// What each good one costs, once it is known how many are good.
    fn batch(&self, garment: &Garment) -> Done<Result<Option<BatchCost>, CostError>> {
        let Some(good) = garment.good else {
            return Ok(Ok(None));
        };
        let spoilage = garment.spoilage.map_or(Spoilage::Normal, |word| word.0);
        let salvage = Millionths::new(garment.salvage)?;
        Ok(costing::per_good(self.job()?, garment.count, good, salvage, spoilage).map(Some))
    }
}

/// What each good one of a batch would cost: `good` and `spoiled` need not be saved yet.
pub(crate) fn batch(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
) -> Done<Result<Option<BatchCost>, CostError>> {
    Costed::work_out(tx, context, garment)?.batch(garment)
}

fn refused(garment: &Garment, error: &CostError) -> Problem {
    let code = GarmentCode::new(garment.id);
    Problem::new(
        ProblemType::Internal,
        format!("the cost of {code} cannot be worked out: {error}"),
    )
}
