//! Tax by rate, mode and place.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 37_76 is 37.76"
)]

use super::{INSIDE, MODES, ON_TOP, PLACES, amounts, money, pc, taxed};
use ellwand_domain::{
    pricing::{
        Amounts, PricesShown, PricingError, Rounding, TaxLine, TaxPlace, TaxRate, TaxRules, Taxed,
        tax,
    },
    quantity::{Money, PartsPerMillion, QuantityError},
};
use proptest::prelude::*;

fn total(rules: TaxRules, lines: &[(&str, &str)]) -> Amounts {
    taxed(rules, lines).total
}

/// The tax on lines of one amount, rounded so.
fn tax_on(count: usize, line: (&str, &str), rounding: Rounding, place: TaxPlace) -> i64 {
    total(
        TaxRules {
            rounding,
            place,
            ..ON_TOP
        },
        &vec![line; count],
    )
    .tax
}

#[test]
fn tax_on_top_is_rounded_to_the_cent() {
    // OpenStax, Contemporary Mathematics, 6.2: 2.8776 and 35.391675 (whose sum is misprinted there with 35.88).
    assert_eq!(
        total(ON_TOP, &[("34.88 USD", "8.25%")]),
        amounts(34_88, 2_88, 37_76)
    );
    assert_eq!(
        total(ON_TOP, &[("428.99 USD", "8.25%")]),
        amounts(428_99, 35_39, 464_38)
    );
}

#[test]
fn tax_inside_is_a_fraction_of_the_gross_price() {
    // accountingservicesforbusiness.co.uk, "VAT rates and fractions": 1/6, 7/47, 3/23, 1/21.
    assert_eq!(total(INSIDE, &[("120.00 GBP", "20%")]).tax, 20_00);
    assert_eq!(total(INSIDE, &[("117.50 GBP", "17.5%")]).tax, 17_50);
    assert_eq!(total(INSIDE, &[("115.00 GBP", "15%")]).tax, 15_00);
    assert_eq!(total(INSIDE, &[("210.00 GBP", "5%")]).tax, 10_00);
    // OpenStax, Contemporary Mathematics, 6.2: 36.56 with 5.75 % inside is 34.57 net; derived: the tax is rounded.
    assert_eq!(
        total(INSIDE, &[("36.56 USD", "5.75%")]),
        amounts(34_57, 1_99, 36_56)
    );
}

#[test]
fn the_place_of_rounding_moves_a_cent() {
    // Derived: three lines of 1.49 at 20 % are 0.298 each, 0.894 together.
    let line = ("1.49 EUR", "20%");
    assert_eq!(tax_on(3, line, Rounding::HalfUp, TaxPlace::Line), 90);
    assert_eq!(tax_on(3, line, Rounding::HalfUp, TaxPlace::Invoice), 89);
    assert_eq!(tax_on(3, line, Rounding::Down, TaxPlace::Line), 87);
    assert_eq!(tax_on(3, line, Rounding::Down, TaxPlace::Invoice), 89);
    assert_eq!(tax_on(3, line, Rounding::HalfUp, TaxPlace::Rate), 89);
    // Under the total the lines add up: the missing cents go to the first ones.
    let rules = TaxRules {
        place: TaxPlace::Invoice,
        ..ON_TOP
    };
    let lines = taxed(rules, &[line; 3]).lines;
    assert_eq!(
        lines
            .iter()
            .map(|line| line.amounts.tax)
            .collect::<Vec<_>>(),
        [30, 30, 29]
    );
}

#[test]
fn the_cent_goes_to_the_line_that_is_nearest_to_it() {
    // By hand: 1 % of 0.31 and of 0.38 are 0.31 and 0.38 of a cent, 0.69 together: one cent, the second line's.
    let taxes = |rules, lines: &[(&str, &str)]| {
        taxed(rules, lines)
            .lines
            .iter()
            .map(|line| line.amounts.tax)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        taxes(ON_TOP, &[("0.31 EUR", "1%"), ("0.38 EUR", "1%")]),
        [0, 1]
    );
    // By hand, at two rates: 8.05 with 19 % inside holds 1.285 294, 2.37 with 13.7 % holds 0.285 567; 1.57 together.
    assert_eq!(
        taxes(INSIDE, &[("8.05 EUR", "19%"), ("2.37 EUR", "13.7%")]),
        [1_28, 29]
    );
    // By hand: however near they are.
    assert_eq!(
        taxes(
            ON_TOP,
            &[("0.01 EUR", "33.3332%"), ("0.01 EUR", "33.3333%")]
        ),
        [0, 1]
    );
}

