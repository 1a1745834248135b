//! Prices rounded up to a figure that is easy to say.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 670_00 is 670.00"
)]

use super::{INSIDE, ON_TOP, amounts, money, taxed};
use ellwand_domain::{
    pricing::{Amounts, Charm, PricesShown, PricingError, TaxRules},
    quantity::Money,
};
use proptest::prelude::*;

fn charm(step: &str, ending: &str) -> Charm {
    Charm::new(money(step), money(ending)).unwrap()
}

fn up(charm: &Charm, price: &str) -> String {
    charm.round_up(money(price)).unwrap().decimal()
}

#[test]
fn prices_go_up_to_the_next_figure() {
    // Derived: up to the next 5, up to x.95.
    let five = charm("5.00 EUR", "0.00 EUR");
    assert_eq!(
        (up(&five, "668.09 EUR"), up(&five, "670.00 EUR")),
        ("670.00".into(), "670.00".into())
    );
    let ninety_five = charm("1.00 EUR", "0.95 EUR");
    assert_eq!(
        (
            up(&ninety_five, "668.09 EUR"),
            up(&ninety_five, "668.96 EUR")
        ),
        ("668.95".into(), "669.95".into())
    );
    // By hand: the next 10, the next that ends in 9, and in yen.
    assert_eq!(up(&charm("10.00 EUR", "0.00 EUR"), "670.01 EUR"), "680.00");
    assert_eq!(up(&charm("10.00 EUR", "9.00 EUR"), "670.00 EUR"), "679.00");
    assert_eq!(up(&charm("100 JPY", "80 JPY"), "12345 JPY"), "12380");
    assert_eq!(up(&ninety_five, "0.00 EUR"), "0.95");
}

#[test]
fn a_price_shown_with_tax_is_rounded_after_tax_and_taxed_from_there() {
    // Derived: 668.09 net at 20 % is 801.71; the next 5 is 805.00, of which a sixth is tax: 134.17.
    let quote = taxed(ON_TOP, &[("668.09 EUR", "20%")]);
    let five = charm("5.00 EUR", "0.00 EUR");
    let shown = five.apply(&quote, PricesShown::WithTax, "20%").unwrap();
    assert_eq!(shown.rounding, money("3.29 EUR"));
    assert_eq!(shown.taxed.total, amounts(670_83, 134_17, 805_00));
    assert_eq!(shown.taxed.rules, INSIDE);
    let gross: Vec<i64> = shown
        .taxed
        .lines
        .iter()
        .map(|line| line.amounts.gross)
        .collect();
    assert_eq!(gross, [801_71, 3_29]);
    // Shown without tax it is the net price that is rounded, and tax comes on top.
    let shown = five.apply(&quote, PricesShown::WithoutTax, "20%").unwrap();
    assert_eq!(shown.rounding, money("1.91 EUR"));
    assert_eq!(shown.taxed.total, amounts(670_00, 134_00, 804_00));
}

#[test]
fn a_price_that_is_there_already_gets_no_line() {
    let quote = taxed(INSIDE, &[("670.00 EUR", "20%")]);
    let shown = charm("5.00 EUR", "0.00 EUR")
        .apply(&quote, PricesShown::WithTax, "20%")
        .unwrap();
    assert_eq!((shown.rounding, &shown.taxed), (money("0.00 EUR"), &quote));
}

#[test]
fn figures_that_cannot_be_are_refused() {
    for (step, ending) in [
        ("0.00 EUR", "0.00 EUR"),
        ("1.00 EUR", "1.00 EUR"),
        ("1.00 EUR", "-0.05 EUR"),
    ] {
        let (step, ending) = (money(step), money(ending));
        assert_eq!(
            Charm::new(step, ending),
            Err(PricingError::Step { step, ending })
        );
    }
    let mixed = |given| PricingError::MixedCurrencies {
        wanted: "EUR".parse().unwrap(),
        given: money(given),
    };
    assert_eq!(
        Charm::new(money("1.00 EUR"), money("0.95 USD")),
        Err(mixed("0.95 USD"))
    );
    let five = charm("5.00 EUR", "0.00 EUR");
    assert_eq!(five.round_up(money("1.00 USD")), Err(mixed("1.00 USD")));
    let negative = PricingError::Negative {
        what: "the price",
        given: "-1.00 EUR".into(),
    };
    assert_eq!(five.round_up(money("-1.00 EUR")), Err(negative));
    let unknown = five
        .apply(
            &taxed(ON_TOP, &[("668.09 EUR", "20%")]),
            PricesShown::WithTax,
            "5%",
        )
        .unwrap_err();
    assert_eq!(
        unknown.to_string(),
        "there is no tax rate 5%; known rates: 20%"
    );
}

proptest! {
    #[test]
    fn charm_never_lowers_and_rises_by_less_than_a_step(price in 0..10_000_000_i64, step in 1..10_000_i64, part in 0..10_000_i64) {
        let eur = |minor| Money { minor, currency: "EUR".parse().unwrap() };
        let ending = part % step;
        let rounded = Charm::new(eur(step), eur(ending)).unwrap().round_up(eur(price)).unwrap().minor;
        prop_assert!(price <= rounded && rounded < price + step);
        prop_assert_eq!(rounded % step, ending);
    }

    #[test]
    fn the_total_shown_is_the_figure_and_adds_up(cents in prop::collection::vec((1..100_000_i64, any::<bool>()), 1..6), with_tax in any::<bool>()) {
        let lines: Vec<_> = cents.iter().map(|(cents, full)| {
            (format!("{}.{:02} EUR", cents / 100, cents % 100), if *full { "20%" } else { "5.5%" })
        }).collect();
        let lines: Vec<_> = lines.iter().map(|(amount, rate)| (amount.as_str(), *rate)).collect();
        let quote = taxed(ON_TOP, &lines);
        let shown = if with_tax { PricesShown::WithTax } else { PricesShown::WithoutTax };
        let charmed = charm("1.00 EUR", "0.95 EUR").apply(&quote, shown, lines[0].1).unwrap();
        let figure = |a: &Amounts| if with_tax { a.gross } else { a.net };
        prop_assert_eq!(figure(&charmed.taxed.total) % 100, 95);
        prop_assert_eq!(figure(&charmed.taxed.total), figure(&quote.total) + charmed.rounding.minor);
        prop_assert!(charmed.rounding.minor >= 0);
        prop_assert_eq!(charmed.taxed.rules, TaxRules { shown, ..ON_TOP });
        let lines = Amounts::sum(charmed.taxed.lines.iter().map(|line| &line.amounts));
        prop_assert_eq!(lines, Ok(charmed.taxed.total));
    }
}
