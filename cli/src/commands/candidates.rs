//! `ellwand candidates`: which pieces suit a need, and why the others do not.

mod near;

use crate::{
    command_error::CommandError,
    context::Context,
    pending::quoted,
    ui::{Shown, Table, Ui, paragraph, reservation},
    verb::Verb,
};
use ellwand_contract::{
    Amount,
    garments::{Candidate, Candidates, GetCandidates, NeedCandidates},
};
use ellwand_domain::code::GarmentCode;

impl Verb for GetCandidates {
    fn show(&self, answer: Candidates, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let garment = answer.garment;
        if answer.needs.is_empty() {
            context.ui.status(format!("{garment} has no open needs."));
            context.ui.hint(format!(
                "see its promises with ellwand garment show {garment}"
            ));
            return Ok(());
        }
        let shown = context.shown()?;
        for (place, need) in answer.needs.iter().enumerate() {
            if place > 0 {
                context.ui.blank();
            }
            show(context.ui, shown, garment, need);
        }
        let served = answer
            .needs
            .iter()
            .find(|need| need.units_open > 0 && !need.picks.is_empty());
        if let Some(pick) = served.and_then(|need| need.picks.first()) {
            let need = served.into_iter().flat_map(|need| &need.picks);
            let from: Vec<String> = need
                .filter(|other| other.trims.is_some())
                .map(near::from)
                .collect();
            let from = if from.is_empty() {
                format!("--from {}", pick.piece)
            } else {
                from.join(" ")
            };
            let need = quoted(&pick.need);
            context.ui.hint(format!(
                "promise one need with ellwand reserve {garment} {need} {from}"
            ));
            // One need tells nothing about the others.
            if self.need.is_none()
                && answer
                    .needs
                    .iter()
                    .all(|need| need.units_open == 0 || !need.picks.is_empty())
            {
                context.ui.hint(format!(
                    "promise them all with ellwand reserve {garment} --all"
                ));
            }
        }
        Ok(())
    }
}

fn show(ui: &mut Ui<'_>, shown: Shown, garment: GarmentCode, need: &NeedCandidates) {
    let open = match need.units_open {
        0 => "nothing left to promise".to_owned(),
        open => format!("{open} to promise"),
    };
    ui.heading(format!("{}: {} ({open})", need.role, need.amount));
    if need.serve.is_empty() && need.units_open == 0 {
        ui.line("It has everything it needs.");
    } else if need.serve.is_empty() {
        ui.line("Nothing on the shelf suits it.");
    } else {
        ui.table(&serving(shown, &need.serve));
        for (pieces, remark) in remarks(&need.serve) {
            paragraph::show(ui, 0, &format!("{}: {remark}", pieces.join(", ")));
        }
    }
    if let Some(best) = need.serve.first().filter(|best| !best.steps.is_empty()) {
        ui.blank();
        reservation::sum(
            ui,
            &format!("The working for {}", best.piece),
            best.shrinkage.as_deref(),
            &best.steps,
        );
    }
    if !need.cannot.is_empty() {
        ui.blank();
        ui.table(&failing(need));
    }
    near::show(ui, shown, garment, need);
    if let Some(advice) = &need.advice {
        ui.hint(format!("for the {}: {advice}", need.role));
    }
    if need.nearest_only {
        ui.blank();
        let note = "There are too many pieces on the shelf to check each: these are the ones that the need names, or the \
                    nearest to its length. Add a material or a lot to the need to narrow it.";
        paragraph::show(ui, 0, note);
    }
}

fn serving(shown: Shown, candidates: &[Candidate]) -> Table {
    let mut table =
        Table::headed("piece | material | >takes | >units | >free | >left | >cost | place");
    for candidate in candidates {
        table.row([
            candidate.piece.to_string(),
            candidate.name.clone(),
            each(shown, candidate),
            candidate.units.to_string(),
            shown.amount(candidate.free),
            shown.amount(candidate.left),
            shown.optional_value(candidate.cost),
            candidate.place.clone().unwrap_or_default(),
        ]);
    }
    table
}

/// The shrinkage used and the notes, each once with the pieces it is true of.
fn remarks(candidates: &[Candidate]) -> Vec<(Vec<String>, String)> {
    let mut remarks: Vec<(Vec<String>, String)> = Vec::new();
    for candidate in candidates {
        let shrinkage = candidate
            .shrinkage
            .iter()
            .map(|shrinkage| format!("shrinkage {shrinkage}"));
        for remark in shrinkage.chain(candidate.notes.iter().cloned()) {
            let piece = candidate.piece.to_string();
            match remarks.iter_mut().find(|(_, other)| *other == remark) {
                Some((pieces, _)) => pieces.push(piece),
                None => remarks.push((vec![piece], remark)),
            }
        }
    }
    remarks
}

/// What a unit takes: `2.45 m`; a counted trim is one a unit.
fn each(shown: Shown, candidate: &Candidate) -> String {
    match candidate.takes {
        Amount::Count(1) => String::new(),
        takes => shown.amount(takes),
    }
}

fn failing(need: &NeedCandidates) -> Table {
    let mut table = Table::headed("unsuitable | material | why");
    for piece in &need.cannot {
        table.row([
            piece.piece.to_string(),
            piece.name.clone(),
            piece.reason.clone(),
        ]);
    }
    table
}
