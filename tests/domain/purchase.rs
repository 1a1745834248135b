//! Landed cost: what each line of an invoice is worth on the shelf.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 125_61 is 125.61"
)]
#![expect(clippy::unwrap_used, reason = "a failed expectation ends the test")]

use ellwand_domain::{
    allocation::AllocationError,
    purchase::{
        Charge, ChargeKind, Conversion, LandError, Landed, Line, Paid, Price, PriceError,
        RateDoubt, Share, land, late_share, rate_doubt, rate_of_amounts, split_value, spread_late,
    },
    quantity::Millionths,
};
use proptest::prelude::*;
use rust_decimal::Decimal;

const EUR: Conversion = Conversion::Same { digits: 2 };

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

fn cents(minor: i64) -> Millionths {
    m(minor * 10_000)
}

fn line(price: i64) -> Line {
    Line {
        price,
        length_um: None,
        mass_mg: None,
        count: 1,
    }
}

fn cloth(price: i64, length_um: i64, mass_mg: i64) -> Line {
    Line {
        length_um: Some(length_um),
        mass_mg: Some(mass_mg),
        ..line(price)
    }
}

fn charge(kind: ChargeKind, amount: i64, share: Share) -> Charge {
    Charge {
        kind,
        amount,
        share,
        lines: None,
        reclaimed: false,
    }
}

fn freight(amount: i64, share: Share) -> Charge {
    charge(ChargeKind::Freight, amount, share)
}

fn amounts(landed: &Landed) -> Vec<i64> {
    landed
        .per_line
        .iter()
        .map(|line| line.invoice_minor)
        .collect()
}

fn homes(landed: &Landed) -> Vec<Millionths> {
    landed.per_line.iter().map(|line| line.home).collect()
}

fn rate(text: &str) -> Conversion {
    Conversion::Rate {
        rate: text.parse().unwrap(),
        invoice_digits: 2,
        home_digits: 2,
    }
}

#[test]
fn freight_is_shared_by_value_or_by_mass() {
    // Derived: freight 12.95 over linen 84.00 (1 120 g), lining 23.10 (315 g), buttons 6.75 (40 g).
    let buttons = Line {
        mass_mg: Some(40_000),
        ..line(675)
    };
    let lines = [
        cloth(8400, 3_500_000, 1_120_000),
        cloth(2310, 2_100_000, 315_000),
        buttons,
    ];
    let by = |share| {
        let landed = land(&lines, &[freight(1295, share)], EUR).unwrap();
        landed
            .per_line
            .iter()
            .map(|line| line.shares[0])
            .collect::<Vec<_>>()
    };
    assert_eq!(by(Share::Value), [955, 263, 77]);
    assert_eq!(by(Share::Mass), [983, 277, 35]);
    // Derived: by count, 12.95 over three lines of one.
    assert_eq!(by(Share::Count), [432, 432, 431]);
    let refused = land(&lines, &[freight(1295, Share::Length)], EUR);
    assert_eq!(
        refused,
        Err(LandError::MissingKey {
            charge: 1,
            line: 3,
            key: "length"
        })
    );
    // Only over the cloth: 12.95 × 3.5/5.6 = 8.09375, 4.85625.
    let cloth_only = Charge {
        lines: Some(vec![0, 1]),
        ..freight(1295, Share::Length)
    };
    assert_eq!(
        amounts(&land(&lines, &[cloth_only], EUR).unwrap()),
        [8400 + 809, 2310 + 486, 675]
    );
}

#[test]
fn a_consignment_with_shipping_and_discount_lands_at_what_was_paid() {
    // Landed-cost exercise with its answer (allinterview.com/showanswers/112970): 20 X at 20 and 20 Y at 5 dollars,
    // shipping 40, discount 80, the consignment cost 2 300 dirhams: 92 and 23 each.
    let lines = [
        Line {
            count: 20,
            ..line(400_00)
        },
        Line {
            count: 20,
            ..line(100_00)
        },
    ];
    let charges = [
        freight(40_00, Share::Value),
        charge(ChargeKind::Discount, -80_00, Share::Value),
    ];
    let landed = land(
        &lines,
        &charges,
        Conversion::Home {
            minor: 2_300_00,
            digits: 2,
        },
    )
    .unwrap();
    assert_eq!(homes(&landed), [cents(1_840_00), cents(460_00)]);
    assert_eq!(each(&landed, 20), [cents(92_00), cents(23_00)]);
    assert_eq!(landed.invoice_total, 460_00);
}