#[test]
fn half_a_cent_of_tax_goes_by_country() {
    // New Zealand, GST Act 1985 s 19O: half a cent may be dropped; Australia, GST Act 1999 s 9-90: it becomes a cent.
    assert_eq!(
        tax_on(1, ("0.50 NZD", "15%"), Rounding::HalfDown, TaxPlace::Line),
        7
    );
    assert_eq!(
        tax_on(1, ("0.75 AUD", "10%"), Rounding::HalfUp, TaxPlace::Line),
        8
    );
}

#[test]
fn japan_rounds_once_per_rate_and_invoice() {
    // National Tax Agency, invoice system Q46; figures derived: 99.9 and 100.5 down, lines of 33.3 and 33.5 down.
    assert_eq!(
        tax_on(3, ("333 JPY", "10%"), Rounding::Down, TaxPlace::Rate),
        99
    );
    assert_eq!(
        tax_on(3, ("333 JPY", "10%"), Rounding::Down, TaxPlace::Line),
        99
    );
    assert_eq!(
        tax_on(3, ("335 JPY", "10%"), Rounding::Down, TaxPlace::Rate),
        100
    );
    assert_eq!(
        tax_on(3, ("335 JPY", "10%"), Rounding::Down, TaxPlace::Line),
        99
    );
    // By hand: 333 at 10 % is 33.3, 333 at 8 % 26.64; per rate down 33 + 26 = 59, together 59.94 down 59, half up 60.
    let two = [("333 JPY", "10%"), ("333 JPY", "8%")];
    let with = |rounding, place| {
        taxed(
            TaxRules {
                rounding,
                place,
                ..ON_TOP
            },
            &two,
        )
    };
    assert_eq!(with(Rounding::Down, TaxPlace::Rate).total.tax, 59);
    assert_eq!(with(Rounding::Down, TaxPlace::Invoice).total.tax, 59);
    let nearest = with(Rounding::HalfUp, TaxPlace::Invoice);
    assert_eq!(nearest.total.tax, 60);
    let by_rate: Vec<i64> = nearest.rates.iter().map(|rate| rate.amounts.tax).collect();
    assert_eq!(by_rate, [33, 27], "the larger rest is rounded up");
}

#[test]
fn three_digit_currencies_round_to_the_thousandth() {
    // By hand: 1.250 KWD at 5 % is 0.0625.
    assert_eq!(
        total(ON_TOP, &[("1.250 KWD", "5%")]),
        amounts(1_250, 63, 1_313)
    );
}

#[test]
fn the_tax_of_a_quotation_is_on_its_net_price() {
    // Derived: 668.09 at 20 %.
    assert_eq!(
        total(ON_TOP, &[("668.09 EUR", "20%")]),
        amounts(668_09, 133_62, 801_71)
    );
}

#[test]
fn rates_are_kept_apart_by_name_and_only_those_used_are_listed() {
    let rates = [("standard", "20%"), ("reduced", "5.5%"), ("books", "0%")];
    let rates = rates.map(|(name, share)| TaxRate::parse(name, share).unwrap());
    let line = |amount, rate: &str| TaxLine {
        amount: money(amount),
        rate: rate.to_owned(),
    };
    let lines = [
        line("10.00 EUR", "reduced"),
        line("20.00 EUR", "standard"),
        line("30.00 EUR", "reduced"),
    ];
    let taxed = tax(ON_TOP, &rates, &lines).unwrap();
    let by_rate: Vec<_> = taxed
        .rates
        .iter()
        .map(|rate| (rate.rate.name(), rate.amounts))
        .collect();
    let expected = [
        ("standard", amounts(20_00, 4_00, 24_00)),
        ("reduced", amounts(40_00, 2_20, 42_20)),
    ];
    assert_eq!(by_rate, expected);
    assert_eq!(taxed.total, amounts(60_00, 6_20, 66_20));
}

#[test]
fn a_credit_is_taxed_like_the_charge_it_takes_back() {
    // By hand: 10.00 − 2.00 = 8.00 at 20 %.
    let with_credit = taxed(ON_TOP, &[("10.00 EUR", "20%"), ("-2.00 EUR", "20%")]);
    assert_eq!(with_credit.total, amounts(8_00, 1_60, 9_60));
    let lines: Vec<i64> = with_credit
        .lines
        .iter()
        .map(|line| line.amounts.tax)
        .collect();
    assert_eq!(lines, [2_00, -40]);
    assert_eq!(
        total(ON_TOP, &[("-34.88 USD", "8.25%")]),
        amounts(-34_88, -2_88, -37_76)
    );
}

