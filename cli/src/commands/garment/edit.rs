//! `ellwand garment edit`.

use super::{
    parts::{self, PartOf},
    screen,
};
use crate::{
    command_error::CommandError,
    context::Context,
    pairs,
    verb::{Run, Verb},
};
use ellwand_contract::garments::{EditGarment, Garment};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment edit G5 --due 2026-11-02\n  \
    ellwand garment edit G5 \\\n    --need 'role=lining,kind=cloth,length=1.70m,width=140cm,preparation=none'\n  \
    ellwand garment edit G5 --drop-need buttons\n  \
    ellwand garment edit G5 \\\n    --seam 'name=hem,length=1.40m,stitch=301,per-cm=4,thickness=1.2mm'"
)]
pub struct Args {
    #[command(flatten)]
    act: EditGarment,
    /// Part of a need, by the measures of its shell part, as key=value pairs; one flag per part, along with its --need
    #[arg(long, value_name = "PAIRS", requires = "needs", value_parser = pairs::parse_args::<PartOf>)]
    part: Vec<PartOf>,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        parts::join(&mut self.act.needs, self.part, ("--part", "--need"))?;
        self.act.run(context)
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
