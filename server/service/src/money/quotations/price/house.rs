//! The house rule: how prices are made where nothing is said.

use super::{
    ask::{Asked, has_rule, stages},
    refused_price,
};
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, invalid, wrong_state},
    },
    money::quotations::{internal, part_rates::PartRates, refused},
    workshop::{self, Sets},
};
use ellwand_contract::{
    json,
    quotations::{PriceInput, StageInput},
    workshop::{HousePriceRule, SetPriceRule, Workshop},
};
use ellwand_domain::{
    pricing::{PriceRule, Term, price_by_margin, price_by_markup},
    quantity::{Millionths, PartsPerMillion},
};

impl Sets for SetPriceRule {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        let price = price_of(self);
        let rule = match price == PriceInput::default() && self.stage.is_empty() {
            true => None,
            false => Some(read_rule(desk, price, &self.stage)?),
        };
        let mut workshop = desk.context.workshop.clone();
        if rule.is_none() && workshop.price_rule.is_none() {
            let hint = "set one with ellwand workshop price-rule --margin 35%";
            return Err(wrong_state("there is no price rule to forget", hint));
        }
        workshop.price_rule = rule
            .as_ref()
            .map(json::write)
            .transpose()
            .map_err(internal)?;
        workshop::change(desk, workshop, "price rule")
    }
}

/// The part of it that makes the price.
fn price_of(rule: &SetPriceRule) -> PriceInput {
    PriceInput {
        markup: rule.markup.clone(),
        margin: rule.margin.clone(),
        hourly: rule.hourly.clone(),
        material_markup: rule.material_markup.clone(),
        round_up: rule.round_up.clone(),
        materials_at: rule.materials_at,
        ..PriceInput::default()
    }
}

/// Reads all of it, so that no quotation meets a rule that cannot be read.
fn read_rule(desk: &Desk<'_>, price: PriceInput, stage: &[StageInput]) -> Done<HousePriceRule> {
    if !has_rule(&price) {
        let detail = "how is a price made? give a markup, a margin or an hourly amount";
        return Err(invalid("margin", detail));
    }
    let context = desk.context;
    let shown = context.workshop.prices_shown;
    let asked = Asked::with_rates(context, &price, shown, || Ok(PartRates::default()))?;
    priced(&asked.terms.rule, asked.terms.on_materials)?;
    let plans = stages(context.currency, stage)?;
    let shares = plans.iter().flat_map(|plan| &plan.terms);
    for term in shares {
        if let Term::Share { share, .. } = term
            && !(PartsPerMillion::ZERO..=PartsPerMillion::WHOLE).contains(share)
        {
            let detail = format!("a stage of {share} cannot be paid: give 0 to 100 %");
            return Err(invalid("stage", detail));
        }
    }
    if let Some(stage) = stage.iter().find(|stage| stage.due.is_some()) {
        let detail = format!(
            "the {} of every quotation cannot be due on one day",
            stage.name
        );
        return Err(invalid("stage", detail));
    }
    let step = price.round_up.as_deref();
    let step = step.map_or_else(String::new, |step| {
        format!(", rounded up to {}", step.trim())
    });
    Ok(HousePriceRule {
        words: format!("{}{step}", asked.words),
        price,
        stage: stage.to_vec(),
    })
}

/// Refuses a share that makes no price of any cost: a margin of all of it.
fn priced(rule: &PriceRule, on_materials: Option<PartsPerMillion>) -> Done<()> {
    let nothing = Millionths::ZERO;
    match rule {
        PriceRule::Margin(margin) => price_by_margin(nothing, *margin),
        PriceRule::Markup { work, .. } => price_by_markup(nothing, *work),
        PriceRule::HourlyTarget { .. } | PriceRule::Fixed(_) => Ok(nothing),
    }
    .map_err(refused_price(rule))?;
    if let Some(markup) = on_materials {
        price_by_markup(nothing, markup).map_err(refused("material_markup"))?;
    }
    Ok(())
}

/// Adds the house rule where what was asked says nothing, to its stages only where they are given; a note of what was added.
pub(in crate::money::quotations) fn fill(
    context: &Context<'_>,
    price: &mut PriceInput,
    stage: Option<&mut Vec<StageInput>>,
) -> Done<Option<String>> {
    let Some(house) = workshop::price_rule(&context.workshop)? else {
        return Ok(None);
    };
    let mut of_the_house = Vec::new();
    if !has_rule(price) {
        price.markup.clone_from(&house.price.markup);
        price.margin.clone_from(&house.price.margin);
        price.hourly.clone_from(&house.price.hourly);
        price
            .material_markup
            .clone_from(&house.price.material_markup);
        of_the_house.push(house.words);
    }
    // A given price is the price.
    if price.price.is_none() && price.round_up.is_none() {
        price.round_up = house.price.round_up;
    }
    price.materials_at = price.materials_at.or(house.price.materials_at);
    if let Some(stage) = stage.filter(|stage| stage.is_empty())
        && !house.stage.is_empty()
    {
        of_the_house.push("its stages".to_owned());
        *stage = house.stage;
    }
    Ok((!of_the_house.is_empty())
        .then(|| format!("by the house rule: {}", of_the_house.join("; "))))
}