fn each(landed: &Landed, count: i64) -> Vec<Millionths> {
    homes(landed)
        .into_iter()
        .map(|value| value.share(1, count).unwrap())
        .collect()
}

#[test]
fn carriage_in_joins_the_goods() {
    // OpenStax, Principles of Accounting vol. 1, 6.5: 40 tablets at 60, carriage 5 each: stock 2 600, 65 each.
    let lines = [Line {
        count: 40,
        ..line(2_400_00)
    }];
    let landed = land(&lines, &[freight(200_00, Share::Value)], EUR).unwrap();
    assert_eq!(landed.home_total, cents(2_600_00));
    assert_eq!(each(&landed, 40), [cents(65_00)]);
    // Inputs of an exercise of 6.5, result derived: goods 2 400, carriage in 130: 2 530. Carriage out is no charge.
    let landed = land(&[line(2_400_00)], &[freight(130_00, Share::Value)], EUR).unwrap();
    assert_eq!(landed.home_total, cents(2_530_00));
}

#[test]
fn discounts_lower_the_cost_of_the_goods() {
    // OpenStax, Principles of Accounting vol. 1, 6.1: list 4 000, trade discount 15 %: stock 3 400.
    let trade = charge(ChargeKind::Discount, -600_00, Share::Value);
    assert_eq!(
        land(&[line(4_000_00)], &[trade], EUR).unwrap().home_total,
        cents(3_400_00)
    );
    // The same source: 1 600 on 2/10, paid on day 4: stock falls by 32 to 1 568.
    let lines = [line(1_600_00)];
    let landed = land(&lines, &[], EUR).unwrap();
    let prompt = charge(ChargeKind::Discount, -32_00, Share::Value);
    let share = late_share(&lines, &landed.per_line, &prompt, 2).unwrap();
    let spread = spread_late(share[0], &[("L1", 1)], 1).unwrap();
    assert_eq!(spread.parts, [("L1", cents(-32_00))]);
    assert_eq!(spread.adjustment, Millionths::ZERO);
    assert_eq!(landed.home_total.plus(share[0]), Ok(cents(1_568_00)));
}

/// Wool 4.00 m at 88.00 and lining 5.00 m at 32.00 GBP; shipping by value, duty on the wool only.
fn harbour_invoice() -> ([Line; 2], Vec<Charge>) {
    let lines = [cloth(88_00, 4_000_000, 0), cloth(32_00, 5_000_000, 0)];
    let duty = Charge {
        lines: Some(vec![0]),
        ..charge(ChargeKind::Duty, 10_56, Share::Value)
    };
    (lines, vec![freight(12_00, Share::Value), duty])
}

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
fn tax_that_cannot_be_reclaimed_follows_what_was_taxed() {
    // Derived: 20 % on goods and shipping (132.00) is 26.40, shared as 96.80 : 35.20.
    let (lines, mut charges) = harbour_invoice();
    charges.push(charge(
        ChargeKind::Tax,
        26_40,
        Share::TaxedAmount { charges: vec![0] },
    ));
    let landed = land(&lines, &charges, rate("1.1700")).unwrap();
    assert_eq!(landed.per_line[0].shares[2], 19_36);
    assert_eq!(landed.per_line[1].shares[2], 7_04);
    assert_eq!(amounts(&landed), [126_72, 42_24]);
    assert_eq!(landed.invoice_total, 168_96);
    let late = charge(
        ChargeKind::Tax,
        26_40,
        Share::TaxedAmount { charges: vec![2] },
    );
    assert_eq!(
        land(&lines, &[late], EUR),
        Err(LandError::NotEarlier {
            charge: 1,
            named: 3
        })
    );
    let itself = charge(ChargeKind::Tax, 1, Share::TaxedAmount { charges: vec![0] });
    assert_eq!(
        land(&lines, &[itself], EUR),
        Err(LandError::NotEarlier {
            charge: 1,
            named: 1
        })
    );
}

