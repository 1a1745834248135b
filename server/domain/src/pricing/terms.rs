//! The terms that a plan is sold by, and what a change of the plan is sold for by the same ones.

use super::{
    PriceBase, PriceLine, PriceLineOf, PriceParts, PriceRule, PricesShown, PricingError, TaxRate,
    check::overflow,
};
use crate::{
    costing::CostItem,
    quantity::{Currency, Millionths, PartsPerMillion},
};

/// How a plan is sold: by which rule, at which discounts, with which tax.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Terms {
    /// The rule.
    pub rule: PriceRule,
    /// Markup that the customer's line of materials carries; none: profit is shared by cost.
    pub on_materials: Option<PartsPerMillion>,
    /// Packing and sending.
    pub handling: Millionths,
    /// Discounts one after another.
    pub discounts: Vec<PartsPerMillion>,
    /// Whether lines hold their tax.
    pub shown: PricesShown,
    /// Each once.
    pub rates: Vec<TaxRate>,
    /// Of materials, labour and handling: positions in `rates`.
    pub of: [usize; 3],
}

impl Terms {
    /// The price before discounts.
    ///
    /// # Errors
    /// Those of [`PriceBase::net_parts`]; [`PricingError::UnknownRate`].
    pub fn parts(&self, base: &PriceBase) -> Result<PriceParts, PricingError> {
        if self.shown == PricesShown::WithoutTax {
            return base.net_parts(&self.rule, self.on_materials, self.handling);
        }
        let mut rates = [PartsPerMillion::ZERO; 3];
        for (share, at) in rates.iter_mut().zip(self.of) {
            let unknown = || PricingError::UnknownRate {
                name: at.to_string(),
                known: String::new(),
            };
            *share = self.rates.get(at).ok_or_else(unknown)?.share();
        }
        base.parts_with_tax(&self.rule, self.on_materials, self.handling, rates)
    }

    /// The lines of the price, in minor units.
    ///
    /// # Errors
    /// Those of [`Self::parts`] and of [`PriceParts::lines`].
    pub fn lines(&self, base: &PriceBase, digits: u32) -> Result<Vec<PriceLine>, PricingError> {
        self.parts(base)?
            .lines(self.of, self.rates.len(), &self.discounts, digits)
    }

    /// True where a plan and a change of it may be priced as one: all is alike but the handling, and no price was given.
    #[must_use]
    pub fn is_alike(&self, other: &Self) -> bool {
        let alike = Self {
            handling: other.handling,
            ..self.clone()
        } == *other;
        alike && !matches!(self.rule, PriceRule::Fixed(_))
    }

    /// The lines of what is left of a plan, or of what it has grown to: what was agreed is priced as it was agreed.
    ///
    /// - A price that was given for the whole follows its cost: price × cost after ÷ cost before.
    /// - Of nothing there are no lines.
    ///
    /// # Errors
    /// As [`Self::lines`].
    pub fn lines_after(
        &self,
        before: &PriceBase,
        after: &PriceBase,
        digits: u32,
    ) -> Result<Vec<PriceLine>, PricingError> {
        let (was, is) = (before.floor()?, after.floor()?);
        let mut terms = self.clone();
        if let PriceRule::Fixed(price) = self.rule {
            let goods = price.minus(self.handling)?;
            let goods = if was.is_zero() {
                goods
            } else {
                goods.share(is.get(), was.get())?
            };
            terms.rule = PriceRule::Fixed(goods.plus(self.handling)?);
        }
        match terms.lines(after, digits) {
            Err(PricingError::NothingPriced) => Ok(Vec::new()),
            lines => lines,
        }
    }
}

impl PriceBase {
    /// Prints costs and adds up what is printed, by what it is for.
    ///
    /// - `like`: a sheet that prints the same of some of them, which stays.
    /// - Rounding: the total half up, the costs by largest remainder, so that a price can be checked by pencil.
    /// - A group may be below zero, in a change of a plan.
    ///
    /// # Errors
    /// [`PricingError::Cost`], overflow.
    pub fn printed(
        costs: &mut [CostItem],
        like: &[CostItem],
        currency: Currency,
    ) -> Result<Self, PricingError> {
        let known = |cost: &CostItem| {
            let of = |cost: &CostItem| (cost.group, cost.value);
            let same = |other: &&CostItem| {
                of(other) == of(cost) && (&other.name, &other.of) == (&cost.name, &cost.of)
            };
            like.iter().find(same).map(|other| other.printed)
        };
        CostItem::print_beside(costs.iter_mut(), known, currency.digits())?;
        let mut base = Self::default();
        for cost in costs {
            let minor = cost.printed;
            base.add(cost.group, currency.money(minor).to_millionths()?)?;
        }
        Ok(base)
    }
}

/// What the lines after a change have more than those before it; each kind at each rate once, what is nothing left out.
///
/// # Errors
/// Overflow.
pub fn lines_more(
    before: &[PriceLine],
    after: &[PriceLine],
) -> Result<Vec<PriceLine>, PricingError> {
    let mut all: Vec<PriceLine> = Vec::new();
    let mut add = |line: &PriceLine, minor: i64| {
        let same = |known: &&mut PriceLine| (known.of, known.rate) == (line.of, line.rate);
        match all.iter_mut().find(same) {
            Some(known) => known.minor = known.minor.checked_add(minor).ok_or_else(overflow)?,
            None => all.push(PriceLine { minor, ..*line }),
        }
        Ok::<_, PricingError>(())
    };
    for line in after {
        add(line, line.minor)?;
    }
    for line in before {
        add(line, line.minor.checked_neg().ok_or_else(overflow)?)?;
    }
    // Discounts stand under what they are taken from.
    all.sort_by_key(|line| match line.of {
        PriceLineOf::Materials => 0,
        PriceLineOf::Labour => 1,
        PriceLineOf::Handling => 2,
        PriceLineOf::Discount(_) => 3,
        PriceLineOf::Rounding => 4,
    });
    all.retain(|line| line.minor != 0);
    Ok(all)
}
