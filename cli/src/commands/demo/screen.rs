//! How the story is shown.

use super::story::{Step, Story};
use crate::ui::{Ui, paragraph};

/// What the workshop is.
pub fn opening(ui: &mut Ui<'_>, story: &Story) {
    paragraph::show(ui, 0, &story.opening);
}

/// A step: its title and what happens, the command, its output.
pub fn step(ui: &mut Ui<'_>, step: &Step, output: &str) {
    ui.blank();
    if !step.title.is_empty() {
        ui.blank();
        ui.heading(format!("=== {} ===", step.title));
        ui.blank();
    }
    if !step.say.is_empty() {
        paragraph::show(ui, 0, &step.say);
        ui.blank();
    }
    ui.command(format!("$ ellwand {}", step.command.trim()));
    for line in output.lines() {
        ui.line(line);
    }
}
