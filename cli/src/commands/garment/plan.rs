//! `ellwand garment plan`.

use super::{
    parts::{self, PartOf},
    plan_file::{PlanFile, numbered},
    prompts, screen,
};
use crate::{
    command_error::CommandError, context::Context, examples::PLANS, pairs, typed,
    ui::time::minutes, verb::Run,
};
use chrono::NaiveDate;
use clap::{Args as _, FromArgMatches as _};
use ellwand_contract::{
    garments::{Garment, NeedInput, OperationInput, PlanGarment},
    seams::{SeamInput, parse_named_seam},
};
use ellwand_domain::quantity::{Micrometres, PartsPerMillion};
use std::path::PathBuf;
use uuid::Uuid;

const HELP: &str = "\
Keys of --need, for one garment:
  role       shell, lining, buttons …
  kind       cloth, lining, interlining, thread or trim
  length     left after the preparation; of thread and tape, its length
  width      usable width for that length
  widths     instead of both: 90cm:3.90m / 140cm:2.60m
  preparation  washed, washed x3, steamed, none, raw
  count      of counted trims: 7; spares: extra ones with each garment
  size       of trims: 24L, 15mm
  colour     of thread and trims: navy
  matching   yes: a set of one lot or none
  reels      thread: how many run at once and share the length
  seams      yes: of thread, the length comes from the seams that name its role
  material, lot, fibre, mass-min, mass-max
  same-lot-as  cloth of the lot of G4
  mixing     yes: several lots may serve
  longest-part  the need may be split where it fits
  one-length yes: a batch's lengths in one
  match      yes: the pattern must match, so that each length is whole repeats
  grain      lengthwise, crosswise, bias
  stiffness-min, stiffness-max  10uNm along it
  stiff-like as stiff as a lot: L7 crosswise
  fusible    yes, or no for sewn-in
  detail     detail it belongs to: pad-stitched collar
  estimate   cost of one while no lot is promised

Keys of --part, instead of a length: parts by the measures of their shell parts
  need       role of its need
  name, count  collar, 2
  length, width  of the shell part
  grain      along its length [the need's]
  allowance  seam allowance on each side
  measures   with it [default] or without
  cut        inside: less the allowance all round, so that it lies inside the
             seams (default of interlining; common practice for canvas), or
             with: caught in the seams
  They are laid across each piece's usable width: among one another as
  rectangles, or in rows of equal parts, whichever is shorter.

Keys of --operation, for all of them together:
  name, kind (machine, hand, cutting, fitting, pressing, admin),
  planned (9h), person, billable (no), detail

Keys of --seam, for one garment (ellwand seam --help has them all):
  name, stitch, length, count, per-cm or step, thickness, width,
  needle and under (roles), detail

A file is the request itself in TOML (name, [[need]], [[need.part]],
[[operation]], [[seam]] …); errors in it name their lines. --example prints
one with comments that plans as it stands.

Examples:
  ellwand garment plan 'linen apron' --count 6 \\
    --need 'role=shell,kind=cloth,length=90cm,width=140cm,preparation=washed' \\
    --operation 'name=sewing,kind=machine,planned=6h'
  ellwand garment plan 'deck jacket' \\
    --need 'role=canvas,kind=interlining,preparation=washed,fusible=no' \\
    --part 'need=canvas,name=collar,length=46cm,width=12cm,count=2,grain=bias'
  ellwand garment plan --example shirt > plan.toml
  ellwand garment plan --file plan.toml --check
  ellwand garment plan --file plan.toml";

/// Plan a garment, or a batch of the same one
///
/// Needs are per garment: a batch of six aprons needs six lengths. On a terminal, without a name or a file, it asks for
/// the plan.
#[derive(Debug, clap::Args)]
#[command(after_help = HELP)]
pub struct Args {
    /// What it is: 'work jacket'
    name: Option<String>,
    /// Customer by name (added if new) or code [default: none, for stock]
    #[arg(long, value_name = "CUSTOMER", requires = "name")]
    r#for: Option<String>,
    /// How many [default: 1]
    #[arg(long, value_name = "N", requires = "name", value_parser = clap::value_parser!(i64).range(1..))]
    count: Option<i64>,
    /// Due date: 2026-11-02
    #[arg(long, value_name = "DATE", requires = "name", value_parser = typed::date)]
    due: Option<NaiveDate>,
    /// Business date of the plan; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Note on the garment
    #[arg(long, value_name = "TEXT", requires = "name")]
    note: Option<String>,
    /// What one garment needs, as key=value pairs; one flag per need
    #[arg(long, value_name = "PAIRS", requires = "name", value_parser = pairs::parse_args::<NeedInput>)]
    need: Vec<NeedInput>,
    /// Part of a need, by the measures of its shell part, as key=value pairs; one flag per part
    #[arg(long, value_name = "PAIRS", requires = "need", value_parser = pairs::parse_args::<PartOf>)]
    part: Vec<PartOf>,
    /// Work to be done, as key=value pairs; one flag per operation
    #[arg(long, value_name = "PAIRS", requires = "name", value_parser = pairs::parse_args::<OperationInput>)]
    operation: Vec<OperationInput>,
    /// What is sewn on one garment, as key=value pairs; one flag per seam
    #[arg(long, value_name = "PAIRS", requires = "name", value_parser = parse_named_seam)]
    seam: Vec<SeamInput>,
    /// Tail of each thread at each start and finish of a seam [default: 25mm]
    #[arg(long, value_name = "LENGTH", requires = "name", value_parser = typed::checked::<Micrometres>, allow_hyphen_values = true)]
    seam_ends: Option<String>,
    /// Share of thread that is wasted [default: 15%]
    #[arg(long, value_name = "PERCENT", requires = "name", value_parser = typed::checked::<PartsPerMillion>, allow_hyphen_values = true)]
    seam_waste: Option<String>,
    /// Read the plan from a TOML file
    #[arg(long, value_name = "FILE", conflicts_with = "name")]
    file: Option<PathBuf>,
    /// Say what it would plan, all that is wrong with it, and what is missing on the shelf; nothing is booked
    #[arg(long)]
    check: bool,
    /// Print a starter file with comments, to write to a file, change and plan: shirt, coat or apron
    #[arg(long, value_name = "NAME", exclusive = true, value_parser = PLANS.map(|(name, _)| name))]
    example: Option<String>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if let Some(asked) = &self.example {
            let example = PLANS.iter().find(|(name, _)| name == asked);
            context.ui.text(example.map_or("", |(_, text)| text));
            return Ok(());
        }
        if self.name.is_none() && self.file.is_none() && context.may_ask() {
            return asked(&self, context);
        }
        let (id, check) = (context.new_id(), self.check);
        let garment = match &self.file {
            Some(path) => {
                let file = PlanFile::read(path)?;
                let act = PlanGarment {
                    id,
                    date: self.date.or(file.plan.date),
                    check: check || file.plan.check,
                    ..file.plan.clone()
                };
                context.call(&act).map_err(|error| file.locate(error))?
            }
            None => {
                let act = typed_plan(self, id)?;
                context.call(&act).map_err(numbered)?
            }
        };
        if context.json(&garment)? {
            return Ok(());
        }
        screen::garment(context, &garment)?;
        say(check, &garment, context);
        Ok(())
    }
}

