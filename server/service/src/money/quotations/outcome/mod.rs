//! What became of a quotation: planned, quoted and actual cost, and what the hours really earned.

mod actual;
mod answer;
mod earned;
mod lines;
mod standard;

use super::{base::Base, freeze::Frozen, internal, of_garment, quoted, row, show, supplement};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, wrong_state},
        perform::Perform,
    },
    garments::need::load_head,
    money::costs::{billed_late, booked},
};
use actual::Actual;
use ellwand_contract::{
    ProblemType,
    outcomes::{GetGarmentOutcome, GetOutcome, Outcome},
    quotations::{InternalSheet, PriceInput},
};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    costing::{Comparison, CostItem, Spoilage, Total, Variance},
    quantity::{Currency, Millionths},
    setting::{GarmentState, PriceFrom, QuotationState},
};
use ellwand_storage::{Garment, Quotation, Tx};
use lines::{Lines, Side};

impl Perform for GetOutcome {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Outcome, Failure> {
        let quotation = row(desk, self.quotation)?;
        if let Some(base) = quotation.supplement_to.map(QuotationCode::new) {
            let detail = format!(
                "{} supplements {base}, and its outcome is part of that one",
                self.quotation
            );
            return Err(wrong_state(
                detail,
                &format!("see ellwand quote outcome {base}"),
            ));
        }
        outcome_of(desk, &quotation)
    }
}

impl Perform for GetGarmentOutcome {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Outcome, Failure> {
        let garment = load_head(desk, self.garment)?;
        // Supplements are shown with what they come on top of.
        let Some(quotation) = of_garment::sold_by(desk, garment.id)? else {
            let hint = format!(
                "see ellwand cost {} for what it cost against its plan",
                self.garment
            );
            return Err(wrong_state(
                format!("no quotation for {} is accepted", self.garment),
                &hint,
            ));
        };
        outcome_of(desk, &quotation)
    }
}

/// What an own hour on a garment earned, and its own minutes; none where that is not known.
pub(crate) fn hour_earned(
    desk: &mut Desk<'_>,
    quotation: &Quotation,
) -> Done<Option<(Millionths, i64)>> {
    match outcome_of(desk, quotation) {
        Ok(Outcome { price, .. }) => Ok(price.hour_earned.map(|hour| (hour.0, price.own_minutes))),
        // What came to nothing has no outcome.
        Err(Failure::Refused(problem)) if problem.kind == ProblemType::WrongState => Ok(None),
        Err(failure) => Err(failure),
    }
}

/// What was agreed to, and for what.
struct Agreed {
    quotation: QuotationCode,
    version: i64,
    /// Booking of the version: what was washed later was quoted raw.
    booking: i64,
    frozen: Frozen,
    /// What was accepted on top of it.
    supplements: Vec<Frozen>,
}

impl Agreed {
    /// The accepted version; refused for what was not agreed to, or came to nothing.
    fn load(tx: &mut Tx<'_>, quotation: &Quotation, garment: &Garment) -> Done<Self> {
        let (code, of) = (
            QuotationCode::new(quotation.id),
            GarmentCode::new(garment.id),
        );
        let cost = format!("see ellwand cost {of} for what it took");
        let version = match (quotation.state, quotation.accepted) {
            (QuotationState::Accepted, Some(version)) => version,
            (QuotationState::Open, _) => {
                let hint =
                    format!("accept it with ellwand quote accept {code}, or see ellwand cost {of}");
                return Err(wrong_state(
                    format!("{code} is open: nothing is agreed yet"),
                    &hint,
                ));
            }
            (QuotationState::Cancelled, _) => {
                return Err(wrong_state(
                    format!("{code} was cancelled after it had been accepted"),
                    &cost,
                ));
            }
            (state, _) => {
                return Err(wrong_state(
                    format!("{code} is {state}: it came to nothing"),
                    &cost,
                ));
            }
        };
        if garment.state == GarmentState::Cancelled {
            let hint = format!("{cost}, and ellwand quote close {code} to settle what was paid");
            return Err(wrong_state(
                format!("{of} is cancelled, so nothing came of {code}"),
                &hint,
            ));
        }
        let booking = super::version_of(tx, quotation, version)?.booking_id;
        let frozen = show::frozen(tx, quotation, version)?;
        let all = supplement::accepted(tx, quotation.id)?;
        let supplements = all.into_iter().filter(|(row, _)| row.id != quotation.id);
        let supplements = supplements.map(|(_, frozen)| frozen).collect();
        Ok(Self {
            quotation: code,
            version,
            booking,
            frozen,
            supplements,
        })
    }

    /// Internal sheets of all that was agreed.
    fn sheets(&self) -> impl Iterator<Item = &InternalSheet> {
        std::iter::once(&self.frozen)
            .chain(&self.supplements)
            .map(|frozen| &frozen.inside)
    }

    /// The net price that was agreed.
    fn net(&self) -> Done<Millionths> {
        Ok(Millionths::sum(self.sheets().map(|sheet| sheet.net.0))?)
    }

