//! Where the net price comes from, as bars.

use super::{
    document::Bar,
    words::{clean, percent},
};
use ellwand_contract::{Micro, quotations::PricePart};
use rust_decimal::{Decimal, RoundingStrategy};

/// Bars of the parts of a net price, each with its share of it.
///
/// Beginnings and ends are whole thousandths of the picture, rounded down from the running sum, so that one bar
/// ends where the next begins. A part that is not above zero is listed and not drawn.
pub(super) fn bars(parts: &[PricePart], net: Micro) -> Vec<Bar> {
    let above = |part: &PricePart| i128::from(part.amount.get().max(0));
    let whole: i128 = parts.iter().map(above).sum();
    let place = |sum: i128| match whole {
        0 => 0,
        whole => u16::try_from(sum.saturating_mul(1000) / whole).unwrap_or(1000),
    };
    let mut sum = 0_i128;
    let bar = |part: &PricePart| {
        let from = place(sum);
        sum = sum.saturating_add(above(part));
        let width = place(sum).saturating_sub(from);
        Bar {
            name: clean(&part.name),
            amount: clean(&part.printed),
            share: share(part.amount, net),
            drawn: match part.amount.get() {
                1.. => Ok((from, width)),
                0 => Err("nothing"),
                _ => Err("below zero: not drawn"),
            },
        }
    };
    parts.iter().map(bar).collect()
}

/// Tenths of a percent, halves away from zero; no share of a price that is not above zero.
fn share(part: Micro, net: Micro) -> String {
    if net.get() <= 0 {
        return "none".to_owned();
    }
    let share = Decimal::from(part.get()) * Decimal::ONE_HUNDRED / Decimal::from(net.get());
    let share = share.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
    percent(&format!("{share:.1}"))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::*;
    use ellwand_domain::quantity::Millionths;

    fn micro(amount: i64) -> Micro {
        Millionths::new(amount * 1_000_000).unwrap().into()
    }

    /// What is drawn or listed, and the share.
    type Drawn = (Result<(u16, u16), &'static str>, String);

    fn drawn(amounts: &[i64], net: i64) -> Vec<Drawn> {
        let part = |amount: &i64| PricePart {
            name: "part".to_owned(),
            amount: micro(*amount),
            printed: amount.to_string(),
        };
        let parts: Vec<_> = amounts.iter().map(part).collect();
        bars(&parts, micro(net))
            .into_iter()
            .map(|bar| (bar.drawn, bar.share))
            .collect()
    }

    #[test]
    fn bars_follow_one_another_and_fill_the_picture() {
        let bars = drawn(&[1, 1, 1], 3);
        assert_eq!(
            bars.iter().map(|bar| bar.0.unwrap()).collect::<Vec<_>>(),
            [(0, 333), (333, 333), (666, 334)]
        );
        assert!(bars.iter().all(|bar| bar.1 == "33.3\u{a0}%"));
    }

    #[test]
    fn a_loss_is_listed_and_not_drawn() {
        let bars = drawn(&[300, 100, -80, 0], 320);
        assert_eq!(bars[0], (Ok((0, 750)), "93.8\u{a0}%".to_owned()));
        assert_eq!(bars[1], (Ok((750, 250)), "31.3\u{a0}%".to_owned()));
        assert_eq!(
            bars[2],
            (Err("below zero: not drawn"), "-25.0\u{a0}%".to_owned())
        );
        assert_eq!(bars[3], (Err("nothing"), "0.0\u{a0}%".to_owned()));
    }

    #[test]
    fn a_price_of_nothing_has_no_shares() {
        assert_eq!(drawn(&[0], 0), [(Err("nothing"), "none".to_owned())]);
        assert_eq!(
            drawn(&[-5], -5),
            [(Err("below zero: not drawn"), "none".to_owned())]
        );
    }
}
