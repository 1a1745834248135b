//! `ellwand garment edit`.

use super::{
    changes::{Beside, located},
    screen,
};
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::{
    garments::{EditGarment, Garment, NeedChange, OperationChange, PlanChanges, SeamChange},
    text::spelled,
};
use ellwand_domain::setting::Kind;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment edit G5 --due 2026-11-02\n  \
    ellwand garment edit G5 --need 'role=shell,material=M9'\n  \
    ellwand garment edit G5 --need 'role=lining,length=1.70m,lot='\n  \
    ellwand garment edit G5 --part 'need=canvas,name=collar,length=47cm'\n  \
    ellwand garment edit G5 --seam 'name=hem,length=1.40m' --drop-need buttons\n  \
    ellwand garment edit G5 --file changes.toml"
)]
pub struct Args {
    #[command(flatten)]
    act: EditGarment,
    #[command(flatten)]
    beside: Beside,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut act = self.act;
        let (changes, file) = self.beside.changes(act.changes)?;
        act.changes = changes;
        if act.is_nothing() {
            return Err(CommandError::usage_hint(
                format!("nothing of {} is to be changed", act.garment),
                "give what differs: --need 'role=shell,length=2.40m', --due 2026-11-02 …",
            ));
        }
        act.run(context)
            .map_err(|error| located(file.as_ref(), error))
    }
}

impl Verb for EditGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::plan(context, &only_changed(&answer, &self.changes))?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context
            .ui
            .status(format!("Changed the plan of {code}, {title}."));
        Ok(())
    }
}

/// The garment with what the changes name, and thread that follows its seams.
fn only_changed(garment: &Garment, changes: &PlanChanges) -> Garment {
    let of_parts = changes.drop_parts.iter().map(|part| part.need.as_str());
    let needs = named(changes.needs.iter().map(NeedChange::name).chain(of_parts));
    let operations = named(changes.operations.iter().map(OperationChange::name));
    let seams = named(changes.seams.iter().map(SeamChange::name));
    let mut only = garment.clone();
    only.needs.retain(|need| {
        let sewn = need.kind == Kind::Thread && !changes.keeps_seams();
        sewn || needs.contains(&key(&need.role))
    });
    only.operations
        .retain(|operation| operations.contains(&key(&operation.name)));
    only.seams.retain(|seam| seams.contains(&key(seam)));
    only
}

fn named<'n>(names: impl Iterator<Item = &'n str>) -> Vec<String> {
    names.map(key).collect()
}

/// Names are the same whatever their capitals and spaces.
fn key(name: &str) -> String {
    spelled(name).to_lowercase()
}
