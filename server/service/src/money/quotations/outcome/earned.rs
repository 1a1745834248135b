//! The price beside what it did cost, and what is left of it for an own hour.

use super::{
    super::{base::minor, internal, show, supplement},
    Agreed, Found,
    answer::Writer,
    lines::Side,
};
use crate::desk::Desk;
use crate::desk::failure::Done;
use ellwand_contract::{Micro, outcomes::OutcomePrice};
use ellwand_domain::{
    pricing::{PriceBase, PriceGroup, Profit, earned_by_good},
    quantity::{Currency, Millionths, Minutes, ShownPercent},
};
use ellwand_storage::{Garment, Quotation};

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
        for cost in self.costs(currency)? {
            base.add(cost.group, currency.money(cost.printed).to_millionths()?)?;
        }
        // A supplement keeps the whole of what is agreed with it; its own hours alone are never below none.
        let last = self
            .supplements
            .last()
            .and_then(|frozen| frozen.agreed.as_ref());
        let own_minutes = last.map_or(own_minutes, |agreed| agreed.own_minutes);
        base.own_minutes = Minutes::new(own_minutes)?;
        let net = self.net()?;
        let hour = base.hour_at(net).map_err(internal)?.map(Micro);
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
    fn base(&self, found: &Found) -> Done<PriceBase> {
        let mut base = PriceBase {
            own_minutes: found.actual.own_minutes,
            ..PriceBase::default()
        };
        for item in found.lines.column(Side::Actual).chain(&found.actual.apart) {
            let printed = self.money(item.printed).to_millionths()?;
            match item.is_lost() {
                false => base.add(item.group, printed)?,
                true if item.group == PriceGroup::OwnLabour => {}
                true => base.losses = base.losses.plus(printed)?,
            }
        }
        Ok(base)
    }

    /// As for a quotation, the cost is what is printed, so that all of it can be checked by pencil.
    pub(super) fn price(
        &self,
        desk: &mut Desk<'_>,
        quotation: &Quotation,
        garment: &Garment,
        found: &Found,
    ) -> Done<OutcomePrice> {
        let agreed = &found.agreed;
        let (paid, left) = match agreed.supplements.is_empty() {
            true => {
                let standing = show::standing(desk, quotation, &agreed.frozen)?;
                (standing.paid, standing.left)
            }
            false => {
                let all = supplement::together(&mut desk.tx, quotation.id, desk.context.currency)?;
                (all.paid, all.left)
            }
        };
        let (net, salvage) = (agreed.net()?, Millionths::new(garment.salvage)?);
        let quoted = agreed.expected(desk.context.currency)?;
        let cost = self
            .money(found.printed()?)
            .to_millionths()?
            .minus(salvage)?;
        let earned = match garment.good {
            Some(good) => {
                let of = agreed.frozen.sheet.count;
                let share = earned_by_good(net, good, of).map_err(internal)?;
                minor(desk.context, share)?
            }
            None => net,
        };
        let profit = Profit::of(cost, earned).map_err(internal)?;
        // What spoiled ones fetch comes in like the price.
        let hour_earned = self.base(found)?.hour_at(earned.plus(salvage)?);
        let hour_earned = hour_earned.map_err(internal)?.map(Micro);
        let hour_earned = hour_earned.filter(|_| !found.actual.wages_unknown);
        let percent = |share: Option<ShownPercent>| share.map(|share| share.to_string());
        let known = !found.actual.unpriced;
        Ok(OutcomePrice {
            net: Micro(net),
            earned: Micro(earned),
            paid,
            left,
            salvage: Micro(salvage),
            cost: known.then_some(Micro(cost)),
            profit: known.then_some(Micro(profit.amount)),
            markup_percent: percent(profit.markup_shown.filter(|_| known)),
            margin_percent: percent(profit.margin_shown.filter(|_| known)),
            quoted_profit: Micro(quoted.profit.amount),
            quoted_markup_percent: percent(quoted.profit.markup_shown),
            quoted_margin_percent: percent(quoted.profit.margin_shown),
            quoted_own_minutes: quoted.own_minutes,
            own_minutes: found.actual.own_minutes.get(),
            hour_quoted: quoted.hour,
            hour_earned,
        })
    }
}
