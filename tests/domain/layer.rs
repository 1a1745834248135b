//! Cost layers: what thread and trims cost when they are used.
#![expect(clippy::unwrap_used, reason = "a failed expectation ends the test")]

use ellwand_domain::{
    layer::{Layer, LayerError, Method, Taken, draw_down, put_back, receive, take, take_own_first},
    quantity::Millionths,
    setting::PooledMethod,
};
use proptest::prelude::*;
use serde::{Deserialize, de::value::StrDeserializer};

const UNIT: i64 = 1_000_000;

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

/// A material's layers with its method; receipts are given as quantity and whole unit price.
struct Stock {
    method: Method,
    layers: Vec<Layer>,
}

impl Stock {
    fn new(method: Method) -> Self {
        Self {
            method,
            layers: Vec::new(),
        }
    }

    fn of(method: Method, receipts: &[(i64, i64)]) -> Self {
        let mut stock = Self::new(method);
        for (quantity, price) in receipts {
            stock.receive(*quantity, m(quantity * price * UNIT));
        }
        stock
    }

    fn receive(&mut self, quantity: i64, value: Millionths) {
        let id = i64::try_from(self.layers.len()).unwrap() + 1;
        let receipt = Layer {
            id,
            sequence: id,
            quantity,
            value,
        };
        self.layers = receive(&self.layers, self.method, receipt).unwrap();
    }

    fn take(&mut self, quantity: i64) -> Millionths {
        let taken = take(&self.layers, self.method, quantity).unwrap();
        self.layers = draw_down(&self.layers, &taken).unwrap();
        cost(&taken)
    }

    fn book(&mut self, uses: &mut Vec<Vec<Taken>>, taken: Vec<Taken>) {
        self.layers = draw_down(&self.layers, &taken).unwrap();
        uses.push(taken);
    }

    fn left(&self) -> (i64, Millionths) {
        let quantity = self.layers.iter().map(|layer| layer.quantity).sum();
        (
            quantity,
            Millionths::sum(self.layers.iter().map(|layer| layer.value)).unwrap(),
        )
    }
}

fn cost(taken: &[Taken]) -> Millionths {
    Millionths::sum(taken.iter().map(|taken| taken.value)).unwrap()
}

/// Compares with the unrounded textbook figure `above / below`, within one millionth.
#[track_caller]
fn within_a_millionth(value: Millionths, above: i64, below: i64) {
    let off = i128::from(value.get()) * i128::from(below) - i128::from(above) * i128::from(UNIT);
    assert!(
        off.abs() <= i128::from(below),
        "{} millionths is not {above}/{below}",
        value.get()
    );
}

#[test]
fn fifo_uses_the_oldest_first() {
    // OpenStax, Principles of Accounting vol. 1, 10.2-10.3 (data of 10.1), first in first out.
    let mut stock = Stock::of(Method::Fifo, &[(150, 21)]);
    assert_eq!(stock.take(120), m(2_520 * UNIT));
    stock.receive(225, m(225 * 27 * UNIT));
    assert_eq!(stock.take(180), m((630 + 4_050) * UNIT));
    stock.receive(210, m(210 * 33 * UNIT));
    assert_eq!(stock.left(), (285, m(8_955 * UNIT)));
}

#[test]
fn a_moving_average_never_drifts_by_a_rounded_unit_cost() {
    // The same data, perpetual average; the book's 7 253 comes from a rounded 26.29. Exact fractions are derived:
    // use 2 = 180 × 6705/255, compared within a millionth.
    let mut stock = Stock::of(Method::MovingAverage, &[(150, 21)]);
    assert_eq!(stock.take(120), m(2_520 * UNIT));
    stock.receive(225, m(225 * 27 * UNIT));
    within_a_millionth(stock.take(180), 180 * 6_705, 255);
    stock.receive(210, m(210 * 33 * UNIT));
    assert_eq!(stock.left().0, 285);
    within_a_millionth(stock.left().1, 151_335, 17);
    // Periodic average of the same data (derived): 300 of 585 for 16 155.
    let mut periodic = Stock::of(Method::MovingAverage, &[(150, 21), (225, 27), (210, 33)]);
    within_a_millionth(periodic.take(300), 300 * 16_155, 585);
}

