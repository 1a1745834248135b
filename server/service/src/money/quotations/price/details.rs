//! What each detail of a garment adds to a price.

use crate::money::quotations::{
    ask::Asked,
    base::{Base, minor as minor_of},
    freeze::Wish,
    internal,
    price::Priced,
};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::{
        need::{NeedRecord, load_needs},
        operation::is_same,
        seams::Planned,
    },
    money::costs::Missing,
};
use ellwand_contract::{Micro, options::AddedByDetail};
use ellwand_domain::{
    costing::{CostItem, LineKind},
    pricing::{PriceBase, PriceGroup, PriceRule},
    quantity::{Millionths, Minutes},
};
use ellwand_storage::{Garment, Tx};

/// What belongs to a detail.
#[derive(Default)]
struct Own {
    name: String,
    /// Roles of its needs and names of its operations.
    names: Vec<String>,
    minutes: i64,
    billable: i64,
    /// Threads that its seams take a share of.
    threads: Vec<ThreadShare>,
}

/// What the seams of a detail take of a thread whose length comes from the seam plan.
struct ThreadShare {
    role: String,
    /// Micrometres for one garment.
    part: i64,
    /// All seams' together, above zero.
    whole: i64,
}

/// The details of a garment in the order of its plan, and all its billable minutes.
struct Details {
    all: Vec<Own>,
    billable: i64,
}

impl Details {
    fn read(tx: &mut Tx<'_>, garment: &Garment, source: &[CostItem]) -> Done<Self> {
        let mut details = Self {
            all: Vec::new(),
            billable: 0,
        };
        for need in load_needs(tx, garment)? {
            details.add(need.row.detail.as_deref(), need.row.role, 0, 0);
        }
        // Mistakes are losses: nothing of a price.
        let work = |item: &&CostItem| item.kind() == LineKind::Labour && !item.is_lost();
        for item in source.iter().filter(work) {
            let billable = if item.billable { item.minutes() } else { 0 };
            details.add(
                item.feature.as_deref(),
                item.name.clone(),
                item.minutes(),
                billable,
            );
        }
        details.add_seams(tx, garment)?;
        Ok(details)
    }

    /// What the seams of each detail take of threads that are not a detail's own.
    fn add_seams(&mut self, tx: &mut Tx<'_>, garment: &Garment) -> Done<()> {
        let planned = Planned::load(tx, garment.id)?;
        for name in planned
            .inputs
            .iter()
            .filter_map(|seam| seam.detail.as_deref())
        {
            self.own(name);
        }
        let shared = |need: &NeedRecord| need.plan.seams() && need.row.detail.is_none();
        for need in load_needs(tx, garment)?.into_iter().filter(shared) {
            let role = need.row.role;
            let Some(whole) = planned.thread(&role, |_| true)? else {
                continue;
            };
            for own in &mut self.all {
                let of =
                    |detail: Option<&str>| detail.is_some_and(|detail| is_same(detail, &own.name));
                if let Some(part) = planned.thread(&role, |seam| of(seam.detail.as_deref()))? {
                    own.threads.push(ThreadShare {
                        role: role.clone(),
                        part: part.get(),
                        whole: whole.get(),
                    });
                }
            }
        }
        Ok(())
    }

    fn add(&mut self, detail: Option<&str>, name: String, minutes: i64, billable: i64) {
        self.billable = self.billable.saturating_add(billable);
        let Some(own) = detail.and_then(|detail| self.own(detail)) else {
            return;
        };
        own.minutes = own.minutes.saturating_add(minutes);
        own.billable = own.billable.saturating_add(billable);
        own.names.push(name);
    }

    /// The detail of a name, made where it is new.
    fn own(&mut self, name: &str) -> Option<&mut Own> {
        let known = self.all.iter().position(|own| is_same(&own.name, name));
        let place = known.unwrap_or_else(|| {
            self.all.push(Own {
                name: name.to_owned(),
                ..Own::default()
            });
            self.all.len().saturating_sub(1)
        });
        self.all.get_mut(place)
    }
}

