//! Pricing: hourly rates, estimates, prices, tax, stages. "Derived" figures follow from a rule or from sourced inputs.

mod break_even;
mod estimate;
mod price;
mod rounding;
mod workshop;

use ellwand_domain::quantity::{Millionths, Minutes, Money, PartsPerMillion};

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
