//! `ellwand candidates`: which pieces suit a need, and why the others do not.

mod near;
pub(super) mod reasons;

use crate::{
    command_error::CommandError,
    context::Context,
    pending::quoted,
    ui::{Shown, Table, Ui, paragraph, reservation},
    verb::Run,
};
use ellwand_contract::{
    Amount,
    garments::{Candidate, Candidates, GetCandidates, NeedCandidates},
};
use ellwand_domain::code::GarmentCode;

/// Pieces of a need that are shown where not all are asked for.
const BEST: usize = 3;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand candidates G5
  ellwand candidates G5 --need shell --sum
  ellwand candidates G5 --all")]
pub struct Args {
    #[command(flatten)]
    act: GetCandidates,
    /// Show every piece that suits, and each of the others with its own reason
    #[arg(long)]
    all: bool,
    /// Show how what is taken of the best piece is worked out
    #[arg(long)]
    sum: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let Some(answer) = context.answer(&self.act)? else {
            return Ok(());
        };
        let garment = answer.garment;
        if answer.needs.is_empty() {
            context.ui.status(format!("{garment} has no open needs."));
            context.ui.hint(format!(
                "see its promises with ellwand garment show {garment}"
            ));
            return Ok(());
        }
        let shown = context.shown()?;
        let mut left_out = false;
        for (place, need) in answer.needs.iter().enumerate() {
            if place > 0 {
                context.ui.blank();
            }
            left_out |= self.show(context.ui, shown, garment, need);
        }
        self.hints(context.ui, &answer, left_out);
        Ok(())
    }
}

impl Args {
    /// Shows a need; true where something was left out.
    fn show(
        &self,
        ui: &mut Ui<'_>,
        shown: Shown,
        garment: GarmentCode,
        need: &NeedCandidates,
    ) -> bool {
        let open = match need.units_open {
            0 => "nothing left to promise".to_owned(),
            open => format!("{open} to promise"),
        };
        ui.heading(format!("{}: {} ({open})", need.role, need.amount));
        let best = self.best(need);
        if best.is_empty() && need.units_open == 0 {
            ui.line("It has everything it needs.");
        } else if best.is_empty() {
            ui.line("Nothing on the shelf suits it.");
        } else {
            ui.table(&serving(shown, need.units_open, &best));
            for (pieces, remark) in remarks(&best) {
                paragraph::show(ui, 0, &format!("{}: {remark}", pieces.join(", ")));
            }
        }
        if let Some(best) = best
            .first()
            .filter(|best| self.sum && !best.steps.is_empty())
        {
            ui.blank();
            reservation::sum(
                ui,
                &format!("The working for {}", best.piece),
                best.shrinkage.as_deref(),
                &best.steps,
            );
        }
        let more = need.serve.len().saturating_sub(best.len());
        if more > 0 {
            let s = if more == 1 { "s" } else { "" };
            ui.line(format!("{more} more serve{s}"));
        }
        if self.all && !need.cannot.is_empty() {
            ui.blank();
            ui.table(&reasons::each(need));
        } else if need.units_open > 0 {
            reasons::by_kind(ui, &need.cannot);
        }
        near::show(ui, shown, garment, need);
        if let Some(undecided) = &need.undecided {
            ui.line(format!("Undecided: {undecided}"));
        }
        if let Some(advice) = &need.advice {
            ui.hint(format!("for the {}: {advice}", need.role));
        }
        if need.nearest_only {
            ui.blank();
            let note = "There are too many pieces on the shelf to check each: these are the ones that the need names, or \
                        the nearest to its length. Add a material or a lot to the need to narrow it.";
            paragraph::show(ui, 0, note);
        }
        more > 0 || (!self.all && need.cannot.len() > 1)
    }

    /// What is shown of the pieces that serve: all, or the best with those that would be taken.
    fn best<'n>(&self, need: &'n NeedCandidates) -> Vec<&'n Candidate> {
        let picked = |candidate: &Candidate| {
            let mut picks = need.picks.iter();
            picks.any(|pick| pick.piece == candidate.piece)
        };
        let numbered = need.serve.iter().enumerate();
        numbered
            .filter(|(place, candidate)| self.all || *place < BEST || picked(candidate))
            .map(|(_, candidate)| candidate)
            .collect()
    }

    fn hints(&self, ui: &mut Ui<'_>, answer: &Candidates, left_out: bool) {
        let garment = answer.garment;
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
            ui.hint(format!(
                "promise one need with ellwand reserve {garment} {need} {from}"
            ));
            // One need tells nothing about the others.
            if self.act.need.is_none()
                && answer
                    .needs
                    .iter()
                    .all(|need| need.units_open == 0 || !need.picks.is_empty())
            {
                ui.hint(format!(
                    "promise them all with ellwand reserve {garment} --all"
                ));
            }
        }
        if left_out {
            ui.hint("see every piece with --all, and the working with --sum");
        }
    }
}

fn serving(shown: Shown, open: i64, candidates: &[&Candidate]) -> Table {
    let mut table =
        Table::headed("piece | material | >takes | >units | >left | >cost | known | place");
    for candidate in candidates {
        let units = match open {
            ..2 => String::new(),
            _ => candidate.units.to_string(),
        };
        table.row([
            candidate.piece.to_string(),
            candidate.name.clone(),
            each(shown, candidate),
            units,
            shown.amount(candidate.left),
            shown.cost(candidate.cost, candidate.cost_certainty),
            candidate.certainty.to_string(),
            candidate.place.clone().unwrap_or_default(),
        ]);
    }
    table
}

/// The notes, each once with the pieces it is true of.
fn remarks(candidates: &[&Candidate]) -> Vec<(Vec<String>, String)> {
    let mut remarks: Vec<(Vec<String>, String)> = Vec::new();
    for candidate in candidates {
        for remark in &candidate.notes {
            let piece = candidate.piece.to_string();
            match remarks.iter_mut().find(|(_, other)| other == remark) {
                Some((pieces, _)) => pieces.push(piece),
                None => remarks.push((vec![piece], remark.clone())),
            }
        }
    }
    remarks
}

/// What a unit takes: `2.45 m`; a counted trim is one a unit.
fn each(shown: Shown, candidate: &Candidate) -> String {
    match candidate.takes {
        Amount::Count(1) => String::new(),
        takes => shown.taken(takes),
    }
}
