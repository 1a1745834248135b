//! What is agreed of a plan, line by line, as it is kept.

use super::super::{
    ask::Asked,
    freeze::{Basis, Frozen, Sold},
    internal,
    part_rates::PartRates,
};
use crate::{context::Context, failure::Done};
use ellwand_contract::{Amount, Metres, Micro, quotations::PriceInput};
use ellwand_domain::{
    code::LotCode,
    pricing::{Extent, PlanLine, PriceGroup, PriceLine, PriceLineOf, PricesShown, TaxRate, Terms},
    quantity::{Micrometres, Millionths, PartsPerMillion},
};
use ellwand_storage::{Quotation, Tx};
use serde::{Deserialize, Serialize};

/// What is agreed of a plan: kept with a supplement as it is once that is accepted.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(in crate::quotations) struct Agreed {
    /// The quotation that it was priced against: the last one accepted before it.
    pub(in crate::quotations) rests_on: i64,
    pub(in crate::quotations) own_minutes: i64,
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
    /// The terms by which an accepted quotation sells its plan; none where it does not say.
    fn of(context: &Context<'_>, basis: &Basis, own_minutes: i64) -> Done<Option<Self>> {
        let Some(Sold { price, of }) = basis.sold.clone() else {
            return Ok(None);
        };
        let rounded = |line: &PriceLine| line.of == PriceLineOf::Rounding;
        let lines = basis
            .lines
            .iter()
            .zip(&basis.line_of)
            .zip(&basis.line_rates);
        let lines = lines.map(|((minor, of), rate)| PriceLine {
            of: *of,
            rate: *rate,
            minor: *minor,
        });
        let mut group = Self {
            price,
            rates: basis.rates.clone(),
            of,
            shown: basis.rules.0,
            handling: Micro(Millionths::ZERO),
            own_minutes,
            lines: lines.filter(|line| !rounded(line)).collect(),
        };
        group.handling = Micro(group.terms(context)?.handling);
        Ok(Some(group))
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
            let rate = |(name, ppm): &(String, i64)| {
                TaxRate::new(name, PartsPerMillion::new(*ppm)?).map_err(internal)
            };
            Ok(PartRates {
                all: self.rates.iter().map(rate).collect::<Done<_>>()?,
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
    group: PriceGroup,
    name: String,
    /// Length or count.
    amount: Option<Amount>,
    minutes: Option<i64>,
    /// What it is made of.
    material: Option<i64>,
    cost: Micro,
    /// With which of the quotations it was agreed.
    layer: usize,
}

impl Line {
    pub(super) fn read(&self) -> PlanLine {
        PlanLine {
            group: self.group,
            name: self.name.clone(),
            extent: extent(self.amount, self.minutes),
            material: self.material,
            cost: self.cost.0,
            given: false,
            layer: self.layer,
        }
    }

    pub(super) fn of(line: &PlanLine) -> Done<Self> {
        let (amount, minutes) = shares(line.extent)?;
        let PlanLine {
            group,
            name,
            extent: _,
            material,
            cost,
            given: _,
            layer,
        } = line;
        let (group, name, material) = (*group, name.clone(), *material);
        Ok(Self {
            group,
            name,
            amount,
            minutes,
            material,
            cost: Micro(*cost),
            layer: *layer,
        })
    }
}

/// The material of a lot that was priced.
pub(super) fn material_of(tx: &mut Tx<'_>, lot: Option<LotCode>) -> Done<Option<i64>> {
    let Some(lot) = lot else { return Ok(None) };
    Ok(tx.lot(lot.get())?.map(|lot| lot.material_id))
}

pub(super) fn extent(amount: Option<Amount>, minutes: Option<i64>) -> Option<Extent> {
    match (amount, minutes) {
        (Some(Amount::LengthM(length)), _) => Some(Extent::Length(length.get())),
        (Some(Amount::Count(count)), _) => Some(Extent::Count(count)),
        (None, minutes) => minutes.map(Extent::Minutes),
    }
}

/// The same as amount or minutes.
pub(super) fn shares(extent: Option<Extent>) -> Done<(Option<Amount>, Option<i64>)> {
    Ok(match extent {
        Some(Extent::Length(um)) => (Some(Amount::LengthM(Metres(Micrometres::new(um)?))), None),
        Some(Extent::Count(count)) => (Some(Amount::Count(count)), None),
        Some(Extent::Minutes(minutes)) => (None, Some(minutes)),
        None => (None, None),
    })
}

/// What is agreed with an accepted quotation: its own lines, or those kept with a supplement.
pub(super) fn agreed_with(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
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
    for cost in &frozen.inside.costs {
        lines.push(Line {
            group: cost.group,
            name: cost.name.clone(),
            amount: cost.amount,
            minutes: cost.minutes,
            material: material_of(tx, cost.lot)?,
            cost: cost.cost,
            layer: 0,
        });
    }
    if lines.iter().all(|line| line.group != PriceGroup::Overhead) {
        // No rate held then: the agreed hours carry none, whatever holds now.
        let hours = lines.iter().filter_map(|line| line.minutes).sum();
        lines.push(Line {
            group: PriceGroup::Overhead,
            name: OVERHEAD.to_owned(),
            amount: None,
            minutes: Some(hours),
            material: None,
            cost: Micro(Millionths::ZERO),
            layer: 0,
        });
    }
    let own_minutes = frozen.inside.own_minutes;
    let groups = Group::of(context, &frozen.basis, own_minutes)?
        .into_iter()
        .collect();
    let layers = vec![Layer {
        quotation: quotation.id,
        group: 0,
    }];
    Ok(Agreed {
        rests_on: quotation.id,
        own_minutes,
        lines,
        layers,
        groups,
    })
}

const OVERHEAD: &str = "overhead";
