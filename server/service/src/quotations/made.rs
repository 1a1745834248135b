//! The plan, or an option, worked out: the sheet for the customer and the one for the workshop.

use super::{
    ask::{self, Asked, has_rule, is_of_a_line},
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
    quotations::{
        CustomerSheet, InternalSheet, PricePart, QuotedCash, QuotedCost, QuotedRate, QuotedStage, Sender,
    },
};
use ellwand_domain::{
    code::GarmentCode,
    pricing::{OfferFigures, PriceGroup, PriceLineOf, PriceRule, PricesShown, Profit},
    quantity::{Millionths, Minutes, Money},
    setting::{MaterialsAt, PriceFrom},
};
use ellwand_storage::Tx;

/// The plan, or an option, worked out.
pub(super) struct Made {
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
    /// None of a supplement, which is compared with nothing.
    pub(super) figures: Option<OfferFigures>,
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
        plan: &[QuotedCost],
    ) -> Done<Self> {
        let garment = load_head(tx, code)?;
        let asked = Asked::read(tx, context, &wish.price)?;
        let mut base = Base::work_out(tx, context, &garment, wish.from, &wish.price, date)?;
        if !plan.is_empty() {
            base.like(context, plan)?;
        }
        let agreed = match wish.supplement_to {
            Some(to) => Some(supplement::reduce(tx, context, &garment, wish, to, &asked, &mut base)?),
            None => None,
        };
        let is_hourly = matches!(asked.terms.rule, PriceRule::HourlyTarget { .. });
        if is_hourly && agreed.is_none() && base.price.own_minutes == Minutes::ZERO {
            let detail = format!(
                "no own hours are known of the plan of {code}, so there is nothing that an hour could earn; say --markup"
            );
            return Err(invalid("hourly", detail));
        }
        let priced = Priced::work_out(context, &base, &asked, (&wish.price, &wish.stage))?;
        unpriced::check(&base, &priced.basis, &wish.stage)?;
        let mut to_be_priced = base.to_be_priced();
        if !has_rule(&wish.price) {
            to_be_priced.push(THE_PRICE.to_owned());
        }
        let is_offer = to_be_priced.is_empty();
        let schedule = priced.basis.schedule()?;
        let plans = ask::stages(context.currency, &wish.stage)?;
        let before = before_what(&priced);
        let amount = |minor| Money { minor, currency: context.currency };
        let money = |minor| amount(minor).decimal();
        let step = cash::step(priced.basis.cash_step, context.currency)?;
        let stages = schedule.stages.iter().enumerate().map(|(position, stage)| {
            let input = wish.stage.get(position);
            let terms = input.and_then(|input| input.amount.clone()).unwrap_or_else(|| "the rest".to_owned());
            Ok(QuotedStage {
                name: stage.name.clone(),
                terms,
                counted: plans.get(position).filter(|plan| is_of_a_line(plan)).and_then(|_| before.clone()),
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
            cash: match cash::told(step, amount(total.gross))?.filter(|_| is_offer) {
                Some(gross) => step.map(|step| QuotedCash { step: step.step().decimal(), gross }),
                None => None,
            },
            // Nothing is to be paid before it is an offer.
            stages: if is_offer { stages } else { Vec::new() },
            to_be_priced,
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
        let figures = match wish.supplement_to {
            None => Some(figures(context, &base, (total.net, total.gross))?),
            Some(_) => None,
        };
        let (cost, spoiled) = (base.price.sum()?, base.spoiled);
        let mut inside = inside(context, wish, &asked, base, total.net)?;
        inside.details = details;
        if wish.from == PriceFrom::Actual {
            inside.batch = batch::told(context, &garment, cost, inside.net.0, spoiled)?;
        }
        Ok(Self { sheet, inside, basis: priced.basis, figures, agreed })
    }
}

/// What has still to be priced where no rule was given.
pub(super) const THE_PRICE: &str = "the price";

/// What is not yet taken off or added to a line that a stage is a share of.
fn before_what(priced: &Priced) -> Option<String> {
    let is_discounted = priced.basis.line_of.iter().any(|of| matches!(of, PriceLineOf::Discount(_)));
    let is_taxed = priced.basis.rules.0 == PricesShown::WithoutTax && priced.taxed.total.tax != 0;
    let before = match (is_discounted, is_taxed) {
        (true, true) => "before discount and tax",
        (true, false) => "before discount",
        (false, true) => "before tax",
        (false, false) => return None,
    };
    Some(before.to_owned())
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
    // A change may take more off a group than it adds to it.
    let is_change = base.change.is_some();
    let cost = if is_change { price.sum()? } else { price.floor().map_err(internal)? };
    let profit = Profit::of_change(cost, net).map_err(internal)?;
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
    let hour = if is_change { price.hour_of_change(net) } else { price.hour_at(net) };
    let hour_earns = hour.map_err(internal)?.map(Micro);
    // Cheaper goods to come do not make good what these did cost.
    let floor = if is_change { cost } else { cost.max(base.replaced.floor().map_err(internal)?) };
    let missing = floor.minus(net)?;
    let hour_wanted = if is_change { None } else { price.hour_wanted(base.own_lost).map_err(internal)? };
    Ok(InternalSheet {
        from: wish.from,
        materials_at: wish.price.materials_at.unwrap_or(MaterialsAt::Cost),
        costs: base.costs,
        not_priced: base.not_priced,
        net: Micro(net),
        parts: parts.into_iter().map(part).collect(),
        floor: Micro(floor),
        below_floor: (missing > Millionths::ZERO).then_some(Micro(missing)),
        profit: Micro(profit.amount),
        markup_percent: profit.markup_shown.map(|share| share.to_string()),
        margin_percent: profit.margin_shown.map(|share| share.to_string()),
        own_minutes: price.own_minutes.get(),
        hour_earns,
        hour_wanted: hour_wanted.map(Micro),
        details: Vec::new(),
        rule: asked.words.clone(),
        batch: None,
        notes: base.notes,
    })
}
