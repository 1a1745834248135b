//! Layers of a lot that is insisted on, and of reels that were found short.

use ellwand_domain::{
    layer::{Layer, LayerError, Method, Taken, draw_down, lose, put_back, take, take_own_first},
    quantity::Millionths,
};
use proptest::prelude::*;

const UNIT: i64 = 1_000_000;

fn layer(id: i64, quantity: i64, units: i64) -> Layer {
    Layer {
        id,
        sequence: id,
        quantity,
        value: Millionths::new(units * UNIT).unwrap(),
    }
}

fn taken(layer: i64, quantity: i64, millionths: i64) -> Taken {
    Taken {
        layer,
        quantity,
        value: Millionths::new(millionths).unwrap(),
    }
}

/// The lots of OpenStax, Financial Accounting, 10.2: 150 at 21, then 225 at 27, the later one insisted on. Its own 225 cost
/// 6,075; 25 more come from the first layer, 525.
#[test]
fn a_lot_that_is_insisted_on_is_taken_at_its_own_cost_and_the_rest_in_order() {
    let layers = [layer(1, 150, 3_150), layer(2, 225, 6_075)];
    let own = |quantity| take_own_first(&layers, Method::Fifo, Some(2), quantity);
    assert_eq!(own(100), Ok(vec![taken(2, 100, 2_700 * UNIT)]));
    assert_eq!(own(225), Ok(vec![taken(2, 225, 6_075 * UNIT)]));
    assert_eq!(
        own(250),
        Ok(vec![taken(2, 225, 6_075 * UNIT), taken(1, 25, 525 * UNIT)])
    );
    assert_eq!(
        own(376),
        Err(LayerError::Overdraw {
            wanted: 376,
            available: 375
        })
    );
    assert_eq!(own(0), Err(LayerError::NotPositive { quantity: 0 }));
    // Without a layer of its own, or one that others have used up: in their order.
    for nowhere in [None, Some(9)] {
        let taken = take_own_first(&layers, Method::Fifo, nowhere, 10);
        assert_eq!(taken, take(&layers, Method::Fifo, 10));
    }
}

#[test]
fn the_average_has_one_pool_whatever_is_insisted_on() {
    // costing.md a-16, derived: 5.70 m worth 60.00; 1.35 m cost 270/19.
    let pool = [Layer {
        id: 1,
        sequence: 1,
        quantity: 5_700_000,
        value: Millionths::new(60 * UNIT).unwrap(),
    }];
    let own = take_own_first(&pool, Method::MovingAverage, Some(1), 1_350_000).unwrap();
    assert_eq!(own, [taken(1, 1_350_000, 14_210_526)]);
}

/// Normal loss rides on what is left (common practice): 100 found as 60 are still worth 20. Nothing left is worth nothing.
#[test]
fn a_shortage_costs_nothing_until_nothing_is_left() {
    let layers = [layer(1, 100, 10), layer(2, 100, 20)];
    let short = |own, quantity| lose(&layers, Method::Fifo, own, quantity);
    assert_eq!(short(Some(2), 40), Ok(vec![taken(2, 40, 0)]));
    assert_eq!(short(Some(2), 100), Ok(vec![taken(2, 100, 20 * UNIT)]));
    assert_eq!(
        short(Some(2), 130),
        Ok(vec![taken(2, 100, 20 * UNIT), taken(1, 30, 0)])
    );
    assert_eq!(
        short(Some(2), 200),
        Ok(vec![taken(2, 100, 20 * UNIT), taken(1, 100, 10 * UNIT)])
    );
    assert_eq!(short(None, 100), Ok(vec![taken(1, 100, 10 * UNIT)]));
    let pool = [layer(1, 200, 30)];
    assert_eq!(
        lose(&pool, Method::MovingAverage, Some(1), 199),
        Ok(vec![taken(1, 199, 0)])
    );
    assert_eq!(
        lose(&pool, Method::MovingAverage, Some(1), 200),
        Ok(vec![taken(1, 200, 30 * UNIT)])
    );
}

proptest! {
    /// What is taken or lost is the quantity that was asked for, no layer goes below zero or keeps a value of nothing, and
    /// giving it back makes all layers as they were.
    #[test]
    fn nothing_is_lost_but_what_is_said(
        stock in prop::collection::vec((0..1_000_i64, 0..1_000_000_000_i64), 1..6),
        own in 0..7_i64, wanted in 1..4_000_i64, short in any::<bool>(),
    ) {
        let layers: Vec<Layer> = (1..).zip(stock).map(|(id, (quantity, value))| {
            let value = Millionths::new(if quantity == 0 { 0 } else { value }).unwrap();
            Layer { id, sequence: id, quantity, value }
        }).collect();
        let there: i64 = layers.iter().map(|layer| layer.quantity).sum();
        let done = match short {
            true => lose(&layers, Method::Fifo, Some(own), wanted),
            false => take_own_first(&layers, Method::Fifo, Some(own), wanted),
        };
        if wanted > there {
            prop_assert_eq!(done, Err(LayerError::Overdraw { wanted, available: there }));
            return Ok(());
        }
        let done = done.unwrap();
        prop_assert_eq!(done.iter().map(|part| part.quantity).sum::<i64>(), wanted);
        if let Some(first) = layers.iter().find(|layer| layer.id == own && layer.quantity > 0) {
            prop_assert_eq!((done[0].layer, done[0].quantity), (own, wanted.min(first.quantity)));
        }
        let after = draw_down(&layers, &done).unwrap();
        for layer in &after {
            prop_assert!(layer.quantity >= 0 && layer.value.get() >= 0);
            prop_assert!(layer.quantity > 0 || layer.value.get() == 0);
        }
        prop_assert_eq!(put_back(&after, &done).unwrap(), layers);
    }
}
