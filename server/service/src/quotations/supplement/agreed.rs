//! What is agreed of a plan, line by line, as it is kept.

use super::super::freeze::Frozen;
use crate::failure::Done;
use ellwand_contract::{Amount, Metres, Micro};
use ellwand_domain::{
    code::LotCode,
    pricing::{Extent, PlanLine, PriceGroup},
    quantity::{Micrometres, Millionths},
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
    #[serde(default)]
    material: Option<i64>,
    cost: Micro,
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
        }
    }

    pub(super) fn of(line: &PlanLine) -> Done<Self> {
        let (amount, minutes) = shares(line.extent)?;
        let PlanLine { group, name, extent: _, material, cost, given: _ } = line;
        let (group, name, material) = (*group, name.clone(), *material);
        Ok(Self { group, name, amount, minutes, material, cost: Micro(*cost) })
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
pub(super) fn agreed_with(tx: &mut Tx<'_>, frozen: Frozen, quotation: &Quotation) -> Done<Agreed> {
    if let Some(agreed) = frozen.agreed {
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
        });
    }
    Ok(Agreed { rests_on: quotation.id, own_minutes: frozen.inside.own_minutes, lines })
}

const OVERHEAD: &str = "overhead";
