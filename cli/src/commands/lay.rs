//! `ellwand lay`: how the parts of a need lie on cloth, their picture, and what is kept.

use crate::{
    command_error::CommandError,
    context::Context,
    file::write_new,
    ui::{Shown, Table, Ui},
    verb::Run,
};
use ellwand_contract::{
    Amount, Problem, ProblemType, Typed,
    lays::{GetKeptLay, GetLay, KeepLay, Lay, LayKept},
};
use ellwand_domain::{
    code::{CodeError, GarmentCode, LayCode, PieceCode},
    quantity::Micrometres,
    setting::LengthBy,
};
use std::{
    path::{Path, PathBuf},
    str::FromStr,
};

/// Show how the parts of a need lie on a piece, or at a width, and keep that.
///
/// The width is that of the cloth when it is cut: of a piece it is worked out with the preparation. Where neither is given it is that
/// of the piece that is promised, else the one that the plan is reckoned at. A kept lay that the width is enough for is shown before
/// others. Nothing is booked unless it is kept.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lay G5
  ellwand lay G5 shell --from L17.2 --svg lay.svg
  ellwand lay G5 lining --width 142cm --keep
  ellwand lay Y7 --width 140cm")]
pub struct Args {
    /// Garment code, such as G5, or the code of a kept lay, such as Y7
    garment: Of,
    /// Role of the need, such as shell [default: the only one that has parts]
    #[arg(value_name = "ROLE")]
    need: Option<String>,
    /// Piece to lie on, such as L17.2
    #[arg(long = "from", value_name = "PIECE", conflicts_with = "width")]
    piece: Option<PieceCode>,
    /// Usable width, between the selvedges: 142cm
    #[arg(long)]
    width: Option<Typed<Micrometres>>,
    /// Keep it, for this width and up to 4 % less: promises and plans go by it from now on
    #[arg(long)]
    keep: bool,
    /// What to remember of it
    #[arg(long, value_name = "TEXT", requires = "keep")]
    note: Option<String>,
    /// Draw it to this file, to scale; an existing file is replaced only with --yes
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

/// What is shown.
#[derive(Debug, Clone, Copy)]
enum Of {
    Garment(GarmentCode),
    Kept(LayCode),
}

impl FromStr for Of {
    type Err = CodeError;
    fn from_str(text: &str) -> Result<Self, CodeError> {
        let kept = text.parse().map(Self::Kept);
        kept.or_else(|_| text.parse().map(Self::Garment))
    }
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut answer = self.laid(context)?;
        let shown = context.shown()?;
        if let Some(path) = &self.svg {
            let picture = ellwand_picture::lay::draw(&answer, shown.units());
            write_new(path, picture.as_bytes(), context.is_yes())?;
        }
        let kept = self.kept(context, &mut answer)?;
        let is_json = match &kept {
            Some(kept) => context.json(kept)?,
            None => context.json(&answer)?,
        };
        if is_json {
            return Ok(());
        }
        show(context.ui, shown, &answer);
        match (kept, &self.svg) {
            (Some(kept), _) => say_kept(context.ui, shown, &kept),
            (None, Some(_)) => {}
            (None, None) => hint(context.ui, &answer),
        }
        drawn(self.svg.as_deref(), context.ui);
        Ok(())
    }
}

impl Args {
    fn laid(&self, context: &mut Context<'_, '_>) -> Result<Lay, CommandError> {
        let width = self.width.clone();
        match self.garment {
            Of::Garment(garment) => context.call(&GetLay {
                garment,
                need: self.need.clone(),
                piece: self.piece,
                width,
                draft: self.keep,
            }),
            Of::Kept(lay) if self.need.is_some() || self.piece.is_some() || self.keep => {
                let detail = format!("{lay} is kept already, and shown by its code alone");
                let problem = Problem::new(ProblemType::InvalidRequest, detail);
                let hint = format!("ellwand lay {lay}, or with --width");
                Err(CommandError::from(problem.hint(hint)))
            }
            Of::Kept(lay) => context.call(&GetKeptLay { lay, width }),
        }
    }

    /// Keeps what was laid, where that was asked for.
    fn kept(
        &self,
        context: &mut Context<'_, '_>,
        laid: &mut Lay,
    ) -> Result<Option<LayKept>, CommandError> {
        let Some(draft) = laid.draft.take().filter(|_| self.keep) else {
            return Ok(None);
        };
        let id = context.new_id();
        let kept = context.call(&KeepLay {
            id,
            garment: laid.garment,
            need: Some(laid.need.clone()),
            draft,
            note: self.note.clone(),
            date: None,
        })?;
        Ok(Some(kept))
    }
}

fn say_kept(ui: &mut Ui<'_>, shown: Shown, kept: &LayKept) {
    let rungs = kept.rungs.iter().map(|rung| {
        let width = shown.width(rung.usable_m);
        format!("{} at {width}", shown.taken(Amount::LengthM(rung.length_m)))
    });
    ui.notes(&kept.notes);
    ui.status(format!(
        "Kept it as {} ({}): {}.",
        kept.lay,
        kept.booking,
        rungs.collect::<Vec<_>>().join(", ")
    ));
}

/// Where each part begins, and what all of them take.
fn show(ui: &mut Ui<'_>, shown: Shown, lay: &Lay) {
    let on = lay
        .piece
        .map_or_else(String::new, |piece| format!(" on {piece}"));
    ui.heading(format!(
        "{} {}, {}{on}: {} at {}, {} % used, in {}",
        lay.garment,
        lay.name,
        lay.need,
        shown.taken(Amount::LengthM(lay.length_m)),
        shown.width(lay.usable_m),
        lay.used_percent,
        match (lay.length_by, lay.lay) {
            (LengthBy::Rows, _) => "rows".to_owned(),
            (_, Some(kept)) => format!("the kept lay {kept}"),
            (_, None) => "a lay".to_owned(),
        }
    ));
    let mut table =
        Table::headed("no. | part | which | >length | >width | >turn | >cut end | >edge");
    for (number, part) in lay.parts.iter().enumerate() {
        let least = |of: fn(&ellwand_contract::lays::LayPoint) -> ellwand_contract::Metres| {
            part.corners.iter().map(of).min().unwrap_or_default()
        };
        table.row([
            number.saturating_add(1).to_string(),
            part.part.clone(),
            format!("{} of {}", part.number, part.of),
            shown.width(part.length_m),
            shown.width(part.width_m),
            format!("{}°", part.turn),
            shown.width(least(|corner| corner.along_m)),
            shown.width(least(|corner| corner.across_m)),
        ]);
    }
    ui.table(&table);
    if let Some(takes) = lay.takes {
        let takes = shown.taken(takes);
        ui.line(format!(
            "A promise would hold {takes} of it, with what is added for ends and preparation."
        ));
    }
    ui.notes(&lay.notes);
}

fn drawn(path: Option<&Path>, ui: &mut Ui<'_>) {
    if let Some(path) = path {
        ui.status(format!("Drew the lay to {}.", path.display()));
    }
}

fn hint(ui: &mut Ui<'_>, lay: &Lay) {
    let of = match lay.lay {
        Some(kept) => kept.to_string(),
        None => lay.garment.to_string(),
    };
    ui.hint(format!("draw it with ellwand lay {of} --svg lay.svg"));
}
