//! What a garment is planned to cost: what was kept of it when it was cut or given up, what is promised, and for what is
//! still open the need's own estimate, else the best pieces of the shelf. Work at the rates of one day.

use super::{Costs, internal, kept::Kept, known, of_lot};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
    money::rates::{self, Rates, hour},
    promises::{
        self, Filled,
        candidates::{self, Answered},
    },
    shelf::shelved::{LotRecord, Shelved},
};
use chrono::NaiveDate;
use ellwand_contract::garments::NeedCandidates;
use ellwand_domain::{
    certainty::Certainty,
    code::LayCode,
    costing::{CostItem, Extent, PriceGroup, planned_overhead},
    ledger::Quantity,
    need::Estimate,
    quantity::Millionths,
    setting::GarmentState,
};
use ellwand_storage::{Garment, Tx};

/// Which plan is asked for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PlanOf {
    /// The day whose rates count; none: that on which work was first logged, else today, so that what is logged later changes
    /// nothing of the plan.
    pub(crate) day: Option<NaiveDate>,
    /// Own hours by the year's figures before the pay rate, as a price counts them.
    pub(crate) figures_first: bool,
}

/// Everything that is planned.
pub(crate) fn plan(desk: &mut Desk<'_>, garment: &Garment, of: PlanOf) -> Done<Costs> {
    let mut costs = Costs::default();
    materials(desk, garment, &mut costs)?;
    work(desk, garment, of, &mut costs)?;
    Ok(costs)
}

/// The plan of a need.
pub(super) struct NeedPlan {
    pub(super) need: NeedRecord,
    /// What was kept of it.
    kept: Vec<CostItem>,
    /// What promises hold of it, as the book stands.
    pub(super) promised: Vec<CostItem>,
    /// Units that are open, and what is planned for them; unpriced where nothing is known.
    pub(super) units: i64,
    pub(super) open: Vec<CostItem>,
    /// Why the shelf gives no price, where it was asked.
    why_not: Option<String>,
}

impl NeedPlan {
    /// The needs of a garment, in their order.
    pub(super) fn of_garment(desk: &mut Desk<'_>, garment: &Garment) -> Done<Vec<Self>> {
        let kept = Kept::read(desk, garment.id)?;
        let in_hand = matches!(garment.state, GarmentState::Planned | GarmentState::CutInto);
        let mut worth = promises::Costs::default();
        let mut plans = Vec::new();
        for row in desk.tx.needs(garment.id)? {
            let need = NeedRecord::load(desk, row, garment)?;
            plans.push(Self::read(desk, need, &kept, &mut worth, in_hand)?);
        }
        let of_shelf = |plan: &&Self| in_hand && plan.units > 0 && plan.need.row.estimate.is_none();
        let asked: Vec<_> = plans
            .iter()
            .filter(of_shelf)
            .map(|plan| &plan.need)
            .collect();
        let mut found = match asked.is_empty() {
            true => Vec::new(),
            false => candidates::for_needs(desk, garment, &asked)?,
        }
        .into_iter();
        for plan in plans.iter_mut().filter(|plan| plan.units > 0) {
            let found = found.by_ref().take(usize::from(of_shelf(&&*plan))).next();
            plan.why_not = found.as_ref().map(|found| why_not(&found.view));
            plan.open = match found.filter(|found| !found.view.picks.is_empty()) {
                Some(found) => plan.picked(desk, &found)?,
                None => vec![plan.estimated(desk.context, garment)?],
            };
        }
        Ok(plans)
    }

