//! What a garment costs, for its price: from the plan, or as it did cost.

use super::{labour, material};
use crate::{context::Context, costs::Costed, failure::Done};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    quotations::{PriceInput, QuotedCost},
};
use ellwand_domain::{certainty::Certainty, pricing::PriceBase, quantity::Millionths, setting::PriceFrom};
use ellwand_storage::{Garment, Tx};

/// Costs behind a price.
#[derive(Default)]
pub(super) struct Base {
    /// Materials as asked for.
    pub(super) price: PriceBase,
    /// The same with materials at what it costs to replace them.
    pub(super) replaced: PriceBase,
    pub(super) costs: Vec<QuotedCost>,
    pub(super) not_priced: Vec<String>,
    pub(super) notes: Vec<String>,
}

impl Base {
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
        let materials = material::lines(tx, context, garment, &costed, from, price, &mut base)?;
        match from {
            PriceFrom::Plan => labour::planned(tx, context, garment, day, &mut base)?,
            PriceFrom::Actual => labour::worked(tx, context, garment, &costed, &mut base)?,
        }
        base.price.materials = materials.asked;
        base.replaced = PriceBase { materials: materials.replaced, ..base.price };
        Ok(base)
    }

    pub(super) fn cost(
        &mut self,
        context: &Context<'_>,
        group: &str,
        (name, detail): (&str, String),
        quantity: Option<String>,
        certainty: Certainty,
        cost: Millionths,
    ) {
        self.costs.push(QuotedCost {
            group: group.to_owned(),
            name: name.to_owned(),
            detail,
            quantity,
            range: None,
            certainty,
            cost: Micro(cost),
            printed: context.printed(cost),
        });
    }
}
