//! A layer replayed from its movements alone: what the rules allow passes, what they do not is found.

use ellwand_domain::{
    layer::{Layer, Method, Replay, ReplayFault, Step, lose, take},
    ledger::{Account, AccountKind, Movement, Quantity},
    quantity::Millionths,
};
use proptest::prelude::*;

fn quantity(number: i64) -> Quantity {
    Quantity::new(number).unwrap()
}

fn money(number: i64) -> Millionths {
    Millionths::new(number).unwrap()
}

fn supplier() -> Account {
    Account::new(AccountKind::Supplier, 1)
}

const LAYER: Account = Account::layer(1);

/// A layer's story as it is booked: bookings count from 1.
#[derive(Default)]
struct Story {
    steps: Vec<Step>,
    quantity: i64,
    value: i64,
}

impl Story {
    fn layer(&self) -> [Layer; 1] {
        [Layer {
            id: 1,
            sequence: 1,
            quantity: self.quantity,
            value: money(self.value),
        }]
    }

    fn book(&mut self, cut: bool, undoes: Option<usize>, movement: Movement) -> usize {
        let booking = i64::try_from(self.steps.len()).unwrap() + 1;
        let sign = if movement.to == LAYER { 1 } else { -1 };
        self.quantity += sign * movement.quantity_in.get();
        self.value += sign * movement.value.get();
        self.steps.push(Step {
            booking,
            cut,
            undoes: undoes.is_some(),
            undone_by: None,
            movement,
        });
        if let Some(undone) = undoes {
            self.steps[undone].undone_by = Some(booking);
        }
        self.steps.len() - 1
    }

    fn receive(&mut self, number: i64, value: i64) -> usize {
        self.book(
            false,
            None,
            Movement::new(supplier(), LAYER, quantity(number), money(value)),
        )
    }

    fn cut(&mut self, number: i64) -> usize {
        let taken = take(&self.layer(), Method::MovingAverage, number).unwrap()[0];
        self.book(
            true,
            None,
            Movement::new(LAYER, Account::garment(1), quantity(number), taken.value),
        )
    }

    fn find(&mut self, number: i64) -> usize {
        let nothing = Account::new(AccountKind::NormalLoss, 0);
        self.book(
            false,
            None,
            Movement::new(nothing, LAYER, quantity(number), Millionths::ZERO),
        )
    }

    fn miss(&mut self, number: i64) -> usize {
        let nothing = Account::new(AccountKind::NormalLoss, 0);
        let lost = lose(&self.layer(), Method::MovingAverage, None, number).unwrap()[0];
        self.book(
            false,
            None,
            Movement::new(LAYER, nothing, quantity(number), lost.value),
        )
    }

    fn undo(&mut self, step: usize) {
        let Step { cut, movement, .. } = self.steps[step];
        self.book(cut, Some(step), movement.reversed());
    }

    fn rests(&self, step: usize) -> bool {
        let takes = |step: &&Step| {
            step.movement.takes_from(LAYER) && !step.undoes && step.undone_by.is_none()
        };
        !self.steps[step].cut && self.steps.iter().skip(step + 1).any(|step| takes(&step))
    }

    fn faults(&self) -> Vec<ReplayFault> {
        let mut replay = Replay::new(1);
        self.steps
            .iter()
            .filter_map(|step| replay.step(step).err())
            .collect()
    }
}

/// 90 of 200 buttons for 495.00, then the first hundred are taken back: ten would be worth 505.00 (derived from IAS 2
/// para 27).
#[test]
fn a_receipt_taken_back_under_a_taking_is_found() {
    let mut story = Story::default();
    let first = story.receive(100, 100_000_000);
    story.receive(100, 1_000_000_000);
    let cut = story.cut(90);
    assert_eq!(story.steps[cut].movement.value, money(495_000_000));
    assert_eq!(story.faults(), []);
    story.undo(first);
    assert_eq!(story.faults(), [ReplayFault::Rests { undo: 4 }]);
    assert_eq!((story.quantity, story.value), (10, 505_000_000));
}

/// A hundred buttons of which eighty were missing, twenty of them cut for 100.00; then eighty are there again, worth nothing.
#[test]
fn a_measuring_taken_back_under_a_taking_is_found() {
    let mut story = Story::default();
    story.receive(100, 100_000_000);
    let measured = story.miss(80);
    story.cut(20);
    story.undo(measured);
    assert_eq!(story.faults(), [ReplayFault::Rests { undo: 4 }]);
    assert_eq!((story.quantity, story.value), (80, 0));
}

#[test]
fn a_taking_at_another_cost_is_found() {
    let mut story = Story::default();
    story.receive(3, 10_000_000);
    story.cut(1);
    story.steps[1].movement.value = money(3_333_334);
    assert_eq!(
        story.faults(),
        [ReplayFault::Cost {
            quantity: 1,
            value: 3_333_334,
            right: 3_333_333
        }]
    );
}

#[test]
fn more_than_there_is_and_value_without_goods_are_found() {
    let mut story = Story::default();
    story.receive(3, 10_000_000);
    let step = Step {
        movement: Movement {
            quantity_out: quantity(5),
            ..story.steps[0].movement.reversed()
        },
        ..story.steps[0]
    };
    let mut replay = Replay::new(1);
    replay.step(&story.steps[0]).unwrap();
    assert_eq!(
        replay.step(&step),
        Err(ReplayFault::BelowZero {
            quantity: -2,
            value: 0
        })
    );
    let mut replay = Replay::new(1);
    replay.step(&story.steps[0]).unwrap();
    let less = Movement {
        value: money(1),
        ..story.steps[0].movement.reversed()
    };
    let step = Step {
        movement: less,
        ..story.steps[0]
    };
    assert_eq!(
        replay.step(&step),
        Err(ReplayFault::Stranded { value: 9_999_999 })
    );
}

proptest! {
    /// Whatever is booked, and taken back where nothing rests on it, replays without a fault, and to the same balance.
    #[test]
    fn what_the_rules_allow_replays(draws in prop::collection::vec((0_u8..6, 1_i64..200, 0_i64..50_000_000), 1..60)) {
        let mut story = Story::default();
        for (act, number, value) in draws {
            match act {
                0 => {
                    story.receive(number, value);
                }
                1 | 2 if story.quantity > 0 => {
                    story.cut(number.min(story.quantity));
                }
                3 if story.quantity > 0 => {
                    story.miss(number.min(story.quantity));
                }
                4 if story.quantity > 0 => {
                    story.find(number);
                }
                5 if !story.steps.is_empty() => {
                    let step = usize::try_from(number).unwrap() % story.steps.len();
                    let Step { undoes, undone_by, movement, .. } = story.steps[step];
                    let left = story.quantity - if movement.to == LAYER { movement.quantity_in.get() } else { 0 };
                    let worth = story.value - if movement.to == LAYER { movement.value.get() } else { 0 };
                    let possible = left > 0 || (left == 0 && worth == 0);
                    if !undoes && undone_by.is_none() && !story.rests(step) && possible && worth >= 0 {
                        story.undo(step);
                    }
                }
                _ => {}
            }
            prop_assert_eq!(story.faults(), []);
        }
        let mut replay = Replay::new(1);
        story.steps.iter().for_each(|step| replay.step(step).unwrap());
        prop_assert_eq!(replay.balance(), (story.quantity, story.value));
    }
}
