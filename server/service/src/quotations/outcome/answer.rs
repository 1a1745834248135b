//! The outcome as it travels; every printed column adds up to its printed total.

use super::{
    super::internal,
    Found,
    actual::Actual,
    columns::{Column, booked},
    lines::{Exact, Line, Part},
};
use crate::{context::Context, failure::Done};
use ellwand_contract::{
    Micro,
    outcomes::{
        Outcome, OutcomeApart, OutcomeCosts, OutcomeGroup, OutcomeLine, OutcomeVariance, Verdict,
    },
};
use ellwand_domain::{
    allocation::round_to_total,
    code::GarmentCode,
    costing::Variance,
    quantity::{Millionths, Money},
};
use ellwand_storage::{Garment, Quotation, Tx};

/// A ten-thousandth of the currency, in millionths.
const DUST: i64 = 100;

pub(super) fn of(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    quotation: &Quotation,
    garment: &Garment,
    found: Found,
) -> Done<Outcome> {
    let all = &found.lines.0;
    let frozen = |side: fn(&Line) -> &Option<Part>| {
        Column::of(
            all.iter()
                .map(|line| side(line).as_ref().map(|part| part.minor))
                .collect(),
            0,
        )
    };
    let (planned, quoted) = (frozen(|line| &line.planned), frozen(|line| &line.quoted));
    let (lines, apart) = booked(context, all, &found.actual.apart)?;
    let sum = apart
        .iter()
        .fold(0_i64, |sum, minor| sum.saturating_add(*minor));
    let actual = Column::of(lines, sum);
    let writer = Writer {
        context,
        columns: [planned, quoted, actual],
    };
    let price = writer.price(tx, quotation, garment, &found, &apart)?;
    let variances = match found.actual.unpriced {
        true => Vec::new(),
        false => writer.variances(&found.variances)?,
    };
    let lines = all
        .iter()
        .enumerate()
        .map(|(at, line)| writer.line(at, line))
        .collect::<Done<_>>()?;
    let groups = writer.groups(all)?;
    let total = writer.total(all, &found.actual)?;
    let told = found.actual.apart.iter().zip(apart);
    let apart = told.map(|(apart, minor)| {
        Ok(OutcomeApart {
            reason: apart.reason,
            group: apart.group,
            name: apart.name.clone(),
            quantity: apart
                .exact
                .map(|exact| exact.text(context))
                .transpose()?
                .flatten(),
            amount: apart.exact.map_or(Ok(None), Exact::amount)?,
            cost: Micro(apart.value),
            printed: writer.text(minor),
        })
    });
    let apart = apart.collect::<Done<_>>()?;
    Ok(Outcome {
        quotation: found.agreed.quotation,
        version: found.agreed.version,
        garment: GarmentCode::new(garment.id),
        name: garment.name.clone(),
        state: garment.state.0,
        so_far: found.so_far,
        quoted_for: found.agreed.frozen.sheet.count,
        made: found.made,
        currency: context.currency.code().to_owned(),
        lines,
        groups,
        apart,
        total,
        variances,
        price,
        notes: found.notes,
    })
}

/// Writes amounts in the workshop's currency.
pub(super) struct Writer<'a, 'b> {
    pub(super) context: &'a Context<'b>,
    /// Planned, quoted, actual.
    pub(super) columns: [Column; 3],
}

impl Writer<'_, '_> {
    fn text(&self, minor: i64) -> String {
        Money {
            minor,
            currency: self.context.currency,
        }
        .decimal()
    }

    fn costs(&self, exact: [Option<Millionths>; 3], minor: [Option<i64>; 3]) -> OutcomeCosts {
        let [planned, quoted, actual] = exact.map(|value| value.map(Micro));
        let [planned_printed, quoted_printed, actual_printed] =
            minor.map(|minor| minor.map(|minor| self.text(minor)));
        OutcomeCosts {
            planned,
            quoted,
            actual,
            planned_printed,
            quoted_printed,
            actual_printed,
        }
    }

    fn line(&self, at: usize, line: &Line) -> Done<OutcomeLine> {
        let sides = parts(line);
        let mut quantities = sides.iter().map(|part| match part {
            Some(part) => part.quantity(self.context),
            None => Ok(None),
        });
        let mut next = || quantities.next().unwrap_or(Ok(None));
        let (planned_quantity, quoted_quantity, actual_quantity) = (next()?, next()?, next()?);
        let mut amounts = [None; 3];
        for (amount, part) in amounts.iter_mut().zip(&sides) {
            *amount = part
                .and_then(|part| part.exact)
                .map_or(Ok(None), Exact::amount)?;
        }
        let said = sides
            .iter()
            .rev()
            .filter_map(|part| Some(part.as_ref()?.details.join(", ")));
        let minor = [0, 1, 2].map(|side| {
            self.columns
                .get(side)
                .and_then(|column: &Column| column.line(at))
        });
        Ok(OutcomeLine {
            group: line.group,
            name: line.name.clone(),
            detail: said
                .into_iter()
                .find(|detail| !detail.is_empty())
                .unwrap_or_default(),
            planned_quantity,
            quoted_quantity,
            actual_quantity,
            amounts,
            cost: self.costs(sides.map(|part| part.map(|part| part.value)), minor),
        })
    }

