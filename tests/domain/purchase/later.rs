//! What comes after the purchase: late charges, and the share of a panel.

use super::{amounts, cents, charge, cloth, freight, harbour_invoice, homes, m, rate, share};
use ellwand_domain::{
    purchase::{
        Charge, ChargeKind, Conversion, LandError, Line, Share, land, late_share, split_value,
        spread_late,
    },
    quantity::Millionths,
};
use proptest::prelude::*;
use rust_decimal::Decimal;

#[test]
fn a_late_charge_goes_to_what_is_here_and_the_rest_to_an_adjustment() {
    // Derived: customs of 9.00 weeks later on the wool of the invoice; of its 4.00 m, 1.20 m and 0.80 m are still here.
    let (lines, charges) = harbour_invoice();
    let landed = land(&lines, &charges, rate("1.17")).unwrap();
    let customs = Charge {
        lines: Some(vec![0]),
        ..charge(ChargeKind::Duty, 9_00, Share::Value)
    };
    let shares = late_share(&lines, &landed.per_line, &customs, 2).unwrap();
    assert_eq!(shares, [cents(9_00), cents(0)]);
    let spread = spread_late(
        shares[0],
        &[("L1.1", 1_200_000), ("G5", 800_000)],
        4_000_000,
    )
    .unwrap();
    assert_eq!(spread.parts, [("L1.1", cents(2_70)), ("G5", cents(1_80))]);
    assert_eq!(spread.adjustment, cents(4_50));
    // Nothing is left, so all of it is an adjustment; more than was bought is refused.
    assert_eq!(
        spread_late::<&str>(cents(9_00), &[], 4_000_000)
            .unwrap()
            .adjustment,
        cents(9_00)
    );
    let more = spread_late(cents(1), &[("L1.1", 4_000_001)], 4_000_000);
    assert_eq!(more, Err(LandError::MoreThanBought));
    let taxed = charge(
        ChargeKind::Tax,
        132,
        Share::TaxedAmount { charges: vec![0] },
    );
    // Derived: shared as 96.80 : 35.20, as on the invoice itself.
    assert_eq!(
        late_share(&lines, &landed.per_line, &taxed, 2),
        Ok(vec![m(970_000), m(350_000)])
    );
    let other = late_share(&lines[..1], &landed.per_line, &taxed, 2);
    assert_eq!(
        other,
        Err(LandError::OtherLines {
            lines: 1,
            landed: 2
        })
    );
}

#[test]
fn a_panel_takes_its_share_of_the_piece() {
    // Derived: 2.00 × 1.40 m worth 56.00, panel 0.50 × 0.60: garment 6.00, strip beside it 8.00, rest 42.00.
    let areas = [
        500_000_i128 * 600_000,
        500_000 * 800_000,
        1_500_000 * 1_400_000,
    ];
    assert_eq!(
        split_value(cents(56_00), &areas),
        Ok(vec![cents(6_00), cents(8_00), cents(42_00)])
    );
}

proptest! {
    #[test]
    fn a_landed_invoice_adds_up_in_both_currencies(
        prices in prop::collection::vec((0..1_000_000_i64, 0..9_000_000_i64, 0..9_000_000_i64, 0..50_i64), 1..8),
        charges in prop::collection::vec((0..100_000_i64, share()), 0..5),
        mantissa in 1..50_000_000_000_i64,
    ) {
        let lines: Vec<Line> = prices.iter()
            .map(|(price, length, mass, count)| Line { count: *count, ..cloth(*price, *length, *mass) })
            .collect();
        let mut charges: Vec<Charge> = charges.into_iter().map(|(amount, share)| freight(amount, share)).collect();
        charges.push(charge(ChargeKind::Tax, 777, Share::TaxedAmount { charges: (0..charges.len()).collect() }));
        let conversion =
            Conversion::Rate { rate: Decimal::new(mantissa, 10), invoice_digits: 2, home_digits: 2 };
        let landed = land(&lines, &charges, conversion).unwrap();
        let paid = lines.iter().filter_map(|line| line.price).sum::<i64>() + charges.iter().map(|c| c.amount).sum::<i64>();
        prop_assert_eq!(landed.invoice_total, paid);
        prop_assert_eq!(amounts(&landed).iter().sum::<i64>(), paid);
        prop_assert_eq!(Millionths::sum(homes(&landed)), Ok(landed.home_total));
        prop_assert_eq!(landed.home_total.get() % 10_000, 0, "whole cents");
        // paid cents × mantissa / 10¹⁰, within half a cent.
        let off = i128::from(landed.home_total.get() / 10_000) * 10_000_000_000 - i128::from(paid) * i128::from(mantissa);
        prop_assert!(off.abs() * 2 <= 10_000_000_000);
    }

    #[test]
    fn a_late_share_is_never_lost(share in -1_000_000_000..1_000_000_000_i64, here in prop::collection::vec(0..1_000_i128, 0..8), gone in 0..1_000_i128) {
        let total = here.iter().sum::<i128>() + gone;
        let here: Vec<(usize, i128)> = here.into_iter().enumerate().collect();
        let spread = spread_late(m(share), &here, total).unwrap();
        let parts = spread.parts.iter().map(|(_, part)| part.get()).sum::<i64>();
        prop_assert_eq!(parts + spread.adjustment.get(), share);
        prop_assert!(gone > 0 || total == 0 || spread.adjustment.is_zero());
    }
}