/// What each detail costs and adds, worked out on the amounts that are printed.
pub(super) fn added(
    desk: &mut Desk<'_>,
    garment: &Garment,
    wish: &Wish,
    asked: &Asked,
    (base, priced): (&Base, &Priced),
) -> Done<Vec<AddedByDetail>> {
    let details = Details::read(desk, garment, &base.source)?;
    let mut all = Vec::with_capacity(details.all.len());
    for own in &details.all {
        let part = part(desk.context, base, own, details.billable)?;
        let without = base.price.without(&part).map_err(internal)?;
        let total = priced.taxed.total;
        let (mut net, mut gross) = (0, 0);
        let nothing_left = without.floor().map_err(internal)?.is_zero();
        if !nothing_left || matches!(asked.terms.rule, PriceRule::Fixed(_)) {
            let rest = Base::of(without);
            let less = Priced::work_out(desk.context, &rest, asked, (&wish.price, &wish.stage))?;
            (net, gross) = (less.taxed.total.net, less.taxed.total.gross);
        }
        let money = |minor| desk.context.currency.money(minor).to_millionths();
        let hour_without = without.hour_at(money(net)?).map_err(internal)?;
        let labour = part.paid_labour.plus(part.own_pay)?;
        all.push(AddedByDetail {
            detail: own.name.clone(),
            minutes: own.minutes,
            materials: Micro(part.materials),
            labour: Micro(labour),
            overhead: Micro(part.overhead),
            cost: Micro(part.floor().map_err(internal)?),
            net: Micro(money(total.net.saturating_sub(net))?),
            gross: Micro(money(total.gross.saturating_sub(gross))?),
            hour_without: hour_without.map(Micro),
            not_priced: not_priced(base, own),
            note: note(asked),
        });
    }
    Ok(all)
}

/// The part of a base that belongs to a detail: its own lines as printed, its seams' share of threads, and its share of the
/// overhead.
fn part(context: &Context<'_>, base: &Base, own: &Own, billable: i64) -> Done<PriceBase> {
    let (mut part, mut overhead) = (PriceBase::default(), Millionths::ZERO);
    let mut minutes = 0_i64;
    for item in &base.costs {
        let printed = context.currency.money(item.printed).to_millionths()?;
        let of =
            |thread: &&ThreadShare| item.group == PriceGroup::Materials && item.name == thread.role;
        if item.group == PriceGroup::Overhead {
            overhead = overhead.plus(printed)?;
        } else if belongs(item, own) {
            part.add(item.group, printed)?;
            if item.group == PriceGroup::OwnLabour {
                minutes = minutes.saturating_add(item.minutes());
            }
        }
        for thread in own.threads.iter().filter(of) {
            let share = minor_of(context, printed.share(thread.part, thread.whole)?)?;
            part.materials = part.materials.plus(share)?;
        }
    }
    if own.billable > 0 {
        part.overhead = minor_of(context, overhead.share(own.billable, billable)?)?;
    }
    part.own_minutes = Minutes::new(minutes)?;
    // What spoiled ones still fetch is off the materials as a whole: no part of them is more than is left.
    part.materials = part.materials.min(base.price.materials);
    Ok(part)
}

fn belongs(item: &CostItem, own: &Own) -> bool {
    item.feature
        .as_deref()
        .is_some_and(|detail| is_same(detail, &own.name))
}

/// What has no price of the roles and operations of the detail.
fn not_priced(base: &Base, own: &Own) -> Vec<String> {
    let of_detail = |missing: &&Missing| own.names.contains(&missing.name);
    base.missing
        .iter()
        .filter(of_detail)
        .map(Missing::text)
        .collect()
}

fn note(asked: &Asked) -> Option<String> {
    let text = match (asked.terms.rule, asked.charm) {
        (PriceRule::Fixed(_), _) => {
            "the price is given: a detail adds nothing to it, the hour earns less"
        }
        (_, Some(_)) => "the price is rounded up: a detail adds whole steps, or nothing",
        _ => return None,
    };
    Some(text.to_owned())
}
