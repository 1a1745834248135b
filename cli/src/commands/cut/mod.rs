//! `ellwand cut`: takes material for good.

mod all;

use crate::{
    command_error::CommandError,
    context::Context,
    typed::chosen,
    ui::{piece, promise},
    verb::{Run, Verb},
};
use ellwand_contract::{
    cuts::{Cut, CutDone},
    lots::Piece,
};
use ellwand_domain::setting::{CutReason, ReservationState};

#[derive(Debug, clap::Args)]
#[command(
    override_usage = "ellwand cut [OPTIONS] <GARMENT> <NEED> [AMOUNT]\n       ellwand cut [OPTIONS] <GARMENT> --all",
    after_help = "Examples:\n  ellwand cut G5 --all\n  ellwand cut G5 shell\n  ellwand cut G5 shell 2.60m --last\n  \
    ellwand cut G5 collar 30cm --from L4.1 --panel 45cm --keep-strip\n  \
    ellwand cut G5 shell 45cm --from L1.1 --reason own-mistake"
)]
pub struct Args {
    #[command(flatten)]
    act: Cut,
    /// Cut all that is promised to the garment, each promise as it is: you see them, then confirm all or nothing
    #[arg(long, conflicts_with_all = [
        "need", "amount", "reservation", "piece", "panel_width", "reason", "end", "at", "piece_was", "break_promises",
        "last", "count", "keep_rest", "no_keep_rest",
    ])]
    all: bool,
    /// Keep the strip beside a panel
    #[arg(long, requires = "panel_width", overrides_with = "no_keep_strip")]
    keep_strip: bool,
    /// Treat the strip beside a panel, or beside rows of parts, as waste
    #[arg(long, overrides_with = "keep_strip")]
    no_keep_strip: bool,
    /// Keep what is left of the piece on either side of the cut
    #[arg(long, overrides_with = "no_keep_rest")]
    keep_rest: bool,
    /// Treat what is left of the piece as waste
    #[arg(long, overrides_with = "keep_rest")]
    no_keep_rest: bool,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.keep_strip = chosen(self.keep_strip, self.no_keep_strip);
        self.act.keep_rest = chosen(self.keep_rest, self.no_keep_rest);
        if self.all {
            return all::run(&self.act, context);
        }
        if self.act.need.is_empty() {
            let garment = self.act.garment;
            return Err(CommandError::usage_hint(
                "which need is cut? give its role, or --all for all that is promised",
                format!("for example ellwand cut {garment} shell, or ellwand cut {garment} --all"),
            ));
        }
        self.act.run(context)
    }
}

impl Verb for Cut {
    fn show(&self, answer: CutDone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        let ui = &mut *context.ui;
        let pieces: Vec<&Piece> = std::iter::once(&answer.piece).chain(&answer.made).collect();
        ui.table(&piece::table(shown, &pieces));
        promise::aftermath(ui, shown, &answer.changed, &answer.broken);
        if let Some(line) = piece::from_layers(shown, &answer.from_layers) {
            ui.line(line);
        }
        ui.notes(&answer.notes);
        let CutDone {
            garment,
            need,
            piece,
            ..
        } = &answer;
        let (taken, from) = (shown.taken(answer.taken), piece.piece);
        let cost = answer
            .cost_printed
            .as_ref()
            .map(|printed| match answer.unpriced {
                true => "not priced".to_owned(),
                false if answer.cost_estimated => format!("{printed} {} (est.)", shown.currency()),
                false => format!("{printed} {}", shown.currency()),
            });
        let (at, of) = match &cost {
            Some(cost) => (format!(": {cost}"), format!(" of {cost}")),
            None => Default::default(),
        };
        let open = answer
            .reservation
            .as_ref()
            .filter(|promise| promise.state == ReservationState::Active);
        let held = open.map_or_else(String::new, |promise| {
            format!(
                " {} still holds {}.",
                promise.reservation,
                shown.taken(promise.held)
            )
        });
        ui.status(match answer.reason {
        CutReason::Planned => format!("Cut {taken} of {from} for the {need} of {garment}{at}.{held}"),
        reason @ (CutReason::OwnMistake | CutReason::FaultyCloth) => {
            format!("Cut {taken} of {from} for the {need} of {garment}: a loss{of} ({reason}).{held}")
        }
        reason => format!("Cut {taken} of {from} for the {need} of {garment} ({reason}){at}.{held}"),
    });
        Ok(())
    }
}
