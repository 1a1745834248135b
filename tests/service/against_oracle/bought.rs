//! Purchases made of drawn numbers.

use super::requests::MATERIALS;
use crate::oracle::{Act, Key, Kind, Line};

/// Whether all lines are counted, or all measured, so that quantities can be compared.
pub fn alike(lines: &[Line]) -> bool {
    lines
        .iter()
        .all(|line| MATERIALS[line.material].0 == MATERIALS[lines[0].material].0)
}

/// A purchase of one to three lines, with a charge or without.
pub fn buy(a: u16, b: u16, c: u16) -> Act {
    let line = |number: u16, price: u16| {
        let material = usize::from(number % 4);
        let kind = if material < 2 {
            Kind::Cloth
        } else {
            Kind::Pooled
        };
        let quantity = match material {
            2 => i128::from(number % 90) + 10,
            3 => (i128::from(number % 400) + 50) * 1_000_000,
            _ => (i128::from(number % 900) + 100) * 10_000,
        };
        Line {
            material,
            kind,
            quantity,
            price: i128::from(price % 9_000) + 1_000,
        }
    };
    let mut lines = vec![line(a, b)];
    for (more, price) in [(b, c), (c, a)].into_iter().take(usize::from(c % 3)) {
        lines.push(line(more / 5, price));
    }
    let key = if a.is_multiple_of(2) && alike(&lines) {
        Key::Quantity
    } else {
        Key::Value
    };
    let charge = (b.is_multiple_of(3)).then(|| (key, i128::from(a % 700) + 1));
    Act::Buy { lines, charge }
}
