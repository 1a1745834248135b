//! What a garment costs, for its price: from the plan, or as it did cost.

use super::{batch, internal, labour, material, price::Change};
use crate::{context::Context, costs::Costed, failure::Done};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    quotations::{PriceInput, QuotedCost},
};
use ellwand_domain::{
    allocation::round_alone,
    certainty::Certainty,
    pricing::{PriceBase, PriceGroup},
    quantity::{Millionths, Minutes, Money},
    setting::PriceFrom,
};
use ellwand_storage::{Garment, Tx};

fn minor(context: &Context<'_>, minor: i64) -> Done<Millionths> {
    Ok(Money {
        minor,
        currency: context.currency,
    }
    .to_millionths()?)
}

/// What a plan prints of the same cost, in minor units.
fn printed_in(context: &Context<'_>, plan: &[QuotedCost], cost: &QuotedCost) -> Done<Option<i64>> {
    let of = |cost: &QuotedCost| {
        (
            cost.group,
            cost.name.clone(),
            cost.detail.clone(),
            cost.cost.0,
        )
    };
    let same = plan.iter().find(|planned| of(planned) == of(cost));
    let printed = same.map(|planned| Money::parse_signed(&planned.printed, Some(context.currency)));
    Ok(printed
        .transpose()
        .map_err(internal)?
        .map(|money| money.minor))
}

/// Costs behind a price.
#[derive(Default)]
pub(super) struct Base {
    /// Materials as asked for.
    pub(super) price: PriceBase,
    /// The same with materials at what it costs to replace them.
    pub(super) replaced: PriceBase,
    pub(super) costs: Vec<QuotedCost>,
    /// What is printed of each cost.
    pub(super) rounded: Vec<Millionths>,
    pub(super) not_priced: Vec<String>,
    /// Roles and operations that `not_priced` tells of.
    missing: Vec<(PriceGroup, String)>,
    /// What spoiled garments of a batch cost, less what they still fetch.
    pub(super) spoiled: Millionths,
    /// Pay wanted for the own time that they took, which is not in the price.
    pub(super) own_lost: Millionths,
    pub(super) notes: Vec<String>,
    /// Of a supplement: what is agreed already, however it is priced now.
    pub(super) taken_as_agreed: Vec<(PriceGroup, String)>,
    /// Of a supplement: what the change is sold for.
    pub(super) change: Option<Change>,
}

impl Base {
    /// Sums alone, of which a price is made.
    pub(super) fn of(price: PriceBase) -> Self {
        Self {
            price,
            ..Self::default()
        }
    }

    pub(super) fn work_out(
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        garment: &Garment,
        from: PriceFrom,
        price: &PriceInput,
        day: NaiveDate,
    ) -> Done<Self> {
        let costed = Costed::work_out(tx, context, garment)?;
        let mut base = Self::default();
        let mut materials = material::lines(tx, context, garment, &costed, from, price, &mut base)?;
        match from {
            PriceFrom::Plan => labour::planned(tx, context, garment, day, &mut base)?,
            PriceFrom::Actual => {
                labour::worked(tx, garment, &costed, &mut base)?;
                let (asked, replaced) = (materials.asked, &mut materials.replaced);
                let same = *replaced == asked;
                batch::spread(context, garment, &mut base, replaced)?;
                if same {
                    materials.asked = *replaced;
                }
            }
        }
        base.round(context)?;
        // A part of a cent is no other price.
        let materials = match materials.replaced == materials.asked {
            true => base.price.materials,
            false => minor(
                context,
                round_alone(materials.replaced, context.currency.digits()).map_err(internal)?,
            )?,
        };
        base.replaced = PriceBase {
            materials,
            ..base.price
        };
        Ok(base)
    }

    /// The price rests on the amounts that are printed, so that it can be checked by pencil: the total half up to the minor
    /// unit, the lines by largest remainder. Losses are rounded alone.
    pub(super) fn round(&mut self, context: &Context<'_>) -> Done<()> {
        self.price = self.printed(context, &[])?.netted()?;
        Ok(())
    }

