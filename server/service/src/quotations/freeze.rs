//! What a version keeps for good: both sheets, and what its stages are worked out from.

use super::{
    ask,
    ask::Asked,
    batch, cash,
    costs::Base,
    details, internal, options,
    part_rates::UNTAXED,
    price::Priced,
    supplement::{self, Agreed},
    unpriced,
};
use crate::{
    context::Context,
    failure::{Done, Failure, invalid},
    garments::need::load_head,
    workshop,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem,
    options::{OptionFigures, OptionInput},
    quotations::{
        CustomerSheet, InternalSheet, PriceInput, PricePart, QuotedCash, QuotedRate, QuotedStage, Sender,
        StageInput,
    },
};
use ellwand_domain::{
    code::GarmentCode,
    pricing::{
        OfferFigures, Payable, PriceGroup, PriceRule, PricesShown, PricingError, Profit, Rounding, Schedule,
        TaxLine, TaxPlace, TaxRate, TaxRules, tax,
    },
    quantity::{Currency, Minutes, Money, PartsPerMillion},
    setting::{MaterialsAt, PriceFrom},
};
use ellwand_storage::Tx;
use serde::{Deserialize, Serialize};

/// What was asked for; a new version keeps what is not said anew.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Wish {
    pub(super) from: PriceFrom,
    pub(super) price: PriceInput,
    pub(super) stage: Vec<StageInput>,
    pub(super) terms: Option<String>,
    #[serde(default)]
    pub(super) options: Vec<OptionInput>,
    #[serde(default)]
    pub(super) plan_is: Option<String>,
    /// The accepted quotation whose change it prices.
    #[serde(default)]
    pub(super) supplement_to: Option<i64>,
}

/// A version as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Frozen {
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
    /// What the plan is called beside options; none without.
    #[serde(default)]
    pub(super) plan_is: Option<String>,
    #[serde(default)]
    pub(super) options: Vec<Offer>,
    #[serde(default)]
    pub(super) comparison: Vec<OptionFigures>,
    /// Of a supplement: what is agreed with it.
    #[serde(default)]
    pub(super) agreed: Option<Agreed>,
}

/// An option as it was made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Offer {
    pub(super) name: String,
    pub(super) differs: Vec<String>,
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
}

/// The plan, or an option, worked out.
pub(super) struct Made {
    pub(super) sheet: CustomerSheet,
    pub(super) inside: InternalSheet,
    pub(super) basis: Basis,
    pub(super) figures: OfferFigures,
    /// Of a supplement: what is agreed with it.
    pub(super) agreed: Option<Agreed>,
}

/// Lines and rules that the schedule of payments rests on; minor units.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Basis {
    pub(super) rules: (PricesShown, Rounding, TaxPlace),
    /// Of all lines, where `rates` holds none.
    pub(super) rate: (String, i64),
    /// Names and shares in millionths.
    #[serde(default)]
    pub(super) rates: Vec<(String, i64)>,
    /// Shape: one for each line, positions in `rates`.
    #[serde(default)]
    pub(super) line_rates: Vec<usize>,
    pub(super) currency: Currency,
    pub(super) lines: Vec<i64>,
    pub(super) materials: i64,
    pub(super) labour: i64,
    pub(super) stages: Vec<StageInput>,
    /// Step in which cash is paid.
    #[serde(default)]
    pub(super) cash_step: Option<i64>,
}

impl Basis {
    /// The schedule; the same whenever it is asked for.
    pub(super) fn schedule(&self) -> Done<Schedule> {
        let money = |minor| Money { minor, currency: self.currency };
        let (shown, rounding, place) = self.rules;
        let known = if self.rates.is_empty() { std::slice::from_ref(&self.rate) } else { &self.rates };
        let rate = |(name, ppm): &(String, i64)| -> Done<TaxRate> {
            TaxRate::new(name, PartsPerMillion::new(*ppm)?).map_err(internal)
        };
        let rates = known.iter().map(rate).collect::<Done<Vec<_>>>()?;
        let line = |(position, minor): (usize, &i64)| {
            let named = self.line_rates.get(position).and_then(|at| known.get(*at));
            TaxLine { amount: money(*minor), rate: named.unwrap_or(&self.rate).0.clone() }
        };
        let lines: Vec<TaxLine> = self.lines.iter().enumerate().map(line).collect();
        let taxed = tax(TaxRules { shown, rounding, place }, &rates, &lines).map_err(internal)?;
        let payable = Payable { taxed: &taxed, labour: money(self.labour), materials: money(self.materials) };
        let plan = ask::stages(self.currency, &self.stages)?;
        Schedule::build(&payable, &plan).map_err(|error| {
            let sum = matches!(error, PricingError::DoNotSum { .. });
            let refusal = Problem::from(invalid("stage", error.to_string()));
            let hint = "add a last stage without an amount, which takes the rest";
            Failure::from(if sum { refusal.hint(hint) } else { refusal })
        })
    }
}

