//! `ellwand wash done`.

use crate::{
    command_error::CommandError,
    commands::lot::changed,
    context::Context,
    typed,
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    lots::PieceChanged,
    wash::{FinishWash, FinishWashes, PiecesChanged, Washed},
};
use ellwand_domain::{code::PieceCode, quantity::Micrometres, shrinkage::Preparation};
use std::str::FromStr;
use uuid::Uuid;

/// Record that pieces were washed or steamed, and what they measure now
///
/// Their value stays; their promises are checked again, and those that no longer fit are listed. Several pieces are booked all or
/// none. A width that is not given is estimated from the shrinkage.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash done L1.1=3.80m
  ellwand wash done L1.1=3.80mx147cm L2.1=2.94m --preparation steamed
  ellwand wash done L1.1 --length 3.80m --width 147cm")]
pub struct Args {
    /// Piece with its length now, and its full width where it was measured: L1.1=3.80m, L1.1=3.80mx147cm; may be repeated
    #[arg(required = true, value_name = "PIECE=LENGTH[xWIDTH]", value_parser = measured)]
    pieces: Vec<Measured>,
    /// Length now, of one piece: 3.80m
    #[arg(long, value_name = "LENGTH")]
    length: Option<Typed<Micrometres>>,
    /// Full width now, of one piece: 147cm
    #[arg(long, value_name = "WIDTH")]
    width: Option<Typed<Micrometres>>,
    /// Preparation: washed, "washed x3" or steamed
    #[arg(long, value_name = "WHAT", default_value = "washed")]
    preparation: Preparation,
    /// Confirm unusual figures: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above its lot's, where no more was expected
    #[arg(long)]
    really: bool,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

/// A piece, and what it measures where that stands beside it.
#[derive(Debug, Clone)]
struct Measured {
    piece: PieceCode,
    length: Option<Typed<Micrometres>>,
    width: Option<Typed<Micrometres>>,
}

fn measured(text: &str) -> Result<Measured, String> {
    let (piece, size) = match text.split_once('=') {
        Some((piece, size)) => (piece, Some(size)),
        None => (text, None),
    };
    let sides = size.map(|size| match typed::by_times(size) {
        Some((length, width)) => (length, Some(width)),
        None => (size, None),
    });
    let of = |text: &str| Typed::<Micrometres>::from_str(text).map_err(|error| error.to_string());
    Ok(Measured {
        piece: piece.trim().parse().map_err(|error| format!("{error}"))?,
        length: sides.map(|(length, _)| of(length)).transpose()?,
        width: sides.and_then(|(_, width)| width).map(of).transpose()?,
    })
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if let [one] = self.pieces.as_mut_slice() {
            one.length = one.length.take().or(self.length.take());
            one.width = one.width.take().or(self.width.take());
        }
        if self.length.is_some() || self.width.is_some() {
            return Err(CommandError::usage_hint(
                "--length and --width are of one piece that has none beside it",
                "write them beside each piece: L1.1=3.80m L2.1=2.94mx140cm",
            ));
        }
        let mut pieces = Vec::with_capacity(self.pieces.len());
        for Measured {
            piece,
            length,
            width,
        } in self.pieces
        {
            let length = length.ok_or_else(|| {
                CommandError::usage_hint(
                    format!("what does {piece} measure now?"),
                    format!("write its length beside it: {piece}=3.80m"),
                )
            })?;
            pieces.push(Washed {
                piece,
                length,
                width,
            });
        }
        let id = Uuid::nil();
        let (preparation, really, date) = (self.preparation, self.really, self.date);
        match <[Washed; 1]>::try_from(pieces) {
            Ok([one]) => FinishWash {
                id,
                piece: one.piece,
                preparation,
                length: one.length,
                width: one.width,
                really,
                date,
            }
            .run(context),
            Err(pieces) => FinishWashes {
                id,
                pieces,
                preparation,
                really,
                date,
            }
            .run(context),
        }
    }
}

impl Verb for FinishWash {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let (piece, preparation) = (self.piece, self.preparation);
        let length = self.length.text();
        let done = format!("Noted that {piece} was {preparation} and measures {length} now");
        changed(context, &answer, &done)
    }
}

impl Verb for FinishWashes {
    fn show(
        &self,
        answer: PiecesChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        for (washed, answer) in self.pieces.iter().zip(&answer.pieces) {
            let (piece, length) = (washed.piece, washed.length.text());
            let preparation = self.preparation;
            let done = format!("Noted that {piece} was {preparation} and measures {length} now");
            changed(context, answer, &done)?;
        }
        Ok(())
    }
}
