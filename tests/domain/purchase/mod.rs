//! Landed cost: what each line of an invoice is worth on the shelf.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 125_61 is 125.61"
)]
#![expect(clippy::unwrap_used, reason = "a failed expectation ends the test")]

mod landed;
mod later;
mod price;
mod rate;

use ellwand_domain::{
    purchase::{Charge, ChargeKind, Conversion, Landed, Line, Share},
    quantity::Millionths,
};
use proptest::prelude::*;

const EUR: Conversion = Conversion::Same { digits: 2 };

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

fn cents(minor: i64) -> Millionths {
    m(minor * 10_000)
}

fn line(price: i64) -> Line {
    Line {
        price: Some(price),
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

fn each(landed: &Landed, count: i64) -> Vec<Millionths> {
    homes(landed)
        .into_iter()
        .map(|value| value.share(1, count).unwrap())
        .collect()
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

fn share() -> impl Strategy<Value = Share> {
    prop_oneof![
        Just(Share::Value),
        Just(Share::Length),
        Just(Share::Mass),
        Just(Share::Count)
    ]
}
