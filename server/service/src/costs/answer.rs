//! The cost sheet as it travels; every printed column adds up to its printed total.

use super::{Costed, Shown, Unpriced, material::because, refused};
use crate::{context::Context, failure::Done};
use ellwand_contract::{
    Micro,
    costs::{BridgeStep, CostGroup, CostLine, CostPair, CostSheet as View, PerGood},
};
use ellwand_domain::{
    code::GarmentCode,
    costing::{BridgeItem, LineKind, LossReason, PrintedSheet},
    quantity::{Millionths, Money},
};
use ellwand_storage::Garment;

/// A ten-thousandth of the currency, in millionths.
const DUST: i64 = 100;

pub(super) fn of(context: &Context<'_>, garment: &Garment, costed: Costed) -> Done<View> {
    let printed = costed
        .sheet
        .printed(context.currency.digits())
        .map_err(|error| refused(garment, &error))?;
    let writer = Writer { context };
    let sheet = &costed.sheet;
    let (mut lines, mut losses) = (Vec::new(), Vec::new());
    writer.lines(&costed, &printed, &mut lines);
    writer.losses(&costed, &printed, &mut lines, &mut losses);
    let lost = sheet.own_mistakes.plus(sheet.faulty_cloth)?;
    let Unpriced {
        planned,
        job: worked,
        lost: losing,
    } = costed.unpriced;
    let job = writer.pair(
        sheet.planned,
        costed.job()?,
        printed.planned,
        printed.job_cost.saturating_add(printed.customer_changes),
    );
    let job = only(job, !planned, !worked);
    let none = Millionths::ZERO;
    let loss = writer.pair(
        none,
        lost,
        0,
        printed.own_mistakes.saturating_add(printed.faulty_cloth),
    );
    let loss = only(loss, true, !losing);
    let all = writer.pair(sheet.planned, sheet.all_in, printed.planned, printed.all_in);
    let all = only(all, !planned, !worked && !losing);
    let customer_changes = writer.pair(none, sheet.customer_changes, 0, printed.customer_changes);
    let told = all.planned.is_some() && all.actual.is_some();
    let bridge = if told {
        writer.bridge(&costed, &printed)?
    } else {
        Vec::new()
    };
    let mut notes = costed.notes.clone();
    let which = match (planned, worked || losing) {
        (true, true) => Some("total"),
        (true, false) => Some("planned total"),
        (false, true) => Some("actual total"),
        (false, false) => None,
    };
    notes.extend(
        which.map(|which| {
            format!("hours without a rate are not priced, so that there is no {which}")
        }),
    );
    let per_good = match costed.batch(garment)? {
        _ if worked => None,
        Ok(batch) => batch.map(|batch| writer.per_good(garment, &batch)),
        Err(error) => {
            notes.push(format!(
                "the cost of each good one cannot be worked out: {error}"
            ));
            None
        }
    };
    Ok(View {
        garment: GarmentCode::new(garment.id),
        name: garment.name.clone(),
        state: garment.state.0,
        count: garment.count,
        currency: context.currency.code().to_owned(),
        lines,
        job,
        losses,
        loss,
        all,
        customer_changes,
        bridge,
        per_good,
        stiffness: Vec::new(),
        notes,
    })
}

/// The amounts that are known; the others are not zero.
fn only(pair: CostPair, planned: bool, actual: bool) -> CostPair {
    CostPair {
        planned: pair.planned.filter(|_| planned),
        planned_printed: pair.planned_printed.filter(|_| planned),
        actual: pair.actual.filter(|_| actual),
        actual_printed: pair.actual_printed.filter(|_| actual),
    }
}

/// Writes amounts in the workshop's currency.
struct Writer<'a, 'b> {
    context: &'a Context<'b>,
}

impl Writer<'_, '_> {
    fn text(&self, minor: i64) -> String {
        Money {
            minor,
            currency: self.context.currency,
        }
        .decimal()
    }

    fn pair(
        &self,
        planned: Millionths,
        actual: Millionths,
        planned_minor: i64,
        actual_minor: i64,
    ) -> CostPair {
        CostPair {
            planned: Some(Micro(planned)),
            actual: Some(Micro(actual)),
            planned_printed: Some(self.text(planned_minor)),
            actual_printed: Some(self.text(actual_minor)),
        }
    }

    fn line(&self, kind: LineKind, shown: Shown, cost: CostPair) -> CostLine {
        let cost = only(cost, shown.planned_known, !shown.actual_unknown);
        CostLine {
            group: match kind {
                LineKind::Material => CostGroup::Material,
                LineKind::Labour => CostGroup::Labour,
                LineKind::Overhead => CostGroup::Overhead,
            },
            name: shown.name,
            detail: shown.detail,
            planned_quantity: shown.planned,
            actual_quantity: shown.actual,
            planned_amount: shown.amounts.map(|(planned, _)| planned),
            actual_amount: shown.amounts.map(|(_, actual)| actual),
            cost,
            planned_known: shown.planned_known,
        }
    }