    /// The costs that it was agreed on; what a supplement takes off is below zero.
    fn costs(&self, currency: Currency) -> Done<Vec<CostItem>> {
        let costs = self.sheets().flat_map(|sheet| &sheet.costs);
        costs
            .map(|cost| quoted::cost_item(cost, currency))
            .collect()
    }
}

/// Everything that the answer is written from.
struct Found {
    agreed: Agreed,
    lines: Lines,
    actual: Actual,
    variances: Vec<Variance>,
    made: i64,
    so_far: bool,
    notes: Vec<String>,
}

impl Found {
    /// What was booked in all, as it is printed.
    fn printed(&self) -> Done<i64> {
        let lines = self.lines.total(Side::Actual)?;
        Ok(lines.plus(Total::of(&self.actual.apart)?)?.printed)
    }
}

fn outcome_of(desk: &mut Desk<'_>, quotation: &Quotation) -> Done<Outcome> {
    let garment = load_head(desk, GarmentCode::new(quotation.garment_id))?;
    let agreed = Agreed::load(desk, quotation, &garment)?;
    let so_far = matches!(garment.state, GarmentState::Planned | GarmentState::CutInto);
    let mut notes = Vec::new();
    let mut lines = Lines::default();
    lines.add(Side::Quoted, agreed.costs(desk.context.currency)?)?;
    let asked = PriceInput::default();
    let plan = Base::work_out(desk, &garment, PriceFrom::Plan, &asked, None)?;
    lines.add(Side::Planned, plan.costs.iter().cloned())?;
    // Own hours count by the same figures as in the quotation, so that no difference comes of another book of rates.
    let figures_first = agreed.frozen.inside.from == PriceFrom::Plan;
    let costs = booked(desk, &garment, figures_first)?;
    let actual = Actual::read(
        costs,
        &mut lines,
        &mut notes,
        desk.context.currency.digits(),
    )?;
    standard::settle(desk, &agreed, &garment, &mut lines, &mut notes)?;
    notes.extend(other_rates(desk, &garment, &actual)?);
    let made = garment.good.unwrap_or(garment.count);
    let comparison = Comparison {
        quoted_for: agreed.frozen.sheet.count,
        made,
        finished: !so_far,
        lines: lines.compared(),
        apart: actual.apart.clone(),
    };
    let variances = comparison.variances().map_err(internal)?;
    agreed.remarks(&plan, &mut notes);
    spoiled(&garment, agreed.frozen.sheet.count, made, &mut notes);
    notes.extend(billed_late(desk, &garment)?);
    if so_far {
        notes.push(
            "so far: the garment is not finished, and more may still be cut and worked".to_owned(),
        );
    }
    let found = Found {
        agreed,
        lines,
        actual,
        variances,
        made,
        so_far,
        notes,
    };
    answer::compose(desk, quotation, &garment, found)
}

impl Agreed {
    /// What has no price, and how many supplements there are.
    fn remarks(&self, plan: &Base, notes: &mut Vec<String>) {
        let quoted = self.sheets().flat_map(|sheet| &sheet.not_priced);
        notes.extend(quoted.map(|what| format!("not priced when it was quoted: {what}")));
        match self.supplements.len() {
            0 => {}
            1 => notes.push("quoted is with the supplement that was accepted".to_owned()),
            count => notes.push(format!(
                "quoted is with {count} supplements that were accepted"
            )),
        }
        let planned = plan.not_priced().into_iter();
        notes.extend(planned.map(|what| format!("not priced in the plan: {what}")));
    }
}

/// What is earned and allowed where not all are good.
fn spoiled(garment: &Garment, of: i64, made: i64, notes: &mut Vec<String>) {
    if made < of && garment.good.is_some() {
        notes.push(match made {
            0 => "none is good, so none of the price is earned".to_owned(),
            _ => format!(
                "the price of {made} of the {of} that were quoted is earned: a spoiled one is not sold"
            ),
        });
    }
    if let Some(spoiled @ 1..) = garment.spoiled {
        let mistake = garment
            .spoilage
            .is_some_and(|word| word == Spoilage::OwnMistake);
        let why = if mistake { " (an own mistake)" } else { "" };
        notes.push(format!(
            "{spoiled} spoiled{why}: the allowance is for the {made} good; what the rest took shows in quantity and time"
        ));
    }
}

/// A remark where the cost sheet says another sum, because own hours have a pay rate of their own.
fn other_rates(desk: &mut Desk<'_>, garment: &Garment, actual: &Actual) -> Done<Option<String>> {
    let sheet = CostItem::sum(&booked(desk, garment, false)?.items)?;
    // A ten-thousandth of the currency may come of rounding.
    let other = !actual.unpriced && sheet.minus(actual.total)?.get().abs() > 100;
    Ok(other.then(|| {
        format!(
            "ellwand cost {} says {}: it counts own hours by their pay rate, this by the pay that the quotation counts",
            GarmentCode::new(garment.id),
            desk.context.printed(sheet)
        )
    }))
}
