//! The cost of finished garments is final: a backdated rate that would change it, or another mark of a person, is asked about.

use crate::{
    desk::failure::Done,
    money::rates::{self, Hour, Rates, hour},
};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{code::GarmentCode, costing::HourlyCost};
use ellwand_storage::{Tx, WorkEntry};
use std::collections::BTreeSet;

/// What an hour costs: its pay, and its overhead.
type Costs = (Hour, Option<HourlyCost>);

/// Hours of finished and delivered garments, at what they cost before a rate is set.
pub(crate) struct FinalCosts(Vec<(WorkEntry, Costs)>);

impl FinalCosts {
    /// Of the work from a day on.
    pub(crate) fn read(tx: &mut Tx<'_>, from: NaiveDate) -> Done<Self> {
        let mut rates = Rates::default();
        let mut hours = Vec::new();
        for work in tx.final_work(from)? {
            let costs = costs(tx, &mut rates, &work)?;
            hours.push((work, costs));
        }
        Ok(Self(hours))
    }

    /// Garments whose hours cost something else than they did, once a rate is set; what had no rate may get one.
    pub(crate) fn changed(&self, tx: &mut Tx<'_>) -> Done<BTreeSet<GarmentCode>> {
        let mut rates = Rates::default();
        let mut garments = BTreeSet::new();
        for (work, (pay, overhead)) in &self.0 {
            let (pay_now, overhead_now) = costs(tx, &mut rates, work)?;
            let priced = pay.rate()?.is_some();
            let other_pay = priced && pay_now != *pay;
            // What had a price without any overhead was final without it, too.
            let other_overhead = (priced || overhead.is_some()) && *overhead != overhead_now;
            if other_pay || other_overhead {
                garments.insert(GarmentCode::new(work.garment_id));
            }
        }
        Ok(garments)
    }

    /// Refuses where there are any.
    pub(crate) fn unchanged(&self, tx: &mut Tx<'_>, really: bool) -> Done<()> {
        if really {
            return Ok(());
        }
        let garments = self.changed(tx)?;
        let Some(first) = garments.first() else {
            return Ok(());
        };
        let detail = match garments.len() {
            1 => format!(
                "{first} is finished, and its cost is final; this would change what its hours cost"
            ),
            count => format!(
                "{first} and {} more are finished, and their cost is final; this would change what their hours cost",
                count.saturating_sub(1)
            ),
        };
        Err(Problem::new(ProblemType::NeedsConfirmation, detail)
            .field("really")
            .hint("start the rate on a later day, or recount those hours with --really")
            .with(
                "garments",
                garments.iter().map(ToString::to_string).collect::<Vec<_>>(),
            )
            .into())
    }
}

fn costs(tx: &mut Tx<'_>, rates: &mut Rates, work: &WorkEntry) -> Done<Costs> {
    let pay = hour(tx, rates, (work.person_id, work.kind), work.on_date, false)?;
    Ok((pay, rates::overhead(tx, work.on_date)?))
}
