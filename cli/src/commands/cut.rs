//! `ellwand cut`: takes material for good.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{Shown, piece, promise},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    cuts::{Cut, CutDone, FromLayer},
    lots::Piece,
};
use ellwand_domain::{
    code::{GarmentCode, PieceCode, ReservationCode},
    quantity::Micrometres,
    setting::{CutReason, End, ReservationState},
};

/// Cut cloth, or take thread and trims, for a need
///
/// Without a length the promise is cut as it stands. More than is promised takes free cloth only; another garment's
/// promise is cut into with --break alone. A panel takes its length off across the full width; the strip beside it
/// is kept as a piece or is waste, by the workshop's offcut rule unless said otherwise.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand cut G5 shell\n  ellwand cut G5 shell 2.60m --last\n  \
    ellwand cut G5 collar 30cm --from L4.1 --panel 45cm --keep-strip\n  \
    ellwand cut G5 shell 45cm --from L1.1 --reason own-mistake"
)]
pub struct Args {
    /// For which garment
    garment: GarmentCode,
    /// Role of the need
    need: String,
    /// Length or count cut [default: what the promise holds]
    #[arg(value_parser = typed::length_or_count)]
    amount: Option<String>,
    /// From this piece [default: the promise's]
    #[arg(long, value_name = "PIECE")]
    from: Option<PieceCode>,
    /// From this promise [default: the need's only active one]
    #[arg(long, value_name = "PROMISE")]
    reservation: Option<ReservationCode>,
    /// Width of a panel
    #[arg(long, value_name = "WIDTH")]
    panel: Option<Typed<Micrometres>>,
    /// Why: planned, own-mistake, faulty-cloth, customer-change, toile, swatch
    #[arg(long, default_value_t = CutReason::Planned)]
    reason: CutReason,
    /// From which end of the piece: outer or inner
    #[arg(long, default_value_t = End::Outer)]
    end: End,
    /// Where the cut begins, from the outer end; what lies before becomes a piece of its own, or is waste where it is too
    /// short to keep
    #[arg(long, value_name = "LENGTH")]
    at: Option<Typed<Micrometres>>,
    /// Keep the strip beside a panel
    #[arg(long, requires = "panel", overrides_with = "no_keep_strip")]
    keep_strip: bool,
    /// The strip beside a panel is waste
    #[arg(long, requires = "panel", overrides_with = "keep_strip")]
    no_keep_strip: bool,
    /// Keep what is left of the piece, before and behind the cut
    #[arg(long, overrides_with = "no_keep_rest")]
    keep_rest: bool,
    /// What is left of the piece is waste
    #[arg(long, overrides_with = "keep_rest")]
    no_keep_rest: bool,
    /// What the piece really measured before the cut
    #[arg(long, value_name = "LENGTH")]
    piece_was: Option<Typed<Micrometres>>,
    /// Cut into the promise of this garment; may be repeated
    #[arg(long = "break", value_name = "GARMENT")]
    break_promises: Vec<GarmentCode>,
    /// The last cut on this promise: what it still holds is released
    #[arg(long)]
    last: bool,
    /// How many of the need's lengths (or trims) this serves [default: what the length covers]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(i64).range(1..))]
    count: Option<i64>,
    /// Confirm a piece that is not what the need asks for, or with --piece-was a length 5 % above or 20 % below the former
    #[arg(long)]
    really: bool,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = Cut {
        id: context.new_id(),
        garment: args.garment,
        need: args.need,
        reservation: args.reservation,
        piece: args.from,
        amount: args.amount,
        panel_width: args.panel,
        reason: args.reason,
        end: args.end,
        at: args.at,
        keep_strip: chosen(args.keep_strip, args.no_keep_strip),
        keep_rest: chosen(args.keep_rest, args.no_keep_rest),
        piece_was: args.piece_was,
        break_promises: args.break_promises,
        last: args.last,
        units: args.count,
        really: args.really,
        date: args.date,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        Ok(())
    } else {
        show(&answer, context)
    }
}

/// Yes, no, or as the workshop's rule says.
fn chosen(yes: bool, no: bool) -> Option<bool> {
    match (yes, no) {
        (true, _) => Some(true),
        (false, true) => Some(false),
        (false, false) => None,
    }
}

fn show(answer: &CutDone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let pieces: Vec<&Piece> = std::iter::once(&answer.piece).chain(&answer.made).collect();
    ui.table(&piece::table(shown, &pieces));
    promise::aftermath(ui, shown, &answer.changed, &answer.broken);
    if let Some(told) = from_layers(shown, &answer.from_layers) {
        ui.line(told);
    }
    ui.notes(&answer.notes);
    let CutDone {
        garment,
        need,
        piece,
        cost_printed,
        ..
    } = answer;
    let (taken, from) = (shown.amount(answer.taken), piece.piece);
    let cost = format!("{cost_printed} {}", shown.currency());
    let open = answer
        .reservation
        .as_ref()
        .filter(|promise| promise.state == ReservationState::Active);
    let held = open.map_or_else(String::new, |promise| {
        format!(
            " {} still holds {}.",
            promise.reservation,
            shown.amount(promise.held)
        )
    });
    ui.status(match answer.reason {
        CutReason::Planned => format!("Cut {taken} of {from} for the {need} of {garment}: {cost}.{held}"),
        reason @ (CutReason::OwnMistake | CutReason::FaultyCloth) => {
            format!("Cut {taken} of {from} for the {need} of {garment}: a loss of {cost} ({reason}).{held}")
        }
        reason => format!("Cut {taken} of {from} for the {need} of {garment} ({reason}): {cost}.{held}"),
    });
    Ok(())
}

/// Which lots' layers thread and trims were taken from, with what each cost.
fn from_layers(shown: Shown, layers: &[FromLayer]) -> Option<String> {
    let one = |part: &FromLayer| {
        let of = part.lot.map_or_else(
            || "the pool of its material".to_owned(),
            |lot| format!("the layer of {lot}"),
        );
        format!(
            "{} of {of} ({})",
            shown.amount(part.quantity),
            shown.money(part.cost)
        )
    };
    let told: Vec<String> = layers.iter().map(one).collect();
    (!told.is_empty()).then(|| format!("its cost: {}", told.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::chosen;

    #[test]
    fn what_is_not_said_is_left_to_the_rule() {
        assert_eq!(
            [
                chosen(true, false),
                chosen(false, true),
                chosen(false, false)
            ],
            [Some(true), Some(false), None]
        );
    }
}
