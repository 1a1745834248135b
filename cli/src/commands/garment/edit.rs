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
use ellwand_contract::garments::{EditGarment, Garment};

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
        screen::garment(context, &answer)?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context
            .ui
            .status(format!("Changed the plan of {code}, {title}."));
        Ok(())
    }
}
