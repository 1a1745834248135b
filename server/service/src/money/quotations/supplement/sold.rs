//! What a change of an agreed plan is sold for: each group of costs by the rule and at the tax rate that it was agreed at, what is
//! added by those of the supplement.

use super::{
    super::{
        ask::Asked,
        base::Base,
        freeze::taxed,
        internal,
        price::{Change, Lines, refused_price, text},
    },
    agreed::{Agreed, Group, Layer},
};
use crate::desk::{
    context::Context,
    failure::{Done, invalid},
};
use ellwand_contract::{Micro, quotations::PriceInput};
use ellwand_domain::{
    code::QuotationCode,
    pricing::{
        PlanChange, PlanLine, PriceBase, PriceLine, PriceLineOf, PriceRule, PricesShown, TaxPlace,
        TaxRate, Terms, lines_more,
    },
    quantity::Minutes,
};

/// A change of what is agreed, before it is sold.
pub(super) struct Changed<'c> {
    pub(super) agreed: &'c [PlanLine],
    pub(super) change: &'c PlanChange,
    /// Own minutes more than agreed, below zero for less.
    pub(super) own_minutes: i64,
}

/// Lines of the change, and the groups and layers as they are once it is agreed.
pub(super) fn sell(
    context: &Context<'_>,
    (base, asked, price): (&Base, &Asked, &PriceInput),
    before: &Agreed,
    changed: &Changed<'_>,
) -> Done<(Lines, Vec<Group>, Vec<Layer>)> {
    let (mut groups, mut layers) = (before.groups.clone(), before.layers.clone());
    let own = own_group(context, &mut groups, asked, price)?;
    let is_new = own >= before.groups.len();
    if matches!(asked.terms.rule, PriceRule::HourlyTarget { .. })
        && is_new
        && changed.own_minutes <= 0
    {
        let detail = "the change adds no own hours, so there is no hour to price; use --markup";
        return Err(invalid("hourly", detail));
    }
    layers.push(Layer {
        quotation: 0,
        group: own,
    });
    let minutes: Vec<i64> = groups.iter().map(|group| group.own_minutes).collect();
    spread_minutes(&mut groups, own, changed.own_minutes);
    let mut lines = Lines {
        rates: asked.terms.rates.clone(),
        all: Vec::new(),
    };
    let given = matches!(asked.terms.rule, PriceRule::Fixed(_));
    // What the supplement adds stands first.
    let mut order: Vec<usize> = (0..groups.len()).collect();
    order.sort_by_key(|at| *at != own);
    for at in order {
        let of = |line: &&PlanLine| layers.get(line.layer).is_some_and(|own| own.group == at);
        let of =
            |lines: &[PlanLine]| -> Vec<PlanLine> { lines.iter().filter(of).cloned().collect() };
        let Some(group) = groups.get_mut(at) else {
            continue;
        };
        let before = minutes.get(at).copied().unwrap_or(0);
        let sold = Sold {
            was: base_of(context, &of(changed.agreed), before)?,
            is: base_of(context, &of(&changed.change.agreed), group.own_minutes)?,
            given: (given && at == own).then_some(base),
        };
        let mut terms = group.terms(context)?;
        if at == own {
            terms.handling = terms.handling.plus(asked.terms.handling)?;
        }
        if sold.is_as_it_was() && terms.handling == group.handling.0 {
            continue;
        }
        let after = sold.lines(context, &terms)?;
        if !given || at == own {
            let more = lines_more(&group.lines, &after).map_err(internal)?;
            let with = layers.iter().find(|layer| layer.group == at && at != own);
            let with = with.map(|layer| QuotationCode::new(layer.quotation));
            let of = (more.as_slice(), terms.rates.as_slice(), group.shown);
            add(context, &mut lines, of, (asked.terms.shown, with))?;
        }
        (group.handling, group.lines) = (Micro(terms.handling), after);
    }
    Ok((lines, groups, layers))
}

fn base_of(context: &Context<'_>, lines: &[PlanLine], minutes: i64) -> Done<PriceBase> {
    PriceBase::of_plan(lines, Minutes::new(minutes)?, context.currency).map_err(internal)
}

/// What is agreed by one set of terms, before and after a change.
struct Sold<'b> {
    was: PriceBase,
    is: PriceBase,
    /// The change, where a price was given for it.
    given: Option<&'b Base>,
}

