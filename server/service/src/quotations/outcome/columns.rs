//! Printed columns: lines that add up to their total.

use super::{super::internal, actual::Apart, lines::Line};
use crate::{context::Context, failure::Done};
use ellwand_domain::{allocation::round_to_total, costing::LossReason, quantity::Millionths};

/// A column of minor units: of each line and their sum with what stands apart.
pub(super) struct Column {
    lines: Vec<Option<i64>>,
    pub(super) total: Option<i64>,
}

impl Column {
    pub(super) fn of(lines: Vec<Option<i64>>, apart: i64) -> Self {
        let some = lines.iter().any(Option::is_some) || apart != 0;
        let total = lines
            .iter()
            .flatten()
            .fold(apart, |sum, minor| sum.saturating_add(*minor));
        Self {
            lines,
            total: some.then_some(total),
        }
    }

    pub(super) fn line(&self, at: usize) -> Option<i64> {
        self.lines.get(at).copied().flatten()
    }
}

/// Minor units of what was booked, rounded as the cost sheet rounds: the job with the customer's changes, and the losses.
pub(super) fn booked(
    context: &Context<'_>,
    lines: &[Line],
    apart: &[Apart],
) -> Done<(Vec<Option<i64>>, Vec<i64>)> {
    let digits = context.currency.digits();
    let is_change = |apart: &&Apart| apart.reason == LossReason::CustomerChange;
    let values = lines
        .iter()
        .filter_map(|line| line.actual.as_ref())
        .map(|part| part.value);
    let job: Vec<Millionths> = values
        .chain(apart.iter().filter(is_change).map(|apart| apart.value))
        .collect();
    let lost: Vec<Millionths> = apart
        .iter()
        .filter(|apart| !is_change(apart))
        .map(|apart| apart.value)
        .collect();
    let (job, _) = round_to_total(&job, digits).map_err(internal)?;
    let (lost, _) = round_to_total(&lost, digits).map_err(internal)?;
    let (mut job, mut lost) = (job.into_iter(), lost.into_iter());
    let lines = lines
        .iter()
        .map(|line| line.actual.as_ref().and_then(|_| job.next()))
        .collect();
    let apart = apart.iter().map(|part| {
        if is_change(&part) {
            job.next()
        } else {
            lost.next()
        }
        .unwrap_or(0)
    });
    Ok((lines, apart.collect()))
}
