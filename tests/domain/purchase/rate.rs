//! Invoices in another currency, and rates of exchange that are asked about.

use super::{amounts, cents, harbour_invoice, homes, line, rate};
use ellwand_domain::{
    allocation::AllocationError,
    purchase::{Conversion, LandError, RateDoubt, land, rate_doubt, rate_of_amounts},
};
use proptest::prelude::*;
use rust_decimal::Decimal;

#[test]
fn a_foreign_invoice_is_converted_once_and_split_without_losing_a_cent() {
    // Derived from IAS 21 para 21: converting line by line would give 166.79.
    let (lines, charges) = harbour_invoice();
    let landed = land(&lines, &charges, rate("1.1700")).unwrap();
    assert_eq!(landed.per_line[0].shares, [8_80, 10_56]);
    assert_eq!(landed.per_line[1].shares, [3_20, 0]);
    assert_eq!(amounts(&landed), [107_36, 35_20]);
    assert_eq!(landed.invoice_total, 142_56);
    assert_eq!(landed.home_total, cents(166_80));
    assert_eq!(homes(&landed), [cents(125_61), cents(41_19)]);
    let typed = land(
        &lines,
        &charges,
        Conversion::Home {
            minor: 166_80,
            digits: 2,
        },
    )
    .unwrap();
    assert_eq!(homes(&typed), homes(&landed));
}

#[test]
fn the_digits_of_both_currencies_count() {
    // By hand: 1 000 JPY (no digits) at 0.0061 is 6.10; 2.500 KWD (three digits) at 2.9871 is 7.46775, half up 7.47.
    let from = |digits| {
        move |rate: &str| Conversion::Rate {
            rate: rate.parse().unwrap(),
            invoice_digits: digits,
            home_digits: 2,
        }
    };
    assert_eq!(
        land(&[line(1000)], &[], from(0)("0.0061"))
            .unwrap()
            .home_total,
        cents(6_10)
    );
    assert_eq!(
        land(&[line(2500)], &[], from(3)("2.9871"))
            .unwrap()
            .home_total,
        cents(7_47)
    );
    // Half a cent goes up (Council Regulation (EC) 1103/97 art. 5): 0.01 at 0.5, and just below it.
    assert_eq!(
        land(&[line(1)], &[], rate("0.5")).unwrap().home_total,
        cents(1)
    );
    assert_eq!(
        land(&[line(1)], &[], rate("0.4999999999"))
            .unwrap()
            .home_total,
        cents(0)
    );
}

#[test]
fn a_rate_that_is_no_rate_is_refused() {
    let lines = [line(1_00)];
    for text in ["0", "-1.17"] {
        let rate_given: Decimal = text.parse().unwrap();
        assert_eq!(
            land(&lines, &[], rate(text)),
            Err(LandError::RateNotPositive { rate: rate_given })
        );
    }
    let fine: Decimal = "1.00000000001".parse().unwrap();
    assert_eq!(
        land(&lines, &[], rate("1.00000000001")),
        Err(LandError::RateTooFine {
            rate: fine,
            max: 10
        })
    );
    assert!(
        land(&lines, &[], rate("1.000000000100")).is_ok(),
        "trailing zeros are no digits"
    );
    for minor in [0, -5] {
        let refused = land(&lines, &[], Conversion::Home { minor, digits: 2 });
        assert_eq!(
            refused,
            Err(LandError::HomeContradicts {
                home: minor,
                invoice: 1_00
            })
        );
    }
    let huge = land(&[line(i64::MAX)], &[], rate("9999999999"));
    assert!(matches!(
        huge,
        Err(LandError::Allocation(AllocationError::Overflow) | LandError::Quantity(_))
    ));
}

/// Common practice: rates of a year lie within a few tenths of each other; five times off is the wrong way round or a slip.
#[test]
fn a_rate_is_asked_about_first_and_beyond_five_times_the_last() {
    let rate = |text: &str| text.parse::<Decimal>().unwrap();
    let (first, last) = (Some(RateDoubt::First), rate("1.2"));
    let far = Some(RateDoubt::Far { last });
    assert_eq!(rate_doubt(last, None), first);
    for (now, doubt) in [
        ("6.0", None),
        ("6.0000000001", far),
        ("0.24", None),
        ("0.2399999999", far),
    ] {
        assert_eq!(rate_doubt(rate(now), Some(last)), doubt, "{now}");
    }
    assert_eq!(
        rate_of_amounts(Decimal::ONE, rate("190.50")),
        Some(rate("0.00524934"))
    );
    assert_eq!(
        rate_of_amounts(rate("94.50"), rate("18000")),
        Some(rate("0.00525"))
    );
    assert_eq!(rate_of_amounts(Decimal::ONE, Decimal::ZERO), None);
}

proptest! {
    /// Whichever of two rates comes first, the other is asked about or not.
    #[test]
    fn a_doubt_does_not_hang_on_the_order(one in 1..10_000_000_000_i64, two in 1..10_000_000_000_i64) {
        let [one, two] = [one, two].map(|units| Decimal::new(units, 10));
        prop_assert_eq!(rate_doubt(one, Some(two)).is_some(), rate_doubt(two, Some(one)).is_some());
        prop_assert!(rate_doubt(one, Some(one)).is_none());
    }
}
