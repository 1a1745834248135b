//! The cost of each good garment of a batch.

use super::CostError;
use crate::{allocation::largest_remainder, quantity::Millionths, setting::Spoilage};

/// The largest batch whose garments are listed one by one.
pub const MAX_BATCH: i64 = 100_000;

/// A batch, costed; `Σ per_good + loss + salvage = total` exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatchCost {
    /// Shape: one cost per good garment; they differ by at most a millionth, the larger first.
    pub per_good: Vec<Millionths>,
    /// Sum of `per_good`.
    pub good_total: Millionths,
    /// The spoiled share less salvage; zero for normal spoilage.
    pub loss: Millionths,
}

impl BatchCost {
    /// What one good garment costs, rounded down to the millionth: the first ones carry the rest. Zero where none is good.
    #[must_use]
    pub fn each(&self) -> Millionths {
        self.per_good.last().copied().unwrap_or(Millionths::ZERO)
    }
}

/// Spreads the cost of a batch over its good garments.
///
/// - Formula: normal spoilage: (total − salvage) ÷ good; own mistake: total ÷ started each, and the loss is the spoiled
///   garments' share less what they still fetch.
/// - Rounding: largest remainder in millionths; nothing is lost.
/// - Source: normal waste rides on the good output and abnormal waste is expensed (IAS 2 para 16); salvage as in
///   cost-accounting texts.
///
/// # Errors
/// [`CostError::BatchSize`], [`CostError::GoodCount`], [`CostError::NegativeTotal`], [`CostError::NoneGood`] for normal
/// spoilage of every garment, [`CostError::Salvage`].
pub fn per_good(
    total: Millionths,
    started: i64,
    good: i64,
    salvage: Millionths,
    spoilage: Spoilage,
) -> Result<BatchCost, CostError> {
    if !(1..=MAX_BATCH).contains(&started) {
        return Err(CostError::BatchSize {
            started,
            max: MAX_BATCH,
        });
    }
    if !(0..=started).contains(&good) {
        return Err(CostError::GoodCount { good, started });
    }
    if total.get() < 0 {
        return Err(CostError::NegativeTotal);
    }
    match spoilage {
        Spoilage::Normal if good == 0 => Err(CostError::NoneGood { started }),
        // What the good garments keep would fall below zero, or there is nothing to salvage.
        _ if salvage.get() < 0 || (good == started && !salvage.is_zero()) || salvage > total => {
            Err(CostError::Salvage)
        }
        Spoilage::Normal => {
            let per_good = equal_parts(total.minus(salvage)?, good)?;
            let good_total = Millionths::sum(per_good.iter().copied())?;
            Ok(BatchCost {
                per_good,
                good_total,
                loss: Millionths::ZERO,
            })
        }
        Spoilage::OwnMistake => {
            let mut per_good = equal_parts(total, started)?;
            per_good.truncate(usize::try_from(good).unwrap_or(usize::MAX));
            let good_total = Millionths::sum(per_good.iter().copied())?;
            let loss = total.minus(good_total)?.minus(salvage)?;
            if loss.get() < 0 {
                return Err(CostError::Salvage);
            }
            Ok(BatchCost {
                per_good,
                good_total,
                loss,
            })
        }
    }
}

/// What of one cost of a batch its good garments carry, and what the spoiled ones took: `(good, spoiled)`, which add up to it.
///
/// - Formula: normal spoilage: all of it; own mistake: cost × good ÷ started.
/// - Rounding: the good part to the nearest millionth.
/// - Source: as [`per_good`].
///
/// # Errors
/// [`CostError::BatchSize`], [`CostError::GoodCount`]; overflow.
pub fn on_good(
    cost: Millionths,
    started: i64,
    good: i64,
    spoilage: Spoilage,
) -> Result<(Millionths, Millionths), CostError> {
    if !(1..=MAX_BATCH).contains(&started) {
        return Err(CostError::BatchSize {
            started,
            max: MAX_BATCH,
        });
    }
    if !(0..=started).contains(&good) {
        return Err(CostError::GoodCount { good, started });
    }
    let kept = match spoilage {
        Spoilage::Normal => cost,
        Spoilage::OwnMistake => cost.share(good, started)?,
    };
    Ok((kept, cost.minus(kept)?))
}

fn equal_parts(total: Millionths, n: i64) -> Result<Vec<Millionths>, CostError> {
    let weights = vec![1; usize::try_from(n).unwrap_or(0)];
    let parts = largest_remainder(total.get(), &weights)?;
    Ok(parts
        .into_iter()
        .map(Millionths::new)
        .collect::<Result<_, _>>()?)
}