/// The same tax, reclaimed: IAS 2 para 11 leaves it out of the cost; derived as in the case without it.
#[test]
fn tax_that_is_reclaimed_is_shown_and_costs_nothing() {
    let (lines, mut charges) = harbour_invoice();
    let without = land(&lines, &charges, rate("1.1700")).unwrap();
    let tax = charge(
        ChargeKind::Tax,
        26_40,
        Share::TaxedAmount { charges: vec![0] },
    );
    charges.push(Charge {
        reclaimed: true,
        ..tax
    });
    let landed = land(&lines, &charges, rate("1.1700")).unwrap();
    assert_eq!((landed.invoice_total, landed.reclaimed), (142_56, 26_40));
    assert_eq!(homes(&landed), [cents(125_61), cents(41_19)]);
    assert_eq!(
        (homes(&landed), landed.home_total),
        (homes(&without), without.home_total)
    );
    let shares: Vec<i64> = landed.per_line.iter().map(|line| line.shares[2]).collect();
    assert_eq!(shares, [19_36, 7_04], "it is shared as if it were a cost");
    // The card statement tells what was paid, the tax with it: 197.68 as 142.56 to 26.40 is 166.79 and 30.89 (largest
    // remainder, OpenStax Contemporary Mathematics 11.4; 166.7925 and 30.8875).
    let typed = land(
        &lines,
        &charges,
        Conversion::Home {
            minor: 197_68,
            digits: 2,
        },
    )
    .unwrap();
    assert_eq!(typed.home_total, cents(166_79));
    // Only a tax is reclaimed.
    let odd = Charge {
        reclaimed: true,
        ..freight(12_00, Share::Value)
    };
    assert!(odd.is_cost());
    assert_eq!(land(&lines, &[odd], EUR).unwrap().invoice_total, 132_00);
}

#[test]
fn what_was_bought_by_the_yard_or_the_kilo_keeps_its_price() {
    // Derived: 2.5 yd at 12.00 is 30.00 for 2.286 m, 13.1234 a metre.
    let yards = land(&[cloth(30_00, 2_286_000, 0)], &[], EUR)
        .unwrap()
        .home_total;
    assert_eq!(yards.share(1_000_000, 2_286_000), Ok(m(13_123_360)));
    // Derived: 1.240 kg at 14.00 is 17.36; at 230 g/m² and 1.50 m wide 3.5942 m, 4.83 a metre.
    let kilo = land(&[cloth(17_36, 3_594_202, 1_240_000)], &[], EUR)
        .unwrap()
        .home_total;
    assert_eq!(kilo.share(1_000_000, 3_594_202), Ok(m(4_830_001)));
}