    /// What was kept of it and what is promised. Of a garment that is finished or given up the rest is open only where nothing
    /// was kept.
    fn read(
        desk: &mut Desk<'_>,
        need: NeedRecord,
        kept: &Kept,
        worth: &mut promises::Costs,
        in_hand: bool,
    ) -> Done<Self> {
        let kept = kept.of(desk, &need.row)?;
        let mut promised = Vec::new();
        let filled = Filled::read(desk, &need)?;
        for row in &filled.active {
            let shelved = Shelved::load_row(desk, row.piece_id)?;
            let value = worth.of(desk, row, &need, &shelved)?;
            // A promise of nothing plans nothing.
            if row.held > 0 {
                let mut item = of_lot(&need.row.role, &shelved.record, row.held, value);
                let by = by_lay(row.lay_id.map(LayCode::new));
                item.of.iter_mut().for_each(|of| of.push_str(&by));
                promised.push(item);
            }
        }
        let is_open = !need.row.dropped && (in_hand || (kept.is_empty() && promised.is_empty()));
        Ok(Self {
            units: if is_open { filled.open() } else { 0 },
            need,
            kept,
            promised,
            open: Vec::new(),
            why_not: None,
        })
    }

    /// What is known of it, each lot once.
    fn known(&mut self) -> Done<Vec<CostItem>> {
        let known = self.kept.drain(..).chain(self.promised.drain(..));
        let mut known = CostItem::together(known, |one, other| one.lots == other.lots)?;
        for item in &mut known {
            item.feature.clone_from(&self.need.row.detail);
        }
        Ok(known)
    }

    fn item(&self, value: Millionths) -> CostItem {
        CostItem {
            feature: self.need.row.detail.clone(),
            certainty: Certainty::Estimated,
            ..CostItem::new(PriceGroup::Materials, &self.need.row.role, value)
        }
    }

    /// The need's estimate is of one garment; what is open of the batch takes its share.
    fn estimated(&self, context: &Context<'_>, garment: &Garment) -> Done<CostItem> {
        let Some(each) = self.need.row.estimate.map(Millionths::new).transpose()? else {
            return Ok(CostItem {
                of: vec!["nothing promised yet".to_owned()],
                priced: false,
                ..self.item(Millionths::ZERO)
            });
        };
        let all = each.share(garment.count, 1)?;
        let estimate = self.need.plan.estimate.as_deref().map(Estimate::parse);
        let takes = estimate.transpose()?.and_then(|estimate| estimate.takes);
        let unit = match (takes, &self.need.demand, self.need.per_unit) {
            (Some(takes), ..) => takes.get(),
            (None, Some(demand), _) => demand.shown()?.map_or(0, |entry| entry.length.get()),
            (None, None, quantity) => quantity.map_or(0, Quantity::get),
        };
        let quantity = unit.saturating_mul(self.units);
        let basis = match garment.count {
            1 => "estimate".to_owned(),
            count => format!("estimate, {count} × {}", context.printed(each)),
        };
        Ok(CostItem {
            of: vec![basis],
            extent: (quantity > 0).then(|| Extent::of_material(self.need.counted, quantity)),
            ..self.item(all.share(self.units, self.need.row.units.max(1))?)
        })
    }

    /// What the picks of the shelf would cost.
    fn picked(&self, tx: &mut Tx<'_>, found: &Answered) -> Done<Vec<CostItem>> {
        let view = &found.view;
        let mut items = Vec::with_capacity(view.picks.len());
        for (pick, taking) in view.picks.iter().zip(&found.takings) {
            let serves = view.serve.iter().find(|serves| serves.piece == pick.piece);
            let serves = serves.ok_or_else(|| internal("a picked piece is no candidate"))?;
            let lot = LotRecord::load(tx, serves.piece.lot.get())?;
            let item = of_lot(&view.role, &lot, taking.quantity, taking.cost);
            let known = known(&lot, item.certainty);
            items.push(CostItem {
                of: vec![format!(
                    "{} {}{known}{}, not promised",
                    serves.piece,
                    serves.name,
                    by_lay(serves.lay)
                )],
                certainty: item.certainty.max(Certainty::Estimated),
                priced: item.priced,
                lots: item.lots,
                material: item.material,
                extent: item.extent,
                ..self.item(item.value)
            });
        }
        Ok(items)
    }

    /// Says what of it has no price.
    fn miss(&self, context: &Context<'_>, costs: &mut Costs) {
        let of = self.need.row.units;
        let share = match self.units < of {
            true => format!(", {} of {of}", self.units),
            false => String::new(),
        };
        let amount = self.need.amount_text(context);
        let why = match &self.why_not {
            Some(why) => format!("{amount}; {why}"),
            None => amount,
        };
        costs.miss(PriceGroup::Materials, &self.need.row.role, share, why);
    }
}