/// Receipts at the start, uses one by one; expected costs as fractions, compared within a millionth each.
#[track_caller]
fn exercise(method: Method, receipts: &[(i64, i64)], uses: &[(i64, (i64, i64))], left: (i64, i64)) {
    let mut stock = Stock::of(method, receipts);
    for (quantity, (above, below)) in uses {
        within_a_millionth(stock.take(*quantity), *above, *below);
    }
    within_a_millionth(stock.left().1, left.0, left.1);
}

#[test]
fn exercises_with_all_receipts_first() {
    // Inputs: OpenStax, Principles of Accounting vol. 1, 10.2 EA2, PA1; 10.3 PA1, PA2. Results derived.
    let akira = [(150, 10), (160, 12), (130, 15)];
    exercise(Method::Fifo, &akira, &[(390, (4_620, 1))], (750, 1));
    exercise(
        Method::MovingAverage,
        &akira,
        &[(390, (390 * 5_370, 440))],
        (50 * 5_370, 440),
    );
    let trini = [(1050, 22), (1020, 23), (1300, 26), (1200, 27)];
    exercise(Method::Fifo, &trini, &[(3670, (88_460, 1))], (24_300, 1));
    exercise(
        Method::MovingAverage,
        &trini,
        &[(3670, (3670 * 112_760, 4570))],
        (900 * 112_760, 4570),
    );
    let a74 = [(110, 87), (140, 89)];
    exercise(Method::Fifo, &a74, &[(95, (8_265, 1))], (13_765, 1));
    exercise(
        Method::MovingAverage,
        &a74,
        &[(95, (95 * 22_030, 250))],
        (155 * 22_030, 250),
    );
    let a75 = [(105, 40), (150, 42)];
    exercise(Method::Fifo, &a75, &[(88, (3_520, 1))], (6_980, 1));
    exercise(
        Method::MovingAverage,
        &a75,
        &[(88, (88 * 10_500, 255))],
        (167 * 10_500, 255),
    );
}

#[test]
fn exercises_with_several_uses() {
    // Inputs: OpenStax, Principles of Accounting vol. 1, 10.3 EA1, PA6. Results derived.
    let a65 = [(800, 50), (600, 52)];
    exercise(
        Method::Fifo,
        &a65,
        &[(400, (20_000, 1)), (350, (17_500, 1))],
        (33_700, 1),
    );
    let average = |quantity| (quantity, (quantity * 71_200, 1400));
    exercise(
        Method::MovingAverage,
        &a65,
        &[average(400), average(350)],
        (650 * 71_200, 1400),
    );
    for (method, costs, left) in [
        (
            Method::Fifo,
            [(16_000, 1), (40_960, 1), (39_300, 1)],
            (25_300, 1),
        ),
        (
            Method::MovingAverage,
            [(16_000, 1), (41_040, 1), (119_362, 3)],
            (74_198, 3),
        ),
    ] {
        let mut stock = Stock::of(method, &[(240, 100)]);
        within_a_millionth(stock.take(160), costs[0].0, costs[0].1);
        stock.receive(520, m(520 * 103 * UNIT));
        within_a_millionth(stock.take(400), costs[1].0, costs[1].1);
        stock.receive(400, m(400 * 110 * UNIT));
        within_a_millionth(stock.take(370), costs[2].0, costs[2].1);
        within_a_millionth(stock.left().1, left.0, left.1);
    }
    // The periodic twin (derived): all receipts first, 930 of 1 160 for 121 560.
    let all = [(240, 100), (520, 103), (400, 110)];
    let used = (930, (930 * 121_560, 1160));
    exercise(Method::MovingAverage, &all, &[used], (230 * 121_560, 1160));
    exercise(
        Method::Fifo,
        &all,
        &[(160, (16_000, 1)), (400, (40_960, 1)), (370, (39_300, 1))],
        (25_300, 1),
    );
}

