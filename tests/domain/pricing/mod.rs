//! Pricing: hourly rates, estimates, prices, tax, stages. "Derived" figures follow from a rule or from sourced inputs.

mod added;
mod cash;
mod charm;
mod earned;
mod estimate;
mod offer;
mod parts;
mod price;
mod rounding;
mod stages;
mod supplement;
mod tax;
mod workshop;
mod worth;

use ellwand_domain::{
    pricing::{Amounts, PricesShown, Rounding, TaxLine, TaxPlace, TaxRate, TaxRules, Taxed, tax},
    quantity::{Millionths, Minutes, Money, PartsPerMillion},
};

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

/// A value in cents.
fn cents(minor: i64) -> Millionths {
    m(minor * 10_000)
}

fn min(minutes: i64) -> Minutes {
    Minutes::new(minutes).unwrap()
}

/// A share as it is typed: `17.5%`.
fn pc(text: &str) -> PartsPerMillion {
    text.parse().unwrap()
}

/// An amount as it is typed: `12.50 EUR`.
fn money(text: &str) -> Money {
    Money::parse_signed(text, None).unwrap()
}

const MODES: [Rounding; 4] = [
    Rounding::HalfUp,
    Rounding::HalfDown,
    Rounding::HalfEven,
    Rounding::Down,
];
const PLACES: [TaxPlace; 3] = [TaxPlace::Line, TaxPlace::Rate, TaxPlace::Invoice];

/// The rules of most examples: tax on top, half up, once per invoice.
const ON_TOP: TaxRules = TaxRules {
    shown: PricesShown::WithoutTax,
    rounding: Rounding::HalfUp,
    place: TaxPlace::Invoice,
};
/// The same with tax inside.
const INSIDE: TaxRules = TaxRules {
    shown: PricesShown::WithTax,
    ..ON_TOP
};

/// Amounts that are typed, at rates that are typed: `("34.88 USD", "8.25%")`. A rate is named by its text.
fn taxed(rules: TaxRules, lines: &[(&str, &str)]) -> Taxed {
    let mut rates: Vec<TaxRate> = Vec::new();
    for (_, rate) in lines {
        if rates.iter().all(|known| known.name() != *rate) {
            rates.push(TaxRate::parse(rate, rate).unwrap());
        }
    }
    let line = |(amount, rate): &(&str, &str)| TaxLine {
        amount: money(amount),
        rate: (*rate).to_owned(),
    };
    tax(rules, &rates, &lines.iter().map(line).collect::<Vec<_>>()).unwrap()
}

fn amounts(net: i64, tax: i64, gross: i64) -> Amounts {
    Amounts { net, tax, gross }
}
