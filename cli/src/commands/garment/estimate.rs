//! `ellwand garment estimate`.

use super::screen;
use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right, time::minutes},
    verb::{Run, Verb},
};
use ellwand_contract::{
    garments::{EditGarment, Garment, GetGarment, OperationChange, PlanChanges},
    operations::{Estimates, GetEstimates, OperationEstimate},
};
use ellwand_domain::{code::GarmentCode, setting::EstimateBasis};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment estimate G5\n  ellwand garment estimate G5 --apply"
)]
pub struct Args {
    #[command(flatten)]
    act: GetEstimates,
    /// Write the likely minutes into the plan
    #[arg(long)]
    apply: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.apply {
            apply(self.act.garment, context)
        } else {
            self.act.run(context)
        }
    }
}

impl Verb for GetEstimates {
    fn show(&self, answer: Estimates, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(context, &answer);
        Ok(())
    }
}

/// Plans the likely minutes, for the plan as it was read.
fn apply(garment: GarmentCode, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = if let Some(sent) = context.sent_before::<EditGarment>()? {
        EditGarment {
            id: context.new_id(),
            garment,
            ..sent
        }
    } else {
        let plan = context.call(&GetGarment { garment })?;
        let answer = context.call(&GetEstimates { garment })?;
        if !context.is_json() {
            show(context, &answer);
        }
        let operations = changes(&plan, &answer);
        if operations.is_empty() {
            if !context.json(&plan)? && !plan.operations.is_empty() {
                context
                    .ui
                    .status(format!("The plan of {garment} already has these minutes."));
            }
            return Ok(());
        }
        EditGarment {
            id: context.new_id(),
            garment,
            name: None,
            due: None,
            customer: None,
            changes: PlanChanges {
                operations,
                ..PlanChanges::default()
            },
            if_version: Some(plan.version),
            date: None,
        }
    };
    let changed = context.call(&act)?;
    if context.json(&changed)? {
        return Ok(());
    }
    context.ui.blank();
    screen::garment(context, &changed)?;
    context
        .ui
        .status(format!("Planned the likely minutes of {garment}."));
    Ok(())
}

/// The minutes of planned operations whose likely ones differ.
fn changes(plan: &Garment, answer: &Estimates) -> Vec<OperationChange> {
    let mut changes = Vec::new();
    for planned in &plan.operations {
        let estimate = answer
            .operations
            .iter()
            .find(|estimate| estimate.operation == planned.name);
        let Some(minutes) = estimate.map(|estimate| estimate.batch_minutes) else {
            continue;
        };
        if minutes != planned.planned_minutes {
            let change = OperationChange::of(&planned.name);
            changes.push(change.with("planned", format!("{minutes}min")));
        }
    }
    changes
}

fn show(context: &mut Context<'_, '_>, answer: &Estimates) {
    let Estimates {
        garment,
        count,
        operations,
        ..
    } = answer;
    if operations.is_empty() {
        context
            .ui
            .status(format!("The plan of {garment} has no operations."));
        return;
    }
    let batch = |of: i64| {
        if *count == 1 {
            String::new()
        } else {
            minutes(of)
        }
    };
    let all = format!("for all {count}");
    let some = |value: Option<i64>| value.map(minutes).unwrap_or_default();
    let columns = [
        left("operation"),
        right("low"),
        right("likely"),
        right("high"),
        right(&all),
        left("from"),
    ];
    let mut table = Table::new(columns);
    for of in operations {
        table.row([
            of.operation.clone(),
            some(of.low_minutes),
            minutes(of.likely_minutes),
            some(of.high_minutes),
            batch(of.batch_minutes),
            source(of),
        ]);
    }
    table.rule();
    let (each, batch) = (minutes(answer.likely_minutes), batch(answer.batch_minutes));
    table.row(["together", "", &each, "", &batch, ""]);
    context.ui.table(&table);
}

/// `5 like garments`, `1 of all garments: too few for a range`, `plan, estimated`.
fn source(of: &OperationEstimate) -> String {
    let word = match of.from {
        EstimateBasis::UsualOperation => return format!("usual operation, {}", of.certainty),
        EstimateBasis::Plan => return format!("plan, {}", of.certainty),
        EstimateBasis::LikeGarments => "like garments",
        EstimateBasis::AllGarments => "of all garments",
    };
    let few = if of.low_minutes.is_none() {
        ": too few for a range"
    } else {
        ""
    };
    format!("{} {word}{few}", of.past)
}
