//! What moved of each kind of material: whole months from their totals, single days from the ledger.

use crate::desk::failure::Done;
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem, ProblemType,
    month::{MonthGoods, NetAmount, NetMetres, NetMoved, WentTo},
};
use ellwand_domain::{
    month::{Flow, KindMonth, Moved, Parts, Period, goods, in_garments},
    quantity::Millionths,
    setting::TrimUnit,
};
use ellwand_storage::Tx;
use std::collections::BTreeMap;

/// What moved before a period and in it.
pub(super) struct Goods {
    before: Vec<Flow>,
    during: Vec<Flow>,
    kinds: Vec<KindMonth>,
}

fn flows(tx: &mut Tx<'_>, parts: &Parts) -> Done<Vec<Flow>> {
    let mut flows = match parts.months {
        Some((first, last)) => tx.flows_of_months(first, last)?,
        None => Vec::new(),
    };
    for days in &parts.days {
        let found = tx.flows_of_days(days.first, days.last)?;
        flows.extend(found.into_iter().map(|found| found.flow));
    }
    Ok(flows)
}

/// What lay on the shelf of each kind at the end of a day.
pub(crate) fn stock_at_end_of(tx: &mut Tx<'_>, day: NaiveDate) -> Done<Vec<KindMonth>> {
    let day = Period {
        first: day,
        last: day,
    };
    Ok(Goods::read(tx, day)?.kinds)
}

pub(crate) fn fault(error: impl std::fmt::Display) -> Problem {
    Problem::new(ProblemType::Internal, error.to_string())
}

impl Goods {
    pub(super) fn read(tx: &mut Tx<'_>, period: Period) -> Done<Self> {
        let before = flows(tx, &period.before())?;
        let during = flows(tx, &period.parts())?;
        let kinds = goods(&before, &during).map_err(fault)?;
        Ok(Self {
            before,
            during,
            kinds,
        })
    }

    pub(super) fn rows(&self) -> Done<Vec<MonthGoods>> {
        self.kinds.iter().map(row).collect()
    }

    /// All that lies on the shelf at the end.
    pub(super) fn shelf_value(&self) -> Done<Micro> {
        let values = self
            .kinds
            .iter()
            .map(|kind| Millionths::new(kind.at_end.value));
        let values = values.collect::<Result<Vec<_>, _>>()?;
        Ok(Micro(Millionths::sum(values)?))
    }

    /// What suppliers charged or credited for goods that were used up by then.
    pub(super) fn late_charges(&self) -> Done<Micro> {
        let mut sum = Millionths::ZERO;
        for flow in self.during.iter().filter(|flow| flow.kind.is_none()) {
            let value = Millionths::new(flow.value)?;
            if flow.from.is_source() {
                sum = sum.plus(value)?;
            } else if flow.to.is_source() {
                sum = sum.minus(value)?;
            }
        }
        Ok(Micro(sum))
    }

    /// What the goods in garments that are not delivered did cost.
    pub(super) fn in_garments(&self) -> Done<Micro> {
        let before = Millionths::new(in_garments(&self.before).map_err(fault)?)?;
        let during = Millionths::new(in_garments(&self.during).map_err(fault)?)?;
        Ok(Micro(before.plus(during)?))
    }
}

pub(crate) fn net(unit: TrimUnit, quantity: i64) -> NetAmount {
    match unit {
        TrimUnit::Count => NetAmount::Count(quantity),
        TrimUnit::Length => NetAmount::LengthM(NetMetres(quantity)),
    }
}

fn row(kind: &KindMonth) -> Done<MonthGoods> {
    let moved = |moved: &Moved| -> Done<NetMoved> {
        Ok(NetMoved {
            amount: net(kind.unit, moved.quantity),
            value: Some(Micro(Millionths::new(moved.value)?)),
        })
    };
    let went = kind.went.iter().filter(|(_, sum)| !sum.is_zero());
    Ok(MonthGoods {
        kind: kind.kind,
        unit: kind.unit,
        at_start: moved(&kind.at_start)?,
        opening: moved(&kind.opening)?,
        bought: moved(&kind.bought)?,
        came_in: moved(&kind.came_in().map_err(fault)?)?,
        used: moved(&kind.used)?,
        went: went
            .map(|(place, sum)| {
                Ok(WentTo {
                    place: *place,
                    moved: moved(sum)?,
                })
            })
            .collect::<Done<_>>()?,
        elsewhere: moved(&kind.elsewhere().map_err(fault)?)?,
        strips: net(kind.unit, kind.strips),
        at_end: moved(&kind.at_end)?,
    })
}

/// Totals of a month or a year: flows in one order, and by how much the pieces of each material grew; what comes to nothing is left out.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Totals {
    pub(crate) flows: Vec<Flow>,
    pub(crate) stock: BTreeMap<i64, i64>,
}

impl Totals {
    /// As they are kept, of the months between two first days.
    pub(crate) fn kept(tx: &mut Tx<'_>, first: NaiveDate, last: NaiveDate) -> Done<Self> {
        let mut kept = Self::default();
        for flow in tx.flows_of_months(first, last)? {
            kept.add(flow);
        }
        kept.stock = tx.stock_of_months(first, last, true)?.into_iter().collect();
        kept.settle();
        Ok(kept)
    }

    /// As the ledger gives them.
    pub(crate) fn booked(tx: &mut Tx<'_>, period: Period) -> Done<Self> {
        let mut booked = Self::default();
        for found in tx.flows_of_days(period.first, period.last)? {
            if let Some(material) = found.material {
                booked.grow(material, found.flow.growth());
            }
            booked.add(found.flow);
        }
        booked.settle();
        Ok(booked)
    }

    /// With those of another month.
    pub(crate) fn plus(mut self, other: &Self) -> Self {
        for flow in &other.flows {
            self.add(*flow);
        }
        for (material, grown) in &other.stock {
            self.grow(*material, *grown);
        }
        self.settle();
        self
    }

    fn grow(&mut self, material: i64, grown: i64) {
        let sum = self.stock.entry(material).or_default();
        *sum = sum.saturating_add(grown);
    }

    fn add(&mut self, flow: Flow) {
        let way = |flow: &Flow| (flow.kind, flow.unit, flow.from, flow.to);
        match self.flows.iter_mut().find(|known| way(known) == way(&flow)) {
            Some(known) => {
                known.quantity_out = known.quantity_out.saturating_add(flow.quantity_out);
                known.quantity_in = known.quantity_in.saturating_add(flow.quantity_in);
                known.value = known.value.saturating_add(flow.value);
            }
            None => self.flows.push(flow),
        }
    }

    fn settle(&mut self) {
        self.stock.retain(|_, grown| *grown != 0);
        self.flows
            .sort_by_key(|flow| (flow.kind, flow.unit, flow.from, flow.to));
    }
}
