//! The plan, or an option, worked out: the sheet for the customer and the one for the workshop.

use super::{
    ask::Asked,
    batch, cash,
    costs::Base,
    details,
    freeze::{Basis, Wish},
    internal,
    part_rates::UNTAXED,
    price::Priced,
    supplement::{self, Agreed},
    unpriced,
};
use crate::{
    context::Context,
    failure::{Done, invalid},
    garments::need::load_head,
    workshop,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    quotations::{CustomerSheet, InternalSheet, PricePart, QuotedCash, QuotedRate, QuotedStage, Sender},
};
use ellwand_domain::{
    code::GarmentCode,
    pricing::{OfferFigures, PriceGroup, PriceRule, PricingError, Profit},
    quantity::{Minutes, Money},
    setting::{MaterialsAt, PriceFrom},
};
use ellwand_storage::Tx;

/// The plan, or an option, worked out.
pub(super) struct Made {
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
    pub(super) figures: OfferFigures,
    /// Of a supplement: what is agreed with it.
    pub(super) agreed: Option<Agreed>,
}

impl Made {
    pub(super) fn work_out(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        code: GarmentCode,
        wish: &Wish,
        (date, valid_until): (NaiveDate, NaiveDate),
    ) -> Done<Self> {
        let garment = load_head(tx, code)?;
        let asked = Asked::read(tx, context, &wish.price)?;
        let mut base = Base::work_out(tx, context, &garment, wish.from, &wish.price, date)?;
        let agreed = match wish.supplement_to {
            Some(to) => Some(supplement::reduce(tx, context, &garment, wish, to, &mut base)?),
            None => None,
        };
        if matches!(asked.rule, PriceRule::HourlyTarget { .. }) && base.price.own_minutes == Minutes::ZERO {
            let what = if agreed.is_some() { "the change" } else { "the plan" };
            let detail = format!(
                "no own hours are known of {what} of {code}, so there is nothing that an hour could earn; say --markup"
            );
            return Err(invalid("hourly", detail));
        }
        let priced = Priced::work_out(context, &base, &asked, &wish.stage)?;
        unpriced::check(&base, &priced.basis, &wish.stage)?;
        let schedule = priced.basis.schedule()?;
        let amount = |minor| Money { minor, currency: context.currency };
        let money = |minor| amount(minor).decimal();
        let step = cash::step(priced.basis.cash_step, context.currency)?;
        let stages = schedule.stages.iter().enumerate().map(|(position, stage)| {
            let input = wish.stage.get(position);
            let terms = input.and_then(|input| input.amount.clone()).unwrap_or_else(|| "the rest".to_owned());
            Ok(QuotedStage {
                name: stage.name.clone(),
                terms,
                due: input.and_then(|input| input.due),
                amount: money(stage.amounts.gross),
                tax: money(stage.amounts.tax),
                cash: cash::told(step, amount(stage.amounts.gross))?,
            })
        });
        let stages = stages.collect::<Done<_>>()?;
        let rates = priced.taxed.rates.iter().filter(|total| total.rate.name() != UNTAXED);
        let total = priced.taxed.total;
        let sender = workshop::sender(&context.workshop);
        let mut sheet = CustomerSheet {
            sender: Some(sender).filter(|sender| *sender != Sender::default()),
            title: garment.name.clone(),
            count: garment.good.unwrap_or(garment.count),
            date,
            valid_until,
            currency: context.currency.code().to_owned(),
            shown: context.workshop.prices_shown.0,
            rates: rates
                .map(|total| QuotedRate {
                    name: total.rate.name().to_owned(),
                    percent: total.rate.share().decimal(),
                    net: money(total.amounts.net),
                    tax: money(total.amounts.tax),
                    gross: money(total.amounts.gross),
                })
                .collect(),
            lines: priced.lines.clone(),
            net: money(total.net),
            tax: money(total.tax),
            gross: money(total.gross),
            cash: match cash::told(step, amount(total.gross))? {
                Some(gross) => step.map(|step| QuotedCash { step: step.step().decimal(), gross }),
                None => None,
            },
            stages,
            terms: wish.terms.clone(),
            supplement: None,
        };
        if let Some(to) = wish.supplement_to {
            supplement::mark(tx, context, to, total.gross, &mut sheet)?;
        }
        // A supplement prices one change, whatever details it touches.
        let details = match wish.supplement_to {
            None => details::added(tx, context, &garment, wish, &asked, (&base, &priced))?,
            Some(_) => Vec::new(),
        };
        let figures = figures(context, &base, (total.net, total.gross))?;
        let (cost, spoiled) = (base.price.floor().map_err(internal)?, base.spoiled);
        let mut inside = inside(context, wish, &asked, base, total.net)?;
        inside.details = details;
        if wish.from == PriceFrom::Actual {
            inside.batch = batch::told(context, &garment, cost, inside.net.0, spoiled)?;
        }
        Ok(Self { sheet, inside, basis: priced.basis, figures, agreed })
    }
}

/// What is compared with other options.
fn figures(context: &Context<'_>, base: &Base, (net, gross): (i64, i64)) -> Done<OfferFigures> {
    let paid = base.costs.iter().filter(|cost| cost.group == PriceGroup::PaidLabour);
    let paid = paid.filter_map(|cost| cost.minutes).fold(0_i64, i64::saturating_add);
    let money = |minor| Money { minor, currency: context.currency }.to_millionths();
    OfferFigures::of(&base.price, Minutes::new(paid)?, money(net)?, money(gross)?).map_err(internal)
}

fn inside(
    context: &Context<'_>,
    wish: &Wish,
    asked: &Asked,
    base: Base,
    net_minor: i64,
) -> Done<InternalSheet> {
    let net = Money { minor: net_minor, currency: context.currency }.to_millionths()?;
    let price = base.price;
    let profit = Profit::of(price.floor().map_err(internal)?, net).map_err(internal)?;
    let parts = [
        (PriceGroup::Materials.to_string(), price.materials),
        (PriceGroup::PaidLabour.to_string(), price.paid_labour),
        (PriceGroup::OwnLabour.to_string(), price.own_pay),
        (PriceGroup::Overhead.to_string(), price.overhead),
        ("profit".to_owned(), profit.amount),
    ];
    let part = |(name, amount): (String, _)| PricePart {
        name,
        amount: Micro(amount),
        printed: context.printed(amount),
    };
    let hour_earns = match price.earnings(net) {
        Ok(earnings) => Some(Micro(earnings.per_hour().map_err(internal)?)),
        Err(PricingError::NoOwnHours { .. }) => None,
        Err(error) => return Err(internal(error)),
    };
    Ok(InternalSheet {
        from: wish.from,
        materials_at: wish.price.materials_at.unwrap_or(MaterialsAt::Cost),
        costs: base.costs,
        not_priced: base.not_priced,
        net: Micro(net),
        parts: parts.into_iter().map(part).collect(),
        floor: Micro(base.replaced.floor().map_err(internal)?),
        below_floor: base.replaced.below_floor_by(net).map_err(internal)?.map(Micro),
        profit: Micro(profit.amount),
        markup_percent: profit.markup_shown.map(|share| share.to_string()),
        margin_percent: profit.margin_shown.map(|share| share.to_string()),
        own_minutes: price.own_minutes.get(),
        hour_earns,
        details: Vec::new(),
        rule: asked.words.clone(),
        batch: None,
        notes: base.notes,
    })
}
