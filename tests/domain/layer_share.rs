//! What of each receipt lies in a pool, and what each taking carried off: a late charge is shared as one larger invoice would have been.

use ellwand_domain::{
    layer::{Layer, Method, PoolShare, WHOLE, receive, shares_taken, take},
    purchase::spread_late,
    quantity::Millionths,
};
use proptest::prelude::*;

fn share(lot: i64, share: i64) -> PoolShare {
    PoolShare { lot, share }
}

/// A hundred of two hundred carry half of either receipt off; three buttons of three lots, one taken: a third of each (derived).
#[test]
fn a_taking_carries_its_part_of_every_share_off() {
    let two = [share(1, WHOLE), share(2, WHOLE)];
    assert_eq!(
        shares_taken(&two, 100, 200).unwrap(),
        [share(1, WHOLE / 2), share(2, WHOLE / 2)]
    );
    let three = [share(1, WHOLE), share(2, WHOLE), share(3, WHOLE)];
    assert_eq!(
        shares_taken(&three, 1, 3).unwrap(),
        [1, 2, 3].map(|lot| share(lot, 333_333_333))
    );
    // The last takes all of it, whatever was rounded; a share of nothing is none.
    assert_eq!(
        shares_taken(&[share(1, 7), share(2, 0)], 5, 5).unwrap(),
        [share(1, 7)]
    );
    assert!(shares_taken(&two, 0, 200).is_err());
    assert!(shares_taken(&two, 201, 200).is_err());
}

#[derive(Debug, Clone, Copy)]
enum Act {
    /// Quantity, price and a later charge.
    Buy(i64, i64, i64),
    /// Thousandths of what is there.
    Take(i64),
    /// Gives the taking of this number back.
    Return(usize),
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        (1_i64..5_000, 0_i64..90_000_000, 0_i64..9_000_000)
            .prop_map(|(quantity, price, charge)| Act::Buy(quantity, price, charge)),
        (1_i64..1_001).prop_map(Act::Take),
        (0_usize..20).prop_map(Act::Return),
    ]
}

/// A pool with the shares of its lots.
#[derive(Default)]
struct Pool {
    layers: Vec<Layer>,
    /// Quantity of each receipt, and its share in the pool.
    lots: Vec<(i64, i64)>,
    /// What each taking took, at what cost, and the shares it carried off; none once it was given back.
    takings: Vec<Option<(i64, i64, Vec<PoolShare>)>>,
}

impl Pool {
    fn buy(&mut self, quantity: i64, price: i64) {
        let receipt = Layer {
            id: 1,
            sequence: 1,
            quantity,
            value: Millionths::new(price).unwrap(),
        };
        self.layers = receive(&self.layers, Method::MovingAverage, receipt).unwrap();
        self.lots.push((quantity, WHOLE));
    }

    fn take(&mut self, thousandths: i64) {
        let Some(pool) = self.layers.first_mut().filter(|pool| pool.quantity > 0) else {
            return self.takings.push(None);
        };
        let quantity = (pool.quantity * thousandths / 1_000).max(1);
        let taken = take(&[*pool], Method::MovingAverage, quantity).unwrap()[0];
        let shares: Vec<PoolShare> = (0..)
            .zip(&self.lots)
            .map(|(lot, (_, own))| share(lot, *own))
            .collect();
        let carried = shares_taken(&shares, quantity, pool.quantity).unwrap();
        for part in &carried {
            self.lots[usize::try_from(part.lot).unwrap()].1 -= part.share;
        }
        pool.quantity -= quantity;
        pool.value = pool.value.minus(taken.value).unwrap();
        self.takings
            .push(Some((quantity, taken.value.get(), carried)));
    }

    fn give_back(&mut self, number: usize) {
        let Some(slot) = self.takings.get_mut(number) else {
            return;
        };
        let Some((quantity, value, carried)) = slot.take() else {
            return;
        };
        for part in carried {
            self.lots[usize::try_from(part.lot).unwrap()].1 += part.share;
        }
        self.layers[0].quantity += quantity;
        self.layers[0].value = self.layers[0]
            .value
            .plus(Millionths::new(value).unwrap())
            .unwrap();
    }

    fn run(acts: &[Act], charged: bool) -> Self {
        let mut pool = Self::default();
        for act in acts {
            match *act {
                Act::Buy(quantity, price, charge) => {
                    pool.buy(quantity, price + if charged { charge } else { 0 })
                }
                Act::Take(thousandths) => pool.take(thousandths),
                Act::Return(number) => pool.give_back(number),
            }
        }
        pool
    }
}

proptest! {
    #[test]
    fn late_charges_in_any_order_are_what_one_larger_invoice_would_have_been(acts in prop::collection::vec(act(), 1..40)) {
        let (late, larger) = (Pool::run(&acts, false), Pool::run(&acts, true));
        let charges: Vec<i64> = acts.iter().filter_map(|act| match act { Act::Buy(_, _, charge) => Some(*charge), _ => None }).collect();
        // Each receipt is whole: in the pool, or carried off.
        for (lot, (_, own)) in late.lots.iter().enumerate() {
            let lot = i64::try_from(lot).unwrap();
            let carried: i64 = late.takings.iter().flatten().flat_map(|(_, _, shares)| shares).filter(|part| part.lot == lot).map(|part| part.share).sum();
            prop_assert_eq!(own + carried, WHOLE);
        }
        // The shares in the pool, each times its receipt's quantity, are what is there.
        let there: i128 = late.lots.iter().map(|(quantity, own)| i128::from(*quantity) * i128::from(*own)).sum();
        let there = (there + i128::from(WHOLE) / 2) / i128::from(WHOLE);
        prop_assert_eq!(there, late.layers.first().map_or(0, |pool| i128::from(pool.quantity)));
        // Every charge, spread by the shares. Two millionths of rounding for each act, on either side.
        let mut costs: Vec<i64> = late.takings.iter().map(|taking| taking.as_ref().map_or(0, |(_, value, _)| *value)).collect();
        let mut worth = late.layers.first().map_or(0, |pool| pool.value.get());
        for (lot, charge) in charges.iter().enumerate() {
            let number = i64::try_from(lot).unwrap();
            let mut places = vec![(usize::MAX, i128::from(late.lots[lot].1))];
            for (taking, carried) in late.takings.iter().enumerate() {
                let shares = carried.iter().flat_map(|(_, _, shares)| shares).filter(|part| part.lot == number);
                places.extend(shares.map(|part| (taking, i128::from(part.share))));
            }
            let spread = spread_late(Millionths::new(*charge).unwrap(), &places, i128::from(WHOLE)).unwrap();
            prop_assert!(spread.adjustment.is_zero());
            for (place, value) in spread.parts {
                match costs.get_mut(place) {
                    Some(cost) => *cost += value.get(),
                    None => worth += value.get(),
                }
            }
        }
        let limit = 4 * i64::try_from(acts.len()).unwrap();
        for (cost, other) in costs.iter().zip(&larger.takings) {
            let other = other.as_ref().map_or(0, |(_, value, _)| *value);
            prop_assert!((cost - other).abs() <= limit, "{} or {}", cost, other);
        }
        let other = larger.layers.first().map_or(0, |pool| pool.value.get());
        prop_assert!((worth - other).abs() <= limit, "{} or {}", worth, other);
    }
}