    /// Sums of the lines of each group, as they are printed.
    fn groups(&self, lines: &[Line]) -> Done<Vec<OutcomeGroup>> {
        let mut groups: Vec<OutcomeGroup> = Vec::new();
        for line in lines {
            if groups.last().is_some_and(|known| known.group == line.group) {
                continue;
            }
            let of_group = || {
                lines
                    .iter()
                    .enumerate()
                    .filter(|(_, other)| other.group == line.group)
            };
            let mut exact = [None; 3];
            let mut minor = [None; 3];
            for (at, other) in of_group() {
                for (side, part) in parts(other).into_iter().enumerate() {
                    let (Some(part), Some(sum), Some(printed)) =
                        (part, exact.get_mut(side), minor.get_mut(side))
                    else {
                        continue;
                    };
                    *sum = Some(sum.unwrap_or(Millionths::ZERO).plus(part.value)?);
                    let own = self
                        .columns
                        .get(side)
                        .and_then(|column| column.line(at))
                        .unwrap_or(0);
                    *printed = Some(printed.unwrap_or(0_i64).saturating_add(own));
                }
            }
            groups.push(OutcomeGroup {
                group: line.group,
                cost: self.costs(exact, minor),
            });
        }
        Ok(groups)
    }

    fn total(&self, lines: &[Line], actual: &Actual) -> Done<OutcomeCosts> {
        let sum = |side: fn(&Line) -> &Option<Part>| {
            Millionths::sum(
                lines
                    .iter()
                    .filter_map(|line| Some(side(line).as_ref()?.value)),
            )
        };
        let exact = [
            sum(|line| &line.planned)?,
            sum(|line| &line.quoted)?,
            actual.total,
        ];
        let minor = [0, 1, 2].map(|side| {
            self.columns
                .get(side)
                .and_then(|column: &Column| column.total)
        });
        let mut total = self.costs(exact.map(Some), minor.map(|minor| Some(minor.unwrap_or(0))));
        if actual.unpriced {
            (total.actual, total.actual_printed) = (None, None);
        }
        Ok(total)
    }

    /// Those that are more than what rounding leaves, and what is left between the printed totals.
    fn variances(&self, variances: &[Variance]) -> Done<Vec<OutcomeVariance>> {
        let digits = self.context.currency.digits();
        let exact: Vec<Millionths> = variances.iter().map(|variance| variance.value).collect();
        let (minor, _) = round_to_total(&exact, digits).map_err(internal)?;
        let (mut steps, mut dust, mut told) = (Vec::new(), Millionths::ZERO, 0_i64);
        for (variance, minor) in variances.iter().zip(minor) {
            if minor == 0 && variance.value.get().abs() < DUST {
                dust = dust.plus(variance.value)?;
                continue;
            }
            told = told.saturating_add(minor);
            steps.push(OutcomeVariance {
                kind: Some(variance.kind),
                name: variance.name.clone(),
                verdict: if variance.value.get() > 0 {
                    Verdict::Unfavourable
                } else {
                    Verdict::Favourable
                },
                amount: Micro(variance.value),
                printed: self.text(minor),
            });
        }
        if let Some(first) = steps.first_mut() {
            first.amount = Micro(first.amount.0.plus(dust)?);
            dust = Millionths::ZERO;
        }
        let [_, quoted, actual] = &self.columns;
        let difference = actual
            .total
            .unwrap_or(0)
            .saturating_sub(quoted.total.unwrap_or(0));
        let rounding = difference.saturating_sub(told);
        if rounding != 0 || !dust.is_zero() {
            steps.push(OutcomeVariance {
                kind: None,
                name: String::new(),
                verdict: Verdict::Rounding,
                amount: Micro(dust),
                printed: self.text(rounding),
            });
        }
        Ok(steps)
    }
}

/// Planned, quoted, actual.
fn parts(line: &Line) -> [Option<&Part>; 3] {
    [
        line.planned.as_ref(),
        line.quoted.as_ref(),
        line.actual.as_ref(),
    ]
}