    fn lines(&self, costed: &Costed, printed: &PrintedSheet, lines: &mut Vec<CostLine>) {
        let mut shown = costed.lines.iter().cloned();
        for (line, print) in costed.sheet.lines.iter().zip(&printed.lines) {
            let told = match line.kind {
                LineKind::Material | LineKind::Labour => shown.next().unwrap_or_default(),
                LineKind::Overhead => Shown {
                    name: line.name.clone(),
                    detail: "on billable hours".to_owned(),
                    planned: costed.overhead.0.clone(),
                    actual: costed.overhead.1.clone(),
                    planned_known: true,
                    ..Shown::default()
                },
            };
            let empty = line.planned.is_none() && line.actual.is_zero() && told.actual.is_none();
            if empty
                && told.planned.is_none()
                && told.planned_known
                && line.kind != LineKind::Overhead
            {
                // Only a loss or a customer's change stands for it, on a line of its own.
                continue;
            }
            let planned = line.planned.unwrap_or(Millionths::ZERO);
            let cost = self.pair(
                planned,
                line.actual,
                print.planned.unwrap_or(0),
                print.actual,
            );
            lines.push(self.line(line.kind, told, cost));
        }
    }

    /// Losses apart; the customer's changes stay among the lines of the job.
    fn losses(
        &self,
        costed: &Costed,
        printed: &PrintedSheet,
        lines: &mut Vec<CostLine>,
        losses: &mut Vec<CostLine>,
    ) {
        let mut shown = costed.losses.iter().cloned();
        for (loss, minor) in costed.sheet.losses.iter().zip(&printed.losses) {
            let told = match loss.kind {
                LineKind::Material | LineKind::Labour => shown.next().unwrap_or_default(),
                LineKind::Overhead => Shown {
                    name: "overhead".to_owned(),
                    detail: format!("{}, {}", loss.name, because(loss.reason)),
                    planned_known: true,
                    ..Shown::default()
                },
            };
            let cost = self.pair(Millionths::ZERO, loss.value, 0, *minor);
            let line = self.line(loss.kind, told, cost);
            match loss.reason {
                LossReason::CustomerChange => lines.push(line),
                LossReason::OwnMistake | LossReason::FaultyCloth => losses.push(line),
            }
        }
    }

    /// The steps that are not zero, and what rounding the totals leaves. What rounding alone left of a step (below a
    /// ten-thousandth of the currency, printed as nothing) is counted with the first one that is shown.
    fn bridge(&self, costed: &Costed, printed: &PrintedSheet) -> Done<Vec<BridgeStep>> {
        let mut steps = Vec::new();
        let mut dust = Millionths::ZERO;
        for ((item, exact), (_, minor)) in
            costed.sheet.bridge.items().into_iter().zip(&printed.bridge)
        {
            if *minor == 0 && exact.get().abs() < DUST {
                dust = dust.plus(exact)?;
                continue;
            }
            let name = match item {
                BridgeItem::Quantity => "quantity",
                BridgeItem::Price => "price",
                BridgeItem::Time => "time",
                BridgeItem::Rate => "rate",
                BridgeItem::OverheadOnExtraHours => "overhead on extra hours",
                BridgeItem::Unplanned => "not planned",
            };
            steps.push(BridgeStep {
                name: name.to_owned(),
                amount: Micro(exact),
                printed: self.text(*minor),
            });
        }
        let mut rounding = dust;
        if let Some(first) = steps.first_mut() {
            first.amount = Micro(first.amount.0.plus(dust)?);
            rounding = Millionths::ZERO;
        }
        if printed.rounding != 0 || !rounding.is_zero() {
            let (name, printed) = ("rounding".to_owned(), self.text(printed.rounding));
            steps.push(BridgeStep {
                name,
                amount: Micro(rounding),
                printed,
            });
        }
        Ok(steps)
    }

    fn per_good(&self, garment: &Garment, batch: &ellwand_domain::costing::BatchCost) -> PerGood {
        // The larger ones come first; the last is the cost rounded down.
        let each = batch.per_good.last().copied().unwrap_or(Millionths::ZERO);
        PerGood {
            good: garment.good.unwrap_or(0),
            spoiled: garment.spoiled.unwrap_or(0),
            each: Micro(each),
            each_printed: self.context.printed(each),
            loss: Micro(batch.loss),
            loss_printed: self.context.printed(batch.loss),
        }
    }
}
