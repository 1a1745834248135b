//! The price beside what it did cost, and what is left of it for an own hour.

use super::{
    super::{internal, show, supplement},
    Agreed, Found,
    answer::Writer,
};
use crate::failure::Done;
use ellwand_contract::{Micro, outcomes::OutcomePrice};
use ellwand_domain::{
    costing::LossReason,
    pricing::{PriceBase, PriceGroup, PricingError, Profit, earned_by_good},
    quantity::{Currency, Millionths, Minutes, Money},
};
use ellwand_storage::{Garment, Quotation, Tx};

/// What was to come of all that was agreed.
struct Expected {
    profit: Profit,
    own_minutes: i64,
    hour: Option<Micro>,
}

impl Agreed {
    /// From the printed costs of the sheets, as each of them was priced.
    fn expected(&self, currency: Currency) -> Done<Expected> {
        let mut base = PriceBase::default();
        let mut own_minutes = 0_i64;
        for sheet in self.sheets() {
            own_minutes = own_minutes.saturating_add(sheet.own_minutes);
            let losses = sheet.parts.iter().map(|part| part.amount.0);
            // The parts of a net price are its groups and the profit; losses are the rest.
            let losses = sheet.net.0.minus(Millionths::sum(losses)?)?;
            base.losses = base.losses.plus(losses)?;
        }
        for cost in self.costs() {
            let printed = Money::parse_signed(&cost.printed, Some(currency)).map_err(internal)?;
            base.add(cost.group, printed.to_millionths()?)?;
        }
        // A supplement keeps the whole of what is agreed with it; its own hours alone are never below none.
        let last = self
            .supplements
            .last()
            .and_then(|frozen| frozen.agreed.as_ref());
        let own_minutes = last.map_or(own_minutes, |agreed| agreed.own_minutes);
        base.own_minutes = Minutes::new(own_minutes)?;
        let net = self.net()?;
        let hour = match base.earnings(net) {
            Ok(earnings) => Some(Micro(earnings.per_hour().map_err(internal)?)),
            Err(PricingError::NoOwnHours { .. }) => None,
            Err(error) => return Err(internal(error)),
        };
        let profit = Profit::of(base.floor().map_err(internal)?, net).map_err(internal)?;
        Ok(Expected {
            profit,
            own_minutes,
            hour,
        })
    }
}

impl Writer<'_, '_> {
    /// What the price is held against, as it is printed; own time lost is no money that went.
    fn base(&self, found: &Found, apart: &[i64]) -> Done<PriceBase> {
        let value = |minor| {
            Money {
                minor,
                currency: self.context.currency,
            }
            .to_millionths()
        };
        let mut base = PriceBase {
            own_minutes: found.actual.own_minutes,
            ..PriceBase::default()
        };
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
        let agreed = &found.agreed;
        let (paid, left) = match agreed.supplements.is_empty() {
            true => {
                let standing = show::standing(tx, self.context, quotation, &agreed.frozen)?;
                (standing.paid, standing.left)
            }
            false => {
                let all = supplement::together(tx, quotation.id, self.context.currency)?;
                (all.paid, all.left)
            }
        };
        let (net, salvage) = (agreed.net()?, Millionths::new(garment.salvage)?);
        let quoted = agreed.expected(self.context.currency)?;
        let [_, _, actual] = &self.columns;
        let minor = actual.total.unwrap_or(0);
        let cost = Money {
            minor,
            currency: self.context.currency,
        }
        .to_millionths()?
        .minus(salvage)?;
        let earned = match garment.good {
            Some(good) => {
                let of = agreed.frozen.sheet.count;
                let share = earned_by_good(net, good, of).map_err(internal)?;
                super::super::price::whole_minor(self.context, share)?
            }
            None => net,
        };
        let profit = Profit::of(cost, earned).map_err(internal)?;
        // What spoiled ones fetch comes in like the price.
        let hour_earned = match self.base(found, apart)?.earnings(earned.plus(salvage)?) {
            _ if found.actual.wages_unknown => None,
            Ok(earnings) => Some(Micro(earnings.per_hour().map_err(internal)?)),
            Err(PricingError::NoOwnHours { .. }) => None,
            Err(error) => return Err(internal(error)),
        };
        let known = !found.actual.unpriced;
        Ok(OutcomePrice {
            net: Micro(net),
            earned: Micro(earned),
            paid,
            left,
            salvage: Micro(salvage),
            cost: known.then_some(Micro(cost)),
            profit: known.then_some(Micro(profit.amount)),
            markup_percent: profit
                .markup_shown
                .filter(|_| known)
                .map(|share| share.to_string()),
            margin_percent: profit
                .margin_shown
                .filter(|_| known)
                .map(|share| share.to_string()),
            quoted_profit: Micro(quoted.profit.amount),
            quoted_markup_percent: quoted.profit.markup_shown.map(|share| share.to_string()),
            quoted_margin_percent: quoted.profit.margin_shown.map(|share| share.to_string()),
            quoted_own_minutes: quoted.own_minutes,
            own_minutes: found.actual.own_minutes.get(),
            hour_quoted: quoted.hour,
            hour_earned,
        })
    }
}