    /// Prints what is the same as in the plan as there, so that two columns of one price say the same of it: what rounding
    /// leaves goes to what differs.
    pub(super) fn like(&mut self, context: &Context<'_>, plan: &[QuotedCost]) -> Done<()> {
        let same = self.replaced.materials == self.price.materials;
        self.price = self.printed(context, plan)?.netted()?;
        let materials = if same {
            self.price.materials
        } else {
            self.replaced.materials
        };
        self.replaced = PriceBase {
            materials,
            ..self.price
        };
        Ok(())
    }

    /// The sums of what is printed, beside what a plan prints of the same. A group of a change may be below zero.
    pub(super) fn printed(
        &mut self,
        context: &Context<'_>,
        plan: &[QuotedCost],
    ) -> Done<PriceBase> {
        let costs: Vec<_> = self
            .costs
            .iter()
            .map(|cost| (cost.group, cost.cost.0))
            .collect();
        let known = self
            .costs
            .iter()
            .map(|cost| printed_in(context, plan, cost));
        let known = known.collect::<Done<Vec<_>>>()?;
        let (sums, printed) =
            PriceBase::printed(&costs, &known, context.currency).map_err(internal)?;
        self.rounded.clear();
        for (cost, printed) in self.costs.iter_mut().zip(printed) {
            cost.printed = Money {
                minor: printed,
                currency: context.currency,
            }
            .decimal();
            self.rounded.push(minor(context, printed)?);
        }
        let losses = round_alone(self.price.losses, context.currency.digits()).map_err(internal)?;
        Ok(PriceBase {
            own_minutes: self.price.own_minutes,
            losses: minor(context, losses)?,
            ..sums
        })
    }

    /// Lists what has no price, or not all of it.
    pub(super) fn miss(&mut self, group: PriceGroup, name: &str, text: String) {
        self.missing.push((group, name.to_owned()));
        self.not_priced.push(text);
    }

    /// Takes out what had no price before either.
    pub(super) fn not_missed_since(&mut self, before: &[String]) {
        let (missing, texts) = (
            std::mem::take(&mut self.missing),
            std::mem::take(&mut self.not_priced),
        );
        for ((group, name), text) in missing.into_iter().zip(texts) {
            if !before.contains(&text) {
                self.miss(group, &name, text);
            }
        }
    }

    /// What is not priced, or not all of it, in these groups.
    pub(super) fn missing_of(&self, of: impl Fn(PriceGroup) -> bool) -> Vec<&str> {
        let all = self.missing.iter().zip(&self.not_priced);
        all.filter(|((group, _), _)| of(*group))
            .map(|(_, text)| text.as_str())
            .collect()
    }

    /// Roles and operations that have to be priced before there is an offer, each once. What is agreed is not among them, and no
    /// hours where the price is given.
    pub(super) fn to_be_priced(&self, given: bool) -> Vec<String> {
        let is_material = |group| group == PriceGroup::Materials;
        let mut all: Vec<String> = Vec::new();
        for (group, name) in &self.missing {
            let same = |(of, known): &(PriceGroup, String)| {
                known == name && is_material(*of) == is_material(*group)
            };
            if given && !is_material(*group) {
                continue;
            }
            if !self.taken_as_agreed.iter().any(same) && !all.contains(name) {
                all.push(name.clone());
            }
        }
        all
    }

    /// True where not all of a role or an operation is priced.
    pub(super) fn is_missing(&self, group: PriceGroup, name: &str) -> bool {
        let material = |group| group == PriceGroup::Materials;
        self.missing
            .iter()
            .any(|(of, known)| known == name && material(*of) == material(group))
    }

    /// Adds labour or overhead of so many minutes.
    pub(super) fn hours(
        &mut self,
        group: PriceGroup,
        (name, detail): (&str, String),
        minutes: Option<Minutes>,
        certainty: Certainty,
        cost: Millionths,
    ) {
        self.costs.push(QuotedCost {
            group,
            name: name.to_owned(),
            detail,
            quantity: minutes.map(|minutes| minutes.to_string()),
            amount: None,
            minutes: minutes.map(Minutes::get),
            lot: None,
            of_detail: None,
            range: None,
            certainty,
            cost: Micro(cost),
            printed: String::new(),
        });
    }
}