#[test]
fn a_gift_costs_nothing_and_comes_in_turn() {
    // Derived: 3.20 m at 18.75, then a gift of 2.50 m; FIFO.
    let mut stock = Stock::new(Method::Fifo);
    stock.receive(3_200_000, m(60_000_000));
    stock.receive(2_500_000, Millionths::ZERO);
    assert_eq!(stock.take(1_350_000), m(25_312_500));
    assert_eq!(stock.take(3_000_000), m(34_687_500));
    assert_eq!(stock.left(), (1_350_000, Millionths::ZERO));
    // Derived: the same under a moving average, 60.00 over 5.70 m; within a millionth of the fractions.
    let mut pool = Stock::new(Method::MovingAverage);
    pool.receive(3_200_000, m(60_000_000));
    pool.receive(2_500_000, Millionths::ZERO);
    within_a_millionth(pool.take(1_350_000), 270, 19);
    within_a_millionth(pool.take(3_000_000), 600, 19);
    within_a_millionth(pool.left().1, 270, 19);
}

#[test]
fn more_than_there_is_is_refused() {
    // Derived: stock 1.00, use 2.00. The border from both sides.
    for method in [Method::Fifo, Method::MovingAverage] {
        let stock = Stock::of(method, &[(100, 1)]);
        let refused = take(&stock.layers, method, 101);
        assert_eq!(
            refused,
            Err(LayerError::Overdraw {
                wanted: 101,
                available: 100
            })
        );
        assert_eq!(
            take(&stock.layers, method, 100).map(|taken| cost(&taken)),
            Ok(m(100 * UNIT))
        );
    }
    let none = take(&[], Method::Fifo, 1);
    assert_eq!(
        none,
        Err(LayerError::Overdraw {
            wanted: 1,
            available: 0
        })
    );
}

#[test]
fn nothing_and_less_than_nothing_are_refused() {
    // Common practice: zero quantity, negative purchase. (A use has no price of its own to give.)
    let stock = Stock::of(Method::Fifo, &[(100, 1)]);
    for quantity in [0, -1] {
        let refused = LayerError::NotPositive { quantity };
        assert_eq!(
            take(&stock.layers, Method::Fifo, quantity),
            Err(refused.clone())
        );
        assert_eq!(
            take_own_first(&stock.layers, Method::Fifo, Some(1), quantity),
            Err(refused.clone())
        );
        let receipt = Layer {
            id: 2,
            sequence: 2,
            quantity,
            value: m(1),
        };
        assert_eq!(receive(&stock.layers, Method::Fifo, receipt), Err(refused));
    }
    let owed = Layer {
        id: 2,
        sequence: 2,
        quantity: 1,
        value: m(-1),
    };
    assert_eq!(
        receive(&stock.layers, Method::Fifo, owed),
        Err(LayerError::NegativeValue)
    );
    let twice = Layer {
        id: 1,
        sequence: 2,
        quantity: 1,
        value: m(1),
    };
    assert_eq!(
        receive(&stock.layers, Method::Fifo, twice),
        Err(LayerError::ExistingLayer { layer: 1 })
    );
    let two = Stock::of(Method::Fifo, &[(1, 1), (1, 1)]);
    assert_eq!(
        take(&two.layers, Method::MovingAverage, 1),
        Err(LayerError::NotOnePool { layers: 2 })
    );
}

#[test]
fn the_last_use_takes_the_rest() {
    // Derived: 30 units for 3 400.00, issued one by one.
    let mut stock = Stock::new(Method::Fifo);
    stock.receive(30, m(3_400 * UNIT));
    let issues: Vec<Millionths> = (0..30).map(|_| stock.take(1)).collect();
    assert!(
        issues
            .iter()
            .all(|issue| (113_333_333..=113_333_334).contains(&issue.get())),
        "{issues:?}"
    );
    assert_eq!(Millionths::sum(issues), Ok(m(3_400 * UNIT)));
    assert_eq!(stock.left(), (0, Millionths::ZERO));
}

#[test]
fn a_thread_used_by_the_metre_ends_at_zero() {
    // Derived: 4.50 for 5 000 m is 0.0009 a metre, exactly.
    let mut stock = Stock::new(Method::Fifo);
    stock.receive(5_000_000_000, m(4_500_000));
    for metre in 0..5_000 {
        assert_eq!(stock.take(1_000_000), m(900), "metre {metre}");
    }
    assert_eq!(stock.left(), (0, Millionths::ZERO));
}

