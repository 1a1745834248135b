//! Markup, margin and discounts.

use super::{
    PricingError,
    check::{not_negative, overflow, part_of_whole, share_not_negative},
};
use crate::quantity::{
    Millionths, PARTS_PER_MILLION, PartsPerMillion, ShownPercent, exact, fraction::Fraction,
};

/// What a price leaves over its cost, both ways of saying it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Profit {
    /// Price less cost; below zero at a loss.
    pub amount: Millionths,
    /// Share of the **cost**, to the nearest millionth; `None` without a cost, or beyond ± 100 000 %.
    pub markup: Option<PartsPerMillion>,
    /// Share of the **price**, to the nearest millionth; `None` without a price, or beyond ± 100 000 %.
    pub margin: Option<PartsPerMillion>,
    /// The same markup as it is shown.
    pub markup_shown: Option<ShownPercent>,
    /// The same margin as it is shown.
    pub margin_shown: Option<ShownPercent>,
}

impl Profit {
    /// Markup and margin of a net price over a cost.
    ///
    /// - Formula: markup = (price − cost) ÷ cost, margin = (price − cost) ÷ price.
    /// - Source: Centennial College Libraries, "Markup"; OpenStax, Contemporary Mathematics, 6.2.
    ///
    /// # Errors
    /// [`PricingError::Negative`] for a cost or price below zero.
    pub fn of(cost: Millionths, price: Millionths) -> Result<Self, PricingError> {
        Self::of_change(
            not_negative("the cost", cost)?,
            not_negative("the price", price)?,
        )
    }

    /// The same of a change, whose cost and price may be below zero; such a one has no shares.
    ///
    /// # Errors
    /// Overflow.
    pub fn of_change(cost: Millionths, price: Millionths) -> Result<Self, PricingError> {
        let amount = price.minus(cost)?;
        let whole_of = |whole: Millionths| (whole > Millionths::ZERO).then_some(whole);
        let share_of = |whole: Millionths| {
            let whole = whole_of(whole)?;
            let share =
                exact::mul_div_nearest(amount.get(), PARTS_PER_MILLION, whole.get()).ok()?;
            PartsPerMillion::new(share).ok()
        };
        let shown = |whole: Millionths| ShownPercent::of(amount.get(), whole_of(whole)?.get());
        Ok(Self {
            amount,
            markup: share_of(cost),
            margin: share_of(price),
            markup_shown: shown(cost),
            margin_shown: shown(price),
        })
    }
}

/// `1 + share` in millionths.
fn one_plus(share: PartsPerMillion) -> i64 {
    PARTS_PER_MILLION.saturating_add(share.get())
}

/// `1 − share` in millionths.
fn one_minus(share: PartsPerMillion) -> i64 {
    PARTS_PER_MILLION.saturating_sub(share.get())
}

/// Price by a markup on the cost: `cost × (1 + markup)`, to the nearest millionth.
///
/// # Errors
/// [`PricingError::Negative`], overflow.
pub fn price_by_markup(
    cost: Millionths,
    markup: PartsPerMillion,
) -> Result<Millionths, PricingError> {
    let markup = share_not_negative("the markup", markup)?;
    Ok(not_negative("the cost", cost)?.share(one_plus(markup), PARTS_PER_MILLION)?)
}

/// Price by a margin on the price itself: `cost / (1 − margin)`, to the nearest millionth.
///
/// ```
/// use ellwand_domain::{pricing::price_by_margin, quantity::{Millionths, PartsPerMillion}};
/// // A margin of 35 % on a cost of 434.26: 668.09 (a markup of 35 % would give 586.25).
/// let (cost, margin) = (Millionths::new(434_260_000)?, PartsPerMillion::new(350_000)?);
/// assert_eq!(price_by_margin(cost, margin).unwrap().rounded(2), "668.09");
/// # Ok::<(), ellwand_domain::quantity::QuantityError>(())
/// ```
///
/// # Errors
/// [`PricingError::MarginOfWhole`] at 100 % or more, [`PricingError::Negative`], overflow.
pub fn price_by_margin(
    cost: Millionths,
    margin: PartsPerMillion,
) -> Result<Millionths, PricingError> {
    let margin = below_whole(margin)?;
    Ok(not_negative("the cost", cost)?.share(PARTS_PER_MILLION, one_minus(margin))?)
}

fn below_whole(margin: PartsPerMillion) -> Result<PartsPerMillion, PricingError> {
    if margin >= PartsPerMillion::WHOLE {
        return Err(PricingError::MarginOfWhole { margin });
    }
    share_not_negative("the margin", margin)
}

/// A price after discounts in a row: they multiply, they do not add, and their order does not matter.
///
/// - Formula: `price × (1 − d₁) × (1 − d₂) …`
/// - Rounding: once at the end, to the nearest millionth.
/// - Source: OpenStax, Contemporary Mathematics, 6.2.
///
/// # Errors
/// [`PricingError::Negative`], [`PricingError::AboveWhole`] for a discount above 100 %, overflow where so many odd
/// discounts follow each other that their product cannot be held exactly.
pub fn discounted(
    price: Millionths,
    discounts: &[PartsPerMillion],
) -> Result<Millionths, PricingError> {
    let left = what_discounts_leave(discounts)?;
    let price = not_negative("the price", price)?;
    let after = left
        .times(i128::from(price.get()), 1)
        .and_then(Fraction::nearest);
    Ok(Millionths::new(after.ok_or_else(overflow)?)?)
}

/// `(1 − d₁) × (1 − d₂) …`
fn what_discounts_leave(discounts: &[PartsPerMillion]) -> Result<Fraction, PricingError> {
    let mut left = Fraction::new(1, 1).ok_or_else(overflow)?;
    for discount in discounts {
        let part = one_minus(part_of_whole("the discount", *discount)?);
        let next = left.times(i128::from(part), i128::from(PARTS_PER_MILLION));
        left = next.ok_or_else(overflow)?;
    }
    Ok(left)
}
