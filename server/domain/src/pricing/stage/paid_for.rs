//! What of a total is paid for materials, labour and handling.

use crate::pricing::{PriceLineOf, PricingError, Taxed, check::overflow};
use crate::quantity::exact;

/// What is to be paid for each part of a price, after discounts and with tax, in minor units; together the total.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct PaidFor {
    /// Materials.
    pub materials: i64,
    /// Labour, with what the total was rounded up by.
    pub labour: i64,
    /// Packing and sending.
    pub handling: i64,
}

impl PaidFor {
    /// Takes a total apart; what discounts take off at a rate goes off the parts at that rate in proportion.
    ///
    /// - The same however the lines are shown, with their tax or without.
    /// - Rounding: half a minor unit up; the labour takes what is left, or else the materials.
    /// - Shape: one kind for each line of `taxed`; lines beyond them count as labour.
    ///
    /// # Errors
    /// Overflow.
    pub fn of(taxed: &Taxed, kinds: &[PriceLineOf]) -> Result<Self, PricingError> {
        let mut all = Self::default();
        for total in &taxed.rates {
            let (mut parts, mut off) = (Self::default(), 0_i64);
            for (at, line) in taxed.lines.iter().enumerate() {
                if line.rate != total.rate.name() {
                    continue;
                }
                let sum = match kinds.get(at) {
                    Some(PriceLineOf::Materials) => &mut parts.materials,
                    Some(PriceLineOf::Handling) => &mut parts.handling,
                    Some(PriceLineOf::Discount(_)) => &mut off,
                    Some(PriceLineOf::Labour | PriceLineOf::Rounding) | None => &mut parts.labour,
                };
                *sum = sum.checked_add(line.amounts.gross).ok_or_else(overflow)?;
            }
            all = all.plus(&parts.less(off)?)?;
        }
        Ok(all)
    }

    /// The parts with `off` added in proportion, all of it.
    fn less(mut self, off: i64) -> Result<Self, PricingError> {
        let whole = self
            .materials
            .checked_add(self.labour)
            .and_then(|sum| sum.checked_add(self.handling));
        let whole = whole.ok_or_else(overflow)?;
        let share = |part: i64| {
            if whole == 0 {
                Ok(0)
            } else {
                exact::mul_div_nearest(off, part, whole)
            }
        };
        let shares = [
            share(self.materials)?,
            share(self.labour)?,
            share(self.handling)?,
        ];
        let [materials, labour, handling] = shares;
        let rest = shares
            .iter()
            .try_fold(off, |rest, share| rest.checked_sub(*share))
            .ok_or_else(overflow)?;
        self.materials = self.materials.saturating_add(materials);
        self.labour = self.labour.saturating_add(labour);
        self.handling = self.handling.saturating_add(handling);
        let takes = match (labour != 0, materials != 0) {
            (false, true) => &mut self.materials,
            (false, false) if handling != 0 => &mut self.handling,
            _ => &mut self.labour,
        };
        *takes = takes.saturating_add(rest);
        Ok(self)
    }

    fn plus(&self, other: &Self) -> Result<Self, PricingError> {
        let add = |one: i64, two: i64| one.checked_add(two).ok_or_else(overflow);
        Ok(Self {
            materials: add(self.materials, other.materials)?,
            labour: add(self.labour, other.labour)?,
            handling: add(self.handling, other.handling)?,
        })
    }
}
