//! Overhead on the minutes that were worked.

use super::{CostError, CostItem, Extent, HourlyCost, PriceGroup};
use crate::{
    allocation::{AllocationError, largest_remainder},
    quantity::Millionths,
};

/// What the overhead is called on every sheet.
pub const OVERHEAD: &str = "overhead";

/// Overhead on planned minutes.
///
/// # Errors
/// Overflow.
pub fn planned_overhead(minutes: i64, rate: &HourlyCost) -> Result<CostItem, CostError> {
    Ok(item("on billable hours", minutes, rate.of(minutes)?))
}

fn item(of: &str, minutes: i64, value: Millionths) -> CostItem {
    CostItem {
        of: vec![of.to_owned()],
        extent: Some(Extent::Minutes(minutes)),
        ..CostItem::new(PriceGroup::Overhead, OVERHEAD, value)
    }
}

/// Overhead on billable work, each at the rate of its day: one cost for the job, and one for what each operation lost.
///
/// - Rounding: all minutes of one rate are rounded once and split over the job and the lost minutes by largest remainder, so
///   that lost minutes within the planned time leave no difference.
///
/// # Errors
/// Overflow.
pub fn overhead_on(worked: &[(&CostItem, HourlyCost)]) -> Result<Vec<CostItem>, CostError> {
    let mut rates: Vec<HourlyCost> = Vec::new();
    for (_, rate) in worked {
        if !rates.contains(rate) {
            rates.push(*rate);
        }
    }
    let mut costs = Vec::with_capacity(worked.len());
    for rate in rates {
        let own = || worked.iter().filter(|(_, own)| *own == rate).enumerate();
        let weights: Vec<i64> = own().map(|(_, (work, _))| work.minutes()).collect();
        let minutes = weights
            .iter()
            .try_fold(0_i64, |sum, own| sum.checked_add(*own));
        let amount = rate.of(minutes.ok_or(AllocationError::Overflow)?)?.get();
        if weights.iter().all(|minutes| *minutes == 0) {
            continue;
        }
        let parts = largest_remainder(amount, &weights)?;
        for (at, (work, _)) in own() {
            let value = Millionths::new(parts.get(at).copied().unwrap_or(0))?;
            let lost = work.loss.map(|_| work.name.as_str());
            costs.push(CostItem {
                loss: work.loss,
                ..item(lost.unwrap_or("on billable hours"), work.minutes(), value)
            });
        }
    }
    let same = |one: &CostItem, other: &CostItem| (one.loss, &one.of) == (other.loss, &other.of);
    let mut costs = CostItem::together(costs, same)?;
    costs.retain(|cost| cost.loss.is_none() || !cost.value.is_zero());
    Ok(costs)
}
