//! The good and the spoiled garments of a batch.

use super::*;
use ellwand_domain::{
    costing::{CostError, Spoilage, on_good, per_good},
    quantity::Millionths,
};
use proptest::prelude::*;

#[test]
fn spoilage_rides_on_the_good_or_becomes_a_loss() {
    // Derived: 6 started for 240.00, 1 spoiled.
    let none = Millionths::ZERO;
    let normal = per_good(cents(240_00), 6, 5, none, Spoilage::Normal).unwrap();
    assert_eq!(normal.per_good, [cents(48_00); 5]);
    assert_eq!((normal.good_total, normal.loss), (cents(240_00), none));
    let mistake = per_good(cents(240_00), 6, 5, none, Spoilage::OwnMistake).unwrap();
    assert_eq!(mistake.per_good, [cents(40_00); 5]);
    assert_eq!(
        (mistake.good_total, mistake.loss),
        (cents(200_00), cents(40_00))
    );
    // Inputs of a cost-accounting exercise (P18-35), derived: 40 started at 1 000 each, 5 spoiled and stocked at 200 each.
    let (total, salvage) = (cents(40_000_00), cents(1_000_00));
    let specific = per_good(total, 40, 35, salvage, Spoilage::Normal).unwrap();
    assert_eq!(specific.good_total, cents(39_000_00));
    assert!(
        specific
            .per_good
            .iter()
            .all(|each| (each.get() + 5_000) / 10_000 == 1_114_29)
    );
    let abnormal = per_good(total, 40, 35, salvage, Spoilage::OwnMistake).unwrap();
    assert_eq!(abnormal.per_good, [cents(1_000_00); 35]);
    assert_eq!(
        (abnormal.good_total, abnormal.loss),
        (cents(35_000_00), cents(4_000_00))
    );
    // Spoilage common to all jobs leaves the same 35 000 on this one; its 4 000 go to overhead instead of to a loss. What
    // the good ones carry more when it is specific is 4 000 / 35 each.
    assert_eq!(
        specific.good_total.minus(abnormal.good_total),
        Ok(abnormal.loss)
    );
}

#[test]
fn batches_that_cannot_be_are_refused() {
    let (total, none) = (cents(240_00), Millionths::ZERO);
    let batch =
        |started, good, salvage, spoilage| per_good(total, started, good, salvage, spoilage);
    let size = |started| {
        Err(CostError::BatchSize {
            started,
            max: 100_000,
        })
    };
    assert_eq!(batch(0, 0, none, Spoilage::Normal), size(0));
    assert_eq!(batch(100_001, 1, none, Spoilage::Normal), size(100_001));
    for good in [-1, 7] {
        assert_eq!(
            batch(6, good, none, Spoilage::Normal),
            Err(CostError::GoodCount { good, started: 6 })
        );
    }
    assert_eq!(
        batch(6, 0, none, Spoilage::Normal),
        Err(CostError::NoneGood { started: 6 })
    );
    assert_eq!(
        batch(6, 0, none, Spoilage::OwnMistake).map(|cost| cost.loss),
        Ok(total)
    );
    // The spoiled one cost 40.00: it may fetch that, and no more; nothing spoiled fetches nothing.
    assert_eq!(
        batch(6, 5, cents(40_00), Spoilage::OwnMistake).map(|cost| cost.loss),
        Ok(none)
    );
    assert_eq!(
        batch(6, 5, m(40_000_001), Spoilage::OwnMistake),
        Err(CostError::Salvage)
    );
    assert_eq!(batch(6, 6, m(1), Spoilage::Normal), Err(CostError::Salvage));
    assert_eq!(
        batch(6, 5, m(-1), Spoilage::Normal),
        Err(CostError::Salvage)
    );
    assert_eq!(
        batch(6, 5, m(240_000_001), Spoilage::Normal),
        Err(CostError::Salvage)
    );
    let owed = per_good(m(-1), 6, 6, none, Spoilage::Normal);
    assert_eq!(owed, Err(CostError::NegativeTotal));
}

proptest! {
    #[test]
    fn a_batch_is_shared_to_the_last_millionth(total in 0..1_000_000_000_000_i64, started in 1..60_i64, good in 0..60_i64, mistake in any::<bool>()) {
        let good = good.min(started);
        prop_assume!(mistake || good > 0);
        let spoilage = if mistake { Spoilage::OwnMistake } else { Spoilage::Normal };
        let cost = per_good(m(total), started, good, Millionths::ZERO, spoilage).unwrap();
        prop_assert_eq!(i64::try_from(cost.per_good.len()).unwrap(), good);
        prop_assert_eq!(cost.good_total.plus(cost.loss), Ok(m(total)));
        if let (Some(first), Some(last)) = (cost.per_good.first(), cost.per_good.last()) {
            prop_assert!(first.get() - last.get() <= 1);
        }
    }
}

/// Exercise P18-35 (inputs): 40 started at 1 000 each, 5 spoiled. Derived: what the good ones carry line by line is what they
/// carry of the whole, 35 000 after an own mistake and all of it otherwise.
#[test]
fn each_cost_of_a_batch_rides_on_its_good_garments() {
    let costs = [cents(30_000_00), cents(7_500_00), cents(2_500_00)];
    let split = |spoilage| -> (i64, i64) {
        let parts: Vec<_> = costs
            .iter()
            .map(|cost| on_good(*cost, 40, 35, spoilage).unwrap())
            .collect();
        let sum = |of: fn(&(Millionths, Millionths)) -> Millionths| {
            parts.iter().map(|part| of(part).get()).sum()
        };
        (sum(|part| part.0), sum(|part| part.1))
    };
    assert_eq!(split(Spoilage::OwnMistake), (35_000_000_000, 5_000_000_000));
    assert_eq!(split(Spoilage::Normal), (40_000_000_000, 0));
    assert_eq!(
        on_good(cents(1), 40, 0, Spoilage::OwnMistake),
        Ok((m(0), cents(1)))
    );
    for (started, good) in [(0, 0), (6, 7), (6, -1)] {
        assert!(on_good(cents(1), started, good, Spoilage::OwnMistake).is_err());
    }
}

proptest! {
    #[test]
    fn good_and_spoiled_parts_add_up(cost in -1_000_000_000..1_000_000_000_i64, started in 1..500_i64, spoiled in 0..500_i64) {
        let good = (started - spoiled).max(0);
        let (kept, lost) = on_good(m(cost), started, good, Spoilage::OwnMistake).unwrap();
        prop_assert_eq!(kept.plus(lost), Ok(m(cost)));
        prop_assert!((kept.get() * started - cost * good).abs() * 2 <= started, "to the nearest");
    }
}