#[test]
fn lines_that_cannot_be_taxed_are_refused_in_order() {
    let standard = || TaxRate::parse("standard", "20%").unwrap();
    let line = |amount, rate: &str| TaxLine {
        amount: money(amount),
        rate: rate.to_owned(),
    };
    let twice = [standard(), standard()];
    assert_eq!(tax(ON_TOP, &twice, &[]), Err(PricingError::NoLines));
    let lines = [line("1.00 EUR", "standard"), line("1.00 USD", "luxury")];
    let name = "standard".to_owned();
    assert_eq!(
        tax(ON_TOP, &twice, &lines),
        Err(PricingError::RateTwice { name })
    );
    let mixed = PricingError::MixedCurrencies {
        wanted: "EUR".parse().unwrap(),
        given: money("1.00 USD"),
    };
    assert_eq!(
        mixed.to_string(),
        "1.00 USD cannot be set against amounts in EUR; convert it first"
    );
    assert_eq!(tax(ON_TOP, &[standard()], &lines), Err(mixed));
    let unknown = tax(ON_TOP, &[standard()], &[line("1.00 EUR", "luxury")]).unwrap_err();
    assert_eq!(
        unknown.to_string(),
        "there is no tax rate luxury; known rates: standard"
    );
    assert_eq!(
        tax(ON_TOP, &[], &lines).unwrap_err().to_string(),
        "there is no tax rate standard; known rates: none"
    );
}

#[test]
fn tax_rates_are_exact_or_refused() {
    assert_eq!(TaxRate::parse("vat", "17.5%").unwrap().share(), pc("17.5%"));
    assert_eq!(
        TaxRate::parse("sales", "8 1/4%").unwrap().share(),
        PartsPerMillion::new(82_500).unwrap()
    );
    assert_eq!(TaxRate::parse(" vat ", "0%").unwrap().name(), "vat");
    for text in ["8.23755%", "8 1/3%", "-8.23755%"] {
        assert_eq!(
            TaxRate::parse("sales", text),
            Err(PricingError::RateTooFine { text: text.into() })
        );
    }
    let negative = PricingError::Negative {
        what: "the tax rate",
        given: "-5 %".into(),
    };
    assert_eq!(TaxRate::parse("vat", "-5%"), Err(negative));
    assert_eq!(
        TaxRate::new(" ", pc("5%")),
        Err(PricingError::UnnamedRate { share: pc("5%") })
    );
    let bare = TaxRate::parse("vat", "20").unwrap_err();
    assert!(matches!(
        bare,
        PricingError::Quantity(QuantityError::MissingUnit { .. })
    ));
}

#[test]
fn amounts_beyond_whole_numbers_are_refused_and_never_wrapped() {
    let currency = "EUR".parse().unwrap();
    let rate = TaxRate::parse("vat", "20%").unwrap();
    let line = |minor| TaxLine {
        amount: Money { minor, currency },
        rate: "vat".into(),
    };
    for rules in [ON_TOP, INSIDE] {
        for lines in [
            vec![line(i64::MAX), line(i64::MAX)],
            vec![line(i64::MIN), line(-1)],
        ] {
            let refused = tax(rules, std::slice::from_ref(&rate), &lines).unwrap_err();
            assert!(
                matches!(
                    refused,
                    PricingError::Quantity(QuantityError::Overflow { .. })
                ),
                "{refused}"
            );
        }
    }
    assert_eq!(
        tax(INSIDE, &[rate], &[line(i64::MAX)]).map(|taxed| taxed.total.gross),
        Ok(i64::MAX)
    );
}

/// Rates in ppm, and lines of minor units with the number of their rate.
fn invoice() -> impl Strategy<Value = (Vec<i64>, Vec<(i64, usize)>)> {
    prop::collection::vec(
        prop_oneof![0..300_000_i64, Just(200_000), Just(55_000)],
        1..4,
    )
    .prop_flat_map(|rates| {
        let line = (prop_oneof![0..500_i64, 0..100_000_00_i64], 0..rates.len());
        (Just(rates), prop::collection::vec(line, 1..12))
    })
}

