//! How long a garment's operations are likely to take.

use super::{need::load_head, operation::scaled};
use crate::desk::{
    Desk,
    failure::{Done, Failure},
    perform::Perform,
};
use ellwand_contract::{
    Problem, ProblemType,
    operations::{Estimates, GetEstimates, OperationEstimate},
};
use ellwand_domain::{
    pricing::{MIN_FOR_RANGE, PastWork, TimeEstimate},
    quantity::Minutes,
    setting::EstimateBasis,
};
use ellwand_storage::{Garment, Operation, PastMinutes, Tx};

/// Past garments that are looked at for one operation.
const NEWEST: i64 = 50;

impl Perform for GetEstimates {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Estimates, Failure> {
        let garment = load_head(desk, self.garment)?;
        let mut operations = Vec::new();
        for planned in desk.tx.operations(garment.id)? {
            operations.push(estimate(desk, &garment, planned)?);
        }
        let sum = |minutes: fn(&OperationEstimate) -> i64| {
            operations
                .iter()
                .map(minutes)
                .fold(0_i64, i64::saturating_add)
        };
        let (likely_minutes, batch_minutes) =
            (sum(|of| of.likely_minutes), sum(|of| of.batch_minutes));
        Ok(Estimates {
            garment: self.garment,
            count: garment.count,
            operations,
            likely_minutes,
            batch_minutes,
        })
    }
}

fn estimate(tx: &mut Tx<'_>, garment: &Garment, planned: Operation) -> Done<OperationEstimate> {
    let name = &planned.name;
    let (mut from, mut past) = (
        EstimateBasis::LikeGarments,
        tx.past_minutes(name, Some(&garment.name), garment.id, NEWEST)?,
    );
    if past.len() < MIN_FOR_RANGE {
        (from, past) = (
            EstimateBasis::AllGarments,
            tx.past_minutes(name, None, garment.id, NEWEST)?,
        );
    }
    let mut typed = None;
    if past.is_empty() {
        let usual = tx.usual_operation(name)?;
        from = usual
            .as_ref()
            .map_or(EstimateBasis::Plan, |_| EstimateBasis::UsualOperation);
        let of_plan = scaled(planned.minutes, garment.count, 1)?;
        typed = Some(Minutes::new(usual.map_or(of_plan, |usual| usual.minutes))?);
    }
    let past = past.iter().map(work).collect::<Done<Vec<_>>>()?;
    let estimate = TimeEstimate::of(&past, typed).map_err(fault)?;
    let estimate = estimate.ok_or_else(|| fault("neither past garments nor a typed time"))?;
    let (low, high) = match estimate {
        TimeEstimate::Range { low, high, .. } => (Some(low.get()), Some(high.get())),
        TimeEstimate::Few { .. } | TimeEstimate::Typed { .. } => (None, None),
    };
    let likely = estimate.likely().get();
    let batch = match from {
        EstimateBasis::Plan => planned.minutes,
        _ => Minutes::new(likely.saturating_mul(garment.count))?
            .get()
            .max(1),
    };
    Ok(OperationEstimate {
        low_minutes: low,
        likely_minutes: likely,
        high_minutes: high,
        past: i64::try_from(past.len()).unwrap_or(i64::MAX),
        from,
        certainty: estimate.certainty(),
        batch_minutes: batch,
        planned_minutes: planned.minutes,
        operation: planned.name,
    })
}

fn work(row: &PastMinutes) -> Done<PastWork> {
    Ok(PastWork {
        minutes: Minutes::new(row.minutes)?,
        garments: row.count,
    })
}

fn fault(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