/// `, by Y7`, for what goes by a kept lay.
fn by_lay(lay: Option<LayCode>) -> String {
    lay.map_or_else(String::new, |lay| format!(", by {lay}"))
}

/// Why nothing of the shelf was picked.
fn why_not(found: &NeedCandidates) -> String {
    match (&found.undecided, found.serve.is_empty()) {
        (Some(undecided), _) => undecided.clone(),
        (None, true) => "nothing on the shelf serves it".to_owned(),
        (None, false) => "the shelf has too little of it".to_owned(),
    }
}

fn materials(desk: &mut Desk<'_>, garment: &Garment, costs: &mut Costs) -> Done<()> {
    for mut plan in NeedPlan::of_garment(desk, garment)? {
        costs.items.extend(plan.known()?);
        if plan
            .open
            .iter()
            .any(|item| !item.priced && item.lots.is_empty())
        {
            plan.miss(desk.context, costs);
        }
        costs.items.append(&mut plan.open);
    }
    let unknown = |item: &&CostItem| !item.priced && !item.lots.is_empty();
    let unknown: Vec<CostItem> = costs.items.iter().filter(unknown).cloned().collect();
    for item in &unknown {
        costs.miss_price(desk.context, item)?;
    }
    Ok(())
}

/// Work and the overhead on it.
fn work(desk: &mut Desk<'_>, garment: &Garment, of: PlanOf, costs: &mut Costs) -> Done<()> {
    let day = match of.day {
        Some(day) => day,
        None => begun(desk, garment)?,
    };
    let (mut billable, mut rates) = (0_i64, Rates::default());
    for row in desk.tx.operations(garment.id)? {
        let whose = (row.person_id, row.kind);
        let mut hour_of = hour(desk, &mut rates, whose, day, of.figures_first)?;
        if hour_of.rate()?.is_none() && of.day.is_none() {
            hour_of = hour(
                &mut desk.tx,
                &mut rates,
                whose,
                desk.context.today,
                of.figures_first,
            )?;
        }
        let rate = hour_of.rate()?;
        let person = rates.name(desk, row.person_id)?.to_owned();
        let value = match rate.filter(|_| row.billable) {
            Some(rate) => rate.of(row.minutes)?,
            None => Millionths::ZERO,
        };
        if row.billable {
            billable = billable.saturating_add(row.minutes);
        }
        let priced = rate.is_some() || !row.billable;
        if !priced {
            let why = format!("{person} has no pay rate");
            costs.miss(hour_of.group(), &row.name, String::new(), why);
        }
        costs.items.push(CostItem {
            of: vec![person],
            extent: Some(Extent::Minutes(row.minutes)),
            billable: row.billable,
            feature: row.detail,
            certainty: Certainty::Estimated,
            priced,
            ..CostItem::new(hour_of.group(), &row.name, value)
        });
    }
    let mut rate = rates::overhead(desk, day)?;
    if rate.is_none() && of.day.is_none() {
        rate = rates::overhead(&mut desk.tx, desk.context.today)?;
    }
    if billable > 0 {
        match rate {
            Some(rate) => costs.items.push(CostItem {
                certainty: Certainty::Estimated,
                ..planned_overhead(billable, &rate).map_err(internal)?
            }),
            None => costs.notes.push(format!(
                "no overhead rate applies on {day}: the hours carry no overhead"
            )),
        }
    }
    Ok(())
}

/// The day on which work was first logged, whatever day it is of; today before that.
fn begun(desk: &mut Desk<'_>, garment: &Garment) -> Done<NaiveDate> {
    let first = desk
        .tx
        .work(garment.id)?
        .iter()
        .map(|entry| entry.booking_id)
        .min();
    let booking = first
        .map(|first| desk.tx.booking(first))
        .transpose()?
        .flatten();
    Ok(booking.map_or(desk.context.today, |booking| {
        desk.context.day_of(booking.booked_at)
    }))
}