fn build(rules: TaxRules, rates: &[i64], lines: &[(i64, usize)], sign: i64) -> Taxed {
    let currency = "EUR".parse().unwrap();
    let named = rates.iter().enumerate();
    let named = named.map(|(at, ppm)| {
        TaxRate::new(&format!("r{at}"), PartsPerMillion::new(*ppm).unwrap()).unwrap()
    });
    let line = |(minor, at): &(i64, usize)| TaxLine {
        amount: Money {
            minor: sign * minor,
            currency,
        },
        rate: format!("r{at}"),
    };
    tax(
        rules,
        &named.collect::<Vec<_>>(),
        &lines.iter().map(line).collect::<Vec<_>>(),
    )
    .unwrap()
}

/// Whether `tax` is `above / below` rounded by the mode, said otherwise than the code does.
fn is_rounded(tax: i128, above: i128, below: i128, mode: Rounding) -> bool {
    let error = 2 * (tax * below - above);
    match mode {
        Rounding::HalfUp => -below < error && error <= below,
        Rounding::HalfDown => -below <= error && error < below,
        Rounding::HalfEven => error.abs() < below || (error.abs() == below && tax % 2 == 0),
        Rounding::Down => -2 * below < error && error <= 0,
    }
}

proptest! {
    #[test]
    fn lines_and_tax_are_the_gross_total_for_every_mode_and_place((rates, lines) in invoice(), inside in any::<bool>()) {
        let shown = if inside { PricesShown::WithTax } else { PricesShown::WithoutTax };
        let whole = |ppm: i64| i128::from(if inside { 1_000_000 + ppm } else { 1_000_000 });
        for (rounding, place) in MODES.into_iter().flat_map(|mode| PLACES.map(|place| (mode, place))) {
            let rules = TaxRules { shown, rounding, place };
            let taxed = build(rules, &rates, &lines, 1);
            let adds_up = |a: &Amounts| a.net + a.tax == a.gross;
            prop_assert!(adds_up(&taxed.total));
            prop_assert!(taxed.lines.iter().all(|line| adds_up(&line.amounts)));
            prop_assert_eq!(Amounts::sum(taxed.lines.iter().map(|line| &line.amounts)), Ok(taxed.total));
            prop_assert_eq!(Amounts::sum(taxed.rates.iter().map(|rate| &rate.amounts)), Ok(taxed.total));
            // What was typed stays as it was typed.
            for ((minor, at), line) in lines.iter().zip(&taxed.lines) {
                let kept = if inside { line.amounts.gross } else { line.amounts.net };
                prop_assert_eq!(kept, *minor);
                let (above, below) = (i128::from(minor * rates[*at]), whole(rates[*at]));
                let tax = i128::from(line.amounts.tax);
                prop_assert!((tax * below - above).abs() < below, "a line within a cent of its exact tax");
                prop_assert!(place != TaxPlace::Line || is_rounded(tax, above, below, rounding));
            }
            // Of two lines at a rate, the one with the larger rest is not the one that is rounded down.
            for at in (0..rates.len()).filter(|_| place != TaxPlace::Line) {
                let of_rate = lines.iter().zip(&taxed.lines).filter(|((_, of), _)| *of == at);
                let rests = of_rate.map(|((minor, _), line)| {
                    let (exact, below) = (i128::from(minor * rates[at]), whole(rates[at]));
                    (exact % below, i128::from(line.amounts.tax) > exact / below)
                });
                let (up, down): (Vec<_>, Vec<_>) = rests.partition(|(_, up)| *up);
                prop_assert!(up.iter().all(|(up, _)| down.iter().all(|(down, _)| up >= down)));
            }
            // The sums that the place rounds are rounded as the mode says.
            let of_rate = |at: usize| lines.iter().filter(|(_, of)| *of == at).map(|(minor, _)| i128::from(*minor)).sum::<i128>();
            for rate in taxed.rates.iter().filter(|_| place == TaxPlace::Rate) {
                let at: usize = rate.rate.name()[1..].parse().unwrap();
                let above = of_rate(at) * i128::from(rates[at]);
                prop_assert!(is_rounded(rate.amounts.tax.into(), above, whole(rates[at]), rounding));
            }
            if place == TaxPlace::Invoice {
                let below: i128 = rates.iter().map(|ppm| whole(*ppm)).product();
                let above = (0..rates.len()).map(|at| of_rate(at) * i128::from(rates[at]) * (below / whole(rates[at]))).sum();
                prop_assert!(is_rounded(taxed.total.tax.into(), above, below, rounding));
            }
            // A credit note mirrors its invoice.
            let credit = build(rules, &rates, &lines, -1);
            prop_assert!(credit.lines.iter().zip(&taxed.lines).all(|(c, t)| c.amounts.tax == -t.amounts.tax));
        }
    }
}