#[test]
fn a_use_that_is_undone_returns_to_its_own_lots() {
    // Common practice: 1.85 from lot A and 1.15 from lot B go back at their costs, and the order is as before.
    let mut stock = Stock::new(Method::Fifo);
    stock.receive(1_850_000, m(34_687_500));
    stock.receive(2_500_000, m(10_000_000));
    let before = stock.layers.clone();
    let taken = take(&before, Method::Fifo, 3_000_000).unwrap();
    let quantities: Vec<_> = taken
        .iter()
        .map(|taken| (taken.layer, taken.quantity))
        .collect();
    assert_eq!(quantities, [(1, 1_850_000), (2, 1_150_000)]);
    let after = draw_down(&before, &taken).unwrap();
    assert_eq!(put_back(&after, &taken), Ok(before.clone()));
    assert_eq!(
        take(&put_back(&after, &taken).unwrap(), Method::Fifo, 3_000_000),
        Ok(taken.clone())
    );
    // A receipt in between does not change where it goes back.
    let newer = Layer {
        id: 3,
        sequence: 3,
        quantity: 7,
        value: m(7),
    };
    let with_newer = receive(&after, Method::Fifo, newer).unwrap();
    assert_eq!(put_back(&with_newer, &taken).unwrap()[..2], before);
    assert_eq!(
        put_back(&after[1..], &taken),
        Err(LayerError::UnknownLayer { layer: 1 })
    );
    assert_eq!(
        draw_down(&after, &taken),
        Err(LayerError::Overdraw {
            wanted: 1_850_000,
            available: 0
        })
    );
}

#[test]
fn a_lot_that_is_insisted_on_is_taken_at_its_own_cost() {
    // OpenStax, Principles of Accounting vol. 1, 10.2, specific identification: 20 of the first lot, 160 of the second.
    let mut stock = Stock::of(Method::Fifo, &[(150, 21), (225, 27)]);
    stock.take(120);
    let own = |lot, quantity| take_own_first(&stock.layers, Method::Fifo, Some(lot), quantity);
    assert_eq!(own(1, 20).map(|taken| cost(&taken)), Ok(m(420 * UNIT)));
    assert_eq!(own(2, 160).map(|taken| cost(&taken)), Ok(m(4_320 * UNIT)));
    // What its layer lacks comes from the oldest of the others (derived: 30 at 21 and 1 at 27).
    assert_eq!(own(1, 31).map(|taken| cost(&taken)), Ok(m(657 * UNIT)));
    assert_eq!(
        own(1, 256),
        Err(LayerError::Overdraw {
            wanted: 256,
            available: 255
        })
    );
}

#[test]
fn layers_are_used_in_sequence_whatever_order_they_are_read_in() {
    let layers = [
        Layer {
            id: 1,
            sequence: 8,
            quantity: 5,
            value: m(50),
        },
        Layer {
            id: 2,
            sequence: 3,
            quantity: 5,
            value: m(10),
        },
    ];
    let taken = take(&layers, Method::Fifo, 6).unwrap();
    assert_eq!(
        taken,
        [
            Taken {
                layer: 2,
                quantity: 5,
                value: m(10)
            },
            Taken {
                layer: 1,
                quantity: 1,
                value: m(10)
            }
        ]
    );
}

#[test]
fn last_in_first_out_is_refused_with_its_reason() {
    // IAS 2 paras 23–27 allow specific identification, FIFO and weighted average only.
    assert_eq!("LIFO".parse::<Method>(), Err(LayerError::LifoRefused));
    assert!(
        LayerError::LifoRefused
            .to_string()
            .contains("IAS 2 paras 23–27")
    );
    assert!(matches!(
        "cheapest".parse::<Method>(),
        Err(LayerError::UnknownMethod { .. })
    ));
    for method in [Method::Fifo, Method::MovingAverage] {
        assert_eq!(method.to_string().parse(), Ok(method));
    }
    assert_eq!("moving-average".parse(), Ok(Method::MovingAverage));
    assert_eq!(Method::from(PooledMethod::Average), Method::MovingAverage);
    assert_eq!(Method::from(PooledMethod::Fifo), Method::Fifo);
    let on_the_wire =
        |text| Method::deserialize(StrDeserializer::<serde::de::value::Error>::new(text));
    assert_eq!(on_the_wire("moving_average"), Ok(Method::MovingAverage));
    assert!(
        on_the_wire("lifo")
            .unwrap_err()
            .to_string()
            .contains("IAS 2")
    );
}

