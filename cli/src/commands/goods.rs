//! `ellwand give`, `sell`, `discard`: goods leave the shelf for no garment.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{piece, promise, sale},
    verb::Verb,
};
use ellwand_contract::{
    goods::{DiscardGoods, GiveGoods, GoodsGone, SellGoods},
    lots::Piece,
};

impl Verb for GiveGoods {
    fn show(&self, answer: GoodsGone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let (before, after) = match self.own_use {
            true => ("Took", " for own use"),
            false => ("Gave away", ""),
        };
        gone(context, answer, (before, after), |cost| {
            format!("cost {cost}")
        })
    }
}

impl Verb for SellGoods {
    fn show(&self, answer: GoodsGone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if let Some(sold) = &answer.sale {
            let shown = context.shown()?;
            context.ui.line(sale::sentence(shown, sold));
        }
        gone(context, answer, ("Sold", ""), |cost| format!("cost {cost}"))
    }
}

impl Verb for DiscardGoods {
    fn show(&self, answer: GoodsGone, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        gone(context, answer, ("Discarded", ""), |cost| {
            format!("a loss of {cost}")
        })
    }
}

/// Shows what is left of the piece, what it did to promises, and what left.
fn gone(
    context: &mut Context<'_, '_>,
    answer: GoodsGone,
    (before, after): (&str, &str),
    worth: impl Fn(String) -> String,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    let pieces: Vec<&Piece> = std::iter::once(&answer.piece).chain(&answer.made).collect();
    ui.table(&piece::table(shown, &pieces));
    promise::aftermath(ui, shown, &answer.changed, &answer.broken);
    if let Some(line) = piece::from_layers(shown, &answer.from_layers) {
        ui.line(line);
    }
    ui.notes(&answer.notes);
    let (taken, piece) = (shown.taken(answer.taken), answer.piece.piece);
    let unpriced = answer.unpriced;
    let cost = answer.cost_printed.map(|cost| match unpriced {
        true => "not priced".to_owned(),
        false => format!("{cost} {}", shown.currency()),
    });
    let cost = cost.map_or_else(String::new, |cost| format!(": {}", worth(cost)));
    ui.status(format!(
        "{before} {taken} of {piece}{after}{cost} ({}).",
        answer.booking
    ));
    Ok(())
}
