//! The price beside what it did cost, and what is left of it for an own hour.

use super::{
    super::{internal, show},
    Found,
    answer::Writer,
};
use crate::failure::Done;
use ellwand_contract::{Micro, outcomes::OutcomePrice};
use ellwand_domain::{
    costing::LossReason,
    pricing::{PriceBase, PriceGroup, PricingError, Profit},
    quantity::{Millionths, Money, PartsPerMillion},
};
use ellwand_storage::{Garment, Quotation, Tx};

impl Writer<'_, '_> {
    /// What the price is held against, as it is printed; own time lost is no money that went.
    fn base(&self, found: &Found, apart: &[i64]) -> Done<PriceBase> {
        let value = |minor| Money { minor, currency: self.context.currency }.to_millionths();
        let mut base = PriceBase { own_minutes: found.actual.own_minutes, ..PriceBase::default() };
        let [_, _, actual] = &self.columns;
        for (at, line) in found.lines.0.iter().enumerate() {
            base.add(line.group, value(actual.line(at).unwrap_or(0))?)?;
        }
        for (part, minor) in found.actual.apart.iter().zip(apart) {
            match part.reason {
                LossReason::CustomerChange => base.add(part.group, value(*minor)?)?,
                _ if part.group == PriceGroup::OwnLabour => {}
                LossReason::OwnMistake | LossReason::FaultyCloth => {
                    base.losses = base.losses.plus(value(*minor)?)?;
                }
            }
        }
        Ok(base)
    }

    /// As for a quotation, the cost is what is printed, so that all of it can be checked by pencil.
    pub(super) fn price(
        &self,
        tx: &mut Tx<'_>,
        quotation: &Quotation,
        garment: &Garment,
        found: &Found,
        apart: &[i64],
    ) -> Done<OutcomePrice> {
        let (agreed, inside) = (&found.agreed, &found.agreed.frozen.inside);
        let standing = show::standing(tx, self.context, quotation, &agreed.frozen)?;
        let (net, salvage) = (agreed.net(), Millionths::new(garment.salvage)?);
        let [_, _, actual] = &self.columns;
        let minor = actual.total.unwrap_or(0);
        let cost = Money { minor, currency: self.context.currency }.to_millionths()?.minus(salvage)?;
        let profit = Profit::of(cost, net).map_err(internal)?;
        // What spoiled ones fetch comes in like the price.
        let hour_earned = match self.base(found, apart)?.earnings(net.plus(salvage)?) {
            Ok(earnings) => Some(Micro(earnings.per_hour().map_err(internal)?)),
            Err(PricingError::NoOwnHours { .. }) => None,
            Err(error) => return Err(internal(error)),
        };
        Ok(OutcomePrice {
            net: Micro(net),
            paid: standing.paid,
            left: standing.left,
            salvage: Micro(salvage),
            cost: Micro(cost),
            profit: Micro(profit.amount),
            markup_percent: profit.markup.map(PartsPerMillion::percent),
            margin_percent: profit.margin.map(PartsPerMillion::percent),
            quoted_profit: inside.profit,
            quoted_markup_percent: inside.markup_percent.clone(),
            quoted_margin_percent: inside.margin_percent.clone(),
            quoted_own_minutes: inside.own_minutes,
            own_minutes: found.actual.own_minutes.get(),
            hour_quoted: inside.hour_earns,
            hour_earned,
        })
    }
}
