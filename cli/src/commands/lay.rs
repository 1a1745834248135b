//! `ellwand lay`: how the parts of a need lie on cloth, and their picture.

use crate::{
    command_error::CommandError,
    context::Context,
    file::write_new,
    ui::{Shown, Table, Ui},
    verb::Run,
};
use ellwand_contract::lays::{GetLay, Lay};
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lay G5
  ellwand lay G5 shell --from L17.2 --svg lay.svg
  ellwand lay G5 lining --width 142cm")]
pub struct Args {
    #[command(flatten)]
    act: GetLay,
    /// Draw it to this file, to scale; an existing file is replaced only with --yes
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let answer = context.call(&self.act)?;
        let shown = context.shown()?;
        if let Some(path) = &self.svg {
            let picture = ellwand_picture::lay::draw(&answer, shown.units());
            write_new(path, picture.as_bytes(), context.is_yes())?;
        }
        if !context.json(&answer)? {
            show(context.ui, shown, &answer);
            drawn(self.svg.as_deref(), &answer, context.ui);
        }
        Ok(())
    }
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
        shown.length(lay.length_m),
        shown.width(lay.usable_m),
        lay.used_percent,
        match lay.length_by {
            ellwand_domain::setting::LengthBy::Rows => "rows",
            _ => "a lay",
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

fn drawn(path: Option<&Path>, lay: &Lay, ui: &mut Ui<'_>) {
    match path {
        Some(path) => ui.status(format!("Drew the lay to {}.", path.display())),
        None => ui.hint(format!(
            "draw it with ellwand lay {} --svg lay.svg",
            lay.garment
        )),
    }
}
