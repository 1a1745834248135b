//! The plan, or an option, worked out: the sheet for the customer and the one for the workshop.

use super::{batch, details, made_of::made_of, unpriced};
use crate::money::quotations::{
    ask::{Asked, has_rule},
    base::Base,
    customer,
    freeze::{Basis, Wish},
    internal,
    price::Priced,
    supplement::{self, Agreed},
};
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, invalid},
    },
    garments::need::load_head,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    quotations::{CustomerSheet, InternalSheet, PricePart},
};
use ellwand_domain::{
    code::GarmentCode,
    costing::CostItem,
    pricing::{OfferFigures, PriceGroup, PriceRule, Profit},
    quantity::{Millionths, Minutes},
    setting::{MaterialsAt, PriceFrom},
};

/// The plan, or an option, worked out.
pub(in crate::money::quotations) struct Made {
    pub(in crate::money::quotations) sheet: CustomerSheet,
    pub(in crate::money::quotations) inside: InternalSheet,
    /// What the price rests on.
    pub(in crate::money::quotations) costs: Vec<CostItem>,
    pub(in crate::money::quotations) basis: Basis,
    /// None of a supplement, which is compared with nothing.
    pub(in crate::money::quotations) figures: Option<OfferFigures>,
    /// Of a supplement: what is agreed with it.
    pub(in crate::money::quotations) agreed: Option<Agreed>,
}

impl Made {
    pub(in crate::money::quotations) fn work_out(
        desk: &mut Desk<'_>,
        code: GarmentCode,
        wish: &Wish,
        (date, valid_until): (NaiveDate, NaiveDate),
        plan: &[CostItem],
    ) -> Done<Self> {
        let garment = load_head(desk, code)?;
        let asked = Asked::read(desk, &wish.price)?;
        let mut base = Base::work_out(desk, &garment, wish.from, &wish.price, Some(date))?;
        if !plan.is_empty() {
            base.print(desk.context, plan)?;
        }
        let agreed = match wish.supplement_to {
            Some(to) => Some(supplement::reduce(
                desk, &garment, wish, to, &asked, &mut base,
            )?),
            None => None,
        };
        let is_hourly = matches!(asked.terms.rule, PriceRule::HourlyTarget { .. });
        if is_hourly && agreed.is_none() && base.price.own_minutes == Minutes::ZERO {
            let detail = format!(
                "the plan of {code} has no own hours, so there is no hour to price; use --markup"
            );
            return Err(invalid("hourly", detail));
        }
        let priced = Priced::work_out(desk.context, &base, &asked, (&wish.price, &wish.stage))?;
        unpriced::check(&base, &priced.basis, &wish.stage)?;
        let mut to_be_priced = base.to_be_priced(matches!(asked.terms.rule, PriceRule::Fixed(_)));
        if !has_rule(&wish.price) {
            to_be_priced.push(THE_PRICE.to_owned());
        }
        let total = priced.taxed.total;
        let mut sheet =
            customer::sheet(desk.context, &garment, wish, &priced, (date, valid_until))?;
        if !to_be_priced.is_empty() {
            customer::no_offer(&mut sheet, to_be_priced);
        }
        if wish.supplement_to.is_none() {
            sheet.made_of = made_of(desk, &garment, &base)?;
        }
        if let Some(to) = wish.supplement_to {
            supplement::mark(desk, to, total.gross, &mut sheet)?;
        }
        // A supplement prices one change, whatever details it touches.
        let details = match wish.supplement_to {
            None => details::added(desk, &garment, wish, &asked, (&base, &priced))?,
            Some(_) => Vec::new(),
        };
        let figures = match wish.supplement_to {
            None => Some(figures(desk.context, &base, (total.net, total.gross))?),
            Some(_) => None,
        };
        let mut inside = inside(desk.context, wish, &asked, &base, total.net)?;
        inside.details = details;
        if wish.from == PriceFrom::Actual {
            inside.batch = batch::price_of_one(desk.context, &garment, &base, inside.net.0)?;
        }
        Ok(Self {
            sheet,
            inside,
            costs: base.costs,
            basis: priced.basis,
            figures,
            agreed,
        })
    }
}

/// What has still to be priced where no rule was given.
pub(in crate::money::quotations) const THE_PRICE: &str = "the price";

/// What is compared with other options.
fn figures(context: &Context<'_>, base: &Base, (net, gross): (i64, i64)) -> Done<OfferFigures> {
    let paid = base
        .costs
        .iter()
        .filter(|cost| cost.group == PriceGroup::PaidLabour);
    let paid = paid.map(CostItem::minutes).fold(0_i64, i64::saturating_add);
    let money = |minor| context.currency.money(minor).to_millionths();
    OfferFigures::of(&base.price, Minutes::new(paid)?, money(net)?, money(gross)?).map_err(internal)
}

/// The sheet that the workshop reads; of a change, which may take more off a group than it adds to it, no part has a floor of its
/// own.
fn inside(
    context: &Context<'_>,
    wish: &Wish,
    asked: &Asked,
    base: &Base,
    net_minor: i64,
) -> Done<InternalSheet> {
    let net = context.currency.money(net_minor).to_millionths()?;
    let price = base.price;
    let (cost, floor, hour, wanted) = match base.change {
        Some(_) => {
            let cost = price.sum()?;
            (cost, cost, price.hour_of_change(net), None)
        }
        None => {
            let cost = price.floor().map_err(internal)?;
            // Cheaper goods to come do not make good what these did cost.
            let floor = cost.max(base.replaced.floor().map_err(internal)?);
            let wanted = price.hour_wanted(base.own_lost).map_err(internal)?;
            (cost, floor, price.hour_at(net), wanted)
        }
    };
    let profit = Profit::of_change(cost, net).map_err(internal)?;
    let missing = floor.minus(net)?;
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
    Ok(InternalSheet {
        from: wish.from,
        materials_at: wish.price.materials_at.unwrap_or(MaterialsAt::Cost),
        costs: base.quoted(context)?,
        not_priced: base.not_priced(),
        net: Micro(net),
        parts: parts.into_iter().map(part).collect(),
        floor: Micro(floor),
        below_floor: (missing > Millionths::ZERO).then_some(Micro(missing)),
        profit: Micro(profit.amount),
        markup_percent: profit.markup_shown.map(|share| share.to_string()),
        margin_percent: profit.margin_shown.map(|share| share.to_string()),
        own_minutes: price.own_minutes.get(),
        hour_earns: hour.map_err(internal)?.map(Micro),
        hour_wanted: wanted.map(Micro),
        details: Vec::new(),
        rule: asked.words.clone(),
        batch: None,
        notes: base.notes.clone(),
    })
}
