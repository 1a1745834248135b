//! The outcome as it travels; every printed column adds up to its printed total.

use super::{
    super::internal,
    Found,
    lines::{Line, Side},
};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    money::costs::{amount_of, extent_text},
};
use ellwand_contract::{
    Amount, Micro,
    outcomes::{
        Outcome, OutcomeApart, OutcomeCosts, OutcomeGroup, OutcomeLine, OutcomeVariance, Verdict,
    },
};
use ellwand_domain::{
    code::GarmentCode,
    costing::{CostItem, Extent, LineKind, Total, shown_steps},
    quantity::Money,
};
use ellwand_storage::{Garment, Quotation};

const SIDES: [Side; 3] = [Side::Planned, Side::Quoted, Side::Actual];

pub(super) fn compose(
    desk: &mut Desk<'_>,
    quotation: &Quotation,
    garment: &Garment,
    found: Found,
) -> Done<Outcome> {
    let writer = Writer {
        context: desk.context,
    };
    let price = writer.price(desk, quotation, garment, &found)?;
    let variances = match found.actual.unpriced {
        true => Vec::new(),
        false => writer.variances(&found)?,
    };
    let lines = found.lines.0.iter().map(|line| writer.line(line));
    let apart = found.actual.apart.iter().map(|item| writer.apart(item));
    Ok(Outcome {
        quotation: found.agreed.quotation,
        version: found.agreed.version,
        garment: GarmentCode::new(garment.id),
        name: garment.name.clone(),
        state: garment.state,
        so_far: found.so_far,
        quoted_for: found.agreed.frozen.sheet.count,
        made: found.made,
        currency: desk.context.currency.code().to_owned(),
        lines: lines
            .collect::<Done<Vec<_>>>()?
            .into_iter()
            .flatten()
            .collect(),
        groups: writer.groups(&found.lines.0)?,
        apart: apart.collect::<Done<_>>()?,
        total: writer.total(&found)?,
        variances,
        price,
        notes: found.notes,
    })
}

/// Writes amounts in the workshop's currency.
pub(super) struct Writer<'a, 'b> {
    pub(super) context: &'a Context<'b>,
}

impl Writer<'_, '_> {
    pub(super) fn money(&self, minor: i64) -> Money {
        let currency = self.context.currency;
        currency.money(minor)
    }

    fn costs(&self, sides: [Option<Total>; 3]) -> OutcomeCosts {
        let [planned, quoted, actual] = sides.map(|side| side.map(|total| Micro(total.value)));
        let [planned_printed, quoted_printed, actual_printed] =
            sides.map(|side| side.map(|total| self.money(total.printed).decimal()));
        OutcomeCosts {
            planned,
            quoted,
            actual,
            planned_printed,
            quoted_printed,
            actual_printed,
        }
    }

    fn line(&self, line: &Line) -> Done<Option<OutcomeLine>> {
        let Some(head) = line.head() else {
            return Ok(None);
        };
        let extent = |side| line.cell(side).and_then(|item| item.extent);
        let cells = SIDES.iter().rev().filter_map(|side| line.cell(*side));
        let detail = cells
            .map(|item| item.of.join(", "))
            .find(|of| !of.is_empty());
        let mut amounts = [None; 3];
        for (amount, side) in amounts.iter_mut().zip(SIDES) {
            *amount = positive(extent(side))?;
        }
        let text = |side| extent_text(self.context, extent(side));
        Ok(Some(OutcomeLine {
            group: head.group,
            name: head.name.clone(),
            detail: detail.unwrap_or_default(),
            planned_quantity: text(Side::Planned)?,
            quoted_quantity: text(Side::Quoted)?,
            actual_quantity: text(Side::Actual)?,
            amounts,
            cost: self.costs(sums(std::slice::from_ref(line))?),
        }))
    }

    /// Sums of the lines of each group, as they are printed.
    fn groups(&self, lines: &[Line]) -> Done<Vec<OutcomeGroup>> {
        let mut groups = Vec::new();
        for lines in lines.chunk_by(|one, other| one.group() == other.group()) {
            if let Some(group) = lines.first().and_then(Line::group) {
                let cost = self.costs(sums(lines)?);
                groups.push(OutcomeGroup { group, cost });
            }
        }
        Ok(groups)
    }

    fn total(&self, found: &Found) -> Done<OutcomeCosts> {
        let actual = Total {
            value: found.actual.total,
            printed: found.printed()?,
        };
        let known = Some(actual).filter(|_| !found.actual.unpriced);
        let [planned, quoted] = [Side::Planned, Side::Quoted].map(|side| found.lines.total(side));
        Ok(self.costs([Some(planned?), Some(quoted?), known]))
    }

    fn apart(&self, item: &CostItem) -> Done<OutcomeApart> {
        let is_overhead = item.kind() == LineKind::Overhead;
        let extent = item.extent.filter(|_| !is_overhead);
        let reason = item
            .loss
            .ok_or_else(|| internal("what stands apart has no reason"))?;
        Ok(OutcomeApart {
            reason,
            group: item.group,
            name: match is_overhead {
                true => item.of.join(", "),
                false => item.name.clone(),
            },
            quantity: extent_text(self.context, extent)?,
            amount: positive(extent)?,
            cost: Micro(item.value),
            printed: self.money(item.printed).decimal(),
        })
    }

    /// Those that are more than what rounding leaves, and what is left between the printed totals.
    fn variances(&self, found: &Found) -> Done<Vec<OutcomeVariance>> {
        let quoted = found.lines.total(Side::Quoted)?.printed;
        let difference = found.printed()?.saturating_sub(quoted);
        let steps = found
            .variances
            .iter()
            .map(|variance| (variance, variance.value));
        let digits = self.context.currency.digits();
        let steps = shown_steps(steps.collect(), difference, digits).map_err(internal)?;
        let variances = steps.into_iter().map(|step| OutcomeVariance {
            kind: step.kind.map(|variance| variance.kind),
            name: step
                .kind
                .map(|variance| variance.name.clone())
                .unwrap_or_default(),
            verdict: match step.kind {
                None => Verdict::Rounding,
                Some(_) if step.value.get() > 0 => Verdict::Unfavourable,
                Some(_) => Verdict::Favourable,
            },
            amount: Micro(step.value),
            printed: self.money(step.printed).decimal(),
        });
        Ok(variances.collect())
    }
}

/// What lines come to on each side; none where none has it.
fn sums(lines: &[Line]) -> Done<[Option<Total>; 3]> {
    let mut sums = [None; 3];
    for (sum, side) in sums.iter_mut().zip(SIDES) {
        let mut own = lines.iter().filter_map(|line| line.cell(side)).peekable();
        if own.peek().is_some() {
            *sum = Some(Total::of(own)?);
        }
    }
    Ok(sums)
}

/// A quantity of a material as it travels; nothing for none, for time and for what is taken off.
fn positive(extent: Option<Extent>) -> Done<Option<Amount>> {
    amount_of(extent.filter(|extent| extent.number() > 0))
}