#[test]
fn gifts_share_by_quantity_then_equally() {
    // Common practice: every weight zero, so by quantity (length where all have one, else count); none, so equally.
    let gifts = [
        Line {
            count: 3,
            ..line(0)
        },
        line(0),
    ];
    assert_eq!(
        amounts(&land(&gifts, &[freight(4_00, Share::Value)], EUR).unwrap()),
        [3_00, 1_00]
    );
    let (short, long) = (cloth(0, 1_000_000, 0), cloth(0, 3_000_000, 0));
    assert_eq!(
        amounts(&land(&[short.clone(), long], &[freight(4_00, Share::Value)], EUR).unwrap()),
        [1_00, 3_00]
    );
    let card = Line {
        count: 3,
        ..line(0)
    };
    assert_eq!(
        amounts(&land(&[short, card], &[freight(4_00, Share::Value)], EUR).unwrap()),
        [1_00, 3_00]
    );
    let uncounted = [
        Line {
            count: 0,
            ..line(0)
        },
        Line {
            count: 0,
            ..line(0)
        },
    ];
    assert_eq!(
        amounts(&land(&uncounted, &[freight(5, Share::Value)], EUR).unwrap()),
        [3, 2]
    );
    // The fall-back stays within the named lines.
    let second = Charge {
        lines: Some(vec![1]),
        ..freight(4_00, Share::Value)
    };
    assert_eq!(amounts(&land(&gifts, &[second], EUR).unwrap()), [0, 4_00]);
    // A gift beside bought goods, and a purchase of gifts alone in a foreign currency: nothing to convert.
    let mixed = land(&[line(10_00), line(0)], &[freight(1_00, Share::Value)], EUR).unwrap();
    assert_eq!(homes(&mixed), [cents(11_00), cents(0)]);
    assert_eq!(
        land(&gifts, &[], rate("1.17")).unwrap().home_total,
        Millionths::ZERO
    );
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

#[test]
fn lines_and_charges_that_cannot_be_are_refused_by_number() {
    let lines = [line(10_00), line(2_00)];
    assert_eq!(land(&[], &[], EUR), Err(LandError::NoLines));
    let negative = land(&[line(1), line(-1)], &[], EUR);
    assert_eq!(
        negative,
        Err(LandError::NegativeLine {
            line: 2,
            what: "price"
        })
    );
    let only = |lines| {
        [Charge {
            lines: Some(lines),
            ..freight(1, Share::Value)
        }]
    };
    assert_eq!(
        land(&lines, &only(vec![2]), EUR),
        Err(LandError::UnknownLine {
            charge: 1,
            line: 3,
            lines: 2
        })
    );
    assert_eq!(
        land(&lines, &only(vec![]), EUR),
        Err(LandError::NoLinesNamed { charge: 1 })
    );
    let raised = charge(ChargeKind::Discount, 80, Share::Value);
    assert_eq!(
        land(&lines, &[raised], EUR),
        Err(LandError::DiscountNotNegative {
            charge: 1,
            amount: 80
        })
    );
    let discount = |amount| Charge {
        lines: Some(vec![1]),
        ..charge(ChargeKind::Discount, amount, Share::Value)
    };
    assert_eq!(
        land(&lines, &[discount(-2_01)], EUR),
        Err(LandError::NegativeTotal { line: 2, total: -1 })
    );
    assert_eq!(
        amounts(&land(&lines, &[discount(-2_00)], EUR).unwrap()),
        [10_00, 0]
    );
    let taxed = charge(
        ChargeKind::Tax,
        1_00,
        Share::TaxedAmount { charges: vec![0] },
    );
    let refused = land(&lines, &[discount(-2_01), taxed], EUR);
    assert_eq!(
        refused,
        Err(LandError::NegativeTaxedAmount { charge: 2, line: 2 })
    );
}

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

fn share() -> impl Strategy<Value = Share> {
    prop_oneof![
        Just(Share::Value),
        Just(Share::Length),
        Just(Share::Mass),
        Just(Share::Count)
    ]
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
        let paid = lines.iter().map(|line| line.price).sum::<i64>() + charges.iter().map(|c| c.amount).sum::<i64>();
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

fn price_of(price: &str, paid: Option<&str>, counted: bool) -> Result<i64, PriceError> {
    let paid = paid.map(|text| Paid::parse(text, counted).unwrap());
    Price::parse(price, Some("EUR".parse().unwrap()))?.of(paid)
}

#[test]
fn a_unit_price_is_multiplied_by_what_was_paid_for() {
    // Derived: 2.5 yd at 12.00 = 30.00; 1.240 kg at 14.00 = 17.36; 6 buttons at 0.85 = 5.10.
    assert_eq!(price_of("12.00/yd", Some("2.5yd"), false), Ok(30_00));
    assert_eq!(price_of("14.00/kg", Some("1.240kg"), false), Ok(17_36));
    assert_eq!(price_of("0.85/pc", Some("6"), true), Ok(5_10));
    assert_eq!(
        price_of("EUR 4.50/5000m", Some("10 000 m"), false),
        Ok(9_00)
    );
    // Halves up: 0.5 m at 0.25 a metre = 0.125.
    assert_eq!(price_of("0.25/m", Some("0.5m"), false), Ok(13));
    assert_eq!(price_of("88.00", None, false), Ok(88_00));
}

#[test]
fn a_unit_price_needs_a_quantity_of_its_own_measure() {
    let per = "length";
    assert_eq!(
        price_of("12.00/m", None, false),
        Err(PriceError::NothingPaid { per })
    );
    assert_eq!(
        price_of("12.00/m", Some("2kg"), false),
        Err(PriceError::OtherMeasure { per, paid: "mass" })
    );
    for text in ["12.00/", "12.00/gsm", "12.00/0m", "1.234", "-1.00/m"] {
        assert!(price_of(text, Some("2m"), false).is_err(), "{text}");
    }
}

#[test]
fn what_was_paid_for_needs_its_unit_unless_it_is_counted() {
    assert!(Paid::parse("4", false).is_err());
    assert!(Paid::parse("0m", false).is_err());
    assert!(Paid::parse("4", true).is_ok());
    assert!(Paid::parse("4.5", true).is_err());
    assert!(matches!(Paid::parse("3 pcs", false), Ok(Paid::Count(_))));
    assert!(matches!(Paid::parse("1.240kg", false), Ok(Paid::Mass(_))));
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
