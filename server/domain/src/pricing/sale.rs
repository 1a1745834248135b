//! What a sale of goods as they are gains.

use super::Amounts;
use crate::quantity::Millionths;

/// Goods of the shelf that were sold as they are, in minor units of one currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GoodsSold {
    /// The price.
    pub price: Amounts,
    /// What they cost, where that is known.
    pub cost: Option<i64>,
}

impl GoodsSold {
    /// Goods that cost so much, or that have no price yet, in a currency of `digits` digits.
    ///
    /// - Rounding: the cost to the minor unit, halves up, as it is printed.
    #[must_use]
    pub fn new(price: Amounts, cost: Option<Millionths>, digits: u32) -> Self {
        Self {
            price,
            cost: cost.map(|cost| cost.minor(digits)),
        }
    }

    /// Price without tax less cost; below zero for a loss.
    #[must_use]
    pub fn gain(&self) -> Option<i64> {
        self.cost.map(|cost| self.price.net.saturating_sub(cost))
    }
}

/// Sales together, in minor units of their currency.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct SoldSum {
    /// Number of sales.
    pub count: i64,
    /// Prices with tax.
    pub gross: i64,
    /// Gains and losses of those whose cost is known.
    pub gain: i64,
    /// Sales of which the cost is not known.
    pub unpriced: i64,
}

impl FromIterator<GoodsSold> for SoldSum {
    fn from_iter<I: IntoIterator<Item = GoodsSold>>(sales: I) -> Self {
        let mut sum = Self::default();
        for sold in sales {
            sum.count = sum.count.saturating_add(1);
            sum.gross = sum.gross.saturating_add(sold.price.gross);
            match sold.gain() {
                Some(gain) => sum.gain = sum.gain.saturating_add(gain),
                None => sum.unpriced = sum.unpriced.saturating_add(1),
            }
        }
        sum
    }
}
