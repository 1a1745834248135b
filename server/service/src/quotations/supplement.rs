//! Supplementary quotations: what a customer's later change costs on top of what was agreed.
//!
//! One is open at a time, and each rests on what was accepted before it, so that they are taken back in the opposite order.

use super::{
    cash,
    costs::Base,
    freeze::{Frozen, Wish},
    internal, row, show,
};
use crate::{
    context::Context,
    failure::{Done, Failure, invalid, wrong_state},
    garments::{need::load_needs, operation::is_same},
};
use ellwand_contract::{
    Amount, Metres, Micro,
    quotations::{CustomerSheet, PriceInput, QuotedCost, Supplement, Together},
};
use ellwand_domain::{
    certainty::Certainty,
    code::{BookingCode, GarmentCode, LotCode, QuotationCode},
    pricing::{ChangedLine, Difference, Extent, PlanLine, PriceGroup, plan_change},
    quantity::{Currency, Micrometres, Millionths, Minutes, Money},
    setting::{BookingKind, PriceFrom, QuotationState},
};
use ellwand_storage::{Garment, Quotation, QuotationVersion, Subject, Tx};
use serde::{Deserialize, Serialize};

/// What is agreed of a plan: kept with a supplement as it is once that is accepted.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Agreed {
    /// The quotation that it was priced against: the last one accepted before it.
    pub(super) rests_on: i64,
    pub(super) own_minutes: i64,
    lines: Vec<Line>,
}

/// A line of it.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Line {
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
    fn read(&self) -> PlanLine {
        PlanLine {
            group: self.group,
            name: self.name.clone(),
            extent: extent(self.amount, self.minutes),
            material: self.material,
            cost: self.cost.0,
            given: false,
        }
    }

    fn of(line: &PlanLine) -> Done<Self> {
        let (amount, minutes) = shares(line.extent)?;
        let PlanLine { group, name, extent: _, material, cost, given: _ } = line;
        let (group, name, material) = (*group, name.clone(), *material);
        Ok(Self { group, name, amount, minutes, material, cost: Micro(*cost) })
    }
}

/// The material of a lot that was priced.
fn material_of(tx: &mut Tx<'_>, lot: Option<LotCode>) -> Done<Option<i64>> {
    let Some(lot) = lot else { return Ok(None) };
    Ok(tx.lot(lot.get())?.map(|lot| lot.material_id))
}

fn extent(amount: Option<Amount>, minutes: Option<i64>) -> Option<Extent> {
    match (amount, minutes) {
        (Some(Amount::LengthM(length)), _) => Some(Extent::Length(length.get())),
        (Some(Amount::Count(count)), _) => Some(Extent::Count(count)),
        (None, minutes) => minutes.map(Extent::Minutes),
    }
}

/// The same as amount or minutes.
fn shares(extent: Option<Extent>) -> Done<(Option<Amount>, Option<i64>)> {
    Ok(match extent {
        Some(Extent::Length(um)) => (Some(Amount::LengthM(Metres(Micrometres::new(um)?))), None),
        Some(Extent::Count(count)) => (Some(Amount::Count(count)), None),
        Some(Extent::Minutes(minutes)) => (None, Some(minutes)),
        None => (None, None),
    })
}

const fn stands(row: &Quotation) -> bool {
    matches!(row.state.0, QuotationState::Open | QuotationState::Accepted)
}

/// The accepted quotation that a supplement is asked for, and how it is priced where nothing is said: by the same rule.
pub(super) fn check(
    tx: &mut Tx<'_>,
    to: QuotationCode,
    garment: GarmentCode,
    wish: &mut Wish,
) -> Done<Quotation> {
    let base = row(tx, to)?;
    let field = "supplement_to";
    if base.garment_id != garment.get() {
        let detail = format!("{to} is for {}, not for {garment}", GarmentCode::new(base.garment_id));
        return Err(invalid(field, detail));
    }
    if let Some(first) = base.supplement_to {
        let first = QuotationCode::new(first);
        return Err(invalid(field, format!("{to} supplements {first} itself; supplement {first}")));
    }
    if base.state.0 != QuotationState::Accepted {
        let hint = match base.state.0 {
            QuotationState::Open => "it can still be made again with ellwand quote again",
            _ => "make a quotation of its own",
        };
        return Err(wrong_state(format!("{to} is {}, so nothing of it is agreed", base.state.0), hint));
    }
    if let Some(open) = tx.supplements(base.id)?.iter().find(|row| row.state.0 == QuotationState::Open) {
        let detail = format!("{} supplements {to} and is still open", QuotationCode::new(open.id));
        return Err(wrong_state(detail, "make that one again with ellwand quote again, or close it"));
    }
    let agreed = show::agreed(tx, &base)?;
    if wish.from == PriceFrom::Actual || agreed.inside.from == PriceFrom::Actual {
        let detail = "a change is priced from the plan, not from what the garment did cost";
        return Err(invalid("from", detail));
    }
    if wish.price == PriceInput::default() {
        let version = super::version_of(tx, &base, base.accepted.unwrap_or(base.version))?;
        let first: Wish = serde_json::from_str(&version.asked).map_err(internal)?;
        let chosen = base.accepted_option.as_deref();
        let option =
            first.options.iter().find(|option| chosen.is_some_and(|name| is_same(&option.name, name)));
        let price = option.and_then(|option| option.price.clone()).unwrap_or(first.price);
        if price.price.is_some() {
            let detail = format!("{to} has a given price, which says nothing of a change");
            return Err(invalid("price", format!("{detail}; say how the change is priced")));
        }
        // What was typed for one material or the handling was for the whole.
        wish.price = PriceInput { material_price: Vec::new(), handling: None, ..price };
    }
    wish.supplement_to = Some(base.id);
    Ok(base)
}

