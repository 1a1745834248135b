//! `ellwand garment edit`.

use super::{
    parts::{self, PartOf},
    screen, seam_pairs,
};
use crate::{
    command_error::CommandError,
    context::Context,
    pairs, typed,
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::{
    garments::{EditGarment, Garment, NeedInput, OperationInput},
    seams::SeamInput,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    quantity::{Micrometres, PartsPerMillion},
};
use uuid::Uuid;

/// Change a garment's plan
///
/// A need, operation or seam of the same name is put in the place of the former one. Promises are looked at again:
/// those that no longer fit are broken, and said.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment edit G5 --due 2026-11-02\n  \
    ellwand garment edit G5 --need 'role=lining,kind=cloth,length=1.70m,width=140cm,preparation=none'\n  \
    ellwand garment edit G5 --drop-need buttons\n  \
    ellwand garment edit G5 --seam 'name=hem,length=1.40m,stitch=301,per-cm=4,thickness=1.2mm'"
)]
#[group(id = "change", required = true, multiple = true, args = ["name", "due", "need", "drop_need", "operation", "drop_operation", "seam",
    "drop_seam", "seam_ends", "seam_waste"])]
pub struct Args {
    /// Which
    garment: GarmentCode,
    /// New name
    #[arg(long)]
    name: Option<String>,
    /// New due day
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    due: Option<NaiveDate>,
    /// A need to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = pairs::read::<NeedInput>)]
    need: Vec<NeedInput>,
    /// A part of a need, by the measures of its shell part, as key=value pairs; once a part; its need is said anew
    #[arg(long, value_name = "PAIRS", requires = "need", value_parser = pairs::read::<PartOf>)]
    part: Vec<PartOf>,
    /// Role of a need to take out; may be repeated
    #[arg(long, value_name = "ROLE")]
    drop_need: Vec<String>,
    /// An operation to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = pairs::read::<OperationInput>)]
    operation: Vec<OperationInput>,
    /// Name of an operation to take out; may be repeated
    #[arg(long, value_name = "NAME")]
    drop_operation: Vec<String>,
    /// A seam to add or replace, as in `garment plan`; may be repeated
    #[arg(long, value_name = "KEY=VALUE,…", value_parser = seam_pairs::named)]
    seam: Vec<SeamInput>,
    /// Name of a seam to take out; may be repeated
    #[arg(long, value_name = "NAME")]
    drop_seam: Vec<String>,
    /// Tail of each thread at each start and finish of a seam
    #[arg(long, value_name = "LENGTH", value_parser = typed::checked::<Micrometres>, allow_hyphen_values = true)]
    seam_ends: Option<String>,
    /// Share of thread that is wasted
    #[arg(long, value_name = "PERCENT", value_parser = typed::checked::<PartsPerMillion>, allow_hyphen_values = true)]
    seam_waste: Option<String>,
    /// Only if no later booking than this one has touched it: the "version" of `garment show --json`
    #[arg(long, value_name = "BOOKING")]
    if_version: Option<BookingCode>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut needs = self.need;
        parts::join(&mut needs, self.part, ("--part", "--need"))?;
        let act = EditGarment {
            id: Uuid::nil(),
            garment: self.garment,
            name: self.name,
            due: self.due,
            needs,
            drop_needs: self.drop_need,
            operations: self.operation,
            drop_operations: self.drop_operation,
            seams: self.seam,
            drop_seams: self.drop_seam,
            seam_ends: self.seam_ends,
            seam_waste: self.seam_waste,
            if_version: self.if_version,
        };
        act.run(context)
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