/// Asks for a plan, shows what it would be, and books it when that is confirmed.
fn asked(flags: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let words = prompts::ask()?;
    let read = Args::augment_args(clap::Command::new("plan").no_binary_name(true))
        .try_get_matches_from(&words)
        .and_then(|found| Args::from_arg_matches(&found))
        .map_err(|error| CommandError::usage(error.to_string()))?;
    context.add_to_command(words);
    let command = context.command();
    context
        .ui
        .hint(format!("the same without questions: {command}"));
    let act = PlanGarment {
        date: flags.date,
        ..typed_plan(read, context.new_id())?
    };
    let tried = PlanGarment {
        id: Uuid::now_v7(),
        check: true,
        ..act.clone()
    };
    let tried = context.call(&tried).map_err(numbered)?;
    screen::garment(context, &tried)?;
    if flags.check {
        say(true, &tried, context);
        return Ok(());
    }
    context.confirm("Plan it?")?;
    let garment = context.call(&act).map_err(numbered)?;
    say(false, &garment, context);
    Ok(())
}

/// What was planned, or only checked.
fn say(check: bool, garment: &Garment, context: &mut Context<'_, '_>) {
    let (code, title) = (garment.garment, screen::title(garment));
    let hours = garment.operations.iter().map(|work| work.planned_minutes);
    context.ui.status(match check {
        false => format!("Planned {code}, {title}."),
        true => format!(
            "Checked {title}: it can be planned, with {} of work. Nothing was booked.",
            minutes(hours.sum())
        ),
    });
}

/// The plan of the flags.
fn typed_plan(args: Args, id: Uuid) -> Result<PlanGarment, CommandError> {
    let Some(name) = args.name else {
        return Err(CommandError::usage_hint(
            "a plan needs a name or a file",
            "ellwand garment plan 'work jacket' --need …, or --file plan.toml",
        ));
    };
    let mut needs = args.need;
    parts::join(&mut needs, args.part)?;
    Ok(PlanGarment {
        id,
        check: args.check,
        name,
        customer: args.r#for,
        count: args.count.unwrap_or(1),
        due: args.due,
        note: args.note,
        needs,
        operations: args.operation,
        seams: args.seam,
        seam_ends: args.seam_ends,
        seam_waste: args.seam_waste,
        date: args.date,
    })
}