#[derive(Debug, Clone)]
enum Act {
    Receive(i64, i64),
    Take(i64),
    FromLot(usize, i64),
    Undo(usize),
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        (1..1_000_000_i64, 0..1_000_000_000_i64)
            .prop_map(|(quantity, value)| Act::Receive(quantity, value)),
        (1..900_000_i64).prop_map(Act::Take),
        (0..8_usize, 1..900_000_i64).prop_map(|(lot, quantity)| Act::FromLot(lot, quantity)),
        (0..8_usize).prop_map(Act::Undo),
    ]
}

proptest! {
    #[test]
    fn random_histories_lose_no_quantity_and_no_millionth(fifo in any::<bool>(), acts in prop::collection::vec(act(), 0..40)) {
        let method = if fifo { Method::Fifo } else { Method::MovingAverage };
        let mut stock = Stock::new(method);
        let (mut received, mut uses) = ((0, 0), Vec::<Vec<Taken>>::new());
        for act in acts {
            match act {
                Act::Receive(quantity, value) => {
                    stock.receive(quantity, m(value));
                    received = (received.0 + quantity, received.1 + value);
                }
                Act::Undo(index) if !uses.is_empty() => {
                    let taken = uses.remove(index % uses.len());
                    stock.layers = put_back(&stock.layers, &taken).unwrap();
                }
                Act::Undo(_) => {}
                Act::Take(quantity) => match take(&stock.layers, method, quantity) {
                    Ok(taken) => stock.book(&mut uses, taken),
                    Err(error) => prop_assert_eq!(error, LayerError::Overdraw { wanted: quantity, available: stock.left().0 }),
                },
                Act::FromLot(lot, quantity) => if let Some(Layer { id, .. }) = stock.layers.get(lot).copied() {
                    match take_own_first(&stock.layers, method, Some(id), quantity) {
                        Ok(taken) => stock.book(&mut uses, taken),
                        Err(error) => prop_assert_eq!(error, LayerError::Overdraw { wanted: quantity, available: stock.left().0 }),
                    }
                },
            }
            let out: i64 = uses.iter().flatten().map(|taken| taken.quantity).sum();
            let value: i64 = uses.iter().flatten().map(|taken| taken.value.get()).sum();
            prop_assert_eq!(stock.left().0 + out, received.0);
            prop_assert_eq!(stock.left().1.get() + value, received.1);
            for layer in &stock.layers {
                prop_assert!(layer.quantity >= 0 && layer.value.get() >= 0);
                prop_assert!(layer.quantity > 0 || layer.value.is_zero(), "an empty layer is worth nothing");
            }
        }
    }

    #[test]
    fn fifo_costs_what_the_oldest_units_cost(receipts in prop::collection::vec((1..30_i64, 0..1_000_000_i64), 1..8), uses in prop::collection::vec(1..40_i64, 0..10)) {
        // Oracle: a queue of single units, each with its own cost.
        let mut queue = std::collections::VecDeque::new();
        let mut stock = Stock::new(Method::Fifo);
        for (quantity, price) in receipts {
            stock.receive(quantity, m(quantity * price));
            queue.extend((0..quantity).map(|_| price));
        }
        for quantity in uses {
            if let Ok(units) = usize::try_from(quantity) && units <= queue.len() {
                let expected: i64 = queue.drain(..units).sum();
                prop_assert_eq!(stock.take(quantity), m(expected));
            }
        }
        prop_assert_eq!(stock.left().1, m(queue.iter().sum()));
    }
}