impl Sold<'_> {
    fn is_as_it_was(&self) -> bool {
        self.was == self.is && self.given.is_none()
    }

    /// The lines that it is sold by after the change.
    fn lines(&self, context: &Context<'_>, terms: &Terms) -> Done<Vec<PriceLine>> {
        let digits = context.currency.digits();
        let lines = match self.given {
            None => terms.lines_after(&self.was, &self.is, digits),
            Some(base) if base.price.sum()?.get() < 0 => terms.lines(&PriceBase::default(), digits),
            Some(base) => terms.lines(&base.price.netted()?, digits),
        };
        lines.map_err(refused_price(&terms.rule))
    }
}

/// The group that what is added belongs to: one of the same terms, or a new one.
fn own_group(
    context: &Context<'_>,
    groups: &mut Vec<Group>,
    asked: &Asked,
    price: &PriceInput,
) -> Done<usize> {
    for (at, group) in groups.iter().enumerate() {
        if group.terms(context)?.is_alike(&asked.terms) {
            return Ok(at);
        }
    }
    groups.push(Group::new(asked, price));
    Ok(groups.len().saturating_sub(1))
}

/// Own hours that are more belong to the supplement; those that are less go off what was agreed last.
fn spread_minutes(groups: &mut [Group], own: usize, more: i64) {
    if more >= 0 {
        if let Some(group) = groups.get_mut(own) {
            group.own_minutes = group.own_minutes.saturating_add(more);
        }
        return;
    }
    let mut less = more.saturating_neg();
    for group in groups.iter_mut().rev() {
        let off = group.own_minutes.min(less);
        group.own_minutes = group.own_minutes.saturating_sub(off);
        less = less.saturating_sub(off);
    }
}

/// Adds lines at their own rates, as prices are shown now. A rate that has the name of another and is not it is named with the
/// quotation that it was agreed with.
fn add(
    context: &Context<'_>,
    lines: &mut Lines,
    (more, rates, was): (&[PriceLine], &[TaxRate], PricesShown),
    (shown, with): (PricesShown, Option<QuotationCode>),
) -> Done<()> {
    for line in more {
        let rate = rates
            .get(line.rate)
            .ok_or_else(|| internal("a line of a price has no tax rate"))?;
        let same = |known: &TaxRate| known.share() == rate.share() && known.name() == rate.name();
        let at = match lines.rates.iter().position(same) {
            Some(at) => at,
            None => {
                let is_taken = lines.rates.iter().any(|known| known.name() == rate.name());
                let name = match with.filter(|_| is_taken) {
                    Some(with) => format!("{} of {with}", rate.name()),
                    None => rate.name().to_owned(),
                };
                let named = TaxRate::new(&name, rate.share()).map_err(internal)?;
                let known = lines.rates.iter().position(|known| known.name() == name);
                known.unwrap_or_else(|| {
                    lines.rates.push(named);
                    lines.rates.len().saturating_sub(1)
                })
            }
        };
        let minor = shown_as(context, line.minor, rate, (was, shown))?;
        let mut line_text = text(line, rates)?;
        if let Some(with) = with {
            line_text = format!("{line_text}, agreed with {with}");
        }
        lines.all.push((
            line_text,
            PriceLine {
                rate: at,
                minor,
                ..*line
            },
        ));
    }
    Ok(())
}

/// An amount as it is shown now.
fn shown_as(
    context: &Context<'_>,
    minor: i64,
    rate: &TaxRate,
    (was, shown): (PricesShown, PricesShown),
) -> Done<i64> {
    if was == shown {
        return Ok(minor);
    }
    let rules = (was, context.workshop.tax_rounding, TaxPlace::Line);
    let line = PriceLine {
        of: PriceLineOf::Labour,
        rate: 0,
        minor,
    };
    let total = taxed(rules, context.currency, std::slice::from_ref(rate), [&line])?.total;
    Ok(match shown {
        PricesShown::WithTax => total.gross,
        PricesShown::WithoutTax => total.net,
    })
}

impl Change {
    pub(super) fn of(
        lines: Lines,
        garment: ellwand_domain::code::GarmentCode,
        to: QuotationCode,
    ) -> Self {
        Self {
            lines,
            of: garment,
            to,
        }
    }
}
