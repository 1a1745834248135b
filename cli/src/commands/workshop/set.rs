//! `ellwand workshop set`.

use super::show::show_changed;
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use base64::{Engine, engine::general_purpose::STANDARD};
use ellwand_contract::{
    json,
    workshop::{SetWorkshop, Workshop},
};
use std::path::Path;

// The help of the command is that of its request.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(flatten)]
    act: SetWorkshop,
    /// Logo on quotations and receipts: a PNG or an SVG of shapes, of at most 150 kB; '' removes it
    #[arg(long = "logo", id = "logo_file", value_name = "FILE")]
    file: Option<String>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let logo = self.file.as_deref().map(picture).transpose()?;
        SetWorkshop { logo, ..self.act }.run(context)
    }
}

/// A picture in base64; nothing for no file.
fn picture(file: &str) -> Result<String, CommandError> {
    if file.is_empty() {
        return Ok(String::new());
    }
    let bytes = std::fs::read(Path::new(file))
        .map_err(|error| CommandError::usage(format!("{file} cannot be read: {error}")))?;
    Ok(STANDARD.encode(bytes))
}

impl Verb for SetWorkshop {
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.units = context.typed_units();
        CommandError::unless_changed(
            self,
            &["id", "if_version"],
            "ellwand workshop shows the settings; change one: ellwand workshop set --currency GBP",
        )
    }

    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let fields = json::tree(self).unwrap_or_default();
        show_changed(context, &answer, &fields);
        context.ui.status("Changed the workshop's settings.");
        Ok(())
    }
}