/// The last accepted quotation of a chain: what is agreed stands in it.
fn last_accepted(tx: &mut Tx<'_>, base: i64) -> Done<Quotation> {
    let accepted = |row: &Quotation| row.state.0 == QuotationState::Accepted;
    match tx.supplements(base)?.into_iter().rfind(accepted) {
        Some(last) => Ok(last),
        None => row(tx, QuotationCode::new(base)),
    }
}

/// Refuses a supplement that rests on what is not agreed any more.
pub(crate) fn rests(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    let Some(base) = quotation.supplement_to else { return Ok(()) };
    let agreed = show::frozen(tx, quotation, quotation.version)?.agreed.map(|agreed| agreed.rests_on);
    let last = last_accepted(tx, base)?;
    if last.state.0 == QuotationState::Accepted && agreed == Some(last.id) {
        return Ok(());
    }
    let (code, base) = (QuotationCode::new(quotation.id), QuotationCode::new(base));
    let detail = format!("{code} was priced on top of what was agreed with {base}, and that has changed");
    Err(wrong_state(detail, "close it and supplement what is agreed now"))
}

/// Bookings of a garment that are looked at for a change of its plan.
const LOOKED_AT: i64 = 1_000;

/// Refuses a supplement where the plan was changed again since it was priced: it would be paid for what is not made.
pub(super) fn as_planned(tx: &mut Tx<'_>, quotation: &Quotation, version: &QuotationVersion) -> Done<()> {
    if quotation.supplement_to.is_none() {
        return Ok(());
    }
    let of = Some((Subject::Garment, quotation.garment_id));
    let newest = tx.bookings(of, i64::MAX, LOOKED_AT)?;
    let mut later = None;
    for booking in newest.into_iter().take_while(|booking| booking.id > version.booking_id) {
        // What was taken back since then and was planned before it is a change, too.
        let changed = match booking.undoes {
            Some(undone) if undone < version.booking_id => tx.booking(undone)?,
            Some(_) => None,
            None if tx.undone_by(booking.id)?.is_some() => None,
            None => Some(booking.clone()),
        };
        if changed.is_some_and(|changed| changed.kind.0 == BookingKind::Planned) {
            later = Some(booking);
        }
    }
    let Some(later) = later else { return Ok(()) };
    let detail = format!(
        "the plan of {} was changed again in {}, after {} had been priced",
        GarmentCode::new(quotation.garment_id),
        BookingCode::new(later.id),
        QuotationCode::new(quotation.id)
    );
    Err(wrong_state(detail, "price it anew with ellwand quote again, or close it"))
}