impl Frozen {
    pub(super) fn make(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        code: GarmentCode,
        wish: &Wish,
        dates: (NaiveDate, NaiveDate),
    ) -> Done<Self> {
        let Made { sheet, inside, basis, figures, agreed } = Made::work_out(tx, context, code, wish, dates)?;
        let offers = options::offers(tx, context, code, wish, dates)?;
        let comparison = match &wish.plan_is {
            Some(plan) => options::compared((plan, &figures), &inside.not_priced, &offers)?,
            None => Vec::new(),
        };
        let options = offers.into_iter().map(|(offer, _)| offer).collect();
        Ok(Self { sheet, inside, basis, plan_is: wish.plan_is.clone(), options, comparison, agreed })
    }

    /// With an option in the place of the plan: what was agreed to.
    pub(super) fn chosen(mut self, option: &str) -> Self {
        if let Some(at) = self.options.iter().position(|offer| offer.name == option) {
            let offer = self.options.swap_remove(at);
            (self.sheet, self.inside, self.basis) = (offer.sheet, offer.inside, offer.basis);
        }
        self
    }
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
        markup_percent: profit.markup.map(PartsPerMillion::percent),
        margin_percent: profit.margin.map(PartsPerMillion::percent),
        own_minutes: price.own_minutes.get(),
        hour_earns,
        details: Vec::new(),
        rule: asked.words.clone(),
        batch: None,
        notes: base.notes,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::{Frozen, Wish};
    use serde_json::{Value, json};

    /// What a program froze that knew neither options nor details (from memory of its forms).
    fn old() -> Value {
        let sheet = json!({
            "title": "jacket", "count": 1, "date": "2026-10-12", "valid_until": "2026-11-11", "currency": "EUR",
            "shown": "without-tax", "lines": [{"text": "Labour", "amount": "668.09", "rate": null}], "rates": [],
            "net": "668.09", "tax": "0.00", "gross": "668.09", "terms": null,
            "stages": [{"name": "on delivery", "terms": "the rest", "due": null, "amount": "668.09", "tax": "0.00"}],
        });
        let cost = json!({
            "group": "own labour", "name": "sewing", "detail": "owner", "quantity": "9 h", "range": null,
            "certainty": "estimated", "cost": "252", "printed": "252.00",
        });
        let inside = json!({
            "from": "plan", "materials_at": "cost", "costs": [cost], "not_priced": [], "net": "668.09", "parts": [],
            "floor": "434.26", "below_floor": null, "profit": "233.83", "markup_percent": "53.85",
            "margin_percent": "35", "own_minutes": 630, "hour_earns": null, "rule": "a margin of 35 %", "notes": [],
        });
        let basis = json!({
            "rules": ["without-tax", "half-up", "rate"], "rate": ["without tax", 0], "currency": "EUR",
            "lines": [66809], "materials": 0, "labour": 66809, "stages": [],
        });
        json!({"sheet": sheet, "inside": inside, "basis": basis})
    }

    #[test]
    fn what_was_frozen_before_there_were_options_is_still_read() {
        let frozen: Frozen = serde_json::from_value(old()).unwrap();
        assert_eq!(
            (frozen.plan_is.as_deref(), frozen.options.len(), frozen.inside.details.len()),
            (None, 0, 0)
        );
        assert_eq!(frozen.inside.costs[0].of_detail, None);
        assert_eq!(frozen.chosen("hand hem").sheet.gross, "668.09");
        let wish = json!({"from": "plan", "price": {"margin": "35%"}, "stage": [], "terms": null});
        assert!(serde_json::from_value::<Wish>(wish).unwrap().options.is_empty());
    }
}
