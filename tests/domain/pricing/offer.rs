//! Options side by side.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 668_09 is 668.09"
)]

use super::{cents, m, min};
use ellwand_domain::pricing::{OfferFigures, PriceBase};

#[test]
fn an_option_is_reported_with_what_it_has_more_than_the_first() {
    // The job of 434.26 at 668.09 net and 801.71 gross (derived in the chain of OpenStax, Principles of Accounting vol. 2,
    // 4.2), and the same with 2 h less at 24.00 and 6.50: 373.26, at 574.25 and 689.10 (a margin of 35 %, tax of 20 %).
    let job = |own_pay, overhead, minutes| PriceBase {
        materials: cents(114_01),
        own_pay: cents(own_pay),
        overhead: cents(overhead),
        own_minutes: min(minutes),
        ..PriceBase::default()
    };
    let hand = OfferFigures::of(
        &job(252_00, 68_25, 630),
        min(0),
        cents(668_09),
        cents(801_71),
    )
    .unwrap();
    let machine = OfferFigures::of(
        &job(204_00, 55_25, 510),
        min(30),
        cents(574_25),
        cents(689_10),
    )
    .unwrap();
    assert_eq!((hand.cost, machine.cost), (cents(434_26), cents(373_26)));
    assert_eq!(
        (hand.profit.amount, machine.profit.amount),
        (cents(233_83), cents(200_99))
    );
    let more = hand.more_than(&machine).unwrap();
    assert_eq!(
        (more.cost, more.net, more.gross, more.profit),
        (cents(61_00), cents(93_84), cents(112_61), cents(32_84))
    );
    assert_eq!((more.own_minutes, more.paid_minutes), (120, -30));
    // By hand: 485.83 / 10.5 h = 46.269524 and 404.99 / 8.5 h = 47.645882.
    assert_eq!(
        (hand.hour, machine.hour),
        (Some(m(46_269_524)), Some(m(47_645_882)))
    );
    assert_eq!(more.hour, Some(m(-1_376_358)));
    assert_eq!(hand.more_than(&hand).unwrap().net, cents(0));
}

#[test]
fn what_an_hour_earns_is_not_compared_where_there_are_no_hours() {
    let base = PriceBase {
        materials: cents(100_00),
        ..PriceBase::default()
    };
    let bought = OfferFigures::of(&base, min(0), cents(120_00), cents(144_00)).unwrap();
    assert_eq!(bought.hour, None);
    assert_eq!(bought.more_than(&bought).unwrap().hour, None);
}