/// The newest quotation that stands and rests on this one: a supplement of it, or one after it.
pub(crate) fn resting_on(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Option<QuotationCode>> {
    let rows = tx.supplements(quotation.supplement_to.unwrap_or(quotation.id))?;
    let later = rows.into_iter().rfind(|row| row.id > quotation.id && stands(row));
    Ok(later.map(|row| QuotationCode::new(row.id)))
}

/// Another supplement of the same quotation that is open.
pub(crate) fn open_beside(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<Option<QuotationCode>> {
    let Some(base) = quotation.supplement_to else { return Ok(None) };
    let open = |row: &Quotation| row.id != quotation.id && row.state.0 == QuotationState::Open;
    Ok(tx.supplements(base)?.into_iter().find(open).map(|row| QuotationCode::new(row.id)))
}

/// Refuses to end what others rest on.
pub(super) fn check_free(tx: &mut Tx<'_>, quotation: &Quotation) -> Done<()> {
    let Some(later) = resting_on(tx, quotation)? else { return Ok(()) };
    let code = QuotationCode::new(quotation.id);
    let hint =
        format!("close that one first, with what is kept of its payments: ellwand quote close {later}");
    Err(wrong_state(format!("{later} supplements what was agreed with {code}"), &hint))
}

/// What is agreed with an accepted quotation: its own lines, or those kept with a supplement.
fn agreed_with(tx: &mut Tx<'_>, frozen: Frozen, quotation: &Quotation) -> Done<Agreed> {
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

/// What was accepted of a quotation and its supplements, oldest first.
pub(super) fn accepted(tx: &mut Tx<'_>, base: i64) -> Done<Vec<(Quotation, Frozen)>> {
    let mut rows = vec![row(tx, QuotationCode::new(base))?];
    rows.extend(tx.supplements(base)?);
    rows.retain(|row| row.state.0 == QuotationState::Accepted);
    let mut all = Vec::with_capacity(rows.len());
    for row in rows {
        let agreed = show::agreed(tx, &row)?;
        all.push((row, agreed));
    }
    Ok(all)
}

/// Leaves of the costs of the plan what the change adds to what is agreed; what is agreed with it.
pub(super) fn reduce(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    wish: &Wish,
    to: i64,
    base: &mut Base,
) -> Done<Agreed> {
    let last = last_accepted(tx, to)?;
    let frozen = show::agreed(tx, &last)?;
    let sheets = accepted(tx, to)?.into_iter().map(|(_, frozen)| frozen.inside);
    let known: Vec<String> = sheets.flat_map(|sheet| sheet.not_priced).collect();
    let agreed = agreed_with(tx, frozen, &last)?;
    let lines: Vec<PlanLine> = agreed.lines.iter().map(Line::read).collect();
    let now = plan_now(tx, garment, wish, &lines, base)?;
    // What had no price then is not part of the change.
    base.not_missed_since(&known);
    let change = plan_change(&lines, &now).map_err(internal)?;
    let code = QuotationCode::new(to);
    let cost = change.cost()?;
    if change.lines.is_empty() && base.not_priced.is_empty() {
        return Err(nothing(garment, code, &change.unclear));
    }
    if cost.get() <= 0 {
        let detail = format!(
            "the change of {} comes to {} {}, which is nothing to pay",
            GarmentCode::new(garment.id),
            context.printed(cost),
            context.currency
        );
        let hint = format!(
            "leave {code} as it was agreed, or cancel it with ellwand quote close {code} and quote anew"
        );
        return Err(wrong_state(detail, &hint));
    }
    for name in &change.unclear {
        base.notes.push(format!(
            "how much more or less of the {name} it takes is not known: taken as agreed; price its change as a material \
             price or an operation of its own"
        ));
    }
    let own_minutes = base.price.own_minutes;
    base.price.own_minutes = Minutes::new(own_minutes.get().saturating_sub(agreed.own_minutes).max(0))?;
    let plan = std::mem::take(&mut base.costs);
    for changed in &change.lines {
        base.costs.extend(told(context, changed, &plan, code)?);
    }
    base.round(context)?;
    base.replaced = base.price;
    let lines = change.agreed.iter().map(Line::of).collect::<Done<_>>()?;
    Ok(Agreed { rests_on: last.id, own_minutes: own_minutes.get(), lines })
}

/// Refuses a change of nothing.
fn nothing(garment: &Garment, code: QuotationCode, unclear: &[String]) -> Failure {
    let garment = GarmentCode::new(garment.id);
    let detail = format!("nothing in the plan of {garment} costs more than was agreed with {code}");
    let hint = match unclear {
        [] => format!("change the plan first with ellwand garment edit {garment}"),
        [name, ..] => format!("price the change by hand, for example --material-price '{name}=12.00'"),
    };
    wrong_state(detail, &hint)
}

/// The plan's lines as they can be compared. A line that is in the plan but has no price, or not for all of it, is there with an
/// extent that is not known, so that it is not taken for gone.
fn plan_now(
    tx: &mut Tx<'_>,
    garment: &Garment,
    wish: &Wish,
    agreed: &[PlanLine],
    base: &Base,
) -> Done<Vec<PlanLine>> {
    let given: Vec<String> = wish
        .price
        .material_price
        .iter()
        .filter_map(|text| text.split_once('=').map(|(role, _)| role.trim().to_lowercase()))
        .collect();
    let mut now: Vec<PlanLine> = Vec::with_capacity(base.costs.len());
    for cost in &base.costs {
        let missing = base.is_missing(cost.group, &cost.name);
        now.push(PlanLine {
            group: cost.group,
            name: cost.name.clone(),
            extent: extent(cost.amount, cost.minutes).filter(|_| !missing),
            material: material_of(tx, cost.lot)?,
            cost: cost.cost.0,
            given: cost.group == PriceGroup::Materials && given.contains(&cost.name.to_lowercase()),
        });
    }
    let mut planned: Vec<(bool, String)> =
        load_needs(tx, garment)?.into_iter().map(|need| (true, need.row.role)).collect();
    planned.extend(tx.operations(garment.id)?.into_iter().map(|operation| (false, operation.name)));
    for line in agreed.iter().filter(|line| line.group != PriceGroup::Overhead) {
        let material = line.group == PriceGroup::Materials;
        let listed =
            now.iter().any(|now| now.name == line.name && (now.group == PriceGroup::Materials) == material);
        if !listed && planned.contains(&(material, line.name.clone())) {
            now.push(PlanLine { extent: None, cost: Millionths::ZERO, ..line.clone() });
        }
    }
    Ok(now)
}

/// A line of the change as the workshop reads it.
fn told(
    context: &Context<'_>,
    changed: &ChangedLine,
    plan: &[QuotedCost],
    code: QuotationCode,
) -> Done<Vec<QuotedCost>> {
    let PlanLine { group, name, extent, cost, .. } = &changed.line;
    let material = *group == PriceGroup::Materials;
    let own = |cost: &&QuotedCost| {
        cost.name == *name
            && (cost.group == PriceGroup::Materials) == material
            && (cost.group == PriceGroup::Overhead) == (*group == PriceGroup::Overhead)
    };
    let own: Vec<&QuotedCost> = plan.iter().filter(own).collect();
    if matches!(changed.difference, Difference::New | Difference::Given) {
        return Ok(own.into_iter().cloned().collect());
    }
    if cost.is_zero() && matches!(changed.difference, Difference::Less | Difference::Gone) {
        return Ok(Vec::new());
    }
    let (amount, minutes) = shares(*extent)?;
    let quantity = match extent {
        Some(Extent::Length(um)) => Some(Micrometres::new(*um)?.show(context.units())),
        Some(Extent::Count(count)) => Some(format!("{count} pcs")),
        Some(Extent::Minutes(minutes)) => Some(Minutes::new(*minutes)?.to_string()),
        None => None,
    };
    let sign = if changed.difference == Difference::More { "+" } else { "-" };
    let first = own.first();
    let detail = match changed.difference {
        Difference::More => first.map_or_else(String::new, |cost| format!("more of it: {}", cost.detail)),
        Difference::Less => format!("less than agreed with {code}"),
        _ => format!("agreed with {code}, and not in the plan any more"),
    };
    Ok(vec![QuotedCost {
        group: *group,
        name: name.clone(),
        detail,
        quantity: quantity.map(|quantity| format!("{sign}{quantity}")),
        amount,
        minutes,
        lot: first.filter(|_| changed.difference == Difference::More).and_then(|cost| cost.lot),
        of_detail: first.and_then(|cost| cost.of_detail.clone()),
        range: None,
        certainty: first.map_or(Certainty::Stated, |cost| cost.certainty),
        cost: Micro(*cost),
        printed: String::new(),
    }])
}

/// Minor units of a quotation and its accepted supplements.
#[derive(Default)]
struct InAll {
    agreed: i64,
    paid: i64,
    /// What was paid, with the roundings of cash.
    settled: i64,
}

fn in_all(tx: &mut Tx<'_>, base: i64) -> Done<InAll> {
    let mut all = InAll::default();
    for (quotation, frozen) in accepted(tx, base)? {
        let total = frozen.basis.schedule()?.total();
        all.agreed = all.agreed.saturating_add(total.minor);
        let logged = tx.payments(quotation.id)?;
        all.paid = logged.iter().fold(all.paid, |sum, payment| sum.saturating_add(payment.minor));
        all.settled = all.settled.saturating_add(cash::settled(&logged, total.currency).minor);
    }
    Ok(all)
}

/// What is agreed with a quotation and its accepted supplements, and what was paid on all of them.
pub(super) fn together(tx: &mut Tx<'_>, base: i64, currency: Currency) -> Done<Together> {
    let InAll { agreed, paid, settled } = in_all(tx, base)?;
    let money = |minor: i64| Money { minor, currency }.decimal();
    let left = agreed.saturating_sub(settled).max(0);
    Ok(Together { agreed: money(agreed), paid: money(paid), left: money(left) })
}

/// Says on the customer's sheet what it supplements, and what both come to.
pub(super) fn mark(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    to: i64,
    gross: i64,
    sheet: &mut CustomerSheet,
) -> Done<()> {
    let agreed = in_all(tx, to)?.agreed;
    let money = |minor: i64| Money { minor, currency: context.currency }.decimal();
    let to = QuotationCode::new(to);
    sheet.title = format!("Supplement to {to}: {}", sheet.title);
    let together = money(agreed.saturating_add(gross));
    sheet.supplement = Some(Supplement { to, agreed: money(agreed), together });
    Ok(())
}
