//! What is agreed of a plan, line by line, as it is kept.

use super::super::{
    ask::Asked,
    freeze::{Basis, Frozen, Sold, tax_rates},
    internal,
    part_rates::PartRates,
    quoted,
};
use crate::desk::{Desk, context::Context, failure::Done};
use ellwand_contract::{
    Micro,
    quotations::{PriceInput, QuotedCost},
};
use ellwand_domain::{
    costing::{CostItem, HourlyCost, planned_overhead},
    pricing::{PlanLine, PriceGroup, PriceLine, PriceLineOf, PricesShown, Terms},
    quantity::Millionths,
};
use ellwand_storage::Quotation;
use serde::{Deserialize, Serialize};

/// What is agreed of a plan: kept with a supplement as it is once that is accepted.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::money::quotations) struct Agreed {
    /// The quotation that it was priced against: the last one accepted before it.
    pub(in crate::money::quotations) rests_on: i64,
    pub(in crate::money::quotations) own_minutes: i64,
    pub(super) lines: Vec<Line>,
    /// Quotations that lines were agreed with, the oldest first; the last is the one that this is kept with.
    pub(super) layers: Vec<Layer>,
    /// Plans that are priced as one, by terms.
    pub(super) groups: Vec<Group>,
}

/// A quotation that lines were agreed with.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(super) struct Layer {
    /// Zero where it is the one that this is kept with.
    pub(super) quotation: i64,
    /// Position of its terms.
    pub(super) group: usize,
}

/// What is agreed by the same terms, and what it is sold for.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Group {
    pub(super) price: PriceInput,
    /// Names and shares in millionths.
    pub(super) rates: Vec<(String, i64)>,
    /// Of materials, labour and handling: positions in `rates`.
    pub(super) of: [usize; 3],
    pub(super) shown: PricesShown,
    pub(super) handling: Micro,
    pub(super) own_minutes: i64,
    /// Without what a total was rounded up by.
    pub(super) lines: Vec<PriceLine>,
}

impl Group {
    /// The terms by which an accepted quotation sells its plan.
    fn of(context: &Context<'_>, basis: &Basis, own_minutes: i64) -> Done<Self> {
        let Sold { price, of } = basis.sold.clone();
        let rounded = |line: &&PriceLine| line.of == PriceLineOf::Rounding;
        let lines = basis.lines.iter().filter(|line| !rounded(line));
        let mut group = Self {
            price,
            rates: basis.rates.clone(),
            of,
            shown: basis.rules.0,
            handling: Micro(Millionths::ZERO),
            own_minutes,
            lines: lines.copied().collect(),
        };
        group.handling = Micro(group.terms(context)?.handling);
        Ok(group)
    }

    /// A group that is sold for nothing yet.
    pub(super) fn new(asked: &Asked, price: &PriceInput) -> Self {
        let rates = asked.terms.rates.iter();
        Self {
            price: PriceInput {
                handling: None,
                ..price.clone()
            },
            rates: rates
                .map(|rate| (rate.name().to_owned(), rate.share().get()))
                .collect(),
            of: asked.terms.of,
            shown: asked.terms.shown,
            handling: Micro(Millionths::ZERO),
            own_minutes: 0,
            lines: Vec::new(),
        }
    }

    pub(super) fn terms(&self, context: &Context<'_>) -> Done<Terms> {
        let rates = || {
            Ok(PartRates {
                all: tax_rates(&self.rates)?,
                of: self.of,
            })
        };
        let asked = Asked::with_rates(context, &self.price, self.shown, rates)?;
        let handling = if self.handling.0.is_zero() {
            asked.terms.handling
        } else {
            self.handling.0
        };
        Ok(Terms {
            handling,
            ..asked.terms
        })
    }
}

/// A line of it.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Line {
    cost: QuotedCost,
    /// What it is made of.
    material: Option<i64>,
    /// With which of the quotations it was agreed.
    layer: usize,
}

impl Line {
    pub(super) fn read(&self, context: &Context<'_>) -> Done<PlanLine> {
        let item = quoted::cost_item(&self.cost, context.currency)?;
        Ok(PlanLine {
            item: CostItem {
                material: self.material,
                ..item
            },
            given: false,
            layer: self.layer,
        })
    }

    pub(super) fn of(context: &Context<'_>, line: &PlanLine) -> Done<Self> {
        Ok(Self {
            cost: quoted::quoted(context, &line.item)?,
            material: line.item.material,
            layer: line.layer,
        })
    }
}

/// What is agreed with an accepted quotation: its own lines, or those kept with a supplement.
pub(super) fn agreed_with(
    desk: &mut Desk<'_>,
    frozen: Frozen,
    quotation: &Quotation,
) -> Done<Agreed> {
    if let Some(mut agreed) = frozen.agreed {
        if let Some(own) = agreed.layers.last_mut() {
            own.quotation = quotation.id;
        }
        return Ok(agreed);
    }
    let mut lines: Vec<Line> = Vec::with_capacity(frozen.inside.costs.len());
    let line = |cost: QuotedCost, material| Line {
        cost,
        material,
        layer: 0,
    };
    let minutes = frozen
        .inside
        .costs
        .iter()
        .filter_map(|cost| cost.minutes)
        .sum();
    for cost in frozen.inside.costs {
        let lot = cost
            .lot
            .map(|lot| desk.tx.lot(lot.get()))
            .transpose()?
            .flatten();
        lines.push(line(cost, lot.map(|lot| lot.material_id)));
    }
    if lines
        .iter()
        .all(|line| line.cost.group != PriceGroup::Overhead)
    {
        // No rate held then: the agreed hours carry none, whatever holds now.
        let none = planned_overhead(minutes, &HourlyCost::NONE).map_err(internal)?;
        lines.push(line(quoted::quoted(desk.context, &none)?, None));
    }
    let own_minutes = frozen.inside.own_minutes;
    Ok(Agreed {
        rests_on: quotation.id,
        own_minutes,
        lines,
        layers: vec![Layer {
            quotation: quotation.id,
            group: 0,
        }],
        groups: vec![Group::of(desk.context, &frozen.basis, own_minutes)?],
    })
}
