//! What each piece of thread or trims is worth beside the layers of its material.

use ellwand_domain::{
    layer::{Left, worth_beside},
    quantity::Millionths,
};
use proptest::prelude::*;

fn left(quantity: i64, value: i64) -> Left {
    Left {
        quantity,
        value: Millionths::new(value).unwrap(),
    }
}

fn worth(layers: &[Left], pieces: &[i64]) -> Vec<i64> {
    let worth = worth_beside(layers, pieces).unwrap();
    worth.iter().map(|value| value.get()).collect()
}

/// By pencil.
#[test]
fn pieces_are_worth_what_the_layers_beside_them_are() {
    // 10 buttons at 1 and 10 at 2: each card is worth what it cost.
    let cards = [left(10, 10), left(10, 20)];
    assert_eq!(worth(&cards, &[10, 10]), [10, 20]);
    // 5 were taken of the second card, but the first cost what was used first: 5 at 1 are left and 10 at 2. So the first card
    // holds 5 at 1 and 5 at 2, the second 5 at 2.
    assert_eq!(worth(&[left(5, 5), left(10, 20)], &[10, 5]), [15, 10]);
    // Three reels of a pool of 100: 33, 34 and 33, for 33.3 and 66.7 are rounded.
    assert_eq!(worth(&[left(3, 100)], &[1, 1, 1]), [33, 34, 33]);
    assert!(worth(&[], &[]).is_empty());
}

/// A card that was used up before it came: 10 at 1 less 4 at 2 are 6 for 2; the two pieces share that.
#[test]
fn a_layer_below_nothing_is_averaged_with_the_others() {
    assert_eq!(worth(&[left(10, 10), left(-4, -8)], &[3, 3]), [1, 1]);
    // Nothing is left but value: the last piece has it.
    assert_eq!(worth(&[left(0, -7)], &[0, 0]), [0, -7]);
}

proptest! {
    #[test]
    fn pieces_add_up_to_the_layers(
        layers in prop::collection::vec((-50_i64..5_000, -900_i64..90_000_000), 0..6),
        pieces in prop::collection::vec(0_i64..9_000, 1..9),
    ) {
        let layers: Vec<Left> = layers.into_iter().map(|(quantity, value)| left(quantity, value)).collect();
        let all: i64 = layers.iter().map(|left| left.value.get()).sum();
        prop_assert_eq!(worth(&layers, &pieces).iter().sum::<i64>(), all);
    }
}
